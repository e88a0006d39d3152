//! Fingers and thumb of the donning sequence.

use super::pose::Pose;
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
    Finger { root: -0.36, tip: -0.42, half: 0.092, reach: 0.80 },
    Finger { root: -0.125, tip: -0.14, half: 0.105, reach: 0.935 },
    Finger { root: 0.12, tip: 0.13, half: 0.108, reach: 1.0 },
    Finger { root: 0.36, tip: 0.40, half: 0.102, reach: 0.925 },
];
/// Where fingers leave the palm, in hand lengths.
const ROOT: f64 = 0.50;
/// How far past that the contours of palm and fingers meet, in hand lengths.
const MERGE: f64 = 0.05;
/// Half a finger's depth at root and tip, in hand lengths; estimates.
const DEPTHS: (f64, f64) = (0.050, 0.040);
/// How far loose fingers bend toward the palm for each millimetre past the cuff, and at most (degrees).
const CURL: (f64, f64) = (0.5, 40.0);
/// A nail: half its width, its root and its free edge past the tip's middle, and how far off a finger's middle it may
/// stand, in half widths.
const NAIL: (f64, f64, f64, f64) = (0.58, -0.95, 0.70, 0.42);
/// The crease round the ball of the thumb: along in hand lengths, its turn from the middle of the palm (degrees).
const PALM_CREASE: [(f64, f64); 4] = [(0.06, 6.0), (0.20, 8.0), (0.33, 22.0), (0.43, 52.0)];
/// How far the thumb swings off the fingers.
const THUMB_SWING: Angle = Angle::degrees(-32.0);
/// Steps along a bent finger.
const JOINTS: u8 = 4;
/// The thumb from its root: along in hand lengths, toward the palm in hand lengths, out in hand breadths, half
/// width in hand lengths. Estimates.
type Thumb = [(f64, f64, f64, f64); 4];
/// At ease.
const EASE: Thumb = [
    (0.20, 0.010, 0.30, 0.070),
    (0.315, 0.020, 0.62, 0.056),
    (0.43, 0.030, 0.80, 0.049),
    (0.51, 0.032, 0.90, 0.043),
];
/// Held off the hand.
const OFF: Thumb = [
    (0.17, 0.010, 0.28, 0.070),
    (0.25, 0.020, 0.60, 0.058),
    (0.335, 0.028, 0.86, 0.049),
    (0.395, 0.030, 1.06, 0.043),
];

/// Paints the fingers from the far one to the near one.
pub(super) fn paint_fingers(sheet: &mut Sheet, pose: &Pose) {
    for shape in &FINGERS {
        let line = middle_line(pose, shape, Angle::ZERO);
        // Its root lies under the palm.
        sheet.paint(Part::Hand, Outline::smooth(&finger(&line)).close());
        if !pose.sees_palm() {
            // Seen aslant, the nail stands toward the upper skyline.
            let lift = -(pose.eye.pull * pose.side.palm);
            paint_nail(sheet, &line, lift * NAIL.3);
        }
    }
}

/// Paints where fingertips and thumb go when they move: the fingers bent by so much more, the thumb off the hand.
pub(super) fn paint_moved(sheet: &mut Sheet, pose: &Pose, bend: Angle) {
    // All four would hide one another.
    for shape in &FINGERS[2..] {
        let line = middle_line(pose, shape, bend);
        sheet.paint(Part::Ghost, Outline::smooth(&finger(&line[2..])));
    }
    sheet.paint(Part::Ghost, Outline::smooth(&finger(&moved_thumb(pose)[1..])));
}

/// The thumb, turned away from the fingers about its root.
fn moved_thumb(pose: &Pose) -> Vec<(Vector, f64)> {
    let line = thumb_line(pose);
    let root = line[0].0;
    line.iter().map(|&(it, half)| (root + (it - root).turned(THUMB_SWING), half)).collect()
}

/// How fingertips and thumb move: about what, from where, to where.
pub(super) fn motions(pose: &Pose, bend: Angle) -> [[Vector; 3]; 2] {
    let [rest, curled] = [Angle::ZERO, bend].map(|it| middle_line(pose, &FINGERS[2], it));
    let (thumb, moved) = (thumb_line(pose), moved_thumb(pose));
    let tip = |line: &[(Vector, f64)]| line[line.len() - 1].0;
    [[rest[1].0, tip(&rest), tip(&curled)], [thumb[0].0, tip(&thumb), tip(&moved)]]
}

/// The middle line on the page with half widths; `more` bends it toward the palm beside what a loose finger does.
fn middle_line(pose: &Pose, of: &Finger, more: Angle) -> Vec<(Vector, f64)> {
    let sizes = &pose.side.sizes;
    let (long, wide) = (sizes.hand_length, sizes.hand_breadth);
    let start = sizes.cuff_end.clamp(ROOT * long + 1.0, long * 0.86);
    let reach = (of.reach * long - start - DEPTHS.1 * long).max(long * 0.08);
    let whole = of.reach * long - ROOT * long;
    let bend = (reach * CURL.0).min(CURL.1) + more.to_degrees();
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
    let up = pose.eye.page(at(0.0, 1.0).turned(pose.side.wrist));
    let half = |index: usize| {
        let across = heading(&middle, index).left();
        let lean = of.half * wide * pose.eye.thumb.dot(across);
        let depth = (DEPTHS.0 + (DEPTHS.1 - DEPTHS.0) * points[index].1) * long * up.dot(across);
        // A finger that points at the eye is as deep as it is.
        (depth * depth + lean * lean).sqrt().max(of.half * wide * 0.8)
    };
    middle.iter().enumerate().map(|(index, &it)| (it, half(index))).collect()
}

/// Where the contour of the palm meets that of the outermost finger, above or below on the page.
pub(super) fn palm_end(pose: &Pose, is_above: bool) -> Vector {
    let outer = if pose.eye.sees_pull_side() == is_above { &FINGERS[0] } else { &FINGERS[3] };
    let line = middle_line(pose, outer, Angle::ZERO);
    let (root, half) = line[0];
    let ahead = (line[1].0 - root).direction();
    let out = ahead.left() * if is_above { half } else { -half };
    root + ahead * (MERGE * pose.side.sizes.hand_length) + out
}

/// Paints a nail, its middle so many half widths to the left of the finger's.
fn paint_nail(sheet: &mut Sheet, line: &[(Vector, f64)], off: f64) {
    let points: Vec<Vector> = line.iter().map(|it| it.0).collect();
    let (tip, half) = line[line.len() - 1];
    let ahead = heading(&points, points.len() - 1);
    let (wide, root, free, _) = NAIL;
    let spot = |out: f64, on: f64| {
        // No nail stands out over its finger.
        tip + ahead.left() * (half * (off + out * wide).clamp(-0.94, 0.94)) + ahead * (half * on)
    };
    let nail = [
        spot(1.0, free * 0.7),
        spot(1.0, root * 0.5),
        spot(0.0, root),
        spot(-1.0, root * 0.5),
        spot(-1.0, free * 0.7),
        spot(0.0, free),
        spot(1.0, free * 0.7),
    ];
    sheet.paint(Part::Nail, Outline::smooth(&nail).close());
}

/// Paints what tells the palm from the back: the crease round the ball of the thumb.
pub(super) fn paint_palm(sheet: &mut Sheet, pose: &Pose) {
    if pose.sees_palm() {
        let long = pose.side.sizes.hand_length;
        let crease = PALM_CREASE.map(|(along, turn)| pose.hand(along * long).spot(turn));
        sheet.paint(Part::Nail, Outline::smooth(&crease));
    }
}

/// Paints the thumb and gives its tip.
pub(super) fn paint_thumb(sheet: &mut Sheet, pose: &Pose) -> Vector {
    let line = thumb_line(pose);
    paint_thumb_from(sheet, pose, &line)
}

/// Paints the thumb from where it comes out of the cuff's hole, a share of its first part.
pub(super) fn paint_thumb_out(sheet: &mut Sheet, pose: &Pose, share: f64) {
    let mut line = thumb_line(pose);
    let (root, next) = (line[0], line[1]);
    line[0] = (root.0.toward(next.0, share), root.1 + (next.1 - root.1) * share);
    paint_thumb_from(sheet, pose, &line);
}

/// Paints what stands out of a hole at a share of the thumb's way.
pub(super) fn paint_thumb_end(sheet: &mut Sheet, pose: &Pose, from: usize) -> Vector {
    paint_thumb_from(sheet, pose, &thumb_line(pose)[from..])
}

fn paint_thumb_from(sheet: &mut Sheet, pose: &Pose, line: &[(Vector, f64)]) -> Vector {
    let outline = Outline::smooth(&finger(line));
    sheet.paint(Part::Skin, outline.clone().close());
    sheet.paint(Part::Hand, outline);
    // The nail looks away from the fingers, toward the back of the hand.
    let off = match (pose.eye.sees_pull_side(), pose.eye.pull < 1.0) {
        (true, false) => 0.1,
        (true, true) => -0.55,
        (false, _) => 0.55,
    };
    paint_nail(sheet, line, off);
    line[line.len() - 1].0
}

/// The thumb's middle line with half widths.
pub(super) fn thumb_line(pose: &Pose) -> Vec<(Vector, f64)> {
    let sizes = &pose.side.sizes;
    let knot = |&(along, palm, out, half): &(f64, f64, f64, f64)| {
        let long = sizes.hand_length;
        (pose.of_hand(along * long, palm * long, out * sizes.hand_breadth), half * long)
    };
    let thumb = if pose.is_thumb_off { &OFF } else { &EASE };
    thumb.iter().map(knot).collect()
}
