//! What the pull does at a mark: tension, shares, and pressures on hand, forearm and elbow.

use super::geometry::{Geometry, Measure};
use super::line::TautLine;
use crate::case::{Direction, Reading};
use crate::units::{Angle, Area, Force, Length, Pressure, Torque};

/// Loads at one mark, for one torque.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Load {
    /// τ: the stiff joint's torque.
    pub torque: Torque,
    /// T = τ / r.
    pub tension: Force,
    /// Peak pressure of the cuff on the hand.
    pub cuff: Pressure,
    /// Peak pressure of the forearm piece on the forearm.
    pub forearm: Pressure,
    /// Mean pressure behind the elbow.
    pub elbow: Pressure,
}

/// Loads at a mark; nothing where the line does not turn the wrist toward its pull.
///
/// Assumes a stiff cuff and forearm piece on an even bed, and no friction.
#[must_use]
pub fn load(geometry: &Geometry, line: &TautLine, torque: Torque) -> Option<Load> {
    let arm = line.moment_arm();
    if arm <= Length::ZERO {
        return None;
    }
    let tension = torque / arm;
    Some(Load {
        torque,
        tension,
        cuff: cuff_peak(geometry, line, tension),
        forearm: forearm_peak(geometry, line, tension),
        elbow: elbow_mean(geometry, line, tension),
    })
}

/// Peak pressure under a stiff two-sided bearing: N/(b l) + 6|M|/(b l²), for the force N (N)
/// across it, its moment M about the middle of the span, breadth b and span l.
///
/// Combined direct and bending stress, σ = P/A ± M c/I of a b × l rectangle, as in any
/// strength-of-materials handbook. Pressure is never negative here: the far side bears.
#[must_use]
pub fn peak_pressure(across: Force, moment: Torque, breadth: Length, span: Length) -> Pressure {
    let area: Area = breadth * span;
    let bending: Force = moment.abs() * 6.0 / span;
    (across.abs() + bending) / area
}

/// Peak pressure of the cuff on the hand, with the line's force resolved in the hand's frame
/// about the middle of the cuff's span [E − a, Z − a] on the hand's midline.
fn cuff_peak(geometry: &Geometry, line: &TautLine, tension: Force) -> Pressure {
    let axis = geometry.length(Measure::AxisPastCrease);
    let near = geometry.length(Measure::CuffEdgeFromCrease) - axis;
    let far = geometry.cuff_end - axis;
    let grip = line.grip_on_hand();
    let (along, across) = line.direction_on_hand();
    let lever = grip.x - (near + far) / 2.0;
    let moment = (tension * across) * lever - (tension * along) * grip.y;
    peak_pressure(tension * across, moment, geometry.cuff_breadth, far - near)
}

/// Peak pressure of the forearm piece, with the force turned round, about the middle of the
/// piece's span [−(c + a) − `l_f`, −(c + a)] on the forearm's midline.
fn forearm_peak(geometry: &Geometry, line: &TautLine, tension: Force) -> Pressure {
    let axis = geometry.length(Measure::AxisPastCrease);
    let edge = -(geometry.length(Measure::PieceEdgeFromCrease) + axis);
    let grip = line.grip_on_forearm();
    let (along, across) = line.direction_on_forearm();
    let lever = grip.x - (edge - geometry.piece_length / 2.0);
    let moment = (tension * -across) * lever - (tension * -along) * grip.y;
    peak_pressure(tension * across, moment, geometry.piece_breadth, geometry.piece_length)
}

/// T cos β over the bearing behind the elbow: the part of the pull along the forearm.
fn elbow_mean(geometry: &Geometry, line: &TautLine, tension: Force) -> Pressure {
    let (along, _) = line.direction_on_forearm();
    (tension * along.abs()) / geometry.elbow_area
}

/// The torque readings of one pull, in order of angle.
#[derive(Debug, Clone, PartialEq)]
pub struct TorqueCurve {
    points: Vec<(Angle, Torque)>,
    start: Angle,
}

impl TorqueCurve {
    /// The readings that pull one way, with today's end range.
    #[must_use]
    pub fn of(readings: &[Reading], pull: Direction, start: Angle) -> Self {
        let mut points: Vec<_> = readings
            .iter()
            .filter(|reading| reading.pull == pull)
            .map(|reading| (reading.angle, reading.torque()))
            .collect();
        points.sort_by(|one, other| one.0.total_cmp(&other.0));
        points.dedup_by(|next, kept| {
            next.0 == kept.0 && {
                kept.1 = kept.1.max(next.1);
                true
            }
        });
        Self { points, start }
    }

    /// τ at an angle: interpolated between readings, and held at today's end-range torque beyond
    /// today's end range; nothing without a reading.
    ///
    /// A later mark is meant to be reached as the new end range at the same firm stretch;
    /// extrapolating today's steep curve would promise a harder pull, which is never wanted.
    /// Outside the readings the nearest one holds.
    #[must_use]
    pub fn at(&self, angle: Angle) -> Option<Torque> {
        let angle = angle.min(self.start);
        let after = self.points.partition_point(|(at, _)| *at < angle);
        match (after.checked_sub(1).map(|it| self.points[it]), self.points.get(after)) {
            (None, None) => None,
            (Some((_, torque)), None) | (None, Some(&(_, torque))) => Some(torque),
            (Some((low, below)), Some(&(high, above))) => {
                Some(below + (above - below) * ((angle - low) / (high - low)))
            }
        }
    }

    /// The angle of the reading nearest to today's end range, from below.
    #[must_use]
    pub fn last_angle(&self) -> Option<Angle> {
        self.points.last().map(|(angle, _)| *angle)
    }
}
