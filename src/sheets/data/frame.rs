//! What every page of every paper carries.

use serde::Serialize;

use crate::case::{Case, Direction, PageSize};
use crate::sheets::words::Words;

/// Header and footer.
#[derive(Debug, Serialize)]
pub(super) struct Frame {
    case_id: String,
    patient: String,
    side: &'static str,
    prepared: String,
    prepared_ymd: [i32; 3],
    clinic: String,
    phone: String,
    therapist: String,
    paper_size: &'static str,
    language: &'static str,
    /// Whether the clinic's logo stands in the footer.
    logo: bool,
}

impl Frame {
    pub(super) fn of(case: &Case, page: PageSize, words: &Words) -> Self {
        let prepared = case.head.prepared;
        Self {
            case_id: case.head.id.clone(),
            patient: case.patient.name.clone(),
            side: case.patient.side.word(),
            prepared: words.day(prepared),
            prepared_ymd: [prepared.year().into(), prepared.month().into(), prepared.day().into()],
            clinic: case.clinic.name.clone(),
            phone: case.clinic.phone.clone(),
            therapist: case.clinic.therapist.clone(),
            paper_size: match page {
                PageSize::Letter => "us-letter",
                PageSize::A4 => "a4",
            },
            language: words.language().word(),
            logo: case.clinic.logo.is_some(),
        }
    }
}

/// The side of the limb that a line runs on.
pub(super) fn pull_side(direction: Direction) -> &'static str {
    match direction {
        Direction::Flexion => "palm",
        Direction::Extension => "back",
    }
}

/// The side that it does not run on.
pub(super) fn other_side(direction: Direction) -> &'static str {
    match direction {
        Direction::Flexion => "back",
        Direction::Extension => "palm",
    }
}
