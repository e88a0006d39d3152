//! The pictures of one orthosis: outlines in true proportion, and where the words stand.
//!
//! Both views draw the limb with the elbow bent square and the forearm turned thumb up, as it is
//! when the forearm piece is moulded: the piece then runs along one side, round behind the elbow
//! and back along the other, and the upper arm rises toward the thumb side. The side view looks
//! from the thumb side, so the upper arm comes toward the eye and is shown cut; the face view
//! looks onto the pull side, so the upper arm leaves the page's edge on the thumb side.
//!
//! Nothing is styled here. A shape says which part it is; the layout picks stroke, fill and words.

mod bench;
mod bench_crimp;
mod bench_line;
mod bench_tab;
mod curve;
mod donning;
mod drawing;
mod face;
mod face_arm;
mod face_device;
mod face_hand;
mod face_labels;
mod measuring;
mod measuring_palm;
mod measuring_range;
mod measuring_side;
mod plane;
mod setting;
mod sheet;
mod side;
mod side_device;
mod side_labels;
mod side_limb;
mod sizes;
mod spread;

pub use bench::{Panel, crimp_sequence};
pub use donning::{Wearing, doffing_sequence, donning_sequence};
pub use drawing::{Anchor, Drawing, Label, Part, Place, Shape, Step};
pub use face::face_view;
pub use measuring::{Pointed, arm_to_measure, wrist_to_measure};
pub use setting::tab_settings;
pub use side::side_view;

use crate::case::Wrap;
use crate::units::Length;

/// The sizes a drawing needs, by the names of the mechanics' symbol table.
///
/// All from the wrist crease are positive away from it: those of the cuff distally, those of the
/// forearm piece and the strip proximally. Heights and depths are square to the midline; heights
/// are positive toward the pull. Any finite values give a finite drawing; sizes no limb has give
/// a drawing no limb has.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Build {
    /// Wrist crease to the tip of the middle finger.
    pub hand_length: Length,
    /// Across the knuckles.
    pub hand_breadth: Length,
    /// Palm to back at the level of the exit hole.
    pub hand_depth: Length,
    /// Palm to back at the cuff's edge near the wrist.
    pub palm_depth: Length,
    /// Palm side to back of the wrist at the crease.
    pub wrist_depth: Length,
    /// Thumb side to little-finger side of the wrist at the crease.
    pub wrist_breadth: Length,
    /// Palm side to back of the forearm at the strip.
    pub forearm_depth: Length,
    /// Thumb side to little-finger side of the forearm at its widest.
    pub forearm_breadth: Length,
    /// Wrist crease to elbow crease.
    pub forearm_length: Length,
    /// Of the sheet that cuff and forearm piece are made of.
    pub thickness: Length,
    /// a: crease to the wrist axis, distally.
    pub axis_past_crease: Length,
    /// D: crease to the exit hole in the cuff.
    pub hole_from_crease: Length,
    /// h: the exit hole's height over the hand's midline.
    pub hole_height: Length,
    /// E: crease to the cuff's edge near the wrist.
    pub cuff_edge_from_crease: Length,
    /// e: that edge's height over the hand's midline.
    pub cuff_edge_height: Length,
    /// Z: crease to the cuff's edge near the fingertips.
    pub cuff_end_from_crease: Length,
    /// c: crease to the forearm piece's edge near the wrist.
    pub piece_edge_from_crease: Length,
    /// f: that edge's height over the forearm's midline.
    pub piece_edge_height: Length,
    /// S: crease to the strip's end near the wrist.
    pub strip_start_from_crease: Length,
    /// W: the strip's length along the forearm.
    pub strip_length: Length,
    /// The strip's width across the forearm.
    pub strip_width: Length,
    /// k: the strip's surface over the forearm's midline.
    pub strip_height: Length,
    /// q: the tab's hole to the near end of its pad.
    pub tab_hole_to_pad: Length,
    /// p: the length of the tab's pad.
    pub tab_pad_length: Length,
    /// The tab's width across the strip.
    pub tab_width: Length,
    /// Crease to the middles of the two straps of the forearm piece.
    pub forearm_straps: [Length; 2],
    /// From which side the cuff wraps the hand.
    pub wrap: Wrap,
    /// Between the forearm piece's edges, on each side of the arm.
    pub gap: Length,
    /// The cuff's open side, from edge to edge.
    pub opening: Length,
}

/// A point of the mechanics' plane: origin at the wrist axis, x distally along the forearm's
/// midline, y toward the pull.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Point {
    /// Distally along the forearm.
    pub x: Length,
    /// Toward the pull.
    pub y: Length,
}

/// Which side of the limb the line runs on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Pull {
    /// The palm's side: the line flexes the wrist.
    Palm,
    /// The back of the hand's side: the line extends the wrist.
    Back,
}
