//! A file that is written again and again and is whole at each moment; it never takes another file's place.

use std::io::Write;
use std::path::{Path, PathBuf};

use tempfile::NamedTempFile;

use super::input::plain;

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
        let folder = match self.path.parent() {
            Some(folder) if !folder.as_os_str().is_empty() => folder,
            _ => Path::new("."),
        };
        // On Unix the temporary file, and so the case file, is for its owner's eyes alone.
        let mut file = NamedTempFile::new_in(folder).map_err(|error| why(&error))?;
        file.write_all(text.as_bytes()).map_err(|error| why(&error))?;
        file.as_file().sync_all().map_err(|error| why(&error))?;
        if self.is_saved {
            file.persist(&self.path).map_err(|error| why(&error.error))?;
        } else {
            file.persist_noclobber(&self.path).map_err(|error| why(&error.error))?;
            self.is_saved = true;
        }
        Ok(())
    }
}
