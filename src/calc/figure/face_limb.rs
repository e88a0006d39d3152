//! The limb in the face view: hand with five fingers, forearm, elbow, stub of the upper arm.

use super::Pull;
use super::curve::{Outline, arc, finger};
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
    Finger {
        root: -0.378,
        tip: -0.375,
        half: (0.108, 0.084),
        reach: 0.80,
    },
    Finger {
        root: -0.133,
        tip: -0.138,
        half: (0.121, 0.096),
        reach: 0.935,
    },
    Finger {
        root: 0.122,
        tip: 0.120,
        half: (0.122, 0.100),
        reach: 1.0,
    },
    Finger {
        root: 0.374,
        tip: 0.362,
        half: (0.116, 0.095),
        reach: 0.925,
    },
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
/// The thumb and its ball, from the index finger's root round the tip to the wrist.
const THUMB_EDGE: [(f64, f64); 12] = [
    (0.490, 0.50),
    (0.490, 0.44),
    (0.545, 0.385),
    (0.655, 0.430),
    (0.745, 0.505),
    (0.835, 0.575),
    (0.930, 0.600),
    (1.000, 0.570),
    (0.990, 0.490),
    (0.895, 0.375),
    (0.745, 0.245),
    (0.545, 0.10),
];
/// Breadth of the forearm along it, in shares of its length: full breadth from here on.
const FULL_BREADTH: f64 = 0.72;
/// How far the stub of the upper arm stands out past the forearm [forearm breadths].
const STUB: f64 = 0.55;
/// How far the cut through the upper arm swings out and in [mm].
const CUT: f64 = 3.0;
/// How far a nail reaches back from a finger's tip and its half width, in half widths of the tip.
const NAIL: (f64, f64) = (1.55, 0.62);

/// Paints arm, hand and crease. The seam between arm and hand lies under the cuff and its strap.
pub(super) fn paint(sheet: &mut Sheet, face: &Face) {
    sheet.paint(Part::Arm, arm(face));
    sheet.paint(Part::Hand, hand(face));
    for finger in &FINGERS {
        for line in finger_lines(face, finger) {
            sheet.paint(Part::Hand, line);
        }
    }
    let half = face.sizes.wrist_breadth / 2.0;
    let crease = [at(-half, 0.0), at(0.0, -half * 0.08), at(half, 0.0)];
    sheet.paint(Part::Crease, Outline::smooth(&crease));
}

/// Half the breadth of wrist and forearm at a place from the crease.
pub(super) fn half_breadth(face: &Face, place: f64) -> f64 {
    let sizes = &face.sizes;
    let wrist = sizes.wrist_breadth / 2.0;
    let full = (sizes.forearm_breadth / 2.0).max(wrist);
    let knots = [
        at(sizes.elbow * FULL_BREADTH, full),
        at(
            sizes.elbow * FULL_BREADTH * 0.5,
            wrist + (full - wrist) * 0.66,
        ),
        at(0.0, wrist),
    ];
    height_at(&knots, place)
}

/// A point of the hand: across in hand breadths, along in hand lengths.
fn spot(face: &Face, (across, along): (f64, f64)) -> Vector {
    at(
        across * face.sizes.hand_breadth,
        along * face.sizes.hand_length,
    )
}

/// Half the hand's breadth at the seam, thumb side and little finger's side.
pub(super) fn seam(face: &Face) -> [Vector; 2] {
    let place = face.sizes.wrist_strap();
    let wrist = face.sizes.wrist_breadth / 2.0;
    let little = [
        at(0.0, -wrist),
        spot_turned(face, LITTLE_EDGE[0]),
        spot_turned(face, LITTLE_EDGE[1]),
    ];
    let ball = [
        at(0.0, wrist),
        spot_turned(face, THUMB_EDGE[11]),
        spot_turned(face, THUMB_EDGE[10]),
    ];
    [
        at(height_at(&ball, place), place),
        at(height_at(&little, place), place),
    ]
}

/// The same point with along as x, for reading an edge's place across.
fn spot_turned(face: &Face, edge: (f64, f64)) -> Vector {
    let point = spot(face, edge);
    at(point.y, point.x)
}

fn arm(face: &Face) -> Outline {
    let sizes = &face.sizes;
    let [thumb, little] = seam(face);
    let edge = |share: f64, sign: f64| {
        let place = sizes.elbow * share;
        at(half_breadth(face, place) * sign, place)
    };
    let full = half_breadth(face, sizes.elbow);
    let (elbow, reach) = (sizes.elbow, sizes.elbow_reach);
    let stub = full + sizes.forearm_breadth * STUB;
    let foot = elbow - reach;
    let mut outline = Outline::from(thumb);
    let mut inner = vec![thumb, at(sizes.wrist_breadth / 2.0, 0.0)];
    inner.extend([edge(0.18, 1.0), edge(0.45, 1.0), edge(0.72, 1.0)]);
    inner.push(at(full * 1.02, elbow + reach * 0.5));
    inner.push(at(full * 1.22, elbow + reach * 0.18));
    inner.push(at(stub, elbow + reach * 0.12));
    let mut cut = arc(
        at(stub, elbow - reach * 0.16),
        at(CUT, reach * 0.28),
        &[90.0, 30.0, -30.0, -90.0],
    );
    cut.extend(arc(
        at(stub, elbow - reach * 0.72),
        at(-CUT, reach * 0.28),
        &[30.0, -30.0, -90.0],
    ));
    let mut outer = vec![at(-full * 0.5, foot), at(-full * 0.93, elbow - reach * 0.6)];
    outer.extend([
        edge(0.95, -1.0),
        edge(0.72, -1.0),
        edge(0.45, -1.0),
        edge(0.18, -1.0),
    ]);
    outer.extend([at(-sizes.wrist_breadth / 2.0, 0.0), little]);
    outline.run(&inner);
    outline.run(&cut);
    outline.run(&outer);
    outline.close()
}

/// The middle line of a finger with half widths, from its root to its tip.
fn middle_line(face: &Face, finger: &Finger) -> Vec<(Vector, f64)> {
    let breadth = face.sizes.hand_breadth;
    let half = |share: f64| (finger.half.0 + (finger.half.1 - finger.half.0) * share) * breadth;
    let root = spot(face, (finger.root, ROOT));
    let tip = spot(face, (finger.tip, finger.reach)) - at(0.0, half(1.0));
    FINGER_STEPS
        .iter()
        .map(|&share| (root.toward(tip, share), half(share)))
        .collect()
}

/// The whole hand in one outline: little finger's edge, fingers and webs, thumb.
fn hand(face: &Face) -> Outline {
    let [thumb, little] = seam(face);
    let mut outline = Outline::from(little);
    let mut run = vec![little];
    run.extend(
        LITTLE_EDGE
            .iter()
            .map(|&edge| spot(face, edge))
            .filter(|edge| edge.y > little.y),
    );
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
    run.extend(
        THUMB_EDGE
            .iter()
            .map(|&edge| spot(face, edge))
            .filter(|edge| edge.y > thumb.y),
    );
    run.push(thumb);
    outline.run(&run);
    outline.close()
}

/// What tells the palm from the back: the bend of the end joint, or the nail.
fn finger_lines(face: &Face, shape: &Finger) -> Vec<Outline> {
    let line = middle_line(face, shape);
    let Some(&(tip, half)) = line.last() else {
        return Vec::new();
    };
    match face.pull {
        Pull::Palm => {
            let joint = tip - at(0.0, half * 2.0);
            let reach = half * 0.75;
            vec![Outline::smooth(&[
                joint - at(reach, 0.0),
                joint - at(0.0, reach * 0.12),
                joint + at(reach, 0.0),
            ])]
        }
        Pull::Back => {
            let wide = half * NAIL.1;
            let low = tip + at(0.0, half * (1.0 - NAIL.0));
            let top = tip + at(0.0, half * 0.72);
            vec![Outline::smooth(&[
                top - at(wide * 0.9, half * 0.2),
                low.toward(top, 0.3) - at(wide, 0.0),
                low,
                low.toward(top, 0.3) + at(wide, 0.0),
                top + at(wide * 0.9, half * -0.2),
            ])]
        }
    }
}
