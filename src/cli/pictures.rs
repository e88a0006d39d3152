//! The pictures that a case names, from beside its file.

use std::fs::File;
use std::io::Read;
use std::path::{Path, PathBuf};

use super::input::{folder_of, plain};
use super::report;
use super::told::Told;
use crate::case::Case;
use crate::sheets::Pictures;

/// A photo is a few megabytes; more than this is something else.
const LARGEST: u64 = 40 << 20;

/// Reads every picture of a case and makes it ready; nothing where one cannot be, each told with its key.
/// The logo lies beside the clinic's profile where that names it.
pub(super) fn load(
    told: &mut Told,
    path: &Path,
    logo_beside: &Path,
    case: &Case,
) -> Option<Pictures> {
    let logo = logo(told, path, logo_beside, case.clinic.logo.as_deref());
    let mut is_whole = logo.is_some();
    let mut pictures = logo.unwrap_or_default();
    for (photo, number) in case.photos.iter().zip(1..) {
        let key = format!("photos[{number}].file");
        let bytes = bytes(path, "case file", &photo.file);
        let taken = bytes.and_then(|it| pictures.put_photo(&it).map_err(|why| why.to_string()));
        is_whole &= is_taken(told, path, &key, &photo.file, taken);
    }
    is_whole.then_some(pictures)
}

/// Reads the clinic's logo and makes it ready, if there is one; nothing where that cannot be, which is told.
pub(super) fn logo(
    told: &mut Told,
    path: &Path,
    beside: &Path,
    logo: Option<&str>,
) -> Option<Pictures> {
    let mut pictures = Pictures::default();
    let Some(logo) = logo else { return Some(pictures) };
    let bytes = bytes(beside, if beside == path { "case file" } else { "profile" }, logo);
    let taken = bytes.and_then(|it| pictures.put_logo(&it).map_err(|why| why.to_string()));
    is_taken(told, beside, "clinic.logo", logo, taken).then_some(pictures)
}

/// Tells why a picture was not taken.
fn is_taken(
    told: &mut Told,
    path: &Path,
    key: &str,
    file: &str,
    taken: Result<(), String>,
) -> bool {
    taken
        .inspect_err(|why| {
            report::failure(told, &format!("{}: `{key}`, {file}: {why}", path.display()));
        })
        .is_ok()
}

/// Where the pictures of a case are.
pub(super) fn files(path: &Path, logo_beside: &Path, case: &Case) -> Vec<PathBuf> {
    let beside = |file: &Path, it: &String| file.parent().unwrap_or(Path::new("")).join(it);
    let logo = case.clinic.logo.iter().map(|it| beside(logo_beside, it));
    logo.chain(case.photos.iter().map(|it| beside(path, &it.file))).collect()
}

/// The bytes of a file below the folder of the case; a link that leads out of it is not followed.
fn bytes(case: &Path, whose: &str, file: &str) -> Result<Vec<u8>, String> {
    let folder = folder_of(case);
    let real = |path: PathBuf| path.canonicalize().map_err(|error| plain(&error));
    let (folder, picture) = (real(folder.to_owned())?, real(folder.join(file))?);
    if !picture.starts_with(&folder) {
        return Err(format!(
            "a link leads out of the {whose}'s folder; put the picture itself there"
        ));
    }
    let opened = File::open(&picture).map_err(|error| plain(&error))?;
    if !opened.metadata().is_ok_and(|it| it.is_file()) {
        return Err("it is no file".into());
    }
    let mut bytes = Vec::new();
    opened.take(LARGEST + 1).read_to_end(&mut bytes).map_err(|error| plain(&error))?;
    if bytes.len() as u64 > LARGEST {
        return Err(format!("it is larger than {} MiB", LARGEST >> 20));
    }
    Ok(bytes)
}
