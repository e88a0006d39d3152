//! The data border: all that a layout may see, and the only place where a plan becomes text.
//!
//! Printed numbers arrive as finished text; a raw number is a coordinate in mm at full size, or a
//! count of boxes. Nothing but these types is serialised for the layouts.

mod brief;
mod card;
mod cut_list;
mod dose_chart;
mod drawing;
mod flat;
mod frame;
mod handout;
mod labels;
mod loads;
mod made;
mod pattern;
mod pieces;
mod plot;
mod range_plot;
mod summary;
mod tiles;
mod workings;

use serde::Serialize;

use crate::calc::Plan;
use crate::case::{Case, PageSize};

use super::words::Words;
use super::{Edition, Paper};

/// The data of one paper, as JSON for its layout.
///
/// # Panics
///
/// Never: texts and finite numbers are always JSON.
pub(super) fn json(
    paper: Paper,
    case: &Case,
    plan: &Plan,
    edition: Edition,
    words: &Words,
) -> Vec<u8> {
    let page = edition.page;
    match paper {
        Paper::Handout => bytes(&handout::handout(case, plan, edition, words)),
        Paper::Card => bytes(&card::card(case, plan, page, words)),
        Paper::Summary => bytes(&summary::summary(case, plan, page, words)),
        Paper::Brief => bytes(&brief::brief(case, plan, page, words)),
        Paper::Workings => bytes(&workings::workings(case, plan, page, words)),
        Paper::Pattern => bytes(&pattern::pattern(case, plan, page, words)),
        Paper::Labels => bytes(&labels::labels(case, plan, page, words)),
    }
}

/// The data of a summary that carries the whole record with it.
///
/// # Panics
///
/// Never, as above.
pub(super) fn with_record(case: &Case, plan: &Plan, page: PageSize, words: &Words) -> Vec<u8> {
    let mut summary = summary::summary(case, plan, page, words);
    summary.attached = true;
    bytes(&summary)
}

fn bytes(data: &impl Serialize) -> Vec<u8> {
    serde_json::to_vec(data).expect("texts and finite numbers are JSON")
}
