//! The limb in the side view: upper arm cut, forearm, hand with the fingers past the cuff.

use super::curve::{Outline, arc, ellipse, finger};
use super::drawing::Part;
use super::plane::{Vector, at, height_at};
use super::sheet::Sheet;
use super::side::Side;
use crate::units::{Angle, math};

/// Angles round the back of the elbow, from the pull side to the other [degrees].
pub(super) const ELBOW_TURN: [f64; 5] = [112.0, 145.0, 180.0, 215.0, 248.0];
/// How much of the half depth the folded side of a wrist bent square loses at the crease.
const FOLD: f64 = 0.3;
/// How much of the half depth the stretched side of a wrist bent square loses at the axis.
const STRETCH: f64 = 0.2;
/// The upper arm's section, in half depths of the forearm: along it, across it.
const UPPER_ARM: (f64, f64) = (0.98, 0.84);
/// Half a finger's depth in hand lengths: at its root and at its tip; estimates.
const FINGER: (f64, f64) = (0.050, 0.036);
/// How far loose fingers bend toward the palm for each millimetre past the cuff [degrees].
const CURL: f64 = 0.55;
/// The most they bend in all [degrees].
const FULL_CURL: f64 = 48.0;
/// Least length of finger that shows past the cuff, in hand lengths.
const LEAST_TIP: f64 = 0.1;
/// Share of the loose length at which the hand's depth has thinned to a finger's.
const SHOULDER: f64 = 0.35;
/// What the index finger lacks to the middle finger, in hand lengths; an estimate.
const SHORTER: f64 = 0.055;
/// How much farther back the middle finger shows behind the index finger, in hand lengths.
const FAR: f64 = 0.022;
/// Steps along a curled finger.
const JOINTS: u8 = 6;
/// The thumb, in hand lengths: place, height toward the palm, half width; estimates.
const THUMB: [(f64, f64, f64); 4] = [
    (0.27, 0.012, 0.060),
    (0.40, 0.026, 0.047),
    (0.50, 0.034, 0.047),
    (0.565, 0.036, 0.042),
];

/// Paints arm, hand and crease. The seam between arm and hand lies under the cuff's wrist strap.
pub(super) fn paint(sheet: &mut Sheet, side: &Side) {
    let sizes = &side.sizes;
    sheet.paint(Part::Arm, arm(side));
    let centre = sizes.on_forearm(sizes.elbow, 0.0);
    let half = at(
        sizes.half_forearm * UPPER_ARM.0,
        sizes.half_forearm * UPPER_ARM.1,
    );
    sheet.paint(Part::Arm, ellipse(centre, half));
    sheet.paint(Part::Hand, far_finger(side));
    sheet.paint(Part::Hand, hand(side));
    let (sin, _) = math::sin_cos(side.wrist.to_radians());
    let tick = [1.0, -1.0].map(|sign| {
        let folded = 1.0 - FOLD * (sin * sign).max(0.0);
        sizes.on_forearm(0.0, sizes.half_wrist * sign * folded)
    });
    sheet.paint(Part::Crease, Outline::straight(&tick));
}

/// The arm's upper or lower edge from the seam in the hand to the elbow. `sign` +1: the pull side.
fn arm_edge(side: &Side, sign: f64) -> Vec<Vector> {
    let sizes = &side.sizes;
    let seam = sizes.wrist_strap();
    let wrist = sizes.half_wrist * sign;
    let full = sizes.half_forearm * sign;
    let slope = f64::midpoint(sizes.piece_edge, sizes.strip_start);
    let mut points = vec![
        side.on_hand(seam, sizes.half_hand(seam) * sign),
        side.on_hand(sizes.cuff_edge, sizes.half_hand(sizes.cuff_edge) * sign),
    ];
    if side.wrist.to_radians() * sign <= 0.0 {
        // The stretched side lies round the axis; the folded side needs no such point.
        let (bent, _) = math::sin_cos(side.wrist.abs().to_radians());
        let stretched = wrist * (1.0 - STRETCH * bent);
        points.push(at(0.0, stretched).turned(side.wrist / 2.0));
    }
    points.extend([
        sizes.on_forearm(sizes.piece_edge, wrist),
        sizes.on_forearm(slope, f64::midpoint(wrist, full)),
        sizes.on_forearm(sizes.strip_start, full),
        sizes.on_forearm(sizes.strip_start - 2.0, full),
        sizes.on_forearm(sizes.elbow, full),
    ]);
    points
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

/// The middle line of loose fingers from the cuff's end to their tip, with half depths.
/// `shorter` [mm] is what the finger lacks to the middle finger.
fn middle_line(side: &Side, shorter: f64) -> Vec<(Vector, f64)> {
    let sizes = &side.sizes;
    let (full, tip) = (
        sizes.half_hand(sizes.cuff_end),
        sizes.hand_length * FINGER.1,
    );
    let root = full.min(sizes.hand_length * FINGER.0);
    let reach =
        (sizes.hand_length - shorter - tip - sizes.cuff_end).max(sizes.hand_length * LEAST_TIP);
    let bend = (reach * CURL).min(FULL_CURL);
    let depths = [at(0.0, full), at(SHOULDER, root), at(1.0, tip)];
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

/// The middle finger, behind and past the index finger; its root lies behind the hand.
fn far_finger(side: &Side) -> Outline {
    let lower =
        side.on_hand(0.0, -side.palm * FAR * side.sizes.hand_length) - side.on_hand(0.0, 0.0);
    let line: Vec<(Vector, f64)> = middle_line(side, 0.0)
        .iter()
        .map(|&(point, half)| (point + lower, half))
        .collect();
    Outline::smooth(&finger(&line)).close()
}

/// Palm and index finger in one outline.
fn hand(side: &Side) -> Outline {
    let sizes = &side.sizes;
    let (seam, end) = (sizes.wrist_strap(), sizes.cuff_end);
    let edge = |place: f64, sign: f64| side.on_hand(place, sizes.half_hand(place) * sign);
    let belly = f64::midpoint(seam, end);
    let mut points = vec![edge(seam, 1.0), edge(belly, 1.0)];
    points.extend(finger(&middle_line(side, sizes.hand_length * SHORTER)));
    points.extend([edge(belly, -1.0), edge(seam, -1.0)]);
    Outline::smooth(&points).close()
}

/// The thumb, lying before the cuff's open side; its root lies under the cuff's wrist strap.
pub(super) fn thumb(sheet: &mut Sheet, side: &Side) {
    let long = side.sizes.hand_length;
    let knot = |&(place, height, half): &(f64, f64, f64)| {
        (
            side.on_hand(place * long, height * long * side.palm),
            half * long,
        )
    };
    let mut line = vec![(
        side.on_hand(side.sizes.wrist_strap(), 0.0),
        THUMB[0].2 * long,
    )];
    line.extend(THUMB.iter().map(knot));
    sheet.paint(Part::Hand, Outline::smooth(&finger(&line)).close());
}
