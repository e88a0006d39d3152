//! A closed world for the typesetter: embedded layouts, embedded fonts, one case's data.
//!
//! Nothing else exists in it: no file system, no packages, no system fonts, no clock. Case text
//! enters only as JSON data, so it cannot become markup or code.

use std::path::PathBuf;
use std::sync::{LazyLock, OnceLock};

use include_dir::{Dir, DirEntry, File, include_dir};
use jiff::civil::Date;
use typst::diag::{FileError, FileResult, PackageError};
use typst::foundations::{Bytes, Datetime, Duration};
use typst::routines::Routines;
use typst::syntax::{FileId, Source, VirtualRoot};
use typst::text::{Font, FontBook};
use typst::utils::LazyHash;
use typst::{Feature, Library, LibraryExt, World};

use super::data::Data;
use super::drawn::draw_shapes;
use super::measured;
use super::paths::{self, DATA, RECORD, WORDS};
use super::pictures::Pictures;
use crate::fonts;

static LAYOUTS: Dir<'_> = include_dir!("$CARGO_MANIFEST_DIR/layouts");

/// What all documents share, prepared once.
struct Shared {
    library: LazyHash<Library>,
    book: LazyHash<FontBook>,
    layouts: Vec<Layout>,
}

/// An embedded layout, parsed when a paper first asks for it.
struct Layout {
    id: FileId,
    text: &'static str,
    source: OnceLock<Source>,
}

static ROUTINES: LazyLock<Routines> =
    LazyLock::new(|| measured::routines(Library::default().routines));

static SHARED: LazyLock<Shared> = LazyLock::new(|| {
    let mut shared = Shared {
        library: LazyHash::new(library()),
        book: LazyHash::new(FontBook::from_fonts(fonts::all())),
        layouts: Vec::new(),
    };
    embed(&LAYOUTS, &mut shared);
    shared
});

/// The typesetter's library.
fn library() -> Library {
    // Row headings of tables are behind a feature while their interface may change.
    let features = [Feature::A11yExtras].into_iter().collect();
    let mut library = Library::builder().with_features(features).build();
    library.routines = &ROUTINES;
    library.global.scope_mut().define_func::<draw_shapes>();
    library
}

/// Files layouts as sources; words reach a document as its own data.
fn embed(folder: &'static Dir<'static>, shared: &mut Shared) {
    for entry in folder.entries() {
        match entry {
            DirEntry::Dir(inner) => embed(inner, shared),
            DirEntry::File(file) if file.path().extension().is_some_and(|it| it == "typ") => {
                let id = paths::id(&format!("/layouts/{}", file.path().display()));
                let text = file.contents_utf8().expect("layouts are text");
                shared.layouts.push(Layout { id, text, source: OnceLock::new() });
            }
            DirEntry::File(_) => {}
        }
    }
}

/// Shows every embedded file below `layouts` with its path, in one order on every machine.
pub(super) fn embedded(mut show: impl FnMut(&str, &[u8])) {
    let mut files: Vec<(String, &[u8])> = Vec::new();
    let mut folders = vec![&LAYOUTS];
    while let Some(folder) = folders.pop() {
        folders.extend(folder.dirs());
        let named = |it: &'static File<'static>| {
            // A checkout may turn the stroke of a path.
            (it.path().display().to_string().replace('\\', "/"), it.contents())
        };
        files.extend(folder.files().map(named));
    }
    files.sort_unstable();
    for (path, bytes) in files {
        show(&path, bytes);
    }
}

/// The text of an embedded file below `layouts`.
///
/// # Panics
///
/// Where there is no such file, or it is no text.
pub(super) fn layout(path: &str) -> &'static str {
    let file = LAYOUTS.get_file(path).and_then(|it| it.contents_utf8());
    file.unwrap_or_else(|| panic!("`layouts/{path}` is not embedded"))
}

/// The world of one document.
pub(super) struct CaseWorld {
    main: FileId,
    /// Data, words, the shapes of the drawings and, on request, the whole record.
    files: Vec<(FileId, Bytes)>,
    has_record: bool,
    day: Date,
}

impl CaseWorld {
    /// The world of `layout` with one case's data and the words of its language, on the day the papers are for.
    pub(super) fn new(layout: &str, data: Data, words: Bytes, day: Date) -> Self {
        let drawings = data.drawings.into_iter().enumerate();
        let drawings =
            drawings.map(|(index, it)| (paths::id(&paths::drawing(index)), Bytes::from_string(it)));
        let texts = [(paths::id(DATA), Bytes::new(data.json)), (paths::id(WORDS), words)];
        Self {
            main: paths::id(&format!("/layouts/{layout}")),
            files: texts.into_iter().chain(drawings).collect(),
            has_record: false,
            day,
        }
    }

    /// The same world with the whole record in it.
    pub(super) fn with_record(mut self, record: String) -> Self {
        self.files.push((paths::id(RECORD), Bytes::new(record.into_bytes())));
        self.has_record = true;
        self
    }

    /// The same world with a case's pictures in it.
    pub(super) fn with_pictures(mut self, pictures: &Pictures) -> Self {
        let files = pictures.files();
        self.files.extend(files.map(|(path, it)| (paths::id(&path), Bytes::new(it.to_vec()))));
        self
    }

    /// The day the papers are for.
    pub(super) fn day(&self) -> Date {
        self.day
    }

    /// Shows the layout's name, the day and every file with its path: all that the document is made from.
    pub(super) fn inputs(&self, mut show: impl FnMut(&str, &[u8])) {
        show("layout", self.main.vpath().get_without_slash().as_bytes());
        show("day", self.day.to_string().as_bytes());
        for (path, bytes) in &self.files {
            show(path.vpath().get_without_slash(), bytes);
        }
    }

    /// Whether the whole record is in it.
    pub(super) fn has_record(&self) -> bool {
        self.has_record
    }
}

/// A day in the typesetter's calendar.
pub(super) fn datetime(day: Date) -> Datetime {
    let (month, date) = (day.month().unsigned_abs(), day.day().unsigned_abs());
    Datetime::from_ymd_hms(day.year().into(), month, date, 0, 0, 0).expect("a day of the calendar")
}

fn absent(id: FileId) -> FileError {
    match id.root() {
        VirtualRoot::Package(spec) => FileError::Package(PackageError::NotFound(spec.clone())),
        VirtualRoot::Project => {
            FileError::NotFound(PathBuf::from(id.vpath().get_without_slash().to_string()))
        }
    }
}

impl World for CaseWorld {
    fn library(&self) -> &LazyHash<Library> {
        &SHARED.library
    }

    fn book(&self) -> &LazyHash<FontBook> {
        &SHARED.book
    }

    fn main(&self) -> FileId {
        self.main
    }

    fn source(&self, id: FileId) -> FileResult<Source> {
        let found = SHARED.layouts.iter().find(|layout| layout.id == id);
        let layout = found.ok_or_else(|| absent(id))?;
        Ok(layout.source.get_or_init(|| Source::new(id, layout.text.to_owned())).clone())
    }

    fn file(&self, id: FileId) -> FileResult<Bytes> {
        let found = self.files.iter().find(|(it, _)| *it == id);
        found.map(|(_, text)| text.clone()).ok_or_else(|| absent(id))
    }

    fn font(&self, index: usize) -> Option<Font> {
        fonts::all().get(index).cloned()
    }

    fn today(&self, _: Option<Duration>) -> Option<Datetime> {
        Some(datetime(self.day))
    }
}
