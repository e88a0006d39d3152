//! What card and pattern say of the pieces: names, sizes, facts, what is missing, what stands in.

use serde::Serialize;

use crate::calc::Plan;
use crate::calc::pattern::{
    Basis, Kind, Lack, Measure, Pattern, Piece, Refusal, SheetUse, StandIn, Width,
};
use crate::case::{Case, Direction, Wrap};
use crate::sheets::wording::{count, fixed, listed, mm, mm0, percent, round};
use crate::units::Area;

/// A piece that is not drawn.
#[derive(Debug, Serialize)]
pub(super) struct Refused {
    name: String,
    why: String,
    measure: String,
}

/// `Forearm piece`, and for which pull where each has its own.
pub(super) fn name(kind: Kind, pulls: &[Direction], case: &Case) -> String {
    let name = match kind {
        Kind::ForearmPiece => "Forearm piece",
        Kind::Cuff => "Hand cuff",
    };
    if pulls.len() == case.orthosis.pulls.len() {
        return name.to_owned();
    }
    let ways: Vec<&str> = pulls.iter().map(|it| it.word()).collect();
    format!("{name}, {} pull", listed(&ways))
}

/// `556 × 120 mm`.
pub(super) fn size(piece: &Piece) -> String {
    let extent = piece.extent();
    format!("{} × {} mm", mm0(extent.width()), mm0(extent.height()))
}

/// `604 cm²`.
pub(super) fn area(area: Area) -> String {
    format!("{} cm²", fixed(area.to_mm2() / 100.0, 0))
}

/// What must be known to cut and drape a piece, as sentences.
pub(super) fn facts(piece: &Piece, case: &Case) -> Vec<String> {
    let cut = &case.orthosis.cut;
    let mut facts = match piece.kind {
        Kind::ForearmPiece => vec![
            widths(&piece.widths),
            format!(
                "Half the limb\u{2019}s girth, less {} mm: on each side the edges stay that far apart, so that \
                 skin is not pinched.",
                mm(cut.gap)
            ),
            "The dashed lines lie at the elbow crease: between them the piece runs round the bent elbow."
                .into(),
        ],
        Kind::Cuff => cuff_facts(piece, case),
    };
    if cut.draping_stretch > 0.0 {
        let way = match piece.kind {
            Kind::ForearmPiece => "along the arm",
            Kind::Cuff => "round the hand",
        };
        facts.push(format!(
            "Cut {} shorter {way}, because the warm sheet is drawn out by that much; strip and straps are drawn \
             where they lie before: cut tape by the list.",
            percent(cut.draping_stretch)
        ));
    }
    facts
}

/// Widths across the forearm piece, from the wrist to the elbow.
fn widths(widths: &[Width]) -> String {
    let one = |(index, it): (usize, &Width)| {
        let place = match index {
            0 => "at both ends".to_owned(),
            last if last + 1 == widths.len() => "round the elbow".to_owned(),
            _ => format!("at {} mm from the crease", mm0(it.from_crease)),
        };
        format!("{} mm {place}", mm0(it.width))
    };
    let all: Vec<String> = widths.iter().enumerate().map(one).collect();
    let all: Vec<&str> = all.iter().map(String::as_str).collect();
    format!("Width on each face: {}.", listed(&all))
}

fn cuff_facts(piece: &Piece, case: &Case) -> Vec<String> {
    let cut = &case.orthosis.cut;
    let (wraps, opposite) = match cut.wrap {
        Wrap::LittleFinger => ("little-finger side", "thumb side"),
        Wrap::Thumb => ("thumb side", "little-finger side"),
    };
    let mut facts = vec![
        format!(
            "Folds round the {wraps} along the dashed line; open on the {opposite}, {} mm from edge to \
             edge.",
            mm(cut.opening)
        ),
        format!(
            "From the knuckles on {} mm of room for the fingers is in the girth. The four tongues hold the \
             straps.",
            mm(cut.finger_room)
        ),
    ];
    if let Some(hole) = piece.holes.first() {
        facts.push(format!(
            "Holes: {} mm wide, in the middle of palm and back, {} mm from the finger edge.",
            mm(hole.diameter),
            mm0(hole.at.y)
        ));
    }
    if cut.wrap == Wrap::Thumb {
        facts.push(
            "The opening for the thumb is an estimate: cut it small and widen it on the patient."
                .into(),
        );
    }
    facts
}

/// The pieces that could not be drawn.
pub(super) fn refused(pattern: &Pattern, case: &Case) -> Vec<Refused> {
    pattern.refused.iter().map(|it| refusal(it, case)).collect()
}

fn refusal(refusal: &Refusal, case: &Case) -> Refused {
    let mut measures: Vec<&str> = Vec::new();
    for lack in &refusal.lacks {
        let name = measure_name(needed(*lack));
        if !measures.contains(&name) {
            measures.push(name);
        }
    }
    let mut why: Vec<String> = Vec::new();
    for lack in &refusal.lacks {
        let sentence = lack_words(*lack);
        if !why.contains(&sentence) {
            why.push(sentence);
        }
    }
    Refused {
        name: name(refusal.kind, &refusal.pulls, case),
        why: why.join(" "),
        measure: format!("Measure: {}.", listed(&measures)),
    }
}

/// What is best measured: where an estimate would rest on another, the measure under it may do for both,
/// but its own is always right.
fn needed(lack: Lack) -> Measure {
    match lack {
        Lack::Stacked(Measure::Elbow, Measure::Forearm) => Measure::Forearm,
        Lack::Stacked(Measure::FingerJoints | Measure::Wrist, Measure::Knuckles) => {
            Measure::Knuckles
        }
        lack => lack.measure(),
    }
}

fn lack_words(lack: Lack) -> String {
    match lack {
        Lack::Stacked(measure, on) => format!(
            "The measure {} was not taken, nor was the one {}, from which it could be estimated.",
            measure_name(measure),
            measure_name(on)
        ),
        Lack::NotAdult(_) => {
            "The survey that stands in for missing girths has no patients under 18.".into()
        }
        Lack::Swollen(_) => {
            "The survey that stands in for missing girths has no swollen limbs.".into()
        }
    }
}

fn measure_name(measure: Measure) -> &'static str {
    match measure {
        Measure::Wrist => "round the wrist",
        Measure::Knuckles => "round the knuckles",
        Measure::FingerJoints => "round the finger joints",
        Measure::Forearm => "round the forearm at two or three places",
        Measure::Elbow => "round the elbow",
        Measure::ElbowPath => "round the bent elbow from crease to crease",
    }
}

/// What stands in for measures that were not taken, as sentences.
pub(super) fn stand_ins(pattern: &Pattern) -> Vec<String> {
    pattern.stand_ins.iter().map(stand_in).collect()
}

fn stand_in(stand_in: &StandIn) -> String {
    let what = match stand_in.measure {
        Measure::Wrist => "Wrist, round",
        Measure::Knuckles => "Knuckles, round",
        Measure::FingerJoints => "Finger joints, round",
        Measure::Forearm => "Forearm at its widest, round",
        Measure::Elbow => "Elbow, round",
        Measure::ElbowPath => "Round the bent elbow, crease to crease",
    };
    let basis = match stand_in.basis {
        Basis::HandBreadth => "estimated from the hand\u{2019}s breadth",
        Basis::Knuckles => "estimated from the knuckles",
        Basis::Wrist => "estimated from the wrist",
        Basis::ForearmLength => "estimated from the forearm\u{2019}s length and breadth",
        Basis::WidestForearm => "taken as the forearm\u{2019}s widest girth",
        Basis::NoWiderThanKnuckles => "taken as the knuckles\u{2019} girth, which is roomy",
    };
    let survey = match stand_in.spread {
        Some(spread) => format!(
            ", give or take {} mm in two of three adults (survey of 6,068 adults, ANSUR II)",
            mm0(spread)
        ),
        None => String::new(),
    };
    format!("{what}: {} mm, not measured, {basis}{survey}.", mm0(stand_in.value))
}

/// How the pieces lie on the sheet, as sentences.
pub(super) fn sheet_words(plan: &Plan, case: &Case) -> Vec<String> {
    let Pattern { sheet, pieces, .. } = &plan.pattern;
    if pieces.is_empty() {
        return Vec::new();
    }
    let named = |index: usize| name(pieces[index].kind, &pieces[index].pulls, case);
    let SheetUse { sheet: of, lies, too_big, sheets, share } = sheet;
    let size = format!("{} × {} mm", mm(of.length), mm(of.width));
    let mut words = Vec::new();
    if !lies.is_empty() {
        let first = match (lies.len(), *sheets) {
            (1, _) => format!("{} fits on one sheet of {size}", named(lies[0].piece)),
            (_, 1) => format!("All pieces fit on one sheet of {size}"),
            (_, more) => {
                format!("The pieces take {} of {size}", count(more as i64, "sheet", "sheets"))
            }
        };
        words.push(format!(
            "{first}, {} mm from each other and from its edges; they use {} of it.",
            mm(of.margin),
            percent(*share)
        ));
    }
    if lies.iter().any(|it| !is_square(it.turned.to_degrees())) {
        words.push("The long piece lies askew: only right for a sheet without grain.".into());
    }
    for index in too_big {
        let extent = pieces[*index].extent();
        words.push(format!(
            "{} does not fit a sheet of {size}: it needs {} × {} mm with its margin. Take a larger sheet.",
            named(*index),
            mm0(extent.width() + of.margin * 2.0),
            mm0(extent.height() + of.margin * 2.0)
        ));
    }
    words
}

fn is_square(degrees: f64) -> bool {
    round(degrees, 3) % 90.0 == 0.0
}
