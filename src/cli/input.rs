//! Case files from disk.

use std::fs::File;
use std::io::Read;
use std::path::Path;

use super::outcome::Outcome;
use super::report;
use crate::case::{self, Sound};

/// A case file is a page or two of text; more than this is something else.
const LARGEST: u64 = 1024 * 1024;

/// Reads a case and reports what is wrong or odd in it.
pub(super) fn read(path: &Path) -> Result<Sound, Outcome> {
    let bytes = bytes(path).map_err(|why| {
        report::failure(&format!("cannot read {}: {why}", path.display()));
        Outcome::Unwritten
    })?;
    match case::read(&bytes) {
        Ok(sound) => {
            report::remarks(path, &sound.remarks);
            Ok(sound)
        }
        Err(unsound) => {
            report::faults(path, &unsound.faults);
            report::remarks(path, &unsound.remarks);
            Err(Outcome::Faults)
        }
    }
}

fn bytes(path: &Path) -> Result<Vec<u8>, String> {
    if path.is_dir() {
        return Err("it is a folder; name the case file in it".into());
    }
    let file = File::open(path).map_err(|error| plain(&error))?;
    let mut bytes = Vec::new();
    file.take(LARGEST + 1).read_to_end(&mut bytes).map_err(|error| plain(&error))?;
    if bytes.len() as u64 > LARGEST {
        return Err("it is larger than 1 MiB, far more than a case file".into());
    }
    Ok(bytes)
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
