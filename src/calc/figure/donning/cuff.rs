//! The hand cuff of the donning sequence: a shell round palm and back, open on one side.

use super::hand::thumb_line;
use super::pose::{Pose, spread};
use super::view::{Rim, Section, body};
use crate::calc::figure::curve::{Outline, ellipse};
use crate::calc::figure::drawing::Part;
use crate::calc::figure::plane::{Vector, at};
use crate::calc::figure::sheet::Sheet;
use crate::case::Wrap;

/// How far a flap draws back for the thumb's root, from edge to edge of the open side, in openings.
const SCALLOP: f64 = 1.5;
/// Steps along the cuff.
const STEPS: u8 = 8;
/// How much wider than the thumb its hole is, and how it is drawn out along the hand.
const THUMB_HOLE: (f64, f64) = (1.25, 1.4);
/// How far along the thumb's first part the hole lies.
pub(super) const AT_THUMB: f64 = 0.55;

/// The cuff's named places.
#[derive(Debug, Clone, Copy)]
pub(super) struct Cuff {
    /// The hole the line leaves it by.
    pub(super) hole: Vector,
    /// On its face toward the pull, clear of hole and straps.
    pub(super) face: Vector,
}

/// Paints what lies behind the hand: its inside.
pub(super) fn paint_inside(sheet: &mut Sheet, pose: &Pose, by: Vector) {
    sheet.paint(Part::Inside, body(&run(pose, by)));
}

/// Paints what lies before the hand.
pub(super) fn paint(sheet: &mut Sheet, pose: &Pose, by: Vector) -> Cuff {
    let sizes = &pose.side.sizes;
    let run = run(pose, by);
    for outline in flaps(pose, &run) {
        sheet.paint(Part::Cuff, outline);
    }
    if sizes.wrap == Wrap::Thumb {
        // On the hand the thumb's root fills it.
        let seen = if by.size() > 0.0 { Part::Inside } else { Part::Hand };
        let (wide, long) = THUMB_HOLE;
        let half = thumb_line(pose)[1].1 * wide;
        let flat = pose.eye.pull.abs().max(0.7);
        sheet.paint(seen, ellipse(thumb_hole(pose) + by, at(half * long, half * flat)));
    }
    let low = f64::midpoint(sizes.web_strap() + sizes.cuff_strap() / 2.0, sizes.wrist_strap());
    Cuff { hole: pose.exit_hole() + by, face: pose.cuff(low).moved(by).spot(-4.0) }
}

/// Where the thumb comes out.
pub(super) fn thumb_hole(pose: &Pose) -> Vector {
    let line = thumb_line(pose);
    line[0].0.toward(line[1].0, AT_THUMB)
}

/// What is seen of its outer face: whole, or as a flap on each side of the gap.
fn flaps(pose: &Pose, run: &[Section]) -> Vec<Outline> {
    let last = &run[run.len() - 1];
    let sky = |it: &Section| (it.turn(Rim::Crown), it.turn(Rim::Foot));
    let gap = |index: usize, it: &Section| {
        let (pull, other) = it.gap(opening(pose, index));
        if pose.side.sizes.wrap == Wrap::LittleFinger { (pull, other) } else { (-other, -pull) }
    };
    let (from, to) = gap(run.len() - 1, last);
    let (crown, foot) = sky(last);
    if to <= crown || from >= foot {
        return vec![flap(run, |_, it| sky(it))];
    }
    let mut seen = Vec::new();
    if from > crown {
        seen.push(flap(run, |index, it| {
            let crown = sky(it).0;
            (crown, gap(index, it).0.max(crown))
        }));
    }
    if to < foot {
        seen.push(flap(run, |index, it| {
            let foot = sky(it).1;
            (gap(index, it).1.min(foot), foot)
        }));
    }
    seen
}

/// The face between two turns, which may vary along the cuff.
fn flap(run: &[Section], turns: impl Fn(usize, &Section) -> (f64, f64)) -> Outline {
    let end = run.len() - 1;
    let upper: Vec<Vector> =
        run.iter().enumerate().map(|(index, it)| it.spot(turns(index, it).0)).collect();
    let mut lower: Vec<Vector> =
        run.iter().enumerate().map(|(index, it)| it.spot(turns(index, it).1)).collect();
    lower.reverse();
    let mut outline = Outline::smooth(&upper);
    let (from, to) = turns(end, &run[end]);
    outline.run(&run[end].arc(from, to));
    outline.run(&lower);
    let (from, to) = turns(0, &run[0]);
    outline.run(&run[0].arc(to, from));
    outline.close()
}

/// The open side at a step: wider beside the thumb's root.
fn opening(pose: &Pose, index: usize) -> f64 {
    let sizes = &pose.side.sizes;
    let place = places(pose)[index];
    let half = sizes.cuff_strap() / 2.0;
    let is_root = place > sizes.wrist_strap() + half && place < sizes.web_strap() - half;
    pose.opening * if is_root && sizes.wrap == Wrap::LittleFinger { SCALLOP } else { 1.0 }
}

fn places(pose: &Pose) -> Vec<f64> {
    let sizes = &pose.side.sizes;
    spread(sizes.cuff_edge, sizes.cuff_end, STEPS).collect()
}

fn run(pose: &Pose, by: Vector) -> Vec<Section> {
    places(pose).into_iter().map(|place| pose.cuff(place).moved(by)).collect()
}

/// Its free edge on the pull side, half way along: where a flap is taken hold of.
pub(super) fn free_edge(pose: &Pose, by: Vector) -> Vector {
    let run = run(pose, by);
    let index = usize::from(STEPS) / 2;
    let (pull, _) = run[index].gap(opening(pose, index));
    let turn = if pose.side.sizes.wrap == Wrap::LittleFinger { pull } else { -pull };
    run[index].spot(turn)
}

/// Its closed side's skyline, half way along.
pub(super) fn closed_edge(pose: &Pose, by: Vector) -> Vector {
    let section = run(pose, by)[usize::from(STEPS) / 2];
    let is_above = (pose.side.sizes.wrap == Wrap::LittleFinger) == pose.eye.sees_pull_side();
    section.rim(if is_above { Rim::Crown } else { Rim::Foot })
}
