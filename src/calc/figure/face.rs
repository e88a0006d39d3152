//! The face view: looking onto the pull side, fingers up the page, the wrist straight.

use super::drawing::Drawing;
use super::plane::{Vector, at};
use super::sheet::Sheet;
use super::sizes::Sizes;
use super::{Build, Pull, face_arm, face_device, face_hand, face_labels};
use crate::units::Length;

/// What a face view is drawn from. Its points: x toward the thumb from the limb's midline, y
/// distally from the wrist crease.
#[derive(Debug, Clone)]
pub(super) struct Face {
    pub(super) sizes: Sizes,
    pub(super) pull: Pull,
    /// The place of the tab's hole from the crease, negative on the forearm.
    pub(super) tab_hole: f64,
    /// The places of the marks from the crease, negative on the forearm.
    pub(super) marks: Vec<f64>,
}

impl Face {
    /// The hole the line leaves the cuff by, on the midline.
    pub(super) fn exit_hole(&self) -> Vector {
        at(0.0, self.sizes.hole)
    }

    /// The tab's hole.
    pub(super) fn hole(&self) -> Vector {
        at(0.0, self.tab_hole)
    }

    /// The tab's front edge, which the patient lines up with a mark.
    pub(super) fn pad_front(&self) -> f64 {
        self.tab_hole - self.sizes.hole_to_pad
    }

    /// The far edge of the tab's pad.
    pub(super) fn pad_back(&self) -> f64 {
        self.pad_front() - self.sizes.pad_length
    }
}

/// Draws the orthosis from the pull side: the palm, or the back of the hand.
///
/// `tab_hole` is u, the tab hole's distance from the strip's end near the wrist, positive
/// proximally; `marks` are the front edge's places m = u + q along the strip, from the same end.
/// The thumb is on the right, or on the left when `mirrored`; which limbs are mirrored is as in
/// the side view. Breadths and places along the limb are true at full size; fingers, thumb, elbow
/// and straps are estimated from them.
#[must_use]
pub fn face_view(
    build: &Build,
    pull: Pull,
    tab_hole: Length,
    marks: &[Length],
    mirrored: bool,
) -> Drawing {
    let sizes = Sizes::of(build);
    let marks = marks.iter().map(|mark| sizes.strip_start - mark.to_mm()).collect();
    let face = Face { sizes, pull, tab_hole: sizes.tab_hole(tab_hole.to_mm()), marks };
    let mut sheet = Sheet::default();
    face_arm::paint(&mut sheet, &face);
    face_hand::paint(&mut sheet, &face);
    face_arm::paint_crease(&mut sheet, &face);
    face_device::paint(&mut sheet, &face);
    face_labels::note(&mut sheet, &face);
    sheet.set(mirrored)
}
