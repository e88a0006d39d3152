//! The limb's pose: sections of forearm and hand at a wrist angle, bare and over the pieces.

use super::view::{Eye, Section};
use crate::calc::figure::plane::{Vector, at, height_at};
use crate::calc::figure::side::Side;
use crate::calc::figure::sizes::PILE;
use crate::units::Angle;

/// Share of the forearm's length, from the wrist, at which it has its full breadth, and the share of the widening
/// that is reached half way there; estimates.
const WIDENING: (f64, f64) = (0.72, 0.66);
/// Half the hand's breadth from the crease: along in hand lengths, across in hand breadths; estimates.
const HAND_EDGE: [(f64, f64); 3] = [(0.16, 0.46), (0.32, 0.50), (0.80, 0.48)];

/// An adult's hand (mm).
const ADULT: f64 = 185.0;

/// A limb in its pieces, at one wrist angle, seen from one side.
#[derive(Debug, Clone, Copy)]
pub(super) struct Pose {
    pub(super) side: Side,
    /// From where it is seen.
    pub(super) eye: Eye,
    /// Whether the thumb is held off the hand.
    pub(super) is_thumb_off: bool,
    /// Between the forearm piece's edges (mm).
    pub(super) gap: f64,
    /// The cuff's open side (mm).
    pub(super) opening: f64,
}

impl Pose {
    /// What is drawn for its own sake, and not to a measure, grows with the limb: beside an adult's.
    pub(super) fn growth(&self) -> f64 {
        (self.side.sizes.hand_length / ADULT).clamp(0.4, 2.0)
    }

    /// A bare cut across the forearm at a place from the crease (negative).
    pub(super) fn forearm(&self, place: f64) -> Section {
        let sizes = &self.side.sizes;
        let knots =
            [at(sizes.strip_start, sizes.half_forearm), at(sizes.piece_edge, sizes.half_wrist)];
        let depth = height_at(&knots, place);
        self.cut(sizes.on_forearm(place, 0.0), Angle::ZERO, depth, self.half_breadth(place))
    }

    /// A cut about a centre in the mechanics' plane, across a course at this angle to the forearm's: half its depth, half
    /// its breadth (mm).
    pub(super) fn cut(&self, centre: Vector, angle: Angle, depth: f64, half: f64) -> Section {
        let course = self.eye.page(at(1.0, 0.0).turned(angle)).direction();
        Section {
            centre: self.eye.page(centre),
            up: self.eye.page(at(0.0, 1.0).turned(angle)),
            out: self.eye.thumb,
            normal: course.left(),
            rise: depth,
            fall: depth,
            half,
        }
    }

    fn half_breadth(&self, place: f64) -> f64 {
        let sizes = &self.side.sizes;
        let wrist = sizes.wrist_breadth / 2.0;
        let full = (sizes.forearm_breadth / 2.0).max(wrist);
        let end = sizes.elbow * WIDENING.0;
        let middle = at(end / 2.0, wrist + (full - wrist) * WIDENING.1);
        height_at(&[at(end, full), middle, at(0.0, wrist)], place)
    }

    /// A bare cut across the hand at a place from the crease.
    pub(super) fn hand(&self, place: f64) -> Section {
        let sizes = &self.side.sizes;
        let depth = sizes.half_hand(place);
        let centre = self.side.on_hand(place, 0.0);
        self.cut(centre, self.side.wrist, depth, self.half_hand_breadth(place))
    }

    fn half_hand_breadth(&self, place: f64) -> f64 {
        let sizes = &self.side.sizes;
        let knot = |&(along, across): &(f64, f64)| {
            at(along * sizes.hand_length, across * sizes.hand_breadth)
        };
        let mut knots = vec![at(0.0, sizes.wrist_breadth / 2.0)];
        knots.extend(HAND_EDGE.iter().map(knot));
        height_at(&knots, place)
    }

    /// A cut across the forearm piece's outer face.
    pub(super) fn piece(&self, place: f64) -> Section {
        let sizes = &self.side.sizes;
        let bed = sizes.strip_height - PILE;
        let knots = [at(sizes.strip_start, bed), at(sizes.piece_edge, sizes.piece_edge_height)];
        let bare = self.forearm(place);
        Section {
            rise: height_at(&knots, place),
            fall: bare.fall + sizes.thickness,
            half: bare.half + sizes.thickness,
            ..bare
        }
    }

    /// A cut across the cuff's outer face.
    pub(super) fn cuff(&self, place: f64) -> Section {
        let sizes = &self.side.sizes;
        let bare = self.hand(place);
        Section {
            rise: sizes.cuff_height(place),
            fall: bare.fall + sizes.thickness,
            half: bare.half + sizes.thickness,
            ..bare
        }
    }

    /// A point of the hand: place from the crease, height toward the palm, toward the thumb (mm).
    pub(super) fn of_hand(&self, place: f64, palm: f64, thumb: f64) -> Vector {
        self.eye.page(self.side.on_hand(place, palm * self.side.palm)) + self.eye.thumb * thumb
    }

    /// A point of the forearm: place from the crease, height toward the pull, toward the thumb (mm).
    pub(super) fn of_forearm(&self, place: f64, height: f64, thumb: f64) -> Vector {
        self.eye.page(self.side.sizes.on_forearm(place, height)) + self.eye.thumb * thumb
    }

    /// Whether the palm faces the eye, not the back of the hand.
    pub(super) fn sees_palm(&self) -> bool {
        self.eye.sees_pull_side() == (self.side.palm > 0.0)
    }

    /// The hole in the cuff that the line leaves by.
    pub(super) fn exit_hole(&self) -> Vector {
        self.eye.page(self.side.exit_hole())
    }
}

/// Evenly spread places from one to another.
pub(super) fn spread(from: f64, to: f64, count: u8) -> impl Iterator<Item = f64> {
    (0..=count).map(move |step| from + (to - from) * f64::from(step) / f64::from(count))
}
