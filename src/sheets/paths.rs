//! Where things stand in the closed world: one path for all cases, since paths are interned for good.

use typst::syntax::{FileId, RootedPath, VirtualPath, VirtualRoot};

/// The case's data.
pub(super) const DATA: &str = "/case/case.json";

/// The words of the paper's language.
pub(super) const WORDS: &str = "/case/words.json";

/// The whole record, where one is attached.
pub(super) const RECORD: &str = "/case/record.yaml";

/// The shapes of a drawing.
pub(super) fn drawing(index: usize) -> String {
    format!("/case/drawing-{index}")
}

/// The id of a path.
///
/// # Panics
///
/// Where it is no path: all are written in the program.
pub(super) fn id(path: &str) -> FileId {
    let path = VirtualPath::new(path).expect("paths in the closed world are written here");
    RootedPath::new(VirtualRoot::Project, path).intern()
}
