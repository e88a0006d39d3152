//! The pictures that a case names, from beside its file.

use std::fs::File;
use std::io::Read;
use std::path::{Path, PathBuf};

use super::input::plain;
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
    let mut pictures = Pictures::default();
    let mut is_whole = true;
    let case_file = path;
    let mut put =
        |path: &Path, key: String, file: &str, put: &mut dyn FnMut(&[u8]) -> Result<(), String>| {
            let whose = if path == case_file { "case file" } else { "profile" };
            if let Err(why) = bytes(path, whose, file).and_then(|bytes| put(&bytes)) {
                report::failure(told, &format!("{}: `{key}`, {file}: {why}", path.display()));
                is_whole = false;
            }
        };
    if let Some(logo) = &case.clinic.logo {
        let mut take = |it: &[u8]| pictures.put_logo(it).map_err(|why| why.to_string());
        put(logo_beside, "clinic.logo".into(), logo, &mut take);
    }
    for (photo, number) in case.photos.iter().zip(1..) {
        let mut take = |it: &[u8]| pictures.put_photo(it).map_err(|why| why.to_string());
        put(path, format!("photos[{number}].file"), &photo.file, &mut take);
    }
    is_whole.then_some(pictures)
}

/// Where the pictures of a case are.
pub(super) fn files(path: &Path, logo_beside: &Path, case: &Case) -> Vec<PathBuf> {
    let beside = |file: &Path, it: &String| file.parent().unwrap_or(Path::new("")).join(it);
    let logo = case.clinic.logo.iter().map(|it| beside(logo_beside, it));
    logo.chain(case.photos.iter().map(|it| beside(path, &it.file))).collect()
}

/// The bytes of a file below the folder of the case; a link that leads out of it is not followed.
fn bytes(case: &Path, whose: &str, file: &str) -> Result<Vec<u8>, String> {
    let folder = case.parent().filter(|it| !it.as_os_str().is_empty()).unwrap_or(Path::new("."));
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
