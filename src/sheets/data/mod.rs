//! The data border: all that a layout may see, and the only place where a plan becomes text.
//!
//! Printed numbers arrive as finished text; a raw number is a coordinate in mm at full size, or a
//! count of boxes; paths, which no layout reads, are in thousandths of a millimetre. Nothing but these
//! types is serialised for the layouts.

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
mod measuring;
mod measuring_asked;
mod pattern;
mod pieces;
mod plot;
mod range_plot;
mod shapes;
mod sizes;
mod summary;
mod tiles;
mod wearing;
mod workings;

use jiff::civil::Date;
use serde::Serialize;

use crate::calc::Plan;
use crate::case::{Case, PageSize, Written};

use super::paths;
use super::words::Words;
use super::{Edition, Paper};

/// What a layout reads.
pub(super) struct Data {
    /// Texts, numbers and lists.
    pub(super) json: Vec<u8>,
    /// The shapes of its drawings, which `draw-shapes` reads where the JSON names them.
    pub(super) drawings: Vec<String>,
}

/// The data of one paper for its layout.
///
/// # Panics
///
/// Never: texts and finite numbers are always JSON.
pub(super) fn of(
    paper: Paper,
    case: &Case,
    plan: &Plan,
    edition: Edition<'_>,
    words: &Words,
) -> Data {
    let page = edition.page;
    match paper {
        Paper::Handout => parted(&handout::handout(case, plan, edition, words)),
        Paper::Card => parted(&card::card(case, plan, page, words)),
        Paper::Summary => tied(&summary::summary(case, plan, page, words)),
        Paper::Brief => tied(&brief::brief(case, plan, page, words)),
        Paper::Workings => parted(&workings::workings(case, plan, page, words)),
        Paper::Pattern => parted(&pattern::pattern(case, plan, page, words)),
        Paper::Labels => parted(&labels::labels(case, plan, page, words)),
    }
}

/// The data of a summary that carries the whole record with it.
///
/// # Panics
///
/// Never, as above.
pub(super) fn with_record(case: &Case, plan: &Plan, page: PageSize, words: &Words) -> Data {
    let mut summary = summary::summary(case, plan, page, words);
    summary.attached = true;
    tied(&summary)
}

/// The data of a measuring sheet, filled in as far as a file is written.
///
/// # Panics
///
/// Never, as above.
pub(super) fn measuring_sheet(
    written: &Written,
    page: PageSize,
    day: Date,
    words: &Words,
    has_logo: bool,
) -> Data {
    parted(&measuring::measuring_sheet(written, page, day, words, has_logo))
}

/// Units that stay on the line of their number.
const UNITS: [&str; 6] = ["%", "mm", "N", "N·m", "kPa", "mmHg"];

/// The data with each number tied to its unit, and each ± to its number, so that no line begins with either.
///
/// Works on the JSON as text: keys hold no spaces, and a space behind a digit stands in words alone.
fn tied(data: &impl Serialize) -> Data {
    let Data { json, drawings } = parted(data);
    let text = String::from_utf8(json).expect("JSON is UTF-8");
    let mut tied = String::with_capacity(text.len() + 64);
    let mut words = text.split(' ').peekable();
    while let Some(word) = words.next() {
        tied.push_str(word);
        let Some(next) = words.peek() else { break };
        let unit = next.trim_end_matches(['.', ',', ';', ':', ')', '"', ']', '}']);
        let is_unit = word.ends_with(|it: char| it.is_ascii_digit()) && UNITS.contains(&unit);
        tied.push(if is_unit || word == "±" { '\u{a0}' } else { ' ' });
    }
    Data { json: tied.into_bytes(), drawings }
}

/// The data as JSON, the shapes of its drawings beside it.
fn parted(data: &impl Serialize) -> Data {
    let text = serde_json::to_string(data).expect("texts and finite numbers are JSON");
    let (json, drawings) = shapes::taken_out(&text, paths::drawing);
    Data { json: json.into_bytes(), drawings }
}
