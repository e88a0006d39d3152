//! The wrist to measure: how far it goes each way, and how a force gauge is held on it.

use super::curve::{Outline, arc};
use super::drawing::Part;
use super::measuring::Page;
use super::measuring_side::{hide_seam, straight};
use super::plane::{Vector, at};
use super::sheet::Sheet;
use super::side_limb;
use super::sizes::Sizes;
use crate::units::Angle;

/// Each arc from the axis: how far out, up to which angle; places of the drawing alone (mm, degrees).
const ARCS: [(&str, f64, f64); 6] = [
    ("motion[1].passive.flexion", 122.0, 55.0),
    ("motion[1].passive.extension", 122.0, -55.0),
    ("motion[1].active.flexion", 72.0, 55.0),
    ("motion[1].active.extension", 72.0, -55.0),
    ("motion[1].other_side.flexion", 172.0, 55.0),
    ("motion[1].other_side.extension", 172.0, -55.0),
];
/// The warm-up test: how far out, from which angle to which, and its ends' keys; places of the drawing alone.
const WARM_UP: (f64, [(&str, f64); 2]) =
    (222.0, [("preconditioning.cold", 20.0), ("preconditioning.warm", 42.0)]);
/// From the end of an arc to the middle of its number (mm).
const PAST: f64 = 19.0;
/// Where the forearm is cut off (mm from the axis).
const CUT: f64 = -75.0;
/// How far the second picture lies under the first (mm).
const DOWN: f64 = 322.0;
/// The wrist's angle in it (degrees), and where the gauge pulls (mm from the axis).
const GAUGE: (f64, f64) = (25.0, 84.0);
/// How long the gauge's pull is drawn (mm).
const FORCE: f64 = 62.0;

pub(super) fn paint(page: &mut Page, sizes: &Sizes) {
    ranges(page, sizes);
    warm_up(page);
    gauge(page, sizes);
}

/// Hand and wrist, the forearm cut off.
fn cut_limb(sizes: &Sizes, wrist: Angle) -> Sheet {
    let side = straight(sizes, wrist);
    let mut limb = Sheet::default();
    let edge = |sign: f64| {
        let mut points = side_limb::arm_edge(&side, sign);
        points.retain(|it| it.x > CUT);
        points.push(at(CUT, sizes.half_forearm * sign));
        points
    };
    let palm = edge(1.0);
    let mut arm = Outline::from(palm[0]);
    arm.run(&palm);
    let back: Vec<Vector> = edge(-1.0).into_iter().rev().collect();
    arm.line(&back[..1]);
    arm.run(&back);
    limb.paint(Part::Arm, arm.close());
    side_limb::paint_hand(&mut limb, &side);
    hide_seam(&mut limb, &side);
    limb
}

fn turn(radius: f64, degrees: f64, share: f64) -> Vector {
    at(radius, 0.0).turned(Angle::degrees(degrees * share))
}

fn ranges(page: &mut Page, sizes: &Sizes) {
    page.sheet.take(&cut_limb(sizes, Angle::ZERO), |it| it);
    page.line(Part::Landmark, &[at(CUT, 0.0), at(210.0, 0.0)]);
    for (key, radius, degrees) in ARCS {
        let steps: Vec<f64> = (0..=8).map(|it| degrees * f64::from(it) / 8.0).collect();
        let points = arc(at(0.0, 0.0), at(radius, radius), &steps);
        page.line(Part::Turn, &points);
        let end = turn(radius, degrees, 1.0);
        let past = end + end.direction().left() * (PAST * degrees.signum());
        page.point(key, past, end);
    }
}

/// From the end range before heat and stretch to the one after them.
fn warm_up(page: &mut Page) {
    /// Half a tick across the arc (mm).
    const TICK: f64 = 9.0;
    let (radius, [cold, warm]) = WARM_UP;
    let steps: Vec<f64> =
        (0..=4).map(|it| cold.1 + (warm.1 - cold.1) * f64::from(it) / 4.0).collect();
    page.line(Part::Turn, &arc(at(0.0, 0.0), at(radius, radius), &steps));
    for (key, degrees) in [cold, warm] {
        let out = |radius: f64| turn(radius, degrees, 1.0);
        page.line(Part::Landmark, &[out(radius - TICK), out(radius + TICK)]);
        page.point(key, out(radius + 30.0), out(radius));
    }
}

fn gauge(page: &mut Page, sizes: &Sizes) {
    let set = |point: Vector| point - at(0.0, DOWN);
    let (degrees, lever) = GAUGE;
    page.sheet.take(&cut_limb(sizes, Angle::degrees(degrees)), set);
    let axis = at(0.0, -DOWN);
    page.line(Part::Landmark, &[axis + at(CUT, 0.0), axis + at(150.0, 0.0)]);
    let hand = |out: f64, up: f64| set(at(out, up).turned(Angle::degrees(degrees)));
    page.line(Part::Landmark, &[axis, hand(190.0, 0.0)]);
    let points: Vec<Vector> =
        arc(axis, at(140.0, 140.0), &[0.0, 0.25, 0.5, 0.75, 1.0].map(|it| it * degrees));
    page.line(Part::Turn, &points);
    let low = axis + turn(140.0, degrees, 0.5);
    page.point("torque[].angle", low + at(26.0, -6.0), low);
    page.line(Part::Turn, &[hand(lever, 0.0), hand(lever, FORCE)]);
    page.point("torque[].force", hand(lever + 26.0, FORCE - 4.0), hand(lever, FORCE - 12.0));
    page.line(Part::Landmark, &[axis, hand(0.0, -44.0)]);
    page.line(Part::Landmark, &[hand(lever, 0.0), hand(lever, -44.0)]);
    page.reach(hand(0.0, -40.0), hand(lever, -40.0));
    page.point("torque[].lever", hand(lever / 2.0, -62.0), hand(lever / 2.0, -40.0));
}
