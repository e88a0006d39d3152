//! What the measuring sheet shows: questions and boxes in the order of the case file, pictures that carry the
//! boxes' numbers, and what a file holds of it already.

use serde::Serialize;

use super::drawing::Drawing;
use super::measuring_asked::{Asked, asked, ticked};
use crate::calc::figure::{self, Pointed};
use crate::case::{PageSize, Question, Shape, Written, guide, measured};
use crate::sheets::words::Words;

/// Where its words stand.
const OWN: &str = "measuring_sheet";

#[derive(Debug, Serialize)]
pub(super) struct MeasuringSheet {
    paper: &'static str,
    paper_size: &'static str,
    language: &'static str,
    day_ymd: [i32; 3],
    /// The clinic's name and number, where a file gives them.
    clinic: String,
    phone: String,
    /// Whether the clinic's logo stands before its name.
    logo: bool,
    /// The case's number, the patient's name and the side, where a file gives them.
    case_id: String,
    patient: String,
    side: String,
    fields: Vec<Asked>,
    history: Vec<Asked>,
    ranges: Vec<Item>,
    /// The warm-up test and readings of the force gauge, a box toward each side, and what holds without them.
    both_sides: Vec<Item>,
    warm_up_without: String,
    gauge_without: String,
    /// Whether a left arm is drawn.
    is_mirrored: bool,
    limb: Vec<Item>,
    wrist: Drawing,
    arm: Drawing,
}

/// A number, what is measured, and a box for each of its values.
#[derive(Debug, Clone, Serialize)]
struct Item {
    number: String,
    what: String,
    key: String,
    /// Whether the file needs it, at least where nothing else stands for it.
    needed: bool,
    /// What holds where it is left out.
    without: String,
    boxes: Vec<Cell>,
    #[serde(skip)]
    spot: String,
}

#[derive(Debug, Clone, Serialize)]
struct Cell {
    /// The units to choose from, as the reader takes them.
    units: Vec<&'static str>,
    /// The value as the file has it; nothing where a hand is to write.
    value: String,
}

pub(super) fn measuring_sheet(
    written: &Written,
    page: PageSize,
    day: jiff::civil::Date,
    words: &Words,
    has_logo: bool,
) -> MeasuringSheet {
    let text = |path: &str| written.at(path).unwrap_or_default().to_owned();
    let items = items(written, words);
    let is_mirrored = written.at("patient.side") == Some("left");
    let wrist = pictured(&figure::wrist_to_measure(is_mirrored), "wrist", &items, words);
    let arm = pictured(&figure::arm_to_measure(is_mirrored), "arm", &items, words);
    let of = |group: &str| {
        let own = items.iter().filter(|it| it.spot.starts_with(group));
        own.cloned().collect::<Vec<_>>()
    };
    let without = |path: &str| guide::row(path).and_then(guide::Row::without).unwrap_or_default();
    let both_sides = [of("preconditioning"), of("torque")].concat();
    MeasuringSheet {
        paper: "measuring-sheet",
        paper_size: match page {
            PageSize::Letter => "us-letter",
            PageSize::A4 => "a4",
        },
        language: words.language().word(),
        day_ymd: [day.year().into(), day.month().into(), day.day().into()],
        clinic: text("clinic.name"),
        phone: text("clinic.phone"),
        logo: has_logo,
        case_id: text("case.id"),
        patient: text("patient.name"),
        side: text("patient.side"),
        fields: asked(FIELDS, written, |path| {
            Some(words.text(&format!("{OWN}.fields.{}", path.replace("[1]", ""))).to_owned())
        }),
        history: ticked("history.", written, words.text(&format!("{OWN}.none"))),
        ranges: of("motion"),
        both_sides,
        warm_up_without: without("preconditioning"),
        gauge_without: without("torque"),
        is_mirrored,
        limb: of("limb"),
        wrist,
        arm,
    }
}

/// What tells whose sheet it is, in the order of the file.
const FIELDS: &[&str] = &[
    "clinic.therapist",
    "patient.name",
    "patient.age",
    "patient.side",
    "patient.works_with",
    "motion[1].date",
];

/// Every measured value once; values that share a number stand in one item.
fn items(written: &Written, words: &Words) -> Vec<Item> {
    let mut items: Vec<Item> = Vec::new();
    for question in measured() {
        let spot = spot(&question);
        let cell = Cell {
            units: units(&question.key.shape),
            value: written.at(&question.path).unwrap_or_default().to_owned(),
        };
        match items.last_mut() {
            Some(last) if last.spot == spot => {
                if !last.key.ends_with("[]") && last.key != question.row.path {
                    last.key.push_str(&format!(", {}", question.row.path));
                }
                last.boxes.push(cell);
            }
            _ => {
                let number = (items.len() + 1).to_string();
                items.push(item(&question, spot, number, cell, words));
            }
        }
    }
    items
}

/// The place that a value's number points at: a tape round the forearm has one for both of its values, a range of the
/// warm-up test and a reading of the gauge one for both directions.
fn spot(question: &Question) -> String {
    let path = &question.path;
    match path.find(']') {
        Some(end) if path.starts_with("limb.") => path[..=end].to_owned(),
        _ if path.starts_with("torque") => question.row.path.to_owned(),
        _ if path.starts_with("preconditioning.") => {
            format!("preconditioning.{}", question.key.name)
        }
        _ => path.clone(),
    }
}

fn item(question: &Question, spot: String, number: String, cell: Cell, words: &Words) -> Item {
    let row = question.row;
    // A place of a list is told by the list's own words.
    let list = spot.strip_suffix(']').and_then(|it| it.split_once('['));
    let (what, key) = match list {
        Some((list, place)) => {
            let says = words.say(&format!("{OWN}.girth"), &[("place", place)]);
            (says, format!("{list}[]"))
        }
        None => (row.what.to_owned(), row.path.to_owned()),
    };
    let around = question.within.last().and_then(|(group, _)| guide::row(group));
    // What holds without a whole list or group stands at its first place, or above it.
    let is_told_above = spot.starts_with("torque") || spot.starts_with("preconditioning");
    let is_first = list.is_none_or(|(_, place)| place == "1") && !is_told_above;
    let without = row.without().or_else(|| around.and_then(guide::Row::without));
    // A key that another asks for is told by that; it is not simply left out.
    let asked_for = row.why.filter(|why| row.unset.is_some() && why.contains("needed"));
    Item {
        number,
        what,
        key,
        needed: row.is_needed() || asked_for.is_some() || (without.is_none() && !is_told_above),
        without: match asked_for.map(str::to_owned).or(without) {
            _ if !is_first => String::new(),
            Some(without) => without.replace('`', ""),
            None => words.text(&format!("{OWN}.needed")).to_owned(),
        },
        boxes: vec![cell],
        spot,
    }
}

/// The units that the reader takes.
fn units(shape: &Shape) -> Vec<&'static str> {
    match shape {
        Shape::Quantity { spans, .. } => spans.iter().map(|it| it.unit).collect(),
        _ => vec!["°"],
    }
}

/// A picture whose labels are the items' numbers, and its facts for who cannot see it.
fn pictured(pointed: &Pointed, name: &str, items: &[Item], words: &Words) -> Drawing {
    let of = |key: &str| items.iter().find(|it| it.spot == key);
    let mut shown: Vec<&Item> = pointed.keys.iter().filter_map(|key| of(key)).collect();
    shown.sort_by_key(|it| items.iter().position(|other| other.spot == it.spot));
    let facts: Vec<String> = shown.iter().map(|it| format!("{}: {}", it.number, it.what)).collect();
    let intro = words.text(&format!("{OWN}.{name}_alt"));
    let mut drawing = Drawing::of(&pointed.drawing, format!("{intro} {}", facts.join(" ")));
    for (label, key) in drawing.labels.iter_mut().zip(&pointed.keys) {
        label.text = of(key).map(|it| it.number.clone());
    }
    // What is asked no more has no number and no place.
    drawing.labels.retain(|it| it.text.is_some());
    drawing
}
