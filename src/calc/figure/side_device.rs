//! The orthosis in the side view: forearm piece, cuff, straps, strip and tab.

use super::curve::{Outline, arc, ellipse, rounded, shell};
use super::drawing::Part;
use super::plane::{Vector, at, height_at};
use super::sheet::Sheet;
use super::side::Side;
use super::side_limb::{self, ELBOW_TURN, LEVEL};
use super::sizes::{PILE, STRAP};
use crate::case::Wrap;

/// The tab folded double, drawn a little thicker than it is (mm).
const TAB: f64 = 2.6;
/// The pad under the tab (mm).
const PAD: f64 = 1.6;
/// Length of tab past its hole (mm).
const NOSE: f64 = 5.0;
/// Radius of a hole's dot (mm).
const DOT: f64 = 1.7;
/// Shares of the cuff's length at which its faces are set.
const CUFF_STEPS: [f64; 5] = [0.0, 0.25, 0.5, 0.75, 1.0];
/// How far a strap stands out over the shell it lies on (mm).
const OVER: f64 = 1.2;

/// Paints everything but the line and its holes, the thumb between the cuff's straps.
pub(super) fn paint(sheet: &mut Sheet, side: &Side, tab_hole: f64) {
    let sizes = &side.sizes;
    sheet.paint(Part::ForearmPiece, shell(&piece(side), sizes.thickness));
    sheet.paint(Part::Strip, strip(side));
    for place in sizes.forearm_straps {
        sheet.paint(Part::Strap, forearm_strap(side, place));
    }
    match sizes.wrap {
        Wrap::LittleFinger => {
            sheet.paint(Part::Cuff, shell(&cuff(side), sizes.thickness));
            sheet.paint(Part::Cuff, shell(&cuff_back(side), sizes.thickness));
            sheet.paint(Part::Strap, cuff_strap(side, sizes.web_strap()));
            side_limb::thumb(sheet, side);
            sheet.paint(Part::Strap, cuff_strap(side, sizes.wrist_strap()));
        }
        Wrap::Thumb => {
            // Its closed side faces the eye; the straps close it on the far side.
            sheet.paint(Part::Cuff, closed_cuff(side));
            side_limb::thumb_through(sheet, side);
        }
    }
    paint_tab(sheet, side, tab_hole);
}

/// The dots where the line leaves the cuff and where it holds the tab.
pub(super) fn holes(sheet: &mut Sheet, side: &Side, tab_hole: f64) {
    for centre in [side.exit_hole(), side.tab_hole(tab_hole)] {
        sheet.paint(Part::Hole, ellipse(centre, at(DOT, DOT)));
    }
}

/// The forearm piece's outer face on the pull side at a place from the crease.
fn piece_height(side: &Side, place: f64) -> f64 {
    let sizes = &side.sizes;
    let knots = [at(sizes.strip_start, bed(side)), at(sizes.piece_edge, sizes.piece_edge_height)];
    height_at(&knots, place)
}

/// The forearm piece's outer face on the other side, below the midline.
fn back_height(side: &Side, place: f64) -> f64 {
    let sizes = &side.sizes;
    let wrist = sizes.half_wrist + sizes.thickness;
    let knots = [at(sizes.strip_start, far_bed(side)), at(sizes.piece_edge, wrist)];
    -height_at(&knots, place)
}

/// The face the strip lies on.
fn bed(side: &Side) -> f64 {
    side.sizes.strip_height - PILE
}

/// The outer face along the forearm on the side away from the pull.
fn far_bed(side: &Side) -> f64 {
    side.sizes.half_forearm + side.sizes.thickness
}

/// The forearm piece's outer face: from its edge at the wrist on the pull side, round behind the
/// elbow, to its edge on the other side.
fn piece(side: &Side) -> Vec<Vector> {
    let sizes = &side.sizes;
    let places = [
        sizes.piece_edge,
        f64::midpoint(sizes.piece_edge, sizes.strip_start),
        sizes.strip_start,
        sizes.strip_start - LEVEL,
        sizes.elbow + LEVEL,
        sizes.elbow,
    ];
    let near = places.map(|place| sizes.on_forearm(place, piece_height(side, place)));
    let far = places.map(|place| sizes.on_forearm(place, back_height(side, place)));
    let middle = (bed(side) - far_bed(side)) / 2.0;
    let half = at(sizes.elbow_reach + sizes.thickness, f64::midpoint(bed(side), far_bed(side)));
    let turn = arc(sizes.on_forearm(sizes.elbow, middle), half, &ELBOW_TURN);
    let mut points = near.to_vec();
    points.extend(turn);
    points.extend(far.iter().rev());
    points
}

/// The cuff's outer face on the pull side, from its edge at the fingers to that at the wrist.
fn cuff(side: &Side) -> Vec<Vector> {
    let point = |place: f64| side.on_hand(place, side.sizes.cuff_height(place));
    cuff_places(side).iter().rev().map(|&place| point(place)).collect()
}

/// The cuff's outer face on the other side, from the wrist to the fingers.
fn cuff_back(side: &Side) -> Vec<Vector> {
    let sizes = &side.sizes;
    let point = |place: f64| side.on_hand(place, -sizes.half_hand(place) - sizes.thickness);
    cuff_places(side).iter().map(|&place| point(place)).collect()
}

/// The cuff where it wraps round the thumb side: one face from the pull side to the other.
fn closed_cuff(side: &Side) -> Outline {
    let mut points = cuff(side);
    points.extend(cuff_back(side));
    Outline::straight(&points).close()
}

fn cuff_places(side: &Side) -> [f64; 5] {
    let sizes = &side.sizes;
    let span = sizes.cuff_end - sizes.cuff_edge;
    CUFF_STEPS.map(|share| sizes.cuff_edge + span * share)
}

fn strip(side: &Side) -> Outline {
    let sizes = &side.sizes;
    let corner = |place: f64, height: f64| sizes.on_forearm(place, height);
    let (start, end) = (sizes.strip_start, sizes.strip_end);
    let (top, foot) = (sizes.strip_height, bed(side));
    Outline::straight(&[
        corner(start, foot),
        corner(start, top),
        corner(end, top),
        corner(end, foot),
    ])
    .close()
}

fn forearm_strap(side: &Side, place: f64) -> Outline {
    let sizes = &side.sizes;
    let (near, far) = (place + STRAP / 2.0, place - STRAP / 2.0);
    rounded(
        &[
            sizes.on_forearm(near, piece_height(side, near) + OVER),
            sizes.on_forearm(far, piece_height(side, far) + OVER),
            sizes.on_forearm(far, back_height(side, far) - OVER),
            sizes.on_forearm(near, back_height(side, near) - OVER),
        ],
        OVER,
    )
}

fn cuff_strap(side: &Side, place: f64) -> Outline {
    let sizes = &side.sizes;
    let low = |place: f64| -sizes.half_hand(place) - sizes.thickness - OVER;
    let half = sizes.cuff_strap() / 2.0;
    let (near, far) = (place + half, place - half);
    rounded(
        &[
            side.on_hand(near, sizes.cuff_height(near) + OVER),
            side.on_hand(far, sizes.cuff_height(far) + OVER),
            side.on_hand(far, low(far)),
            side.on_hand(near, low(near)),
        ],
        OVER,
    )
}

/// The pad on the strip and the tab over it, its nose bending down to the line's height.
fn paint_tab(sheet: &mut Sheet, side: &Side, tab_hole: f64) {
    let sizes = &side.sizes;
    let hole = sizes.tab_hole(tab_hole);
    let front = hole - sizes.hole_to_pad;
    let back = front - sizes.pad_length;
    let top = sizes.strip_height + PAD;
    let spot = |place: f64, height: f64| sizes.on_forearm(place, height);
    let base = sizes.strip_height;
    let pad = [spot(front, base), spot(front, top), spot(back, top), spot(back, base)];
    sheet.paint(Part::Pad, Outline::straight(&pad).close());
    let low = base + TAB / 2.0;
    let rise = [
        spot(hole + NOSE, low),
        spot(hole - NOSE / 2.0, low),
        spot(front + LEVEL, top + TAB),
        spot(front, top + TAB),
        spot(back, top + TAB),
    ];
    sheet.paint(Part::Tab, shell(&rise, TAB));
}
