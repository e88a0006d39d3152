//! The straps of the donning sequence, closed and open.

use super::pose::{Pose, spread};
use super::view::{DEPTH, Rim, Section, patch};
use crate::calc::figure::curve::{Outline, rounded};
use crate::calc::figure::drawing::Part;
use crate::calc::figure::plane::Vector;
use crate::calc::figure::sheet::Sheet;
use crate::calc::figure::sizes::STRAP;

/// How far a strap stands out over what it lies on (mm).
const OVER: f64 = 1.5;
/// How far an open end hangs down, and where an arrow begins that closes one (mm).
const LOOSE: (f64, f64) = (34.0, 20.0);
/// How far a strap of the hand reaches onto each flap, in turns (degrees).
const ON_FLAP: f64 = 26.0;

/// A strap's named places.
#[derive(Debug, Clone, Copy)]
pub(super) struct Strap {
    /// Its end on the pull side when closed.
    pub(super) end: Vector,
    /// Its middle, nearest to the eye.
    pub(super) middle: Vector,
    /// On an open strap, near its end.
    pub(super) loose: Vector,
}

/// Paints a closed strap of the forearm, beside the line's lane; `lane` is half its width there (mm).
pub(super) fn paint_forearm(
    sheet: &mut Sheet,
    pose: &Pose,
    place: f64,
    lane: f64,
    by: Vector,
) -> Strap {
    let run: Vec<Section> =
        band(place, STRAP).map(|it| pose.piece(it).moved(by).grown(OVER)).collect();
    let turn = run[1].turn_of_width(lane);
    sheet.paint(Part::Strap, patch(&run, Rim::Turn(turn), Rim::Foot));
    named(&run, turn, pose.growth())
}

/// Paints an open strap of the forearm: it hangs from the far face.
pub(super) fn paint_forearm_open(
    sheet: &mut Sheet,
    pose: &Pose,
    place: f64,
    lane: f64,
    by: Vector,
) -> Strap {
    let run: Vec<Section> =
        band(place, STRAP).map(|it| pose.piece(it).moved(by).grown(OVER)).collect();
    let turn = run[1].turn_of_width(lane);
    sheet.paint(Part::Strap, hanging(&run, LOOSE.0 * pose.growth()));
    named(&run, turn, pose.growth())
}

/// Paints a closed strap of the hand across the cuff's open side.
pub(super) fn paint_hand(sheet: &mut Sheet, pose: &Pose, place: f64, by: Vector) -> Strap {
    let run: Vec<Section> = band(place, pose.side.sizes.cuff_strap())
        .map(|it| pose.cuff(it).moved(by).grown(OVER))
        .collect();
    let (upper, _) = run[1].gap(pose.opening);
    let turn = upper - ON_FLAP;
    sheet.paint(Part::Strap, patch(&run, Rim::Turn(turn), Rim::Foot));
    named(&run, turn, pose.growth())
}

/// Paints an open strap of the hand: it hangs from the flap opposite the pull.
pub(super) fn paint_hand_open(sheet: &mut Sheet, pose: &Pose, place: f64, by: Vector) -> Strap {
    let run: Vec<Section> = band(place, pose.side.sizes.cuff_strap())
        .map(|it| pose.cuff(it).moved(by).grown(OVER))
        .collect();
    let (upper, _) = run[1].gap(pose.opening);
    sheet.paint(Part::Strap, hanging(&run, LOOSE.0 * pose.growth()));
    named(&run, upper - ON_FLAP, pose.growth())
}

fn band(place: f64, width: f64) -> impl Iterator<Item = f64> {
    spread(place - width / 2.0, place + width / 2.0, 2)
}

fn named(run: &[Section], turn: f64, grown: f64) -> Strap {
    let middle = run[1];
    let loose = middle.rim(Rim::Foot) + hang(&middle) * (LOOSE.1 * grown);
    Strap { end: middle.spot(turn), middle: middle.spot(90.0), loose }
}

/// Which way an open end hangs: away from the pull and toward the eye.
fn hang(section: &Section) -> Vector {
    (DEPTH * 0.6 - section.up).direction()
}

fn hanging(run: &[Section], long: f64) -> Outline {
    let (first, last) = (run[0], run[run.len() - 1]);
    let corner = |it: &Section, by: f64| it.rim(Rim::Foot) + hang(it) * by + it.up * 3.0;
    rounded(
        &[corner(&first, 0.0), corner(&last, 0.0), corner(&last, long), corner(&first, long)],
        3.0,
    )
}

/// Where an arrow runs that closes a strap: from its loose end round the near side to its place.
pub(super) fn closing_way(strap: &Strap) -> [Vector; 4] {
    let beside = strap.middle + DEPTH * 26.0;
    [strap.loose, beside.toward(strap.loose, 0.4), strap.middle + DEPTH * 12.0, strap.end]
}
