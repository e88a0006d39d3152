//! The arm in the face view: wrist, forearm, elbow, stub of the upper arm, crease.

use super::curve::{Outline, arc};
use super::drawing::Part;
use super::face::Face;
use super::face_hand::seam;
use super::plane::{Vector, at, height_at};
use super::sheet::Sheet;

/// Share of the forearm's length, from the wrist, at which it has its full breadth; an estimate.
const FULL_AT: f64 = 0.72;
/// Half way there, the share of the widening that is reached; an estimate.
const HALF_WAY: f64 = 0.66;
/// Shares of the forearm's length at which its edges are set.
const STEPS: [f64; 3] = [0.18, 0.45, FULL_AT];
/// How far the stub of the upper arm stands out past the forearm, in forearm breadths.
const STUB: f64 = 0.55;
/// The crook of the elbow: out from the midline in half breadths of the forearm, before the elbow
/// crease in reaches of the elbow.
const CROOK: [(f64, f64); 2] = [(1.02, 0.5), (1.22, 0.18)];
/// The stub's upper edge before the elbow crease, in reaches of the elbow.
const STUB_TOP: f64 = 0.12;
/// How far the cut through the upper arm swings out and in (mm).
const CUT: f64 = 3.0;
/// Angles along each half of that swing (degrees).
const SWING: [f64; 4] = [90.0, 30.0, -30.0, -90.0];
/// The elbow's outer corner, in half breadths and reaches: where it leaves the foot, where it turns.
const CORNER: [(f64, f64); 2] = [(0.5, 1.0), (0.93, 0.6)];
/// How far the crease sags at the middle, in half breadths of the wrist.
const SAG: f64 = 0.08;

/// Paints arm and crease. The arm ends in a seam across the hand, under the cuff and its strap.
pub(super) fn paint(sheet: &mut Sheet, face: &Face) {
    let [thumb, little] = seam(face);
    let mut outline = Outline::from(thumb);
    let mut edge = vec![thumb];
    edge.extend(thumb_side(face));
    outline.run(&edge);
    outline.run(&cut(face));
    edge = little_side(face);
    edge.push(little);
    outline.run(&edge);
    sheet.paint(Part::Arm, outline.close());
}

/// Paints the crease, over arm and hand.
pub(super) fn paint_crease(sheet: &mut Sheet, face: &Face) {
    let half = face.sizes.wrist_breadth / 2.0;
    let crease = [at(-half, 0.0), at(0.0, -half * SAG), at(half, 0.0)];
    sheet.paint(Part::Crease, Outline::smooth(&crease));
}

/// Half the breadth of wrist and forearm at a place from the crease.
pub(super) fn half_breadth(face: &Face, place: f64) -> f64 {
    let sizes = &face.sizes;
    let wrist = sizes.wrist_breadth / 2.0;
    let full = (sizes.forearm_breadth / 2.0).max(wrist);
    let end = sizes.elbow * FULL_AT;
    let middle = at(end / 2.0, wrist + (full - wrist) * HALF_WAY);
    height_at(&[at(end, full), middle, at(0.0, wrist)], place)
}

/// The forearm's edges from the wrist to its full breadth; `sign` +1 toward the thumb.
fn edge(face: &Face, sign: f64) -> Vec<Vector> {
    let wrist = at(face.sizes.wrist_breadth / 2.0 * sign, 0.0);
    let point = |share: f64| {
        let place = face.sizes.elbow * share;
        at(half_breadth(face, place) * sign, place)
    };
    [wrist].into_iter().chain(STEPS.map(point)).collect()
}

/// From the wrist down to the crook of the elbow and out along the upper arm.
fn thumb_side(face: &Face) -> Vec<Vector> {
    let (elbow, reach) = (face.sizes.elbow, face.sizes.elbow_reach);
    let full = half_breadth(face, elbow);
    let mut points = edge(face, 1.0);
    points.extend(CROOK.map(|(out, before)| at(full * out, elbow + reach * before)));
    points.push(at(stub(face), elbow + reach * STUB_TOP));
    points
}

/// Across the cut end of the upper arm.
fn cut(face: &Face) -> Vec<Vector> {
    let (elbow, reach) = (face.sizes.elbow, face.sizes.elbow_reach);
    let quarter = reach * (1.0 + STUB_TOP) / 4.0;
    let top = elbow + reach * STUB_TOP;
    let mut points = arc(at(stub(face), top - quarter), at(CUT, quarter), &SWING);
    let low = at(stub(face), top - quarter * 3.0);
    points.extend(arc(low, at(-CUT, quarter), &SWING).iter().skip(1));
    points
}

/// From the foot of the elbow up the little finger's side to the wrist.
fn little_side(face: &Face) -> Vec<Vector> {
    let (elbow, reach) = (face.sizes.elbow, face.sizes.elbow_reach);
    let full = half_breadth(face, elbow);
    let corner = CORNER.map(|(out, behind)| at(-full * out, elbow - reach * behind));
    let mut points = corner.to_vec();
    points.push(at(-full, elbow));
    points.extend(edge(face, -1.0).iter().rev());
    points
}

/// How far from the midline the upper arm is cut.
fn stub(face: &Face) -> f64 {
    half_breadth(face, face.sizes.elbow) + face.sizes.forearm_breadth * STUB
}
