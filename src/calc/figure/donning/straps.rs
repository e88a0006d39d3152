//! The straps of the donning sequence: closed, half way over, and spread out.

use super::pose::{Pose, spread};
use super::view::{Rim, Section, edge, patch};
use crate::calc::figure::curve::Outline;
use crate::calc::figure::drawing::Part;
use crate::calc::figure::plane::{Vector, at};
use crate::calc::figure::sheet::Sheet;
use crate::calc::figure::sizes::STRAP;
use crate::case::Wrap;

/// How far a strap stands out over what it lies on (mm).
const OVER: f64 = 1.5;
/// How far an open end reaches (mm).
const LOOSE: f64 = 46.0;
/// How far a strap of the hand reaches onto each flap, in turns (degrees).
const ON_FLAP: f64 = 26.0;

/// A strap's named places.
#[derive(Debug, Clone, Copy)]
pub(super) struct Strap {
    /// Its end when closed.
    pub(super) end: Vector,
    /// On an open strap, its loose end.
    pub(super) loose: Vector,
}

/// Sections that a strap of the forearm lies on.
fn on_forearm(pose: &Pose, place: f64, by: Vector) -> Vec<Section> {
    band(place, STRAP).map(|it| pose.piece(it).moved(by).grown(OVER)).collect()
}

/// Sections that a strap of the hand lies on.
fn on_hand(pose: &Pose, place: f64, by: Vector) -> Vec<Section> {
    band(place, pose.side.sizes.cuff_strap())
        .map(|it| pose.cuff(it).moved(by).grown(OVER))
        .collect()
}

fn band(place: f64, width: f64) -> impl Iterator<Item = f64> {
    spread(place - width / 2.0, place + width / 2.0, 2)
}

/// Paints a closed strap of the forearm, beside the line's lane; `lane` is half its width there (mm).
pub(super) fn paint_forearm(sheet: &mut Sheet, pose: &Pose, place: f64, lane: f64) -> Strap {
    let run = on_forearm(pose, place, at(0.0, 0.0));
    let turn = run[1].turn_of_width(lane);
    let end = if pose.eye.sees_pull_side() { Rim::Turn(turn) } else { Rim::Crown };
    sheet.paint(Part::Strap, patch(&run, end, Rim::Foot));
    named(&run, end, run[1].rim(Rim::Foot))
}

/// Paints a strap of the forearm half way over: it has come out from under the forearm and points at the eye.
pub(super) fn paint_forearm_half(sheet: &mut Sheet, pose: &Pose, place: f64, lane: f64) -> Strap {
    let run = on_forearm(pose, place, at(0.0, 0.0));
    let turn = Rim::Turn(run[1].turn_of_width(lane));
    let out = at(0.25, -1.0).direction();
    let loose = paint_ribbon(sheet, &run, Rim::Foot, out, LOOSE * pose.growth());
    named(&run, turn, loose)
}

/// Where a strap of the hand ends on the flap of the pull side, and the skyline it comes over.
fn hand_rims(pose: &Pose, middle: &Section) -> (Rim, Rim) {
    let (upper, _) = middle.gap(pose.opening);
    if pose.side.sizes.wrap == Wrap::LittleFinger {
        (Rim::Turn(upper - ON_FLAP), Rim::Foot)
    } else {
        (Rim::Turn(ON_FLAP - upper), Rim::Crown)
    }
}

/// Paints a closed strap of the hand across the cuff's open side.
pub(super) fn paint_hand(sheet: &mut Sheet, pose: &Pose, place: f64) -> Strap {
    let run = on_hand(pose, place, at(0.0, 0.0));
    let (end, sky) = hand_rims(pose, &run[1]);
    let (upper, lower) = if matches!(sky, Rim::Foot) { (end, sky) } else { (sky, end) };
    sheet.paint(Part::Strap, patch(&run, upper, lower));
    named(&run, end, run[1].rim(sky))
}

/// Paints a strap of the hand half way over, leaning toward the fingers.
pub(super) fn paint_hand_half(sheet: &mut Sheet, pose: &Pose, place: f64) -> Strap {
    let run = on_hand(pose, place, at(0.0, 0.0));
    let (end, sky) = hand_rims(pose, &run[1]);
    let loose = paint_ribbon(sheet, &run, sky, out_of(sky, 0.5), LOOSE * 0.9 * pose.growth());
    named(&run, end, loose)
}

/// Paints a strap of the hand spread out, `more` of it (mm) seen than as it lies on a table.
pub(super) fn paint_hand_spread(
    sheet: &mut Sheet,
    pose: &Pose,
    place: f64,
    by: Vector,
    more: f64,
) -> Strap {
    let run = on_hand(pose, place, by);
    let (end, sky) = hand_rims(pose, &run[1]);
    let long = LOOSE * 0.8 * pose.growth() + more;
    let loose = paint_ribbon(sheet, &run, sky, out_of(sky, 0.0), long);
    named(&run, end, loose)
}

/// Paints both ends of a strap of the forearm spread out on a table.
pub(super) fn paint_forearm_spread(
    sheet: &mut Sheet,
    pose: &Pose,
    place: f64,
    by: Vector,
) -> Strap {
    let run = on_forearm(pose, place, by);
    let long = LOOSE * 0.8 * pose.growth();
    paint_ribbon(sheet, &run, Rim::Crown, out_of(Rim::Crown, 0.0), long);
    let loose = paint_ribbon(sheet, &run, Rim::Foot, out_of(Rim::Foot, 0.0), long);
    named(&run, Rim::Foot, loose)
}

/// Paints a strap of the forearm that is open: it hangs down from the middle of the face that is seen.
pub(super) fn paint_forearm_hung(sheet: &mut Sheet, pose: &Pose, place: f64, by: Vector) {
    let run = on_forearm(pose, place, by);
    paint_ribbon(sheet, &run, Rim::Foot, out_of(Rim::Foot, 0.0), LOOSE * 0.6 * pose.growth());
    sheet.paint(Part::Strap, patch(&run, Rim::Turn(180.0), Rim::Foot));
}

/// Away from a skyline, leaning so much toward the fingers.
fn out_of(sky: Rim, lean: f64) -> Vector {
    at(lean, if matches!(sky, Rim::Foot) { -1.0 } else { 1.0 }).direction()
}

fn named(run: &[Section], end: Rim, loose: Vector) -> Strap {
    Strap { end: run[1].rim(end), loose }
}

/// Paints an open end that comes out from under a skyline, and gives the middle of its end.
fn paint_ribbon(sheet: &mut Sheet, run: &[Section], sky: Rim, out: Vector, long: f64) -> Vector {
    let rim = edge(run, sky);
    let (first, last) = (rim[0], rim[rim.len() - 1]);
    // Its root lies under the piece.
    let root = out * -4.0;
    let mut ribbon = Outline::straight(&[first + root, last + root]);
    ribbon.line(&[last + out * (long - 4.0)]);
    ribbon.bend(last + out * long, last.toward(first, 0.15) + out * long);
    ribbon.line(&[first.toward(last, 0.15) + out * long]);
    ribbon.bend(first + out * long, first + out * (long - 4.0));
    sheet.paint(Part::Strap, ribbon.close());
    first.toward(last, 0.5) + out * long
}

/// Where an arrow runs that closes a strap: from its loose end to its place, on the side of the fingers.
pub(super) fn closing_way(strap: &Strap) -> [Vector; 4] {
    let way = strap.end - strap.loose;
    let beside = at(way.size() * 0.2, 0.0);
    let start = strap.loose + beside * 0.5;
    [
        start,
        start.toward(strap.end, 0.3) + beside * 0.7,
        start.toward(strap.end, 0.7) + beside * 0.6,
        strap.end,
    ]
}
