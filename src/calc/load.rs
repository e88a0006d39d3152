//! What the pull does at a mark: to the joint, the skin, the line and the tab.

use super::bearing::Bearing;
use super::geometry::{Geometry, Measure};
use super::line::TautLine;
use crate::units::math::exp;
use crate::units::{Angle, Force, Length, Pressure, Torque};

/// Loads at one mark, for one torque.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Load {
    /// τ: the stiff joint's torque.
    pub torque: Torque,
    /// T = τ / r: the pull at the hand.
    pub tension: Force,
    /// T sin φ: the part across the hand.
    pub across: Force,
    /// T cos φ: the part along the hand, positive where it presses the joint together.
    pub joint: Force,
    /// The cuff on the hand.
    pub cuff: Bearing,
    /// The forearm piece on the forearm.
    pub forearm: Bearing,
    /// Mean pressure behind the elbow.
    pub elbow: Pressure,
    /// T/2: each of the two strands.
    pub strand: Force,
    /// The pull at the tab while it is being set: more than T where the line bends over an edge.
    pub at_tab: Force,
    /// Shear on the tab's pad.
    pub tab: Pressure,
    /// How much the line stretches.
    pub stretch: Length,
    /// The wrist angle lost by that.
    pub lost: Angle,
}

/// Loads at a mark; nothing where the line does not turn the wrist toward its pull.
///
/// Assumes a stiff cuff and forearm piece on an even bed. Friction counts only for what the hand
/// must pull at the tab; what reaches the wrist is the tension of the crossing stretch.
#[must_use]
pub fn load(geometry: &Geometry, line: &TautLine, torque: Torque) -> Option<Load> {
    let arm = line.moment_arm();
    if arm <= Length::ZERO {
        return None;
    }
    let tension = torque / arm;
    let strand = tension / 2.0;
    let stretch = stretch(geometry, line, strand);
    let at_tab = tension * capstan(geometry.friction, line.bend_toward_tab());
    Some(Load {
        torque,
        tension,
        across: tension * line.rotating_share(),
        joint: tension * line.axial_share(),
        cuff: cuff(geometry, line, tension),
        forearm: forearm(geometry, line, tension),
        elbow: (tension * line.direction_on_forearm().0.abs()) / geometry.elbow_area,
        strand,
        at_tab,
        // The tab must hold the resting line; setting it adds what friction takes.
        tab: at_tab / (geometry.pad_length * geometry.tab_width),
        stretch,
        lost: Angle::radians(stretch / arm),
    })
}

/// The cuff's bearing on the hand, with the line's force resolved in the hand's frame about the
/// middle of the cuff's span [E − a, Z − a] on the hand's midline.
fn cuff(geometry: &Geometry, line: &TautLine, tension: Force) -> Bearing {
    let axis = geometry.length(Measure::AxisPastCrease);
    let near = geometry.length(Measure::CuffEdgeFromCrease) - axis;
    let far = geometry.cuff_end - axis;
    let grip = line.grip_on_hand();
    let (along, across) = line.direction_on_hand();
    let lever = grip.x - (near + far) / 2.0;
    let moment = (tension * across) * lever - (tension * along) * grip.y;
    Bearing::under(tension * across, moment, geometry.cuff_breadth, far - near)
}

/// The forearm piece's bearing, with the force turned round, about the middle of the piece's span
/// [−(c + a) − `l_f`, −(c + a)] on the forearm's midline.
fn forearm(geometry: &Geometry, line: &TautLine, tension: Force) -> Bearing {
    let axis = geometry.length(Measure::AxisPastCrease);
    let edge = -(geometry.length(Measure::PieceEdgeFromCrease) + axis);
    let grip = line.grip_on_forearm();
    let (along, across) = line.direction_on_forearm();
    let lever = grip.x - (edge - geometry.piece_length / 2.0);
    let moment = (tension * -across) * lever - (tension * -along) * grip.y;
    Bearing::under(tension * -across, moment, geometry.piece_breadth, geometry.piece_length)
}

/// Stretch of each strand: (T/2) · L / (E A), A = π d²/4 (Hooke's law; nylon creeps besides, so it
/// is a lower bound after an hour).
fn stretch(geometry: &Geometry, line: &TautLine, strand: Force) -> Length {
    let radius = geometry.line_diameter / 2.0;
    let section = (radius * radius) * std::f64::consts::PI;
    line.length() * ((strand / section) / geometry.line_modulus)
}

/// How many times harder the tab must be pulled than the line pulls at the hand, where it bends by
/// an angle over an edge: e^(μ β).
///
/// Euler's belt equation (Eytelwein 1808): a flexible line without mass on the verge of slipping;
/// the edge's radius does not matter.
#[must_use]
pub fn capstan(friction: f64, bend: Angle) -> f64 {
    exp(friction * bend.to_radians())
}
