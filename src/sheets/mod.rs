//! [`Plan`] → PDF.
//!
//! One data border (`data`) turns a plan into what a layout may see; the layouts place and never
//! reckon; a closed world has nothing but them, the embedded fonts and one case's data.

mod data;
mod draft;
mod drawn;
pub mod figures;
mod identifier;
mod measured;
mod paths;
mod pdf;
mod pictures;
mod seal;
mod wording;
mod words;
mod world;

pub use draft::{Draft, MEASURING_SHEET, Stamp};
pub use identifier::{Identifier, identifier};
pub use pdf::LayoutFault;
pub use pictures::{MOST_PIXELS, PictureFault, Pictures, Use, ready};
pub use seal::{LONGEST_PASSWORD, SHORTEST_PASSWORD, SealFault, seal};
pub(crate) use wording::listed;
pub use words::OwnWords;

use std::thread;

use crate::calc::Plan;
use crate::case::{Case, PageSize};

/// A paper of the job.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Paper {
    /// For the patient.
    Handout,
    /// For the bench.
    Card,
    /// For the clinician and the payer.
    Summary,
    /// One page of the summary, for the payer.
    Brief,
    /// Every number behind the mechanics, for the clinician who checks them.
    Workings,
    /// The flat pieces at true size, for the bench.
    Pattern,
    /// For the strip: scales to cut out.
    Labels,
}

impl Paper {
    /// All papers, in printing order.
    pub const ALL: [Self; 7] = [
        Self::Handout,
        Self::Card,
        Self::Summary,
        Self::Brief,
        Self::Workings,
        Self::Pattern,
        Self::Labels,
    ];

    /// Its name in file names and on the command line.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Handout => "handout",
            Self::Card => "card",
            Self::Summary => "summary",
            Self::Brief => "brief",
            Self::Workings => "workings",
            Self::Pattern => "pattern",
            Self::Labels => "labels",
        }
    }

    /// Whether a stop-level finding withholds it.
    #[must_use]
    pub fn is_withheld_by_a_stop(self) -> bool {
        !matches!(self, Self::Summary | Self::Brief | Self::Workings)
    }
}

/// How the papers of a run are printed, beside what the case says.
#[derive(Debug, Clone, Copy)]
pub struct Edition<'w> {
    /// The paper in the printer.
    pub page: PageSize,
    /// Whether the handout ends in the teach-back, half a page for the therapist.
    pub teach_back: bool,
    /// The clinic's own words, at most one set a language.
    pub words: &'w [OwnWords],
    /// The case's pictures; what it names and is not here is left out.
    pub pictures: &'w Pictures,
}

impl From<PageSize> for Edition<'_> {
    /// The pages that the patient takes home.
    fn from(page: PageSize) -> Self {
        static NONE: Pictures = Pictures::none();
        Self { page, teach_back: false, words: &[], pictures: &NONE }
    }
}

/// Typesets papers of one case, side by side where the machine can, in the order asked for.
///
/// The same case gives the same bytes, on every machine and every day.
///
/// # Errors
///
/// A fault in a layout; no case that was read should cause one.
pub fn typeset<'w>(
    papers: &[Paper],
    case: &Case,
    plan: &Plan,
    edition: impl Into<Edition<'w>>,
) -> Result<Vec<Vec<u8>>, LayoutFault> {
    let edition = edition.into();
    let drafts: Vec<Draft> = papers.iter().map(|it| Draft::of(*it, case, plan, edition)).collect();
    side_by_side(&drafts)
}

/// Typesets drafts side by side where the machine can, in their order.
///
/// # Errors
///
/// A fault in a layout; no case that was read should cause one.
pub fn side_by_side(drafts: &[Draft]) -> Result<Vec<Vec<u8>>, LayoutFault> {
    thread::scope(|scope| {
        let workers: Vec<_> = drafts.iter().map(|it| scope.spawn(|| it.typeset())).collect();
        workers.into_iter().map(joined).collect()
    })
}

/// Typesets the summary with the whole record attached, as [`crate::case::normalised`] writes it: PDF/A-3a
/// instead of PDF/A-2a.
///
/// # Errors
///
/// A fault in a layout; no case that was read should cause one.
pub fn with_record<'w>(
    case: &Case,
    plan: &Plan,
    edition: impl Into<Edition<'w>>,
) -> Result<Vec<u8>, LayoutFault> {
    Draft::with_record(case, plan, edition.into()).typeset()
}

/// A worker's paper; a panic in it goes on here.
fn joined<T>(worker: thread::ScopedJoinHandle<'_, T>) -> T {
    worker.join().unwrap_or_else(|panic| std::panic::resume_unwind(panic))
}
