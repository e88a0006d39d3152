//! The limb in the side view: upper arm cut, forearm, hand with the fingers past the cuff.

use super::curve::{Outline, arc, ellipse, finger};
use super::drawing::Part;
use super::plane::{Vector, at, height_at};
use super::sheet::Sheet;
use super::side::Side;
use crate::units::{Angle, math};

/// Angles round the back of the elbow, from the pull side to the other (degrees).
pub(super) const ELBOW_TURN: [f64; 5] = [112.0, 145.0, 180.0, 215.0, 248.0];
/// Angles round the root of the upper arm, from the pull side to the other (degrees).
const ROOT_TURN: [f64; 7] = [90.0, 120.0, 150.0, 180.0, 210.0, 240.0, 270.0];
/// How much of the half depth the folded side of a sharply bent wrist loses at the crease.
const FOLD: f64 = 0.25;
/// Beyond this the folded side is drawn with one fold.
const SHARP: Angle = Angle::degrees(35.0);
/// Length over which an edge runs level before it bends, so that the bend stays where it is (mm).
pub(super) const LEVEL: f64 = 2.0;
/// How much of the half depth the stretched side of a wrist bent square loses at the axis.
const STRETCH: f64 = 0.2;
/// The upper arm rising toward the eye, in half depths of the forearm: half its section along and
/// across, the root's place behind the elbow crease, how far the cut end stands before the root.
const UPPER_ARM: (Vector, f64, f64) = (at(0.80, 0.80), 0.22, 0.42);
/// Half a fingertip's depth in hand lengths; an estimate.
const TIP: f64 = 0.040;
/// How far loose fingers bend toward the palm for each millimetre past the cuff (degrees).
const CURL: f64 = 0.55;
/// The most they bend in all (degrees).
const FULL_CURL: f64 = 48.0;
/// Least length of finger that shows past the cuff, in hand lengths.
const LEAST_TIP: f64 = 0.1;
/// How much of the thinning from the hand's depth to the fingertip's is left half way.
const HALF_WAY: f64 = 0.56;
/// What the index finger lacks to the middle finger, in hand lengths; an estimate.
const SHORTER: f64 = 0.055;
/// How much farther back the middle finger's tip shows behind the index finger, in hand lengths.
const FAR: f64 = 0.03;
/// Steps along a curled finger.
const JOINTS: u8 = 6;
/// The thumb, in hand lengths: place, height toward the palm, half width; estimates.
const THUMB: [(f64, f64, f64); 4] =
    [(0.27, 0.012, 0.060), (0.40, 0.026, 0.047), (0.50, 0.034, 0.047), (0.565, 0.036, 0.042)];

/// How much wider than the thumb its opening is drawn.
const OPENING: f64 = 1.25;

/// Paints arm, hand and crease. The seam between arm and hand lies under the cuff's wrist strap.
pub(super) fn paint(sheet: &mut Sheet, side: &Side) {
    sheet.paint(Part::Arm, arm(side));
    for outline in upper_arm(side) {
        sheet.paint(Part::Arm, outline);
    }
    paint_hand(sheet, side);
}

/// Paints hand and crease.
pub(super) fn paint_hand(sheet: &mut Sheet, side: &Side) {
    sheet.paint(Part::Hand, far_finger(side));
    sheet.paint(Part::Hand, hand(side));
    let tick = [1.0, -1.0].map(|sign| crease_end(side, sign));
    sheet.paint(Part::Crease, Outline::straight(&tick));
}

/// Where the crease meets the skin; `sign` +1: the pull side. A fold lies deeper.
pub(super) fn crease_end(side: &Side, sign: f64) -> Vector {
    let (bent, _) = math::sin_cos((side.wrist * sign).to_radians());
    let depth = side.sizes.half_wrist * (1.0 - FOLD * bent.max(0.0));
    side.sizes.on_forearm(0.0, depth * sign)
}

/// The arm's upper or lower edge from the seam in the hand to the elbow. `sign` +1: the pull side.
pub(super) fn arm_edge(side: &Side, sign: f64) -> Vec<Vector> {
    let sizes = &side.sizes;
    let seam = sizes.wrist_strap();
    let wrist = sizes.half_wrist * sign;
    let full = sizes.half_forearm * sign;
    let slope = f64::midpoint(sizes.piece_edge, sizes.strip_start);
    let mut points = vec![side.on_hand(seam, sizes.half_hand(seam) * sign)];
    points.extend(wrist_edge(side, sign));
    points.extend([
        sizes.on_forearm(sizes.piece_edge, wrist),
        sizes.on_forearm(slope, f64::midpoint(wrist, full)),
        sizes.on_forearm(sizes.strip_start, full),
        sizes.on_forearm(sizes.strip_start - LEVEL, full),
        sizes.on_forearm(sizes.elbow + LEVEL, full),
        sizes.on_forearm(sizes.elbow, full),
    ]);
    points
}

/// The arm's edge between hand and forearm: round the axis where the skin is stretched, one fold
/// where it is bent sharply.
fn wrist_edge(side: &Side, sign: f64) -> Vec<Vector> {
    let sizes = &side.sizes;
    let wrist = sizes.half_wrist * sign;
    let palm = side.on_hand(sizes.cuff_edge, sizes.half_hand(sizes.cuff_edge) * sign);
    let toward = side.wrist * sign;
    if toward > SHARP {
        let meet = sizes.on_forearm(sizes.piece_edge, wrist).toward(palm, 0.5);
        return vec![meet - at(0.0, wrist * FOLD)];
    }
    if toward > Angle::ZERO {
        return vec![palm];
    }
    let (bent, _) = math::sin_cos(side.wrist.abs().to_radians());
    let stretched = wrist * (1.0 - STRETCH * bent);
    vec![palm, at(0.0, stretched).turned(side.wrist / 2.0)]
}

fn arm(side: &Side) -> Outline {
    let sizes = &side.sizes;
    let mut points = arm_edge(side, 1.0);
    let centre = sizes.on_forearm(sizes.elbow, 0.0);
    let half = at(sizes.elbow_reach, sizes.half_forearm);
    points.extend(arc(centre, half, &ELBOW_TURN));
    points.extend(arm_edge(side, -1.0).iter().rev());
    Outline::smooth(&points).close()
}

/// The stub of the upper arm, seen nearly from its end: its sides, then the cut.
fn upper_arm(side: &Side) -> [Outline; 2] {
    let sizes = &side.sizes;
    let (half, behind, before) = UPPER_ARM;
    let half = half * sizes.half_forearm;
    let root = sizes.on_forearm(sizes.elbow - behind * sizes.half_forearm, 0.0);
    let end = root + at(before * sizes.half_forearm, 0.0);
    let mut flank = vec![end + at(0.0, half.y)];
    flank.extend(arc(root, half, &ROOT_TURN));
    flank.push(end - at(0.0, half.y));
    [Outline::smooth(&flank).close(), ellipse(end, half)]
}

/// The middle line of loose fingers from the cuff's end to their tip, with half depths.
/// `shorter` (mm) is what the finger lacks to the middle finger.
fn middle_line(side: &Side, shorter: f64) -> Vec<(Vector, f64)> {
    let sizes = &side.sizes;
    let (full, tip) = (sizes.half_hand(sizes.cuff_end), sizes.hand_length * TIP);
    let reach =
        (sizes.hand_length - shorter - tip - sizes.cuff_end).max(sizes.hand_length * LEAST_TIP);
    let bend = (reach * CURL).min(FULL_CURL);
    let depths = [at(0.0, full), at(0.5, tip + (full - tip) * HALF_WAY), at(1.0, tip)];
    let mut point = at(sizes.cuff_end, 0.0);
    let mut line = vec![(side.on_hand(point.x, point.y), full)];
    for joint in 1..=JOINTS {
        let share = f64::from(joint) / f64::from(JOINTS);
        let turn = Angle::degrees(bend * share * side.palm);
        point = point + at(reach / f64::from(JOINTS), 0.0).turned(turn);
        line.push((side.on_hand(point.x, point.y), height_at(&depths, share)));
    }
    line
}

/// The middle finger, behind and past the index finger, drawing away from it toward its tip.
fn far_finger(side: &Side) -> Outline {
    let long = side.sizes.hand_length;
    let away = side.on_hand(0.0, -side.palm * FAR * long) - side.on_hand(0.0, 0.0);
    let mut line = middle_line(side, 0.0);
    let steps = f64::from(JOINTS);
    let mut share = 0.0;
    for (point, _) in &mut line {
        *point = *point + away * share;
        share += 1.0 / steps;
    }
    Outline::smooth(&finger(&line)).close()
}

/// Palm and index finger in one outline.
fn hand(side: &Side) -> Outline {
    let sizes = &side.sizes;
    let (seam, end) = (sizes.wrist_strap(), sizes.cuff_end);
    let edge = |place: f64, sign: f64| side.on_hand(place, sizes.half_hand(place) * sign);
    let belly = f64::midpoint(seam, end);
    let level = end - LEVEL;
    let mut points = vec![edge(seam, 1.0), edge(belly, 1.0), edge(level, 1.0)];
    points.extend(finger(&middle_line(side, sizes.hand_length * SHORTER)));
    points.extend([edge(level, -1.0), edge(belly, -1.0), edge(seam, -1.0)]);
    Outline::smooth(&points).close()
}

/// The thumb, lying before the cuff's open side; its root lies under the cuff's wrist strap.
pub(super) fn thumb(sheet: &mut Sheet, side: &Side) {
    let root = side.on_hand(side.sizes.wrist_strap(), 0.0);
    let mut line = vec![(root, THUMB[0].2 * side.sizes.hand_length)];
    line.extend(thumb_line(side));
    sheet.paint(Part::Hand, Outline::smooth(&finger(&line)).close());
}

/// The thumb as it comes out of the opening of a cuff that wraps round its side.
pub(super) fn thumb_through(sheet: &mut Sheet, side: &Side) {
    let line = thumb_line(side);
    let (root, half) = line[0];
    sheet.paint(Part::Hole, ellipse(root, at(half, half) * OPENING));
    sheet.paint(Part::Hand, Outline::smooth(&finger(&line)).close());
}

/// The thumb's middle line with half widths.
fn thumb_line(side: &Side) -> Vec<(Vector, f64)> {
    let long = side.sizes.hand_length;
    let knot = |&(place, height, half): &(f64, f64, f64)| {
        (side.on_hand(place * long, height * long * side.palm), half * long)
    };
    THUMB.iter().map(knot).collect()
}
