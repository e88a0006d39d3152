//! How errors of the measures and of the readings reach the line's length and the marks.

use crate::calc::as_built::{Planned, TAB_READING};
use crate::calc::geometry::{Geometry, Measure};
use crate::calc::line::{TautLine, length_by};
use crate::units::math::hypot;
use crate::units::{Angle, Length};

/// Where the line meets the strip nearly square, at about 87°, a place hardly follows from its length; the
/// spread told there is large and finite.
const SQUAREST: f64 = 0.05;

/// What a difference between plan and patient can come from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Origin {
    /// One of the geometry's measures.
    Measure(Measure),
    /// The loop's length.
    Line,
    /// The wrist's angle as read.
    Goniometer,
    /// The tab's place as read.
    Tab,
}

/// The taut line's derivatives at one angle and place of the tab.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Slopes {
    measures: [f64; 9],
    /// ∂L/∂u without its sign, and never nothing.
    pub(super) along: f64,
    /// r = −∂L/∂θ, a length per radian.
    arm: Length,
}

impl Slopes {
    pub(super) fn at(geometry: &Geometry, angle: Angle, hole: Length) -> Self {
        let line = TautLine::at(geometry, angle, hole);
        Self {
            measures: Measure::ALL.map(|it| length_by(geometry, angle, hole, it)),
            along: line.lengthening().abs().max(SQUAREST),
            arm: line.moment_arm(),
        }
    }

    /// ∂L/∂(measure).
    pub(super) fn by(&self, measure: Measure) -> f64 {
        self.measures[measure as usize]
    }

    /// One standard deviation of L from reading angle and place at this point:
    /// √((r · SEM)² + (∂L/∂u · 1 mm)²).
    pub(super) fn reading(&self, goniometer: Angle) -> Length {
        let turned = self.arm.to_mm() * goniometer.to_radians();
        Length::mm(hypot(turned, self.along * TAB_READING.to_mm()))
    }
}

/// What one observation does to the fit.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Gain {
    /// The derivatives there.
    pub(super) slopes: Slopes,
    /// One standard deviation of L from reading it.
    pub(super) reading: Length,
    /// By how much the fitted line grows for each unit that L is longer there.
    pub(super) line: f64,
    /// By how much the fitted measure grows.
    pub(super) change: f64,
}

/// One standard deviation of a weighted sum of what the observations tell, less what it is to tell.
///
/// σ² = Σₖ σₖ² (dₖ − Σᵢ wᵢ ∂Lᵢ/∂pₖ)² + Σᵢ wᵢ² sᵢ² + σ₀²: errors pₖ of the measures act on every
/// observation and, by dₖ, on the result itself; sᵢ is the reading's error, σ₀ that of a given
/// length. Errors are taken as independent.
pub(super) fn total(
    gains: &[Gain],
    weights: &[f64],
    error: impl Fn(Measure) -> Length,
    direct: impl Fn(Measure) -> f64,
    given: Length,
) -> Length {
    let measures = Measure::ALL.iter().fold(given.to_mm(), |sum, &measure| {
        let told = gains.iter().zip(weights).map(|(it, weight)| weight * it.slopes.by(measure));
        let share = direct(measure) - told.sum::<f64>();
        hypot(sum, share * error(measure).to_mm())
    });
    let readings = gains.iter().zip(weights).map(|(it, weight)| weight * it.reading.to_mm());
    Length::mm(readings.fold(measures, hypot))
}

/// One standard deviation of a place along the strip from each origin, before any fit.
pub(super) struct Parts {
    measures: [(Measure, Length); 9],
    others: [(Origin, Length); 3],
}

impl Parts {
    pub(super) fn at(planned: &Planned, at: &Slopes) -> Self {
        let along = |length: Length| length.abs() / at.along;
        Self {
            measures: Measure::ALL.map(|it| (it, along(planned.geometry.error(it) * at.by(it)))),
            others: [
                (Origin::Line, along(planned.line_error)),
                (Origin::Goniometer, along(at.arm * planned.goniometer.to_radians())),
                (Origin::Tab, TAB_READING),
            ],
        }
    }

    /// √Σσ².
    pub(super) fn total(&self) -> Length {
        let parts = self.measures.iter().map(|it| it.1).chain(self.others.iter().map(|it| it.1));
        Length::mm(parts.fold(0.0, |sum, part| hypot(sum, part.to_mm())))
    }

    /// The measure with the largest share.
    pub(super) fn worst_measure(&self) -> Measure {
        larger(self.measures[0], &self.measures).0
    }

    /// What has the largest share.
    pub(super) fn worst(&self) -> Origin {
        let (measure, part) = larger(self.measures[0], &self.measures);
        larger((Origin::Measure(measure), part), &self.others).0
    }
}

/// The largest of the first and the others.
fn larger<T: Copy>(first: (T, Length), others: &[(T, Length)]) -> (T, Length) {
    others.iter().fold(first, |most, it| if it.1 > most.1 { *it } else { most })
}
