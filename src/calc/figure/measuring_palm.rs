//! The arm to measure from the palm's side: lengths along it, breadths across it, tapes round it.

use super::curve::{Outline, arc};
use super::drawing::Part;
use super::face::Face;
use super::measuring::{Page, caliper};
use super::plane::{Vector, at};
use super::sheet::Sheet;
use super::sizes::Sizes;
use super::{Pull, face_arm, face_hand};

/// How far a tape stands off the skin at its turns, and half of how far apart its near and far runs show (mm).
const TAPE: Vector = at(5.0, 1.5);
/// From the limb's edge to the middle of a number (mm).
const OFF: f64 = 21.0;
/// Where the knuckles lie, in hand lengths; an estimate, for the drawing.
const KNUCKLES: f64 = 0.47;
/// Half the fingers' breadth where the cuff ends, in hand breadths; as they are drawn.
const FINGERS: f64 = 0.5;
/// From the crease to the tapes round the forearm; places of the drawing alone (mm).
const GIRTHS: [(&str, f64); 3] = [
    ("limb.forearm_girths[1]", 48.0),
    ("limb.forearm_girths[2]", 132.0),
    ("limb.forearm_girths[3]", 192.0),
];
/// From the crease to the caliper, where the strip will lie (mm).
const STRIP: f64 = 92.0;
/// Lines from the crease to each tape: the first off the limb, and from line to line (mm).
const STEPS: (f64, f64) = (9.0, 8.0);
/// Half a landmark's line (mm).
const MARK: f64 = 12.0;
/// How much of a seam is hidden, along the limb and short of its edges (mm).
const SEAM: Vector = at(3.0, 1.6);

/// A place of the face view on the page: fingers to the right, the thumb of a right hand down.
fn turned(point: Vector) -> Vector {
    at(point.y, -point.x)
}

pub(super) fn paint(page: &mut Page, sizes: &Sizes) {
    let face =
        Face { sizes: *sizes, pull: Pull::Palm, tab_hole: sizes.strip_start, marks: Vec::new() };
    let mut limb = Sheet::default();
    face_arm::paint(&mut limb, &face);
    face_hand::paint(&mut limb, &face);
    limb.paint(Part::Skin, seam(&face));
    face_arm::paint_crease(&mut limb, &face);
    page.sheet.take(&limb, turned);
    lengths(page, sizes);
    tapes(page, &face);
    breadths(page, &face);
}

/// Hides the line in which arm and hand are joined.
fn seam(face: &Face) -> Outline {
    let [thumb, little] = face_hand::seam(face);
    let (low, high) = (little.y - SEAM.x, little.y + SEAM.x);
    let (left, right) = (little.x + SEAM.y, thumb.x - SEAM.y);
    Outline::straight(&[at(left, low), at(right, low), at(right, high), at(left, high)]).close()
}

/// Along the middle of palm and forearm.
fn lengths(page: &mut Page, sizes: &Sizes) {
    let (tip, crease, elbow) = (at(sizes.hand_length, -10.0), at(0.0, 0.0), at(sizes.elbow, 0.0));
    let middle = at(0.0, -10.0);
    for end in [tip, elbow] {
        page.line(Part::Landmark, &[end - at(0.0, MARK), end + at(0.0, MARK)]);
    }
    page.reach(middle, tip);
    page.reach(crease, elbow);
    page.point("limb.hand_length", at(44.0, middle.y), at(44.0, middle.y));
    page.point("limb.forearm_length", at(-162.0, 0.0), at(-162.0, 0.0));
}

/// A tape round the limb at a place from the crease, from edge to edge across.
fn tape(page: &mut Page, place: f64, little: f64, thumb: f64) -> Vector {
    let centre = at(place, f64::midpoint(little, thumb));
    let half = at(TAPE.x, (little - thumb) / 2.0 + TAPE.y);
    let far = arc(centre, half, &[90.0, 60.0, 30.0, 0.0, -30.0, -60.0, -90.0]);
    let near = arc(centre, half, &[90.0, 120.0, 150.0, 180.0, 210.0, 240.0, 270.0]);
    page.sheet.paint(Part::TapeBehind, Outline::smooth(&far));
    page.sheet.paint(Part::Tape, Outline::smooth(&near));
    centre + at(0.0, half.y)
}

fn tapes(page: &mut Page, face: &Face) {
    let sizes = &face.sizes;
    let wrist = sizes.wrist_breadth / 2.0;
    let top = tape(page, -3.0, wrist, -wrist);
    page.point("limb.wrist_circumference", top + at(0.0, OFF), top);
    let mut row = face_arm::half_breadth(face, sizes.elbow) + STEPS.0;
    for (key, from_crease) in GIRTHS {
        let half = face_arm::half_breadth(face, -from_crease);
        let top = tape(page, -from_crease, half, -half);
        page.point(key, top + at(0.0, OFF), top);
        page.line(Part::Landmark, &[at(-from_crease, -half), at(-from_crease, -row - 2.0)]);
        page.reach(at(0.0, -row), at(-from_crease, -row));
        row += STEPS.1;
    }
    page.line(Part::Landmark, &[at(0.0, -wrist), at(0.0, -row + STEPS.1 - 2.0)]);
    let half = face_arm::half_breadth(face, sizes.elbow);
    let top = tape(page, sizes.elbow - 4.0, half, -half * 1.25);
    page.point("limb.elbow_girth", top + at(0.0, OFF), top);
    let half = sizes.hand_breadth / 2.0;
    let top = tape(page, sizes.hand_length * KNUCKLES - 6.0, half, -half);
    page.point("limb.knuckle_girth", top + at(-13.0, OFF), top);
    let half = sizes.hand_breadth * FINGERS;
    let top = tape(page, sizes.cuff_end, half, -half);
    page.point("limb.finger_joint_girth", top + at(0.0, OFF), top);
}

fn breadths(page: &mut Page, face: &Face) {
    let sizes = &face.sizes;
    let knuckles = sizes.hand_length * KNUCKLES + 8.0;
    let half = sizes.hand_breadth / 2.0;
    caliper(page, at(knuckles, half), at(knuckles, -half));
    page.point("limb.hand_breadth", at(knuckles + 9.0, half + OFF), at(knuckles, half));
    let half = face_arm::half_breadth(face, -STRIP);
    caliper(page, at(-STRIP, half), at(-STRIP, -half));
    page.point("limb.forearm_breadth", at(-STRIP, half + OFF), at(-STRIP, half));
}
