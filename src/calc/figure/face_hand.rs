//! The hand in the face view: five fingers, and what tells the palm from the back.

use super::Pull;
use super::curve::{Outline, finger};
use super::drawing::Part;
use super::face::Face;
use super::plane::{Vector, at, height_at};
use super::sheet::Sheet;

/// A finger: where its root and its tip stand across the hand and half its width at root and
/// tip, in hand breadths; its tip from the crease, in hand lengths. Estimates.
struct Finger {
    root: f64,
    tip: f64,
    half: (f64, f64),
    reach: f64,
}

/// From the little finger to the index finger.
const FINGERS: [Finger; 4] = [
    Finger { root: -0.378, tip: -0.375, half: (0.108, 0.084), reach: 0.80 },
    Finger { root: -0.133, tip: -0.138, half: (0.121, 0.096), reach: 0.935 },
    Finger { root: 0.122, tip: 0.120, half: (0.122, 0.100), reach: 1.0 },
    Finger { root: 0.374, tip: 0.362, half: (0.116, 0.095), reach: 0.925 },
];
/// The webs between them, in hand lengths from the crease.
const WEBS: [f64; 3] = [0.50, 0.535, 0.535];
/// Where a finger begins to show at its sides, in hand lengths from the crease.
const ROOT: f64 = 0.55;
/// Shares of a finger's own length from root to tip at which its width is set.
const FINGER_STEPS: [f64; 3] = [0.0, 0.5, 1.0];
/// The edge of the hand on the little finger's side, from the wrist to the finger: across in hand
/// breadths, along in hand lengths.
const LITTLE_EDGE: [(f64, f64); 3] = [(-0.45, 0.16), (-0.50, 0.32), (-0.485, 0.46)];
/// The web between index finger and thumb, from the index finger's root: across in hand breadths,
/// along in hand lengths.
const THUMB_WEB: [(f64, f64); 3] = [(0.490, 0.50), (0.492, 0.435), (0.555, 0.390)];
/// The thumb's middle line from its root: across and half width in hand breadths, along in hand
/// lengths. Estimates.
const THUMB: [(f64, f64, f64); 3] =
    [(0.640, 0.300, 0.128), (0.815, 0.440, 0.108), (0.920, 0.535, 0.098)];
/// The ball of the thumb where it meets the wrist: across in hand breadths, along in hand lengths.
const BALL: (f64, f64) = (0.555, 0.11);
/// The end joint's crease, in half widths of the tip: back from the tip's middle, half its length,
/// and how far it sags.
const JOINT: (f64, f64, f64) = (2.0, 0.75, 0.1);
/// The right half of a nail from its root to its free edge, in half widths of the tip: out from
/// the finger's middle, ahead of the tip's.
const NAIL: [(f64, f64); 3] = [(0.0, -0.55), (0.62, -0.15), (0.56, 0.52)];

/// Paints the hand. Its seam with the arm lies under the cuff and its strap.
pub(super) fn paint(sheet: &mut Sheet, face: &Face) {
    sheet.paint(Part::Hand, hand(face));
    for shape in &FINGERS {
        sheet.paint(Part::Hand, finger_line(face, shape));
    }
}

/// The thumb once more, over a cuff that wraps round its side and lets it through.
pub(super) fn thumb_through(sheet: &mut Sheet, face: &Face) {
    let mut points = thumb_edge(face);
    points.extend(THUMB_WEB.last().map(|&web| spot(face, web)));
    sheet.paint(Part::Hole, Outline::smooth(&points).close());
}

/// A point of the hand: across in hand breadths, along in hand lengths.
fn spot(face: &Face, (across, along): (f64, f64)) -> Vector {
    at(across * face.sizes.hand_breadth, along * face.sizes.hand_length)
}

/// Half the hand's breadth at the seam, thumb side and little finger's side.
pub(super) fn seam(face: &Face) -> [Vector; 2] {
    let place = face.sizes.wrist_strap();
    let wrist = face.sizes.wrist_breadth / 2.0;
    let little =
        [at(0.0, -wrist), spot_turned(face, LITTLE_EDGE[0]), spot_turned(face, LITTLE_EDGE[1])];
    let root = thumb_edge(face).last().map_or(at(0.0, wrist), |edge| at(edge.y, edge.x));
    let ball = [at(0.0, wrist), spot_turned(face, BALL), root];
    [at(height_at(&ball, place), place), at(height_at(&little, place), place)]
}

/// The same point with along as x, for reading an edge's place across.
fn spot_turned(face: &Face, edge: (f64, f64)) -> Vector {
    let point = spot(face, edge);
    at(point.y, point.x)
}

/// The middle line of a finger with half widths, from its root to its tip.
fn middle_line(face: &Face, finger: &Finger) -> Vec<(Vector, f64)> {
    let breadth = face.sizes.hand_breadth;
    let half = |share: f64| (finger.half.0 + (finger.half.1 - finger.half.0) * share) * breadth;
    let root = spot(face, (finger.root, ROOT));
    let tip = spot(face, (finger.tip, finger.reach)) - at(0.0, half(1.0));
    FINGER_STEPS.iter().map(|&share| (root.toward(tip, share), half(share))).collect()
}

/// The thumb's edge from its web round the tip to its root on the outer side.
fn thumb_edge(face: &Face) -> Vec<Vector> {
    let breadth = face.sizes.hand_breadth;
    let knot =
        |&(across, along, half): &(f64, f64, f64)| (spot(face, (across, along)), half * breadth);
    let middle: Vec<(Vector, f64)> = THUMB.iter().map(knot).collect();
    // The inner side of the root lies in the hand.
    finger(&middle).split_off(1)
}

/// The whole hand in one outline: little finger's edge, fingers and webs, thumb.
fn hand(face: &Face) -> Outline {
    let [thumb, little] = seam(face);
    let mut outline = Outline::from(little);
    let mut run = vec![little];
    run.extend(LITTLE_EDGE.iter().map(|&edge| spot(face, edge)).filter(|edge| edge.y > little.y));
    for (index, shape) in FINGERS.iter().enumerate() {
        run.extend(finger(&middle_line(face, shape)));
        if let Some(&web) = WEBS.get(index) {
            let next = FINGERS[index + 1].root - FINGERS[index + 1].half.0;
            let valley = spot(face, ((shape.root + shape.half.0 + next) / 2.0, web));
            run.push(valley);
            outline.run(&run);
            run = vec![valley];
        }
    }
    run.extend(THUMB_WEB.iter().map(|&web| spot(face, web)));
    run.extend(thumb_edge(face));
    run.extend([spot(face, BALL)].iter().filter(|ball| ball.y > thumb.y));
    run.push(thumb);
    outline.run(&run);
    outline.close()
}

/// What tells the palm from the back: the crease of the end joint, or the nail.
fn finger_line(face: &Face, shape: &Finger) -> Outline {
    let half = shape.half.1 * face.sizes.hand_breadth;
    let tip = spot(face, (shape.tip, shape.reach)) - at(0.0, half);
    let near = |(out, ahead): (f64, f64)| tip + at(out * half, ahead * half);
    match face.pull {
        Pull::Palm => {
            let (back, wide, sag) = JOINT;
            Outline::smooth(&[(-wide, -back), (0.0, -back - sag), (wide, -back)].map(near))
        }
        Pull::Back => {
            let [root, side, edge] = NAIL;
            let left = |(out, ahead): (f64, f64)| (-out, ahead);
            Outline::smooth(&[left(edge), left(side), root, side, edge].map(near))
        }
    }
}
