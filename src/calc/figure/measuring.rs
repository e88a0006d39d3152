//! Where tape, caliper, goniometer and gauge go: the pictures of the measuring sheet.
//!
//! One limb is drawn for every case, since it is drawn before anything is measured: its sizes are near the middle
//! of what adults measure, and nothing is read off it.

use super::curve::Outline;
use super::drawing::{Anchor, Drawing, Part};
use super::plane::Vector;
use super::sheet::Sheet;
use super::sizes::Sizes;
use super::{Build, measuring_palm, measuring_range, measuring_side};
use crate::case::Wrap;
use crate::units::Length;

/// A drawing in which each measured key has its place.
#[derive(Debug, Clone, PartialEq)]
pub struct Pointed {
    /// The picture; its labels stand where the numbers go, each with the place that it points at.
    pub drawing: Drawing,
    /// The key of each label, in their order: paths as in the file's guide, a place of a list by its number.
    pub keys: Vec<&'static str>,
}

/// A picture while it is made.
#[derive(Default)]
pub(super) struct Page {
    pub(super) sheet: Sheet,
    keys: Vec<&'static str>,
}

impl Page {
    /// Sets the number of a key at `at`, pointing at `to`.
    pub(super) fn point(&mut self, key: &'static str, at: Vector, to: Vector) {
        self.sheet.note(Part::Landmark, at, to, Anchor::Above);
        self.keys.push(key);
    }

    /// A straight line.
    pub(super) fn line(&mut self, part: Part, points: &[Vector]) {
        self.sheet.paint(part, Outline::straight(points));
    }

    /// A length with a head at both ends.
    pub(super) fn reach(&mut self, from: Vector, to: Vector) {
        let middle = from.toward(to, 0.5);
        self.line(Part::Reach, &[middle, from]);
        self.line(Part::Reach, &[middle, to]);
    }

    fn set(self, mirrored: bool) -> Pointed {
        Pointed { drawing: self.sheet.set(mirrored), keys: self.keys }
    }
}

/// The arm from the palm's side and, below it, from the thumb's side, with each tape and each caliper; a right arm
/// has its fingers to the right, a mirrored one to the left.
#[must_use]
pub fn arm_to_measure(mirrored: bool) -> Pointed {
    let sizes = sizes();
    let mut page = Page::default();
    measuring_palm::paint(&mut page, &sizes);
    measuring_side::paint(&mut page, &sizes);
    page.set(mirrored)
}

/// The wrist from the thumb's side with its ranges, and a force gauge on it.
#[must_use]
pub fn wrist_to_measure(mirrored: bool) -> Pointed {
    let sizes = sizes();
    let mut page = Page::default();
    measuring_range::paint(&mut page, &sizes);
    page.set(mirrored)
}

/// The limb that is drawn: between the survey's ends where it has the measure, depths as drawn elsewhere.
fn sizes() -> Sizes {
    let mm = Length::mm;
    Sizes::of(&Build {
        hand_length: mm(189.0),
        hand_breadth: mm(84.0),
        hand_depth: mm(30.0),
        palm_depth: mm(44.0),
        wrist_depth: mm(40.0),
        wrist_breadth: mm(58.0),
        forearm_depth: mm(66.0),
        forearm_breadth: mm(88.0),
        forearm_length: mm(250.0),
        thickness: mm(3.2),
        axis_past_crease: mm(10.0),
        hole_from_crease: mm(138.0),
        hole_height: mm(18.0),
        cuff_edge_from_crease: mm(20.0),
        cuff_edge_height: mm(25.0),
        cuff_end_from_crease: mm(146.0),
        piece_edge_from_crease: mm(12.0),
        piece_edge_height: mm(23.0),
        strip_start_from_crease: mm(55.0),
        strip_length: mm(90.0),
        strip_width: mm(25.0),
        strip_height: mm(38.0),
        tab_hole_to_pad: mm(12.0),
        tab_pad_length: mm(30.0),
        tab_width: mm(25.0),
        forearm_straps: [mm(33.0), mm(195.0)],
        wrap: Wrap::LittleFinger,
        gap: mm(15.0),
        opening: mm(40.0),
    })
}

/// A caliper across the limb: a line from jaw to jaw, and the jaws square to it.
pub(super) fn caliper(page: &mut Page, from: Vector, to: Vector) {
    /// Half a jaw (mm).
    const JAW: f64 = 9.0;
    let across = (to - from).direction().left() * JAW;
    page.line(Part::Caliper, &[from, to]);
    for end in [from, to] {
        page.line(Part::Caliper, &[end - across, end + across]);
    }
}
