//! Findings from the flat pieces: straps over the lane, holes near an edge, narrow or short pieces, the
//! sheet, missing measures.

use super::{Finding, Level};
use crate::calc::pattern::{Hole, Kind, Lack, Measure, Pattern, Piece, StrapPlace};
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
        found.extend(thumb_root(piece));
        found.extend(small_piece(case, piece));
    }
    found.extend(sheet(pattern));
    found.extend(not_drawn(pattern));
    found.extend(estimated(pattern));
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
    let breadths = piece.straps.iter().filter_map(|it| it.dots).map(|it| it.breadth);
    let least = breadths.reduce(Length::min)?;
    if crossing.is_empty() {
        return None;
    }
    Some(
        Finding::new("strap-over-lane", Level::Caution, "Strap over the lane", Ground::CommonPractice)
            .because(format!(
                "The forearm strap {} would cross the lane that line and tab need over their full travel: \
                 beside it {:.0} mm are left for the hook that holds the strap, and {:.0} mm are the least.",
                crossing.join(" and "),
                least.to_mm(),
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

/// A cuff whose tongues leave no room between them: its edge runs over the root of the thumb.
fn thumb_root(piece: &Piece) -> Option<Finding> {
    (!piece.clears_thumb).then(|| {
        Finding::new("thumb-not-cleared", Level::Caution, "Thumb not cleared", Ground::CommonPractice)
            .because("Between the two tongues the cuff has no room to draw back for the root of the thumb.")
            .so("Start the cuff nearer to the crease, or cut it back there on the patient until the thumb \
                 moves freely.")
    })
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
            .so("Take a larger sheet and record its size (`orthosis.sheet`)."),
    )
}

/// Without its measures a piece is not drawn; each that is missing is named with its key.
fn not_drawn(pattern: &Pattern) -> Option<Finding> {
    if pattern.refused.is_empty() {
        return None;
    }
    let lines = pattern.refused.iter().map(|it| {
        let mut needs: Vec<&str> = Vec::new();
        for lack in &it.lacks {
            if let Lack::Stacked(_, on) = lack {
                push(&mut needs, key_words(*on));
            }
            push(&mut needs, key_words(lack.measure()));
        }
        format!("{}: {}.", name(it.kind), needs.join(", "))
    });
    let which: Vec<&str> = pattern.refused.iter().map(|it| name(it.kind)).collect();
    Some(
        Finding::new("not-drawn", Level::Note, "Piece not drawn", Ground::Reckoned)
            .because(format!(
                "{} cannot be drawn: some measures are missing, and nothing may stand in for them in this \
                 case.",
                which.join(" and ")
            ))
            .so(format!(
                "Measure as many of these as you can and print again. {}",
                lines.collect::<Vec<String>>().join(" ")
            )),
    )
}

/// Girths that were estimated: the paper is held to the limb before anything is cut.
fn estimated(pattern: &Pattern) -> Option<Finding> {
    let mut names: Vec<&str> = Vec::new();
    for it in &pattern.stand_ins {
        push(&mut names, key_words(it.measure));
    }
    (!names.is_empty()).then(|| {
        Finding::new("measures-estimated", Level::Note, "Measures estimated", Ground::Reckoned)
            .because(format!("The flat pieces rest on estimates, not on measures: {}.", names.join(", ")))
            .so("Measure them if you can; hold the paper pattern to the limb before the sheet is cut.")
    })
}

fn push<'a>(all: &mut Vec<&'a str>, one: &'a str) {
    if !all.contains(&one) {
        all.push(one);
    }
}

fn name(kind: Kind) -> &'static str {
    match kind {
        Kind::ForearmPiece => "The forearm piece",
        Kind::Cuff => "The hand cuff",
    }
}

/// A measure in words, with its key in the case file.
fn key_words(measure: Measure) -> &'static str {
    match measure {
        Measure::Wrist => "round the wrist (`limb.wrist_circumference`)",
        Measure::Knuckles => "round the knuckles (`limb.knuckle_girth`)",
        Measure::FingerJoints => "round the finger joints (`limb.finger_joint_girth`)",
        Measure::Forearm => "round the forearm (`limb.forearm_girths`)",
        Measure::Elbow => "round the elbow (`limb.elbow_girth`)",
        Measure::ElbowPath => "round the bent elbow from crease to crease (`limb.around_elbow`)",
    }
}
