//! Which case files a run is about: files, folders and lists of paths.

use std::collections::BTreeSet;
use std::fs;
use std::io::{Read, stdin};
use std::path::{Path, PathBuf};

use super::clinic::leave_out_profiles;
use super::input::{LARGEST, plain, typed};
use super::stuck::is_yaml;

/// What was found, in the order it was named; what lies in a folder is sorted by path.
#[derive(Debug, Default)]
pub(super) struct Found {
    /// Case files, each once.
    pub(super) cases: Vec<PathBuf>,
    /// YAML files of a folder that are no case.
    pub(super) passed: Vec<PathBuf>,
    /// Whether one file alone was named, by its own name.
    pub(super) is_one: bool,
}

/// Longest list of paths.
const LONGEST_LIST: u64 = 64 << 20;

/// The case files that were named, and those on the list `from` (`-`: standard input).
///
/// # Errors
///
/// In words, when a folder or the list cannot be read, or nothing is found at all.
pub(super) fn gather(named: &[PathBuf], from: Option<&Path>) -> Result<Found, String> {
    let listed = from.map_or(Ok(Vec::new()), list)?;
    let mut found = Found {
        is_one: listed.is_empty() && matches!(named, [one] if !one.is_dir()),
        ..Found::default()
    };
    let mut seen: BTreeSet<PathBuf> = BTreeSet::new();
    let mut add = |found: &mut Found, path: PathBuf| {
        // What cannot be followed is told when it is read.
        if seen.insert(path.canonicalize().unwrap_or_else(|_| path.clone())) {
            found.cases.push(path);
        }
    };
    for path in named.iter().chain(&listed) {
        if path.is_dir() {
            for file in yaml_files(path)? {
                if is_case(&file) {
                    add(&mut found, file);
                } else {
                    found.passed.push(file);
                }
            }
        } else {
            add(&mut found, path.clone());
        }
    }
    leave_out_profiles(&found.cases, &mut found.passed);
    if found.cases.is_empty() {
        let begins = match named {
            [folder] if folder.is_dir() => {
                format!("; `tautline begin {}` begins one", typed(&folder.join("case.yaml")))
            }
            _ => String::new(),
        };
        return Err(format!(
            "no case file was found; name one, a folder that has some, or a list with `--from`{begins}"
        ));
    }
    Ok(found)
}

/// One path a line; empty lines count for nothing.
fn list(from: &Path) -> Result<Vec<PathBuf>, String> {
    let mut text = String::new();
    let read = if from == Path::new("-") {
        stdin().lock().take(LONGEST_LIST).read_to_string(&mut text)
    } else {
        fs::File::open(from).and_then(|file| file.take(LONGEST_LIST).read_to_string(&mut text))
    };
    read.map_err(|error| format!("cannot read the list {}: {}", from.display(), plain(&error)))?;
    if text.len() as u64 == LONGEST_LIST {
        return Err(format!("the list {} is longer than 64 MiB", from.display()));
    }
    let text = text.trim_start_matches('\u{feff}');
    Ok(text.lines().map(str::trim_end).filter(|it| !it.is_empty()).map(PathBuf::from).collect())
}

/// The YAML files of a folder and of those in it, but for hidden ones; links to folders are not followed.
fn yaml_files(folder: &Path) -> Result<Vec<PathBuf>, String> {
    let fault = |error| format!("cannot read {}: {}", folder.display(), plain(&error));
    let mut paths: Vec<PathBuf> = Vec::new();
    for entry in fs::read_dir(folder).map_err(fault)? {
        let path = entry.map_err(fault)?.path();
        let is_hidden = path.file_name().is_some_and(|it| it.to_string_lossy().starts_with('.'));
        if !is_hidden {
            paths.push(path);
        }
    }
    paths.sort();
    let mut files = Vec::new();
    for path in paths {
        if path.is_dir() && !path.is_symlink() {
            files.extend(yaml_files(&path)?);
        } else if is_yaml(&path) {
            files.push(path);
        }
    }
    Ok(files)
}

/// Whether a YAML file opens a `case`; a file that cannot be read counts, so that it is told and not passed over.
fn is_case(file: &Path) -> bool {
    // What is longer than any case file is told by the reader, too.
    let Ok(bytes) = start_of(file) else { return true };
    let opens_case = |line: &[u8]| {
        let line = line.strip_prefix(b"\xef\xbb\xbf").unwrap_or(line).trim_ascii_start();
        [&b"case:"[..], b"\"case\":", b"'case':"].iter().any(|it| line.starts_with(it))
    };
    // Whatever is in an encoding that the reader refuses is told by the reader.
    bytes.contains(&0)
        || bytes.len() as u64 > LARGEST
        || bytes.split(|it| *it == b'\n').any(opens_case)
}

fn start_of(file: &Path) -> std::io::Result<Vec<u8>> {
    let mut bytes = Vec::new();
    fs::File::open(file)?.take(LARGEST + 1).read_to_end(&mut bytes)?;
    Ok(bytes)
}
