//! What a second pull has on the side opposite the first: its strip, and its line while the other is in use.

use super::line;
use super::pose::{Pose, spread};
use super::view::{Rim, Section, edge};
use crate::calc::figure::curve::Outline;
use crate::calc::figure::drawing::Part;
use crate::calc::figure::plane::{Vector, at};
use crate::calc::figure::sheet::Sheet;
use crate::calc::figure::sizes::Sizes;

/// How far its strip is seen to stand out under the forearm piece, thicker than it is (mm).
const THICK: f64 = 6.0;
/// How far its line hangs under the cuff, and how far its tab lies toward the wrist (mm on an adult).
const HANG: (f64, f64) = (20.0, 26.0);

/// Paints its strip on edge, under the lower skyline of the forearm piece, and gives its middle where any of it is seen.
pub(super) fn paint_strip(
    sheet: &mut Sheet,
    pose: &Pose,
    other: &Sizes,
    cut: f64,
) -> Option<Vector> {
    let (from, to) = (other.strip_end.max(cut), other.strip_start);
    if to - from < 1.0 {
        return None;
    }
    let run: Vec<Section> = spread(from, to, 2).map(|place| pose.piece(place)).collect();
    let upper = edge(&run, Rim::Foot);
    let middle = upper[1] - at(0.0, THICK / 2.0);
    let mut lower: Vec<Vector> = upper.iter().map(|it| *it - at(0.0, THICK)).collect();
    lower.reverse();
    let mut strip = Outline::smooth(&upper);
    strip.run(&lower);
    sheet.paint(Part::Strip, strip.close());
    Some(middle)
}

/// Where its line leaves the cuff.
pub(super) fn exit_hole(pose: &Pose, other: &Sizes) -> Vector {
    pose.eye.page(pose.side.on_hand(other.hole, -other.hole_height))
}

/// Paints its line hanging slack from under the cuff, the tab at its end; what hides it is painted after it. Where the
/// limb is seen from above, the tab lies toward the fingers, clear of the thumb.
pub(super) fn paint_slack(sheet: &mut Sheet, pose: &Pose, other: &Sizes, by: Vector) {
    let grown = pose.growth();
    let hole = exit_hole(pose, other) + by;
    let low = pose.cuff(other.hole).rim(Rim::Foot) + by;
    let is_beside = pose.eye.pull >= 1.0;
    let end = if is_beside {
        let wrist = pose.cuff(pose.side.sizes.cuff_edge).rim(Rim::Foot).y + by.y;
        at(hole.x - HANG.1 * grown, low.y.min(wrist) - HANG.0 * grown)
    } else {
        low + at(HANG.1, -HANG.0) * grown
    };
    line::paint_tab_aside(sheet, pose, end, !is_beside);
    let bend = at(low.x + 8.0 * grown, f64::midpoint(low.y, end.y));
    line::paint_slack(sheet, &[hole, at(low.x + 4.0 * grown, low.y), bend, end]);
}
