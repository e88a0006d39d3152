//! The hand cuff of the donning sequence: a shell round palm and back, open on one side.

use super::hand::thumb_line;
use super::pose::{Pose, spread};
use super::view::{Rim, Section, body, edge, patch};
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
const THUMB_HOLE: (f64, f64) = (1.3, 1.5);

/// The cuff's named places.
#[derive(Debug, Clone, Copy)]
pub(super) struct Cuff {
    /// The hole the line leaves it by.
    pub(super) hole: Vector,
    /// On its face toward the pull, clear of hole and straps.
    pub(super) face: Vector,
}

/// Whether its open side faces the eye.
pub(super) fn is_open_here(pose: &Pose) -> bool {
    (pose.side.sizes.wrap == Wrap::LittleFinger) == (pose.thumb > 0.0)
}

/// Paints what lies behind the hand: its inside.
pub(super) fn paint_inside(sheet: &mut Sheet, pose: &Pose, by: Vector) {
    sheet.paint(Part::Inside, body(&run(pose, by)));
}

/// Paints what lies before the hand.
pub(super) fn paint(sheet: &mut Sheet, pose: &Pose, by: Vector) -> Cuff {
    let sizes = &pose.side.sizes;
    let run = run(pose, by);
    let thumb = thumb_line(pose)[1];
    if is_open_here(pose) {
        sheet.paint(Part::Cuff, flap(pose, &run, 0));
        sheet.paint(Part::Cuff, flap(pose, &run, 1));
    } else {
        sheet.paint(Part::Cuff, patch(&run, Rim::Crown, Rim::Foot));
        if pose.thumb > 0.0 {
            let (wide, long) = THUMB_HOLE;
            // On the hand the thumb's root fills it.
            let seen = if by.size() > 0.0 { Part::Inside } else { Part::Hand };
            sheet.paint(
                seen,
                ellipse(thumb_hole(pose) + by, at(thumb.1 * wide * long, thumb.1 * wide)),
            );
        }
    }
    let low = f64::midpoint(sizes.web_strap() + sizes.cuff_strap() / 2.0, sizes.wrist_strap());
    Cuff { hole: pose.side.exit_hole() + by, face: pose.cuff(low).moved(by).spot(-4.0) }
}

/// Where the thumb comes out.
fn thumb_hole(pose: &Pose) -> Vector {
    let line = thumb_line(pose);
    line[0].0.toward(line[1].0, 0.55)
}

/// One flap, the pull side's first.
fn flap(pose: &Pose, run: &[Section], which: usize) -> Outline {
    let free = |index: usize, section: &Section| {
        let (upper, lower) = section.gap(opening(pose, index));
        if which == 0 {
            upper.max(section.turn(Rim::Crown))
        } else {
            lower.min(section.turn(Rim::Foot))
        }
    };
    let sky = if which == 0 { Rim::Crown } else { Rim::Foot };
    let (first, end) = (run[0], run.len() - 1);
    let last = run[end];
    let mut outline = Outline::smooth(&edge(run, sky));
    outline.run(&last.arc(last.turn(sky), free(end, &last)));
    let mut inner: Vec<Vector> =
        run.iter().enumerate().map(|(index, it)| it.spot(free(index, it))).collect();
    inner.reverse();
    outline.run(&inner);
    outline.run(&first.arc(free(0, &first), first.turn(sky)));
    outline.close()
}

/// The open side at a step: wider beside the thumb's root.
fn opening(pose: &Pose, index: usize) -> f64 {
    let sizes = &pose.side.sizes;
    let place = places(pose)[index];
    let half = sizes.cuff_strap() / 2.0;
    let is_root = place > sizes.wrist_strap() + half && place < sizes.web_strap() - half;
    pose.opening * if is_root { SCALLOP } else { 1.0 }
}

fn places(pose: &Pose) -> Vec<f64> {
    let sizes = &pose.side.sizes;
    spread(sizes.cuff_edge, sizes.cuff_end, STEPS).collect()
}

fn run(pose: &Pose, by: Vector) -> Vec<Section> {
    places(pose).into_iter().map(|place| pose.cuff(place).moved(by)).collect()
}
