//! Fingers and thumb of the donning sequence.

use super::pose::Pose;
use super::view::DEPTH;
use crate::calc::figure::curve::{Outline, finger};
use crate::calc::figure::drawing::Part;
use crate::calc::figure::plane::{Vector, at, heading};
use crate::calc::figure::sheet::Sheet;
use crate::units::Angle;

/// A finger: its root and tip toward the thumb, in hand breadths; half its breadth, in hand breadths; its tip
/// from the crease, in hand lengths. Estimates.
struct Finger {
    root: f64,
    tip: f64,
    half: f64,
    reach: f64,
}

/// From the little finger to the index finger.
const FINGERS: [Finger; 4] = [
    Finger { root: -0.36, tip: -0.40, half: 0.092, reach: 0.80 },
    Finger { root: -0.125, tip: -0.135, half: 0.105, reach: 0.935 },
    Finger { root: 0.12, tip: 0.125, half: 0.108, reach: 1.0 },
    Finger { root: 0.36, tip: 0.38, half: 0.102, reach: 0.925 },
];
/// Where fingers leave the palm, in hand lengths.
const ROOT: f64 = 0.50;
/// How far past that the contours of palm and fingers meet, in hand lengths.
const MERGE: f64 = 0.05;
/// Half a finger's depth at root and tip, in hand lengths; estimates.
const DEPTHS: (f64, f64) = (0.050, 0.040);
/// How far loose fingers bend toward the palm for each millimetre past the cuff, and at most (degrees).
const CURL: (f64, f64) = (0.5, 40.0);
/// A nail, from its free edge round its root: toward the pull and ahead of the tip's middle, in half widths.
const NAIL: [(f64, f64); 5] =
    [(0.86, 0.35), (0.48, 0.55), (0.22, 0.1), (0.42, -0.62), (0.95, -0.55)];
/// The crease round the ball of the thumb: along in hand lengths, its turn from the middle of the palm (degrees).
const PALM_CREASE: [(f64, f64); 4] = [(0.06, 6.0), (0.20, 8.0), (0.33, 22.0), (0.43, 52.0)];
/// Steps along a bent finger.
const JOINTS: u8 = 4;
/// The thumb from its root: along in hand lengths, toward the palm in hand lengths, out in hand breadths, half
/// width in hand lengths. Estimates.
const THUMB: [(f64, f64, f64, f64); 4] = [
    (0.20, 0.010, 0.30, 0.070),
    (0.315, 0.020, 0.62, 0.056),
    (0.43, 0.030, 0.80, 0.049),
    (0.51, 0.032, 0.90, 0.043),
];

/// Paints the fingers from the far one to the near one.
pub(super) fn paint_fingers(sheet: &mut Sheet, pose: &Pose) {
    let mut order: Vec<&Finger> = FINGERS.iter().collect();
    if pose.thumb < 0.0 {
        order.reverse();
    }
    for shape in order {
        let line = middle_line(pose, shape);
        // Its root lies under the palm.
        sheet.paint(Part::Hand, Outline::smooth(&finger(&line)).close());
        if pose.side.palm < 0.0 {
            paint_nail(sheet, &line);
        }
    }
}

/// The middle line on the page with half widths.
fn middle_line(pose: &Pose, of: &Finger) -> Vec<(Vector, f64)> {
    let sizes = &pose.side.sizes;
    let (long, wide) = (sizes.hand_length, sizes.hand_breadth);
    let start = sizes.cuff_end.clamp(ROOT * long + 1.0, long * 0.86);
    let reach = (of.reach * long - start - DEPTHS.1 * long).max(long * 0.08);
    let whole = of.reach * long - ROOT * long;
    let bend = (reach * CURL.0).min(CURL.1);
    let mut points =
        vec![(at(ROOT * long, 0.0), 0.0), (at(start, 0.0), (start - ROOT * long) / whole)];
    let mut point = at(start, 0.0);
    for joint in 1..=JOINTS {
        let share = f64::from(joint) / f64::from(JOINTS);
        // Heights count toward the palm.
        point = point + at(reach / f64::from(JOINTS), 0.0).turned(Angle::degrees(bend * share));
        points.push((point, ((start - ROOT * long + reach * share) / whole).min(1.0)));
    }
    let middle: Vec<Vector> = points
        .iter()
        .map(|&(it, share)| pose.of_hand(it.x, it.y, (of.root + (of.tip - of.root) * share) * wide))
        .collect();
    let half = |index: usize| {
        let across = heading(&middle, index).left();
        let lean = of.half * wide * (DEPTH.x * across.x + DEPTH.y * across.y);
        let depth = (DEPTHS.0 + (DEPTHS.1 - DEPTHS.0) * points[index].1) * long;
        (depth * depth + lean * lean).sqrt()
    };
    middle.iter().enumerate().map(|(index, &it)| (it, half(index))).collect()
}

/// Where the contour of the palm meets that of the outermost finger on the side of the pull, or opposite.
pub(super) fn palm_end(pose: &Pose, is_pull_side: bool) -> Vector {
    let outer = if (pose.thumb > 0.0) == is_pull_side { &FINGERS[0] } else { &FINGERS[3] };
    let line = middle_line(pose, outer);
    let (root, half) = line[0];
    let ahead = (line[1].0 - root).direction();
    let out = ahead.left() * if is_pull_side { half } else { -half };
    root + ahead * (MERGE * pose.side.sizes.hand_length) + out
}

/// Nails, where the back of the hand faces up.
fn paint_nail(sheet: &mut Sheet, line: &[(Vector, f64)]) {
    let points: Vec<Vector> = line.iter().map(|it| it.0).collect();
    let (tip, half) = line[line.len() - 1];
    let ahead = heading(&points, points.len() - 1);
    let spot = |(out, on): (f64, f64)| tip + ahead.left() * (half * out) + ahead * (half * on);
    sheet.paint(Part::Hand, Outline::smooth(&NAIL.map(spot)));
}

/// Paints what tells the palm from the back: the crease round the ball of the thumb.
pub(super) fn paint_palm(sheet: &mut Sheet, pose: &Pose) {
    if pose.side.palm > 0.0 {
        let long = pose.side.sizes.hand_length;
        let sign = pose.thumb;
        let crease = PALM_CREASE.map(|(along, turn)| pose.hand(along * long).spot(turn * sign));
        sheet.paint(Part::Hand, Outline::smooth(&crease));
    }
}

/// Where the near finger leaves the cuff, and its tip.
pub(super) fn near_finger(pose: &Pose) -> [Vector; 2] {
    let near = if pose.thumb > 0.0 { &FINGERS[3] } else { &FINGERS[0] };
    let line = middle_line(pose, near);
    [line[1].0, line[line.len() - 1].0]
}

/// Paints the thumb and gives its tip.
pub(super) fn paint_thumb(sheet: &mut Sheet, pose: &Pose) -> Vector {
    let line = thumb_line(pose);
    let outline = Outline::smooth(&finger(&line));
    sheet.paint(Part::Skin, outline.clone().close());
    sheet.paint(Part::Hand, outline);
    line[line.len() - 1].0
}

/// The thumb's middle line with half widths.
pub(super) fn thumb_line(pose: &Pose) -> Vec<(Vector, f64)> {
    let sizes = &pose.side.sizes;
    let knot = |&(along, palm, out, half): &(f64, f64, f64, f64)| {
        let long = sizes.hand_length;
        (pose.of_hand(along * long, palm * long, out * sizes.hand_breadth), half * long)
    };
    THUMB.iter().map(knot).collect()
}
