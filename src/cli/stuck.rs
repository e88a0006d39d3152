//! What somebody who is stuck may try next: a file of nearly the same name, the file in a folder, the other kind of file,
//! an example of the command.

use std::ffi::OsString;
use std::fs;
use std::path::{Path, PathBuf};

use anstream::eprintln;
use clap::CommandFactory;

use super::args::Arguments;
use super::input::{folder_of, typed};
use super::outcome::Outcome;
use crate::case::{Fault, Kind};

/// The YAML files of a folder, sorted.
fn yaml_files(folder: &Path) -> Vec<PathBuf> {
    let entries = fs::read_dir(folder).into_iter().flatten().filter_map(Result::ok);
    let mut files: Vec<PathBuf> =
        entries.map(|it| it.path()).filter(|it| is_yaml(it) && it.is_file()).collect();
    files.sort();
    files
}

/// Whether a name ends as a case file's does.
pub(super) fn is_yaml(path: &Path) -> bool {
    let ending = path.extension().map(|it| it.to_string_lossy().to_lowercase());
    matches!(ending.as_deref(), Some("yaml" | "yml"))
}

/// The file of nearly the same name, beside where one was looked for.
pub(super) fn meant(path: &Path) -> Option<PathBuf> {
    let name = |it: &Path| it.file_stem().unwrap_or_default().to_string_lossy().to_lowercase();
    let wanted = name(path);
    let far = |it: &PathBuf| strsim::damerau_levenshtein(&wanted, &name(it));
    let near = |it: &PathBuf| far(it) <= wanted.chars().count().div_ceil(3);
    let found = yaml_files(folder_of(path)).into_iter().filter(near).min_by_key(far)?;
    // As the folder was named.
    Some(path.with_file_name(found.file_name()?))
}

/// A file in a folder, for somebody who named the folder.
pub(super) fn within(folder: &Path) -> Option<PathBuf> {
    yaml_files(folder).into_iter().next()
}

/// What a file with these faults rather is, where it was taken for a case file.
pub(super) fn rather(path: &Path, faults: &[Fault]) -> Option<String> {
    let has_no_case = faults
        .iter()
        .any(|it| matches!(it.kind, Kind::Missing { .. }) && it.kind.key() == Some("case"));
    let path = path.display();
    has_no_case.then(|| {
        format!(
            "without `case:` {path} is no case file: a clinic's profile is given with `--clinic {path}`, own words with `--words \
             {path}`"
        )
    })
}

/// Whether a file that was taken for another kind is a case file.
pub(super) fn is_a_case(faults: &[Fault]) -> bool {
    faults.iter().any(|it| {
        let is_strange = matches!(it.kind, Kind::UnknownProfile { .. } | Kind::UnknownWords { .. });
        is_strange && it.kind.key() == Some("case")
    })
}

/// Says what the arguments lack, with an example of the command; help and version are no faults.
#[must_use]
pub fn refused(error: &clap::Error) -> Outcome {
    // Nobody is there to read it where it cannot be written.
    let _ = error.print();
    if !error.use_stderr() {
        return Outcome::Done;
    }
    let given: Vec<OsString> = std::env::args_os().skip(1).collect();
    if let Some(tip) = example(&given) {
        eprintln!("\n{tip}");
    }
    Outcome::Faults
}

/// An example of the command that was meant.
fn example(given: &[OsString]) -> Option<String> {
    let first = given.iter().find(|it| !it.to_string_lossy().starts_with('-'))?;
    let program = Arguments::command();
    if let Some(command) = program.find_subcommand(first) {
        let about = command.get_long_about()?.to_string();
        let line = about.lines().find(|it| it.trim_start().starts_with("Example:"))?;
        return Some(line.trim().to_owned());
    }
    let path = Path::new(first);
    let is_file = is_yaml(path) || path.exists();
    is_file.then(|| {
        let path = typed(path);
        format!("A command comes first:  tautline check {path}, or  tautline print {path}")
    })
}
