//! Case files from disk.

use std::fs::File;
use std::io::Read;
use std::path::{Path, PathBuf};

use super::outcome::Outcome;
use super::report;
use super::stuck;
use super::told::Told;
use crate::case::Case;
use crate::sheets::OwnWords;

/// A case file is a page or two of text; more than this is something else.
pub(super) const LARGEST: u64 = 1024 * 1024;

/// The bytes of a case file.
pub(super) fn case_bytes(told: &mut Told, path: &Path) -> Result<Vec<u8>, Outcome> {
    bytes(told, path).inspect_err(|_| {
        if path.exists() {
            return;
        }
        let begins = format!("`tautline begin {}` begins it", typed(path));
        report::failure(
            told,
            &match stuck::meant(path) {
                Some(meant) => format!("did you mean {}? Else {begins}", meant.display()),
                None => begins,
            },
        );
    })
}

/// Reads the clinic's own words; all files are read before any is refused.
pub(super) fn own_words(paths: &[PathBuf]) -> Result<Vec<OwnWords>, Outcome> {
    let mut told = Told::default();
    let mut all: Vec<OwnWords> = Vec::new();
    let mut worst = Outcome::Done;
    for path in paths {
        match one_words(&mut told, path) {
            Ok(words) if all.iter().any(|it| it.language() == words.language()) => {
                report::failure(
                    &mut told,
                    &format!(
                        "{}: a second words file for `{}`; give one for each language",
                        path.display(),
                        words.language().word()
                    ),
                );
                worst = worst.max(Outcome::Faults);
            }
            Ok(words) => all.push(words),
            Err(outcome) => worst = worst.max(outcome),
        }
    }
    told.say();
    if worst == Outcome::Done { Ok(all) } else { Err(worst) }
}

/// One words file.
pub(super) fn one_words(told: &mut Told, path: &Path) -> Result<OwnWords, Outcome> {
    let bytes = bytes(told, path)?;
    OwnWords::read(&bytes).map_err(|faults| {
        report::faults_of_words(told, path, &faults);
        if stuck::is_a_case(&faults) {
            let path = typed(path);
            let why =
                format!("{path} is a case file, not words of the clinic:  tautline check {path}");
            report::failure(told, &why);
        }
        Outcome::Faults
    })
}

/// Says where a case gets no word of the files that were given: they are of another language.
pub(super) fn words_of_another_language(
    told: &mut Told,
    path: &Path,
    case: &Case,
    own: &[OwnWords],
) {
    let language = case.head.language;
    if !own.is_empty() && own.iter().all(|it| it.language() != language) {
        report::failure(
            told,
            &format!(
                "{}: the case's language is `{}` and no words file given is; ours are used",
                path.display(),
                language.word()
            ),
        );
    }
}

/// The bytes of a case file or a words file, or why there are none.
pub(super) fn bytes(told: &mut Told, path: &Path) -> Result<Vec<u8>, Outcome> {
    whole(path).map_err(|why| {
        report::failure(told, &format!("cannot read {}: {why}", path.display()));
        Outcome::Unwritten
    })
}

/// The bytes of a file, or why they cannot be had.
pub(super) fn whole(path: &Path) -> Result<Vec<u8>, String> {
    if path.is_dir() {
        let such_as = stuck::within(path).map(|it| format!(", such as {}", it.display()));
        return Err(format!("it is a folder; name the file in it{}", such_as.unwrap_or_default()));
    }
    let file = File::open(path).map_err(|error| plain(&error))?;
    let mut bytes = Vec::new();
    file.take(LARGEST + 1).read_to_end(&mut bytes).map_err(|error| plain(&error))?;
    if bytes.len() as u64 > LARGEST {
        return Err("it is larger than 1 MiB, far more than such a file".into());
    }
    Ok(bytes)
}

/// A path as it can be typed into a shell: in quotes where it holds what a shell would take for something else.
pub(super) fn typed(path: &Path) -> String {
    let shown = path.display().to_string();
    let is_plain = |it: char| it.is_alphanumeric() || "/\\._-+=:@%,~".contains(it);
    if !shown.is_empty() && shown.chars().all(is_plain) && !shown.starts_with('-') {
        shown
    } else if cfg!(windows) {
        format!("\"{shown}\"")
    } else {
        format!("'{}'", shown.replace('\'', r"'\''"))
    }
}

/// An input or output error in plain words.
pub(super) fn plain(error: &std::io::Error) -> String {
    use std::io::ErrorKind;
    match error.kind() {
        ErrorKind::NotFound => "there is no such file or folder".into(),
        ErrorKind::PermissionDenied => "this account may not do that there".into(),
        ErrorKind::StorageFull => "the disk is full".into(),
        ErrorKind::ReadOnlyFilesystem => "the disk is read-only".into(),
        ErrorKind::NotADirectory | ErrorKind::AlreadyExists => {
            "a file stands where a folder is wanted".into()
        }
        _ => error.to_string(),
    }
}

/// The folder of a file.
pub(super) fn folder_of(file: &Path) -> &Path {
    file.parent().filter(|it| !it.as_os_str().is_empty()).unwrap_or(Path::new("."))
}
