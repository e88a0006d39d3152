//! Pictures that stand beside the case file: the clinic's logo, photos of the finished piece.

use std::rc::Rc;

use super::fields::{Form, group, list};
use super::forms::{REMARK, refuse, text, unprintable};
use super::shape::Shape;

/// So many photos stand in a row of the summary.
const MOST_PHOTOS: usize = 4;
/// The longest path, in characters.
const LONGEST_PATH: usize = 200;
/// What a picture's name ends in.
const ENDINGS: [&str; 4] = [".png", ".jpg", ".jpeg", ".webp"];
/// The same as a pattern.
const ENDING: &str = r"\.([pP][nN][gG]|[jJ][pP][eE]?[gG]|[wW][eE][bB][pP])\s*$";

/// A photo of the finished piece.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Photo {
    /// Its file, from the folder of the case file down, parts parted by `/`.
    pub file: String,
    /// What it shows: printed below it, and read aloud.
    pub shows: String,
}

/// A picture's file beside the case file or below it: no way up, out or across.
pub(super) fn file() -> Form<String> {
    let accepted = "the name of a PNG, JPEG or WebP file beside the case file or in a folder below it, such as \
                    `photos/front.jpg`";
    let shape = || Shape::Formed { pattern: ENDING };
    Form::new(accepted, shape, move |field| {
        let read = field.scalar(accepted)?.trim();
        unprintable(field, read)?;
        let parts = || read.split('/');
        let cure = if read.starts_with('/') || read.contains(':') || read.starts_with('~') {
            "write the way from the case file's own folder"
        } else if read.contains('\\') {
            "part folders by `/`"
        } else if parts().any(|it| it == "..") {
            "put the picture beside the case file or below it; there is no way up"
        } else if parts().any(|it| it.is_empty() || it == "." || it.trim() != it) {
            "write folder and file names with one `/` between them"
        } else if read.chars().count() > LONGEST_PATH {
            "give it a shorter name"
        } else if !ENDINGS.iter().any(|it| read.to_lowercase().ends_with(it)) {
            "save it as PNG, JPEG or WebP"
        } else {
            return Some(read.to_owned());
        };
        refuse(field, read, accepted, cure)
    })
}

pub(super) fn photos() -> Form<Vec<Photo>> {
    let photo = group(|f| {
        let file = f.need("file", file());
        let shows = f.need("shows", text(REMARK));
        Some(Photo { file: file?, shows: shows? })
    });
    let all = Rc::new(list(photo));
    let told = Rc::clone(&all);
    let shape = move || told.shape().of_items(0, Some(MOST_PHOTOS));
    let accepted = format!("a list of at most {MOST_PHOTOS} photos, each with `file` and `shows`");
    Form::new(accepted.clone(), shape, move |field| {
        let photos = all.read(field)?;
        if photos.len() > MOST_PHOTOS {
            return refuse(
                field,
                &format!("{} photos", photos.len()),
                &accepted,
                "choose the ones that tell most",
            );
        }
        Some(photos)
    })
}
