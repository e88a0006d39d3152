//! The side view: the whole orthosis on the limb, seen from the thumb side.

use super::curve::Outline;
use super::drawing::{Drawing, Part};
use super::plane::{Vector, at};
use super::sheet::Sheet;
use super::sizes::Sizes;
use super::{Build, Point, Pull, side_device, side_labels, side_limb};
use crate::units::{Angle, Length};

/// Half the arm of the axis' cross (mm).
const CROSS: f64 = 4.0;

/// What a side view is drawn from: sizes, the wrist's angle, and which way the palm looks.
#[derive(Debug, Clone, Copy)]
pub(super) struct Side {
    pub(super) sizes: Sizes,
    pub(super) wrist: Angle,
    /// +1 when the palm looks up, toward the pull; −1 when it looks down.
    pub(super) palm: f64,
}

impl Side {
    /// A point that turns with the hand: place from the crease, height toward the pull.
    pub(super) fn on_hand(&self, place: f64, height: f64) -> Vector {
        at(place - self.sizes.axis, height).turned(self.wrist)
    }

    /// The tab's hole in the mechanics' frame.
    pub(super) fn tab_hole(&self, tab_hole: f64) -> Vector {
        self.sizes.on_forearm(self.sizes.tab_hole(tab_hole), self.sizes.strip_height)
    }

    /// The exit hole in the cuff.
    pub(super) fn exit_hole(&self) -> Vector {
        self.on_hand(self.sizes.hole, self.sizes.hole_height)
    }
}

/// Draws the orthosis from the thumb side, the pull side up, at one wrist angle.
///
/// `wrist` is positive toward the pull. `line` holds the taut line's vertices from the cuff's hole
/// to the tab's, in the mechanics' frame, and is drawn as it is given. `tab_hole` is u, the tab
/// hole's distance from the strip's end near the wrist, positive proximally. Fingers point right,
/// or left when `mirrored`: a right limb pulled toward the palm, or a left one pulled toward the
/// back of the hand, is not mirrored; the other two are. Lengths are true at full size; the elbow
/// and the fingers past the cuff are estimated from the others. Beyond about 75° toward the pull,
/// or 40° away from it, skin folds are no longer drawn faithfully.
#[must_use]
pub fn side_view(
    build: &Build,
    pull: Pull,
    wrist: Angle,
    line: &[Point],
    tab_hole: Length,
    mirrored: bool,
) -> Drawing {
    let palm = match pull {
        Pull::Palm => 1.0,
        Pull::Back => -1.0,
    };
    let side = Side { sizes: Sizes::of(build), wrist, palm };
    let hole = tab_hole.to_mm();
    let line: Vec<Vector> = line.iter().map(|p| at(p.x.to_mm(), p.y.to_mm())).collect();
    let mut sheet = Sheet::default();
    side_limb::paint(&mut sheet, &side);
    side_device::paint(&mut sheet, &side, hole);
    if line.len() > 1 {
        sheet.paint(Part::Line, Outline::straight(&line));
    }
    side_device::holes(&mut sheet, &side, hole);
    sheet.paint(Part::Axis, Outline::straight(&[at(-CROSS, 0.0), at(CROSS, 0.0)]));
    sheet.paint(Part::Axis, Outline::straight(&[at(0.0, -CROSS), at(0.0, CROSS)]));
    side_labels::note(&mut sheet, &side, &line, hole);
    sheet.set(mirrored)
}
