//! The sizes of a build as a drawing uses them: plain millimetres, with what follows from them.

use super::Build;
use super::plane::{Vector, at, height_at};
use crate::calc::straps::{CuffStraps, cuff_straps};
use crate::case::{STRAP_WIDTH, Wrap};
use crate::units::Length;

/// The pile of the strip over the sheet it sticks to (mm); common practice.
pub(super) const PILE: f64 = 2.0;
/// Width of a strap (mm).
pub(super) const STRAP: f64 = STRAP_WIDTH.to_mm();
/// How far the elbow stands behind its crease, in half depths of the forearm; an estimate from
/// the tape round the bent elbow.
const ELBOW_REACH: f64 = 1.2;
/// The share of the way from the cuff's edge to the hole over which the palm keeps its depth.
const BELLY: f64 = 0.4;

/// Lengths (mm). Those named `from crease` are positive distally, so those of the forearm are
/// negative: one scale along the whole limb.
#[derive(Debug, Clone, Copy)]
pub(super) struct Sizes {
    pub(super) hand_length: f64,
    pub(super) hand_breadth: f64,
    pub(super) wrist_breadth: f64,
    pub(super) forearm_breadth: f64,
    pub(super) half_wrist: f64,
    pub(super) half_forearm: f64,
    pub(super) thickness: f64,
    /// Crease to axis.
    pub(super) axis: f64,
    /// Crease to elbow crease, negative.
    pub(super) elbow: f64,
    /// From the elbow crease back to the elbow's point, positive.
    pub(super) elbow_reach: f64,
    pub(super) cuff_edge: f64,
    pub(super) cuff_end: f64,
    pub(super) hole: f64,
    pub(super) cuff_edge_height: f64,
    pub(super) hole_height: f64,
    pub(super) piece_edge: f64,
    pub(super) piece_edge_height: f64,
    pub(super) strip_start: f64,
    pub(super) strip_end: f64,
    pub(super) strip_width: f64,
    pub(super) strip_height: f64,
    pub(super) hole_to_pad: f64,
    pub(super) pad_length: f64,
    pub(super) tab_width: f64,
    /// From which side the cuff wraps the hand.
    pub(super) wrap: Wrap,
    /// Middles of the forearm straps, negative.
    pub(super) forearm_straps: [f64; 2],
    palm_depth: f64,
    hand_depth: f64,
}

impl Sizes {
    pub(super) fn of(build: &Build) -> Self {
        let half_forearm = build.forearm_depth.to_mm() / 2.0;
        let strip_start = -build.strip_start_from_crease.to_mm();
        let strip_end = strip_start - build.strip_length.to_mm();
        Self {
            hand_length: build.hand_length.to_mm(),
            hand_breadth: build.hand_breadth.to_mm(),
            wrist_breadth: build.wrist_breadth.to_mm(),
            forearm_breadth: build.forearm_breadth.to_mm(),
            half_wrist: build.wrist_depth.to_mm() / 2.0,
            half_forearm,
            thickness: build.thickness.to_mm(),
            axis: build.axis_past_crease.to_mm(),
            // A strip that runs past the elbow crease would hang in the air.
            elbow: (-build.forearm_length.to_mm()).min(strip_end),
            elbow_reach: half_forearm * ELBOW_REACH,
            cuff_edge: build.cuff_edge_from_crease.to_mm(),
            cuff_end: build.cuff_end_from_crease.to_mm(),
            hole: build.hole_from_crease.to_mm(),
            cuff_edge_height: build.cuff_edge_height.to_mm(),
            hole_height: build.hole_height.to_mm(),
            piece_edge: -build.piece_edge_from_crease.to_mm(),
            piece_edge_height: build.piece_edge_height.to_mm(),
            strip_start,
            strip_end,
            strip_width: build.strip_width.to_mm(),
            strip_height: build.strip_height.to_mm(),
            hole_to_pad: build.tab_hole_to_pad.to_mm(),
            pad_length: build.tab_pad_length.to_mm(),
            tab_width: build.tab_width.to_mm(),
            wrap: build.wrap,
            forearm_straps: build.forearm_straps.map(|it| -it.to_mm()),
            palm_depth: build.palm_depth.to_mm(),
            hand_depth: build.hand_depth.to_mm(),
        }
    }

    /// Half the hand's depth at a place from the crease, as far as the cuff's end.
    pub(super) fn half_hand(&self, place: f64) -> f64 {
        let knots = [
            at(0.0, self.half_wrist),
            at(self.cuff_edge, self.palm_depth / 2.0),
            at(self.belly(), self.palm_depth / 2.0),
            at(self.hole, self.hand_depth / 2.0),
        ];
        height_at(&knots, place)
    }

    /// Where the palm begins to thin toward the hole.
    fn belly(&self) -> f64 {
        self.cuff_edge + (self.hole - self.cuff_edge) * BELLY
    }

    /// Height of the cuff's outer face on the pull side.
    pub(super) fn cuff_height(&self, place: f64) -> f64 {
        let (edge, hole) = (self.cuff_edge_height, self.hole_height);
        let belly = self.belly();
        let knots = [at(self.cuff_edge, edge), at(belly, edge), at(self.hole, hole)];
        height_at(&knots, place)
    }

    fn cuff_straps(&self) -> CuffStraps {
        let [long, edge, end] = [self.hand_length, self.cuff_edge, self.cuff_end].map(Length::mm);
        cuff_straps(long, edge, end)
    }

    /// Width of the cuff's straps.
    pub(super) fn cuff_strap(&self) -> f64 {
        self.cuff_straps().width.to_mm()
    }

    /// Middle of the strap through the web of the thumb, from the crease.
    pub(super) fn web_strap(&self) -> f64 {
        self.cuff_straps().web.to_mm()
    }

    /// Middle of the strap at the cuff's edge near the wrist, from the crease.
    pub(super) fn wrist_strap(&self) -> f64 {
        self.cuff_straps().wrist.to_mm()
    }

    /// Where the cuff is free of straps, the middle of the longer part.
    pub(super) fn free_cuff(&self) -> f64 {
        let half = self.cuff_strap() / 2.0;
        let (low, middle) = (self.wrist_strap() + half, self.web_strap());
        if middle - half - low > self.cuff_end - middle - half {
            f64::midpoint(low, middle - half)
        } else {
            f64::midpoint(middle + half, self.cuff_end)
        }
    }

    /// The place of the tab's hole when it stands `tab_hole` from the strip's near end.
    pub(super) fn tab_hole(&self, tab_hole: f64) -> f64 {
        self.strip_start - tab_hole
    }

    /// Where the strip is free of the tab, the middle of the longer part.
    pub(super) fn free_strip(&self, tab_hole: f64) -> f64 {
        let front = self.tab_hole(tab_hole) - self.hole_to_pad;
        let back = front - self.pad_length;
        if self.strip_start - front > back - self.strip_end {
            f64::midpoint(self.strip_start, front)
        } else {
            f64::midpoint(back, self.strip_end)
        }
    }

    /// A point of the forearm in the mechanics' frame: place from the crease, height.
    pub(super) fn on_forearm(&self, place: f64, height: f64) -> Vector {
        at(place - self.axis, height)
    }
}
