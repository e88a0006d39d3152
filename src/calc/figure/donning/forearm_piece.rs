//! The forearm piece of the donning sequence: up one face of the forearm, round the elbow, back along the other,
//! with a gap that faces the eye and opens wide where the upper arm comes out.

use super::limb::upper_arm_root;
use super::pose::{Pose, spread};
use super::view::{Rim, Section, cap, edge, torn};
use crate::calc::figure::curve::{Outline, arc};
use crate::calc::figure::drawing::Part;
use crate::calc::figure::plane::{Vector, at};
use crate::calc::figure::sheet::Sheet;

/// The opening round the upper arm, in half depths of the forearm, and its share of the way toward the eye.
const OPENING: (f64, f64) = (0.96, 0.62);
/// Turns round that opening, from the gap's upper edge past the elbow to its lower edge (degrees).
const ROUND: [f64; 11] = [24.0, 45.0, 70.0, 100.0, 130.0, 160.0, 190.0, 225.0, 260.0, 295.0, 332.0];

/// The forearm piece's named places.
#[derive(Debug, Clone, Copy)]
pub(super) struct ForearmPiece {
    /// On the face that is seen, between strip and elbow.
    pub(super) face: Vector,
}

/// Paints what lies behind the limb: its inside.
pub(super) fn paint_inside(sheet: &mut Sheet, pose: &Pose, by: Vector) {
    let sizes = &pose.side.sizes;
    let run = run(pose, by);
    let (elbow, last) = (run[0], run[run.len() - 1]);
    let mut outline = Outline::smooth(&cap(&elbow, sizes.elbow_reach + sizes.thickness));
    outline.run(&edge(&run, Rim::Foot));
    outline.run(&last.arc(last.turn(Rim::Foot) - 360.0, last.turn(Rim::Crown)));
    let mut crown = edge(&run, Rim::Crown);
    crown.reverse();
    outline.run(&crown);
    sheet.paint(Part::Inside, outline.close());
}

/// Paints what lies before the limb: its outer face, open along the gap.
pub(super) fn paint(sheet: &mut Sheet, pose: &Pose, by: Vector) -> ForearmPiece {
    let sizes = &pose.side.sizes;
    let run = run(pose, by);
    let (elbow, last) = (run[0], run[run.len() - 1]);
    let mut crown = edge(&run, Rim::Crown);
    crown.reverse();
    let mut outline = Outline::smooth(&crown);
    outline.run(&cap(&elbow, sizes.elbow_reach + sizes.thickness));
    outline.run(&edge(&run, Rim::Foot));
    let (upper, lower) = last.gap(pose.gap);
    outline.run(&last.arc(last.turn(Rim::Foot), lower));
    let gap = |section: &Section| section.gap(pose.gap);
    let past = |it: &&Section| it.centre.x > elbow.centre.x + sizes.half_forearm * 1.1;
    let mut below: Vec<Vector> = run.iter().filter(past).map(|it| it.spot(gap(it).1)).collect();
    below.reverse();
    let above: Vec<Vector> = run.iter().filter(past).map(|it| it.spot(gap(it).0)).collect();
    let radius = OPENING.0 * sizes.half_forearm;
    let middle = upper_arm_root(pose) + by + pose.eye.thumb * (OPENING.1 * elbow.half);
    let mut round = arc(middle, at(radius, radius * pose.eye.pull), &ROUND);
    round.reverse();
    below.extend(round);
    below.extend(above);
    outline.run(&below);
    outline.run(&last.arc(upper, last.turn(Rim::Crown)));
    sheet.paint(Part::ForearmPiece, outline.close());
    let behind = pose.piece(f64::midpoint(sizes.strip_end, sizes.elbow)).moved(by);
    // On the face that is seen.
    let turn = if pose.eye.sees_pull_side() { 20.0 } else { 180.0 };
    ForearmPiece { face: behind.spot(turn) }
}

/// Paints its end near the wrist alone, torn off at a place from the crease.
pub(super) fn paint_end(sheet: &mut Sheet, pose: &Pose, cut: f64) {
    let sizes = &pose.side.sizes;
    let mut places = vec![cut];
    places.extend(
        [sizes.strip_start - 2.0, sizes.strip_start].into_iter().filter(|it| *it > cut + 1.0),
    );
    places.extend(spread(sizes.strip_start.max(cut + 2.0), sizes.piece_edge, 2).skip(1));
    let run: Vec<Section> = places.into_iter().map(|place| pose.piece(place)).collect();
    let (first, last) = (run[0], run[run.len() - 1]);
    for is_upper in [true, false] {
        let (sky, free) = if is_upper { (Rim::Crown, 0) } else { (Rim::Foot, 1) };
        let gap = |it: &Section| {
            let gap = it.gap(pose.gap);
            if free == 0 { gap.0 } else { gap.1 }
        };
        let mut outline = Outline::smooth(&edge(&run, sky));
        outline.run(&last.arc(last.turn(sky), gap(&last)));
        // The tear gives the edge its end.
        let mut inner: Vec<Vector> = run[1..].iter().map(|it| it.spot(gap(it))).collect();
        inner.reverse();
        outline.run(&inner);
        outline.run(&torn(&first, gap(&first), first.turn(sky)));
        sheet.paint(Part::ForearmPiece, outline.close());
    }
}

/// Sections from the elbow to its edge near the wrist.
fn run(pose: &Pose, by: Vector) -> Vec<Section> {
    let sizes = &pose.side.sizes;
    let bend = [sizes.elbow, sizes.strip_start - 2.0, sizes.strip_start];
    let to_edge = spread(sizes.strip_start, sizes.piece_edge, 2).skip(1);
    let mut places: Vec<f64> = vec![bend[0]];
    places.extend(spread(bend[0], bend[1], 2).skip(1));
    places.push(bend[2]);
    places.extend(to_edge);
    places.into_iter().map(|place| pose.piece(place).moved(by)).collect()
}
