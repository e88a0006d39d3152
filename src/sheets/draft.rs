//! A paper before it is typeset: its layout and all that the layout reads, and a stamp of both.

use std::num::NonZeroUsize;
use std::sync::LazyLock;
use std::thread;

use jiff::civil::Date;
use sha2::{Digest, Sha256};

use super::data;
use super::pdf;
use super::words::{OwnWords, Words};
use super::world::{CaseWorld, embedded};
use super::{Edition, LayoutFault, Paper, Pictures};
use crate::calc::Plan;
use crate::case::{Case, PageSize, Written, normalised};
use crate::fonts;
use crate::sources::EDITION;

/// What settles every byte of a paper, as 128 bits of SHA-256 in hexadecimal digits: the program, its layouts and
/// fonts, and what the layout reads of the case (FIPS 180-4).
///
/// Equal stamps mean equal papers; a paper carries its own in its identifier.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Stamp(String);

impl Stamp {
    pub(super) fn text(&self) -> &str {
        &self.0
    }

    /// Whether it is the one that a file carries.
    #[must_use]
    pub fn is(&self, text: &[u8]) -> bool {
        self.0.as_bytes() == text
    }
}

/// The name of the sheet for the patient's arm, in file names and of its layout.
pub const MEASURING_SHEET: &str = "measuring-sheet";

/// For how many papers more the typesetter remembers what it laid out: a few packets of each worker, so that what a
/// clinic's cases share is laid out once.
static KEPT: LazyLock<usize> =
    LazyLock::new(|| thread::available_parallelism().map_or(2, NonZeroUsize::get).max(2) * 8);

/// A paper of one case, ready to be typeset.
pub struct Draft {
    world: CaseWorld,
    ident: String,
    stamp: Stamp,
}

impl Draft {
    /// The paper as one edition prints it.
    #[must_use]
    pub fn of(paper: Paper, case: &Case, plan: &Plan, edition: Edition<'_>) -> Self {
        let case = &edition.pictures.shown(case);
        let words = Words::of(paper, case.head.language, edition.words);
        let data = data::of(paper, case, plan, edition, words);
        let world =
            CaseWorld::new(&layout(paper), data, words.data(paper.name()), case.head.prepared);
        Self::new(world.with_pictures(edition.pictures), paper, case)
    }

    /// The summary with the whole record attached, as [`crate::case::normalised`] writes it: PDF/A-3a instead of
    /// PDF/A-2a.
    #[must_use]
    pub fn with_record(case: &Case, plan: &Plan, edition: Edition<'_>) -> Self {
        let paper = Paper::Summary;
        let record = normalised(case);
        let case = &edition.pictures.shown(case);
        let words = Words::of(paper, case.head.language, edition.words);
        let data = data::with_record(case, plan, edition.page, words);
        let world =
            CaseWorld::new(&layout(paper), data, words.data(paper.name()), case.head.prepared);
        Self::new(world.with_pictures(edition.pictures).with_record(record), paper, case)
    }

    /// The sheet that is taken to the patient's arm, filled in as far as a file is written; [`Written::default`] gives
    /// the empty one.
    ///
    /// It is no [`Paper`]: it comes before any plan, and no finding withholds it. Where no day is written the
    /// document's own is that of the values' edition, which no page shows.
    ///
    /// # Panics
    ///
    /// Never: the edition is a day.
    #[must_use]
    pub fn measuring_sheet(
        written: &Written,
        page: PageSize,
        own: &[OwnWords],
        pictures: &Pictures,
    ) -> Self {
        let day = written.at("case.prepared").unwrap_or(EDITION).parse::<Date>();
        let day = day.unwrap_or_else(|_| EDITION.parse().expect("the edition is a day"));
        let words = Words::english(own);
        let data = data::measuring_sheet(written, page, day, words, pictures.has_logo());
        let words = words.data("measuring_sheet");
        let world = CaseWorld::new(&format!("{MEASURING_SHEET}.typ"), data, words, day);
        let world = world.with_pictures(pictures);
        let ident = match written.at("case.id") {
            Some(id) => format!("tautline {id} {MEASURING_SHEET}"),
            None => format!("tautline {MEASURING_SHEET}"),
        };
        let stamp = stamp(&world, &ident);
        Self { world, ident, stamp }
    }

    fn new(world: CaseWorld, paper: Paper, case: &Case) -> Self {
        let ident = format!("tautline {} {}", case.head.id, paper.name());
        let stamp = stamp(&world, &ident);
        Self { world, ident, stamp }
    }

    /// What settles its bytes.
    #[must_use]
    pub fn stamp(&self) -> &Stamp {
        &self.stamp
    }

    /// The paper as PDF.
    ///
    /// # Errors
    ///
    /// A fault in a layout; no case that was read should cause one.
    pub fn typeset(&self) -> Result<Vec<u8>, LayoutFault> {
        let set = pdf::typeset(&self.world, &self.ident, &self.stamp);
        // The typesetter remembers what it laid out; a long run would keep every patient in memory. What papers share
        // with it or the last few is kept.
        comemo::evict(*KEPT);
        set
    }
}

fn layout(paper: Paper) -> String {
    format!("{}.typ", paper.name())
}

/// What is the same for all papers: program, libraries, the code that settles bytes, layouts and fonts.
static PROGRAM: LazyLock<[u8; 32]> = LazyLock::new(|| {
    let mut hash = Sha256::new();
    put(&mut hash, env!("CARGO_PKG_VERSION").as_bytes());
    put(&mut hash, include_bytes!("../../Cargo.lock"));
    let code = [
        &include_bytes!("drawn.rs")[..],
        include_bytes!("measured.rs"),
        include_bytes!("pdf.rs"),
        include_bytes!("world.rs"),
    ];
    for code in code {
        put(&mut hash, code);
    }
    embedded(|path, bytes| {
        put(&mut hash, path.as_bytes());
        put(&mut hash, bytes);
    });
    for file in fonts::files() {
        put(&mut hash, file);
    }
    hash.finalize().into()
});

fn stamp(world: &CaseWorld, ident: &str) -> Stamp {
    let mut hash = Sha256::new();
    hash.update(*PROGRAM);
    put(&mut hash, ident.as_bytes());
    world.inputs(|path, bytes| {
        put(&mut hash, path.as_bytes());
        put(&mut hash, bytes);
    });
    let half = &hash.finalize()[..16];
    Stamp(half.iter().map(|byte| format!("{byte:02x}")).collect())
}

/// Adds a part with its length before it, so that no two lists of parts read alike.
fn put(hash: &mut Sha256, part: &[u8]) {
    hash.update((part.len() as u64).to_le_bytes());
    hash.update(part);
}
