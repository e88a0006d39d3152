//! A file that is written again and again and is whole at each moment; it never takes another file's place.

use std::io::{self, Write};
use std::path::{Path, PathBuf};

use tempfile::NamedTempFile;

use super::input::{folder_of, plain};

/// A file of our own under way.
pub(super) struct Notebook {
    path: PathBuf,
    is_saved: bool,
}

impl Notebook {
    /// Nothing is written before the first save.
    pub(super) fn new(path: &Path) -> Self {
        Self { path: path.to_owned(), is_saved: false }
    }

    /// Goes on with a file that is there.
    pub(super) fn resumed(path: &Path) -> Self {
        Self { path: path.to_owned(), is_saved: true }
    }

    /// Where it is.
    pub(super) fn path(&self) -> &Path {
        &self.path
    }

    /// Whether the file is there.
    pub(super) fn is_saved(&self) -> bool {
        self.is_saved
    }

    /// Writes the whole text beside the file and puts it in its place.
    ///
    /// # Errors
    ///
    /// In words; a file that was there before the first save stays as it is.
    pub(super) fn save(&mut self, text: &str) -> Result<(), String> {
        let why = |error: &std::io::Error| {
            format!("cannot write {}: {}", self.path.display(), plain(error))
        };
        let file = beside(&self.path, text).map_err(|error| why(&error))?;
        if self.is_saved {
            file.persist(&self.path).map_err(|error| why(&error.error))?;
        } else {
            file.persist_noclobber(&self.path).map_err(|error| why(&error.error))?;
            self.is_saved = true;
        }
        Ok(())
    }
}

/// The whole text in a file of its own beside a place; on Unix it is for its owner's eyes alone.
fn beside(path: &Path, text: &str) -> io::Result<NamedTempFile> {
    let mut file = NamedTempFile::new_in(folder_of(path))?;
    file.write_all(text.as_bytes())?;
    file.as_file().sync_all()?;
    Ok(file)
}

/// Keeps a file's text beside it under a name that is free: `case.yaml.before-2026-05-04.bak`, then `-2` behind the day.
///
/// # Errors
///
/// In words; nothing is overwritten.
pub(super) fn keep_beside(path: &Path, text: &str, day: &str) -> Result<PathBuf, String> {
    let why = |error: &io::Error| {
        format!("the file as it was cannot be kept beside {}: {}", path.display(), plain(error))
    };
    let mut file = beside(path, text).map_err(|error| why(&error))?;
    for number in 1.. {
        let again = if number == 1 { String::new() } else { format!("-{number}") };
        let mut name = path.file_name().unwrap_or_default().to_owned();
        name.push(format!(".before-{day}{again}.bak"));
        let kept = path.with_file_name(name);
        match file.persist_noclobber(&kept) {
            Ok(_) => return Ok(kept),
            Err(taken) if taken.error.kind() == io::ErrorKind::AlreadyExists => file = taken.file,
            Err(failed) => return Err(why(&failed.error)),
        }
    }
    Err("no name is free".into())
}

/// Puts a whole text in the place of a file, which keeps who may read it.
///
/// # Errors
///
/// In words; the file then stands as it was.
pub(super) fn replace(path: &Path, text: &str) -> Result<(), String> {
    let put = || {
        let file = beside(path, text)?;
        file.as_file().set_permissions(path.metadata()?.permissions())?;
        file.persist(path).map_err(|it| it.error)?;
        Ok(())
    };
    put().map_err(|error: io::Error| format!("cannot write {}: {}", path.display(), plain(&error)))
}
