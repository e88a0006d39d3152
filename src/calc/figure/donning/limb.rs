//! The limb of the donning sequence: upper arm, elbow, forearm and palm in one skin.

use super::hand::palm_end;
use super::pose::{Pose, spread};
use super::view::{Rim, Section, cap, edge, torn};
use crate::calc::figure::curve::Outline;
use crate::calc::figure::drawing::Part;
use crate::calc::figure::plane::{Vector, at};
use crate::calc::figure::sheet::Sheet;
use crate::units::{Angle, math};

/// Beyond this the folded side of the wrist is drawn with one fold.
const SHARP: Angle = Angle::degrees(35.0);
/// How much of the half depth a fold, and a stretched side bent square, lose.
const SLIMMER: (f64, f64) = (0.25, 0.2);
/// Where the palm ends and the fingers begin to part, in hand lengths from the crease.
const PALM_END: f64 = 0.53;
/// The upper arm: its half breadth, how far its root lies behind the elbow crease, and how far it is drawn past the
/// forearm, in half depths of the forearm; and where between midline and skin it is seen to begin.
const UPPER_ARM: (f64, f64, f64, f64) = (0.80, 0.22, 2.0, 0.5);
/// The wave of a cut: how far it swings out (mm).
const SWING: f64 = 3.0;

/// Paints forearm and palm, the forearm from `cut` on (a place from the crease), or whole with its elbow.
pub(super) fn paint(sheet: &mut Sheet, pose: &Pose, cut: Option<f64>) {
    let mut contour = hand_edge(pose, Rim::Crown, 1.0);
    contour.extend(forearm_edge(pose, Rim::Crown, cut));
    let mut lower = hand_edge(pose, Rim::Foot, -1.0);
    lower.extend(forearm_edge(pose, Rim::Foot, cut));
    lower.reverse();
    let sizes = &pose.side.sizes;
    let end = pose.forearm(cut.unwrap_or(sizes.elbow));
    let close = if cut.is_some() {
        torn(&end, end.turn(Rim::Crown), end.turn(Rim::Foot))
    } else {
        cap(&end, sizes.elbow_reach)
    };
    let mut skin = Outline::smooth(&contour);
    let mut open = skin.clone();
    for outline in [&mut skin, &mut open] {
        outline.run(&close);
        outline.run(&lower);
    }
    sheet.paint(Part::Skin, skin.close());
    sheet.paint(Part::Arm, open);
    crease(sheet, pose);
}

/// The middle of the upper arm where it leaves the elbow.
pub(super) fn upper_arm_root(pose: &Pose) -> Vector {
    let sizes = &pose.side.sizes;
    pose.of_forearm(sizes.elbow - UPPER_ARM.1 * sizes.half_forearm, 0.0, 0.0)
}

/// Paints the upper arm as it leaves toward the thumb's side, over forearm and forearm piece.
pub(super) fn paint_upper_arm(sheet: &mut Sheet, pose: &Pose) {
    let radius = UPPER_ARM.0 * pose.side.sizes.half_forearm;
    let half = pose.forearm(pose.side.sizes.elbow).half;
    let root = upper_arm_root(pose) + pose.eye.thumb * (UPPER_ARM.3 * half);
    let end = root + pose.eye.thumb * (half + UPPER_ARM.2 * pose.side.sizes.half_forearm);
    let ahead = (end - root).direction();
    let aside = ahead.left() * radius;
    let mut edges = Outline::straight(&[root - aside, end - aside]);
    edges.run(&wave(end - aside, end + aside, ahead));
    edges.line(&[root + aside]);
    sheet.paint(Part::Skin, edges.clone().close());
    sheet.paint(Part::Arm, edges);
}

/// The hand's edge from the fingers' roots to the wrist, and round the wrist. `sign` +1: the pull side.
fn hand_edge(pose: &Pose, rim: Rim, sign: f64) -> Vec<Vector> {
    let sizes = &pose.side.sizes;
    let run: Vec<Section> = spread(
        PALM_END * sizes.hand_length,
        sizes.cuff_edge.min(PALM_END * sizes.hand_length - 1.0),
        3,
    )
    .map(|place| pose.hand(place))
    .collect();
    let mut points = vec![palm_end(pose, sign > 0.0)];
    points.extend(edge(&run[1..], rim));
    points.extend(wrist_edge(pose, rim, sign));
    points
}

/// Round the wrist axis where the skin is stretched, one fold where it is bent sharply.
fn wrist_edge(pose: &Pose, rim: Rim, sign: f64) -> Option<Vector> {
    let sizes = &pose.side.sizes;
    let toward = pose.side.wrist * sign * pose.eye.pull.signum();
    let half = sizes.half_wrist;
    if toward > SHARP {
        let meet = pose
            .forearm(sizes.piece_edge)
            .rim(rim)
            .toward(pose.hand(sizes.cuff_edge).rim(rim), 0.5);
        return Some(meet - at(0.0, half * sign * SLIMMER.0 * pose.eye.pull.abs()));
    }
    if toward > Angle::ZERO {
        return None;
    }
    let (bent, _) = math::sin_cos(pose.side.wrist.abs().to_radians());
    let depth = half * (1.0 - SLIMMER.1 * bent);
    let knuckle = pose.cut(at(0.0, 0.0), pose.side.wrist / 2.0, depth, sizes.wrist_breadth / 2.0);
    Some(knuckle.rim(rim))
}

fn forearm_edge(pose: &Pose, rim: Rim, cut: Option<f64>) -> Vec<Vector> {
    let sizes = &pose.side.sizes;
    let end = cut.unwrap_or(sizes.elbow);
    let slope = f64::midpoint(sizes.piece_edge, sizes.strip_start);
    let far = [sizes.strip_start, sizes.strip_start - 2.0, f64::midpoint(sizes.strip_start, end)];
    let places = [sizes.piece_edge, slope].into_iter().chain(far).filter(|it| *it > end + 1.0);
    let run: Vec<Section> = places.chain([end]).map(|place| pose.forearm(place)).collect();
    edge(&run, rim)
}

/// A cut as a wave between two points that swings toward `out` and back.
fn wave(from: Vector, to: Vector, out: Vector) -> Vec<Vector> {
    (0..=8_u8)
        .map(|step| {
            let share = f64::from(step) / 8.0;
            let (swing, _) = math::sin_cos(Angle::degrees(720.0 * share).to_radians());
            from.toward(to, share) + out * (swing * SWING)
        })
        .collect()
}

/// The wrist crease, as far as it is seen.
fn crease(sheet: &mut Sheet, pose: &Pose) {
    let sizes = &pose.side.sizes;
    let (centre, half) = (sizes.on_forearm(0.0, 0.0), sizes.wrist_breadth / 2.0);
    let section = pose.cut(centre, pose.side.wrist / 2.0, sizes.half_wrist, half);
    let seen = section.arc(section.turn(Rim::Crown) + 14.0, section.turn(Rim::Foot) - 14.0);
    sheet.paint(Part::Crease, Outline::smooth(&seen));
}
