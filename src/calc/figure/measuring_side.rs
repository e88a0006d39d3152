//! The arm to measure from the thumb's side: depths between palm and back, the tape round the elbow.

use super::curve::{Outline, arc};
use super::drawing::Part;
use super::measuring::{Page, caliper};
use super::plane::{Vector, at};
use super::sheet::Sheet;
use super::side::Side;
use super::side_limb::{self, ELBOW_TURN};
use super::sizes::Sizes;
use crate::units::Angle;

/// How far the view lies beside the one from the palm's side, toward the fingers (mm).
const BESIDE: f64 = 505.0;
/// How far the tape is drawn off the skin (mm).
const OFF_SKIN: f64 = 4.5;
/// From the limb's face to the middle of a number (mm).
const OFF: f64 = 21.0;
/// From the crease to the caliper, where the strip will lie (mm).
const STRIP: f64 = 92.0;
/// Half the cross of the wrist's axis (mm).
const CROSS: f64 = 8.0;
/// How much of the seam between arm and hand is hidden, along the limb and short of its faces (mm).
const SEAM: Vector = at(3.0, 1.6);

/// How much of the thumb's root is hidden: along the limb (mm), and half across it in hand lengths.
const ROOT: Vector = at(4.0, 0.052);

/// The wrist straight, the palm up, as the drawings of the hand need it.
pub(super) fn straight(sizes: &Sizes, wrist: Angle) -> Side {
    Side { sizes: *sizes, wrist, palm: 1.0 }
}

/// Arm and hand with the seam between them hidden.
fn limb(side: &Side) -> Sheet {
    let mut limb = Sheet::default();
    side_limb::paint(&mut limb, side);
    hide_seam(&mut limb, side);
    limb
}

/// Hides the line in which arm and hand are joined, and lays the thumb over it.
pub(super) fn hide_seam(limb: &mut Sheet, side: &Side) {
    let place = side.sizes.wrist_strap();
    let half = side.sizes.half_hand(place) - SEAM.y;
    let corner = |along: f64, high: f64| side.on_hand(place + along * SEAM.x, high * half);
    let patch = [corner(-1.0, -1.0), corner(1.0, -1.0), corner(1.0, 1.0), corner(-1.0, 1.0)];
    limb.paint(Part::Skin, Outline::straight(&patch).close());
    side_limb::thumb(limb, side);
    // The thumb grows out of the hand: its root has no edge.
    let half = side.sizes.hand_length * ROOT.y;
    let root = |along: f64, high: f64| side.on_hand(place + along, high * half);
    let patch = [root(-ROOT.x, -1.0), root(ROOT.x, -1.0), root(ROOT.x, 1.0), root(-ROOT.x, 1.0)];
    limb.paint(Part::Skin, Outline::straight(&patch).close());
}

pub(super) fn paint(page: &mut Page, sizes: &Sizes) {
    let side = straight(sizes, Angle::ZERO);
    // Places from the crease, beside the same places of the other view.
    let set = |point: Vector| point + at(sizes.axis + BESIDE, 0.0);
    page.sheet.take(&limb(&side), set);
    round_elbow(page, sizes);
    let depths = [
        ("limb.hand_depth", sizes.hole, sizes.half_hand(sizes.hole), 1.0),
        ("limb.palm_depth", sizes.cuff_edge + 4.0, sizes.half_hand(sizes.cuff_edge), 1.0),
        ("limb.wrist_depth", 0.0, sizes.half_wrist, -1.0),
        ("limb.forearm_depth", -STRIP, sizes.half_forearm, -1.0),
    ];
    for (key, place, half, up) in depths {
        let (palm, back) = (at(place + BESIDE, half), at(place + BESIDE, -half));
        caliper(page, palm, back);
        let end = if up > 0.0 { palm } else { back };
        // A number under the tape round the elbow stands clear of it.
        let off = if place < 0.0 { OFF + OFF_SKIN } else { OFF };
        page.point(key, end + at(0.0, off * up), end);
    }
    let axis = at(sizes.axis + BESIDE, 0.0);
    for arm in [at(0.0, CROSS), at(CROSS, 0.0)] {
        page.line(Part::Axis, &[axis - arm, axis + arm]);
    }
    page.point("limb.axis_past_crease", axis + at(-26.0, sizes.half_wrist + OFF), axis);
}

/// From the wrist's palm crease along the forearm, round the point of the elbow and back to the wrist's back.
fn round_elbow(page: &mut Page, sizes: &Sizes) {
    let centre = at(sizes.elbow + BESIDE, 0.0);
    let half = at(sizes.elbow_reach, sizes.half_forearm) + at(OFF_SKIN, OFF_SKIN);
    let wrist = sizes.half_wrist + OFF_SKIN;
    let face = |sign: f64| {
        [
            at(BESIDE, wrist * sign),
            at(sizes.piece_edge + BESIDE, wrist * sign),
            at(sizes.strip_start + BESIDE, half.y * sign),
            at(f64::midpoint(sizes.strip_start, sizes.strip_end) + BESIDE, half.y * sign),
            at(sizes.strip_end + BESIDE, half.y * sign),
            at(sizes.elbow + BESIDE, half.y * sign),
        ]
    };
    let mut path = face(1.0).to_vec();
    path.extend(arc(centre, half, &ELBOW_TURN));
    path.extend(face(-1.0).iter().rev());
    page.sheet.paint(Part::Tape, Outline::smooth(&path));
    let foot = at(BESIDE - 178.0, -half.y);
    page.point("limb.around_elbow", foot - at(0.0, OFF), foot);
}
