//! The orthosis in the face view: forearm piece, cuff, straps, strip, marks, tab and line.

use super::Pull;
use super::curve::{Outline, ellipse, rounded};
use super::drawing::Part;
use super::face::Face;
use super::face_arm::half_breadth;
use super::face_hand::{self, seam};
use super::plane::{Vector, at};
use super::sheet::Sheet;
use super::sizes::STRAP;
use crate::case::Wrap;

/// The forearm piece's breadth as a share of the limb's.
const PIECE_SHARE: f64 = 0.88;
/// Shares of the way from its edge to the elbow at which the piece's breadth is set.
const PIECE_STEPS: [f64; 4] = [0.03, 0.35, 0.7, 1.0];
/// The cuff's open edge from the midline, in hand breadths.
const OPEN_EDGE: f64 = 0.42;
/// The same beside the ball of the thumb.
const FREE_BALL: f64 = 0.28;
/// The hand's edge at the index finger's root from the midline, in hand breadths.
const INDEX_EDGE: f64 = 0.485;
/// How much wider than the wrist the cuff begins, in hand breadths, and the share of its length
/// at which it has its full width.
const HEEL: (f64, f64) = (0.04, 0.3);
/// Length along the hand over which the cuff narrows beside the ball of the thumb (mm).
const BALL_SLOPE: f64 = 6.0;
/// Radius of the corners of straps and tab (mm).
const SOFT: f64 = 2.0;
/// Radius of the pieces' corners (mm).
const CORNER: f64 = 7.0;
/// How far a strap reaches onto the shell it is fixed to (mm).
const ON_SHELL: f64 = 10.0;
/// How far a strap stands out past the limb (mm).
const PAST_LIMB: f64 = 2.0;
/// How far a mark reaches past the strip's edge, outward and inward (mm).
const TICK: (f64, f64) = (5.0, 8.0);
/// Half the tab's nose in tab widths, and its length past the hole (mm).
const NOSE: (f64, f64) = (0.32, 6.0);
/// Half the loop's width (mm), and the share of its length over which it opens.
const LOOP: (f64, f64) = (2.2, 0.06);
/// Radius of a hole (mm).
const HOLE: f64 = 2.0;

/// Paints the orthosis over the limb.
pub(super) fn paint(sheet: &mut Sheet, face: &Face) {
    sheet.paint(Part::ForearmPiece, piece(face));
    sheet.paint(Part::Cuff, cuff(face));
    if face.sizes.wrap == Wrap::Thumb {
        face_hand::thumb_through(sheet, face);
    }
    paint_straps(sheet, face);
    paint_strip(sheet, face);
    paint_tab(sheet, face);
    paint_line(sheet, face);
}

/// Only the straps' ends show: they lie beside the lane that the line needs.
fn paint_straps(sheet: &mut Sheet, face: &Face) {
    let sizes = &face.sizes;
    for place in sizes.forearm_straps {
        for sign in [-1.0, 1.0] {
            sheet.paint(Part::Strap, forearm_strap(face, place, sign));
        }
    }
    let [ball, little] = seam(face);
    let index = sizes.hand_breadth * INDEX_EDGE;
    let limbs = match sizes.wrap {
        Wrap::LittleFinger => [ball.x, index],
        Wrap::Thumb => [-little.x, sizes.hand_breadth / 2.0],
    };
    for (place, limb) in [sizes.wrist_strap(), sizes.web_strap()].into_iter().zip(limbs) {
        sheet.paint(Part::Strap, opened(face, cuff_strap(face, place, limb)));
    }
}

fn paint_strip(sheet: &mut Sheet, face: &Face) {
    let sizes = &face.sizes;
    let low = at(-sizes.strip_width / 2.0, sizes.strip_end);
    let high = at(sizes.strip_width / 2.0, sizes.strip_start);
    sheet.paint(Part::Strip, block(low, high));
    for &mark in &face.marks {
        let inner = at(high.x - TICK.1, mark);
        let tick = [inner, mark_end(face, mark)];
        sheet.paint(Part::Mark, Outline::straight(&tick));
    }
}

/// The outer end of a mark's tick, on the forearm piece beside the strip or at the strip's edge.
pub(super) fn mark_end(face: &Face, mark: f64) -> Vector {
    let half = face.sizes.strip_width / 2.0;
    let room = half_piece(face, mark) - half - 1.0;
    at(half + room.clamp(0.0, TICK.0), mark)
}

/// An upright rectangle between two corners.
fn block(low: Vector, high: Vector) -> Outline {
    Outline::straight(&[low, at(low.x, high.y), high, at(high.x, low.y)]).close()
}

/// Half the forearm piece's breadth at a place from the crease.
pub(super) fn half_piece(face: &Face, place: f64) -> f64 {
    half_breadth(face, place) * PIECE_SHARE
}

/// The forearm piece from its edge at the wrist to where it turns round the elbow.
fn piece(face: &Face) -> Outline {
    let sizes = &face.sizes;
    let foot = sizes.elbow - sizes.elbow_reach - sizes.thickness;
    let run = sizes.elbow - sizes.piece_edge;
    let edge = |sign: f64| {
        PIECE_STEPS.map(|share| {
            let place = sizes.piece_edge + run * share;
            at(half_piece(face, place) * sign, place)
        })
    };
    let (right, left) = (edge(1.0), edge(-1.0));
    let wide = half_piece(face, sizes.elbow);
    let (corner, tip) = (CORNER.min(wide), half_piece(face, sizes.piece_edge) - CORNER);
    let mut outline = Outline::from(at(tip.max(0.0), sizes.piece_edge));
    outline.bend(at(tip + CORNER, sizes.piece_edge), right[0]);
    outline.run(&right);
    outline.line(&[at(wide, foot + corner)]);
    outline.bend(at(wide, foot), at(wide - corner, foot));
    outline.line(&[at(corner - wide, foot)]);
    outline.bend(at(-wide, foot), at(-wide, foot + corner));
    outline.run(&[left[3], left[2], left[1], left[0]]);
    outline.bend(at(-tip - CORNER, sizes.piece_edge), at(-tip.max(0.0), sizes.piece_edge));
    outline.close()
}

/// The cuff's edge on the thumb side at a place from the crease: over the palm it leaves the ball
/// of the thumb free, over the back it runs straight.
fn cuff_edge(face: &Face, place: f64) -> f64 {
    let sizes = &face.sizes;
    let web = sizes.web_strap() - sizes.cuff_strap() / 2.0;
    let wide = sizes.hand_breadth * OPEN_EDGE;
    if frees_ball(face) && place < web { sizes.hand_breadth * FREE_BALL } else { wide }
}

/// Whether the cuff draws back from the ball of the thumb.
fn frees_ball(face: &Face) -> bool {
    face.pull == Pull::Palm && face.sizes.wrap == Wrap::LittleFinger
}

/// Turned to the side where the cuff is open: drawn open toward the thumb, turned about where it is
/// open toward the little finger.
fn opened(face: &Face, outline: Outline) -> Outline {
    match face.sizes.wrap {
        Wrap::LittleFinger => outline,
        Wrap::Thumb => outline.map(|it| at(-it.x, it.y)),
    }
}

/// The cuff: wrapped round one edge of the hand, open toward the other.
fn cuff(face: &Face) -> Outline {
    let sizes = &face.sizes;
    let (low, high) = (sizes.cuff_edge, sizes.cuff_end);
    let little = -sizes.hand_breadth / 2.0 - sizes.thickness;
    let wrist = -sizes.wrist_breadth / 2.0 - sizes.hand_breadth * HEEL.0 - sizes.thickness;
    let heel = at(wrist.max(little), low);
    let mut corners = vec![heel, at(little, low + (high - low) * HEEL.1), at(little, high)];
    let (wide, narrow) = (cuff_edge(face, high), cuff_edge(face, low));
    corners.push(at(wide, high));
    if frees_ball(face) {
        let web = sizes.web_strap() - sizes.cuff_strap() / 2.0;
        corners.extend([at(wide, web), at(narrow, web - BALL_SLOPE)]);
    }
    corners.push(at(narrow, low));
    opened(face, rounded(&corners, CORNER))
}

fn forearm_strap(face: &Face, place: f64, sign: f64) -> Outline {
    let half = STRAP / 2.0;
    let end = |place: f64| at((half_breadth(face, place) + PAST_LIMB) * sign, place);
    let root = |place: f64| at((half_piece(face, place) - ON_SHELL) * sign, place);
    let (near, far) = (place + half, place - half);
    rounded(&[root(near), end(near), end(far), root(far)], SOFT)
}

fn cuff_strap(face: &Face, place: f64, limb: f64) -> Outline {
    let half = face.sizes.cuff_strap() / 2.0;
    let root = cuff_edge(face, place) - ON_SHELL;
    let end = limb + PAST_LIMB;
    rounded(
        &[
            at(root, place + half),
            at(end, place + half),
            at(end, place - half),
            at(root, place - half),
        ],
        SOFT,
    )
}

fn paint_tab(sheet: &mut Sheet, face: &Face) {
    let half = face.sizes.tab_width / 2.0;
    let (front, back) = (face.pad_front(), face.pad_back());
    let nose = half * 2.0 * NOSE.0;
    let tip = face.tab_hole + NOSE.1;
    let tab = [
        at(-half, back),
        at(-half, front),
        at(-nose, front + SOFT * 2.0),
        at(-nose, tip),
        at(nose, tip),
        at(nose, front + SOFT * 2.0),
        at(half, front),
        at(half, back),
    ];
    sheet.paint(Part::Tab, rounded(&tab, SOFT));
    sheet.paint(Part::Pad, block(at(-half, back), at(half, front)));
}

/// The line and the holes it joins.
fn paint_line(sheet: &mut Sheet, face: &Face) {
    for sign in [-1.0, 1.0] {
        sheet.paint(Part::Line, Outline::straight(&strand(face, sign)));
    }
    for hole in [face.exit_hole(), face.hole()] {
        sheet.paint(Part::Hole, ellipse(hole, at(HOLE, HOLE)));
    }
}

/// One strand of the loop from the cuff's hole to the tab's; `sign` +1 the one nearer the thumb.
/// The two lie closer than drawn, so that they are seen as two.
pub(super) fn strand(face: &Face, sign: f64) -> [Vector; 4] {
    let (from, to) = (face.exit_hole(), face.hole());
    let aside = at(LOOP.0 * sign, 0.0);
    let inset = (to - from) * LOOP.1;
    [from, from + inset + aside, to - inset + aside, to]
}
