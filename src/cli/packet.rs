//! The papers of one case put in their places: all of them or none.
//!
//! Each paper is written whole and flushed beside its place first. Then the old papers are kept under another
//! name and the new ones are renamed over them; if one of that fails, the old ones are put back. Whatever
//! stops the program in between, each place holds a whole paper, the old one or the new one.

use std::fs;
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::sync::Once;
use std::time::Duration;

use tempfile::{Builder, NamedTempFile};

use super::input::{folder_of, plain};
use crate::sheets;

/// What the names of files under way begin with.
const PREFIX: &str = ".tautline-";
/// What they end in.
const SUFFIX: &str = ".part";
/// No run takes longer; what is older was left by one that was killed.
const LONGEST_RUN: Duration = Duration::from_hours(1);

/// A paper as bytes, and where it belongs.
pub(super) struct Sheet {
    pub(super) pdf: Vec<u8>,
    pub(super) place: PathBuf,
}

/// A paper that lies whole beside its place.
struct Ready {
    file: NamedTempFile,
    place: PathBuf,
}

/// A paper that is in its place, and the one that was there before.
struct Done {
    place: PathBuf,
    old: Option<NamedTempFile>,
}

/// Makes the folder of the papers where it is not there, and sweeps it once.
///
/// # Errors
///
/// In words, when it cannot be made.
pub(super) fn open(folder: &Path, swept: &Once) -> Result<(), String> {
    fs::create_dir_all(folder).map_err(|error| {
        format!(
            "cannot make the folder {}: {}; name another with `--out`",
            folder.display(),
            plain(&error)
        )
    })?;
    swept.call_once(|| sweep(folder));
    Ok(())
}

/// Puts a packet in its places, in a folder that is there.
///
/// # Errors
///
/// In words for the therapist, when a place holds something that tautline did not write (unless it may be
/// replaced), or a file cannot be written; then every place holds what it held before.
pub(super) fn put(
    sheets: Vec<Sheet>,
    folder: &Path,
    may_replace: bool,
) -> Result<Vec<PathBuf>, String> {
    let unchanged = |why: String| format!("{why}; its papers stay as they were");
    let strangers: Vec<String> = sheets
        .iter()
        .filter(|_| !may_replace)
        .filter(|it| is_strange(it))
        .map(|it| it.place.display().to_string())
        .collect();
    if !strangers.is_empty() {
        return Err(unchanged(format!(
            "{}: not written by tautline for this case and paper. Move it, choose another `--out`, or give \
             `--replace`",
            strangers.join(", ")
        )));
    }
    let ready: Result<Vec<Ready>, String> = sheets.into_iter().map(beside).collect();
    let done = put_all(ready.map_err(unchanged)?)?;
    flush(folder);
    Ok(done)
}

/// Whether a place holds a file that is not an older print of the same paper of the same case.
///
/// Told by the first half of the file's identifier, which stays the same from print to print and
/// is not enciphered in a sealed file (ISO 32000-1:2008, 14.4).
fn is_strange(sheet: &Sheet) -> bool {
    match fs::read(&sheet.place) {
        Ok(old) => {
            let paper = |pdf: &[u8]| sheets::identifier(pdf).map(|it| it.paper);
            paper(&old).is_none_or(|it| Some(it) != paper(&sheet.pdf))
        }
        // What cannot be read may be anybody's; a folder is told when it is written.
        Err(error) => error.kind() != io::ErrorKind::NotFound && !sheet.place.is_dir(),
    }
}

/// Writes a paper to a file of its own in the folder it belongs to, for its owner's eyes alone.
fn beside(sheet: Sheet) -> Result<Ready, String> {
    let Sheet { pdf, place } = sheet;
    if place.is_dir() {
        return Err(format!("{} is a folder", place.display()));
    }
    let write = || {
        let mut file = beside_of(&place)?;
        file.write_all(&pdf)?;
        file.as_file().sync_all()?;
        Ok(file)
    };
    let file =
        write().map_err(|error| format!("cannot write {}: {}", place.display(), plain(&error)))?;
    Ok(Ready { file, place })
}

fn beside_of(place: &Path) -> io::Result<NamedTempFile> {
    Builder::new().prefix(PREFIX).suffix(SUFFIX).tempfile_in(folder_of(place))
}

/// Renames every paper into its place, and takes all back when one cannot be.
fn put_all(ready: Vec<Ready>) -> Result<Vec<PathBuf>, String> {
    let mut done: Vec<Done> = Vec::new();
    for paper in ready {
        match put_one(paper) {
            Ok(it) => done.push(it),
            Err(why) => return Err(take_back(done, &why)),
        }
    }
    Ok(done.into_iter().map(|it| it.place).collect())
}

fn put_one(ready: Ready) -> Result<Done, String> {
    let Ready { file, place } = ready;
    let fault = |error: &io::Error| format!("cannot write {}: {}", place.display(), plain(error));
    let old = keep(&place).map_err(|it| fault(&it))?;
    match file.persist(&place) {
        Ok(_) => Ok(Done { place, old }),
        Err(error) => Err(fault(&error.error)),
    }
}

/// A copy of what a place holds now, which is gone with its handle; nothing where the place is free.
fn keep(place: &Path) -> io::Result<Option<NamedTempFile>> {
    let old = match fs::read(place) {
        Ok(old) => old,
        Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(None),
        Err(error) => return Err(error),
    };
    let mut kept = beside_of(place)?;
    kept.write_all(&old)?;
    Ok(Some(kept))
}

/// Puts the old papers back and says so, or which could not be.
fn take_back(done: Vec<Done>, why: &str) -> String {
    let mut stuck: Vec<String> = Vec::new();
    for Done { place, old } in done.into_iter().rev() {
        let is_back = match old {
            Some(old) => old.persist(&place).is_ok(),
            None => fs::remove_file(&place).is_ok(),
        };
        if !is_back {
            stuck.push(place.display().to_string());
        }
    }
    if stuck.is_empty() {
        return format!("{why}; its papers stay as they were");
    }
    format!("{why}; new already: {}", stuck.join(", "))
}

/// Takes away what a run that was killed left beside its papers; a run under way is no hour old.
fn sweep(folder: &Path) {
    let is_scrap = |it: &fs::DirEntry| {
        let name = it.file_name();
        let name = name.to_string_lossy();
        name.starts_with(PREFIX) && name.ends_with(SUFFIX)
    };
    let is_old = |it: &fs::DirEntry| {
        let age = it.metadata().and_then(|it| it.modified()).map(|it| it.elapsed());
        age.is_ok_and(|it| it.is_ok_and(|it| it > LONGEST_RUN))
    };
    for scrap in fs::read_dir(folder).into_iter().flatten().flatten() {
        if is_scrap(&scrap) && is_old(&scrap) {
            // Another run may have taken it away, which is as good.
            let _ = fs::remove_file(scrap.path());
        }
    }
}

/// Makes the renames last through a power cut, where the system can.
fn flush(folder: &Path) {
    if let Ok(folder) = fs::File::open(folder) {
        // A system that cannot flush a folder keeps the papers all the same.
        let _ = folder.sync_all();
    }
}
