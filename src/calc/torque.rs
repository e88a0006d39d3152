//! The torque of the stiff joint, from force gauge readings.

use crate::case::{Direction, Reading};
use crate::units::{Angle, Torque};

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

    /// The largest angle that was read.
    #[must_use]
    pub fn last_angle(&self) -> Option<Angle> {
        self.points.last().map(|(angle, _)| *angle)
    }
}
