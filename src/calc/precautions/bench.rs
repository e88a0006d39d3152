//! Findings from the flat pieces: straps over the lane, holes near an edge, narrow or short pieces, the
//! sheet, missing measures.

use super::{Finding, Level};
use crate::calc::pattern::{Hole, Kind, Pattern, Piece, StrapPlace};
use crate::case::{Case, Wrap};
use crate::sources::{Ground, TROUGH};
use crate::units::Length;

/// The least hook beside the lane that holds a strap (common practice, no source).
const LEAST_DOT: Length = Length::mm(10.0);
/// The least sheet between a hole's middle and the nearest edge (common practice, no source).
const LEAST_EDGE: Length = Length::mm(5.0);
/// The least opening for a thumb along the hand, in hand lengths; an estimate.
const LEAST_THUMB: f64 = 0.15;
/// What the published rule asks of a trough: two thirds of the part's length, half its girth.
const TROUGH_LENGTH: f64 = 2.0 / 3.0;
const TROUGH_GIRTH: f64 = 0.5;

pub(super) fn findings(case: &Case, pattern: &Pattern) -> Vec<Finding> {
    let mut found = Vec::new();
    for piece in &pattern.pieces {
        found.extend(strap_over_lane(piece));
        found.extend(strip_past_edges(case, piece));
        found.extend(hole_near_edge(piece));
        found.extend(thumb_opening(case, piece));
        found.extend(small_piece(case, piece));
    }
    found.extend(sheet(pattern));
    found.extend(not_drawn(pattern));
    once(found)
}

/// Two pieces that ask for the same thing ask once.
fn once(found: Vec<Finding>) -> Vec<Finding> {
    let mut kept: Vec<Finding> = Vec::new();
    for finding in found {
        if kept.iter().all(|it| it.id != finding.id) {
            kept.push(finding);
        }
    }
    kept
}

/// A strap whose dots have no room beside the lane would cross it: the line would rub or be held.
fn strap_over_lane(piece: &Piece) -> Option<Finding> {
    let crossing: Vec<&str> = piece
        .straps
        .iter()
        .filter(|it| it.dots.is_some_and(|dots| dots.breadth < LEAST_DOT))
        .map(|it| match it.place {
            StrapPlace::NearWrist => "near the wrist",
            _ => "near the elbow",
        })
        .collect();
    if crossing.is_empty() {
        return None;
    }
    Some(
        Finding::new("strap-over-lane", Level::Caution, "Strap over the lane", Ground::CommonPractice)
            .because(format!(
                "The forearm strap {} would cross the lane that line and tab need over their full travel: \
                 beside it less than {:.0} mm are left for the hook that holds the strap.",
                crossing.join(" and "),
                LEAST_DOT.to_mm()
            ))
            .so("Move the strap, start the strip further from the crease, take a narrower strip, or make the \
                 gap smaller."),
    )
}

/// A strip wider than its piece hangs over the edges.
fn strip_past_edges(case: &Case, piece: &Piece) -> Option<Finding> {
    let pulls = case.orthosis.pulls.iter();
    let (pull, bed) = pulls
        .filter_map(|it| Some((it, piece.beds.iter().find(|bed| bed.pull == it.direction)?)))
        .find(|(it, bed)| it.strip.width > bed.narrowest)?;
    Some(
        Finding::new(
            "strip-past-edges",
            Level::Caution,
            "Strip wider than the piece",
            Ground::Reckoned,
        )
        .because(format!(
            "The strip is {:.0} mm wide and the forearm piece {:.0} mm where it is narrowest under it.",
            pull.strip.width.to_mm(),
            bed.narrowest.to_mm()
        ))
        .so("Take a narrower strip, or make the gap smaller."),
    )
}

fn hole_near_edge(piece: &Piece) -> Option<Finding> {
    let nearest: Hole = piece
        .holes
        .iter()
        .copied()
        .filter(|it| it.to_edge < LEAST_EDGE)
        .min_by(|one, other| one.to_edge.total_cmp(&other.to_edge))?;
    if nearest.to_edge < Length::ZERO {
        return Some(
            Finding::new("hole-near-edge", Level::Stop, "Hole off the cuff", Ground::Reckoned)
                .because(
                    "The line's hole would lie in the cuff's open side: the flaps end before the middle of \
                     the hand.",
                )
                .so("Make the cuff's open side narrower, or measure the girths of the hand again."),
        );
    }
    Some(
        Finding::new("hole-near-edge", Level::Caution, "Hole near an edge", Ground::CommonPractice)
            .because(format!(
                "The line's hole lies {:.1} mm from the cuff's edge; the sheet may tear there.",
                nearest.to_edge.to_mm()
            ))
            .so(format!(
                "Leave at least {:.0} mm: let the cuff end further out, or move the hole back.",
                LEAST_EDGE.to_mm()
            )),
    )
}

/// A cuff round the thumb side that is too short for the thumb to pass.
fn thumb_opening(case: &Case, piece: &Piece) -> Option<Finding> {
    if piece.kind != Kind::Cuff || case.orthosis.cut.wrap != Wrap::Thumb {
        return None;
    }
    let height = piece.opening.as_ref().map_or(Length::ZERO, |it| it.extent().height());
    (height < case.limb.hand_length * LEAST_THUMB).then(|| {
        Finding::new(
            "thumb-opening",
            Level::Caution,
            "No room for the thumb",
            Ground::CommonPractice,
        )
        .because(format!(
            "The cuff leaves {:.0} mm along the hand for the thumb's opening.",
            height.to_mm()
        ))
        .so("Start the cuff nearer to the crease, let it end further out, or wrap it from the \
                 little-finger side.")
    })
}

/// A piece under the published rule spreads the load over too little of the limb.
fn small_piece(case: &Case, piece: &Piece) -> Option<Finding> {
    if piece.kind != Kind::ForearmPiece {
        return small_cuff(piece);
    }
    // Both faces carry it: twice the width beside the whole girth.
    let share =
        piece.widths.iter().map(|it| it.width * 2.0 / it.girth).fold(f64::INFINITY, f64::min);
    let first = piece.widths.first()?.from_crease;
    let length = (case.limb.forearm_length - first) / case.limb.forearm_length;
    if share >= TROUGH_GIRTH && length >= TROUGH_LENGTH {
        return None;
    }
    Some(
        Finding::new(
            "piece-small",
            Level::Caution,
            "Small forearm piece",
            Ground::Cited(&[TROUGH]),
        )
        .because(format!(
            "The forearm piece covers {:.0} % of the girth at its narrowest and {:.0} % of the \
                 forearm's length; teaching asks for a half and two thirds.",
            share * 100.0,
            length * 100.0
        ))
        .so("Make the gap smaller, or end the piece nearer to the crease."),
    )
}

/// The same rule for the girth that the cuff covers.
fn small_cuff(piece: &Piece) -> Option<Finding> {
    let share = piece.widths.iter().map(|it| it.width / it.girth).fold(f64::INFINITY, f64::min);
    (share < TROUGH_GIRTH).then(|| {
        Finding::new("cuff-small", Level::Caution, "Small cuff", Ground::Cited(&[TROUGH]))
            .because(format!(
                "The cuff covers {:.0} % of the hand's girth where it covers least; teaching asks for a half.",
                share * 100.0
            ))
            .so("Make the cuff's open side narrower.")
    })
}

fn sheet(pattern: &Pattern) -> Option<Finding> {
    let used = &pattern.sheet;
    let big = pattern.pieces.get(*used.too_big.first()?)?;
    let size = |it: Length| it.to_mm();
    Some(
        Finding::new("sheet-too-small", Level::Caution, "Sheet too small", Ground::Reckoned)
            .because(format!(
                "The {} of {:.0} × {:.0} mm does not fit the sheet of {:.0} × {:.0} mm with its margin.",
                if big.kind == Kind::ForearmPiece { "forearm piece" } else { "hand cuff" },
                size(big.extent().width()),
                size(big.extent().height()),
                size(used.sheet.length),
                size(used.sheet.width)
            ))
            .so("Take a larger sheet and record it under `orthosis.sheet`."),
    )
}

/// Without its measures a piece is not drawn; the card says what to take.
fn not_drawn(pattern: &Pattern) -> Option<Finding> {
    let names: Vec<&str> = pattern
        .refused
        .iter()
        .map(|it| if it.kind == Kind::ForearmPiece { "forearm piece" } else { "hand cuff" })
        .collect();
    let which = match names[..] {
        [] => return None,
        [one] => one.to_owned(),
        [one, other, ..] => format!("{one} and the {other}"),
    };
    Some(
        Finding::new("not-drawn", Level::Note, "Piece not drawn", Ground::Reckoned)
            .because(format!(
                "The {which} cannot be drawn: some of its measures are missing, and nothing may stand in \
                 for them in this case."
            ))
            .so("Take the measures that the card names, record them, and print again."),
    )
}
