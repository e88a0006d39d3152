//! What was made is never quite what was planned: loop length and geometry after trying it on.
//!
//! Each time the tab stands somewhere and the wrist's angle is measured there, one point of the taut
//! line is known: L(θ, m − q) = `L_n`. `solve` fits to such points, `spread` tells how sure the
//! result is.

mod solve;
mod spread;

pub use spread::Origin;

use crate::calc::geometry::{Geometry, Measure};
use crate::calc::line::TautLine;
use crate::calc::loops::hole_at;
use crate::units::math::hypot;
use crate::units::{Angle, Length};
use solve::Solution;
use spread::{Gain, Parts, Slopes, total};

/// Standard error of reading where the tab's front edge stands (common practice, no source).
pub const TAB_READING: Length = Length::mm(1.0);
/// From so many points on a measure is fitted along with the loop's length.
const ENOUGH: usize = 3;
/// A point so many standard deviations off the plan is taken again.
const BEYOND: f64 = 2.0;
/// A point so many standard deviations off what the other points tell is doubted: among six good points one
/// in fourteen courses has such a one by chance.
const ODD: f64 = 2.5;

/// One loop as it was meant to be.
#[derive(Debug, Clone, Copy)]
pub struct Planned<'a> {
    /// The pull's geometry as measured.
    pub geometry: &'a Geometry,
    /// `L_n`: the loop's line, as planned or as measured on the bench.
    pub line: Length,
    /// Its standard error; none where the plan is compared as if it had been kept.
    pub line_error: Length,
    /// The wrist's angles from one end of the strip to the other, or as far as marks are wanted.
    pub range: (Angle, Angle),
    /// Standard error of measurement of the goniometer.
    pub goniometer: Angle,
}

/// The tab's front edge stood here at this measured angle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Observation {
    /// θ: the wrist's angle, measured with the line taut.
    pub angle: Angle,
    /// m: the front edge's place along the strip.
    pub place: Length,
}

/// The loop as it was made, as far as the points tell.
#[derive(Debug, Clone, PartialEq)]
pub struct AsBuilt {
    /// The length that was given before any point: as planned, or as the loop measured flat.
    pub given: Length,
    /// `L_n`: the loop's line.
    pub line: Length,
    /// Its standard error as the length that gives the marks their places: from reading the points and
    /// from the least certain measure, the others as they stand.
    pub line_error: Length,
    /// Its standard error as the thread's own length, from all measures: how far a ruler along the
    /// loop on the bench may differ.
    pub bench_error: Length,
    /// The measure that was fitted along with it, from three points on.
    pub change: Option<Refit>,
    /// The geometry with that measure changed.
    pub geometry: Geometry,
    /// Each point against the fit and against the plan, in the order given.
    pub points: Vec<Checked>,
    /// What the marks go by.
    pub basis: Basis,
    gains: Vec<Gain>,
}

/// What the marks go by.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Basis {
    /// The loop's given length, and all points there are.
    All,
    /// The points that are not doubted: by them today's mark is the least far.
    Trusted,
    /// The given length alone: by it today's mark is the least far.
    Length,
}

/// A measure that the points moved.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Refit {
    /// Which.
    pub measure: Measure,
    /// By how much, positive where it is longer than was measured.
    pub by: Length,
    /// The standard error of that, from all measures.
    pub error: Length,
}

/// One point against the fit and against the plan; positive where the tab stood nearer the elbow.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Checked {
    /// The point.
    pub observation: Observation,
    /// Along the strip, the place observed less the fitted one.
    pub residual: Length,
    /// Along the strip, the place observed less the planned one.
    pub off_plan: Length,
    /// One standard deviation of `off_plan`, from all that was measured, the point itself included.
    pub planned_spread: Length,
    /// What has the largest share of that spread.
    pub again: Origin,
    /// Which of the geometry's measures has the largest share of it.
    pub measure: Measure,
    /// The place observed less the one that all other points tell, in standard deviations of that difference,
    /// where it is the furthest off of three points or more.
    pub odd: Option<f64>,
}

impl Checked {
    /// Whether the point is doubted: more than two standard deviations off the plan, or 2.5 off what the
    /// other points tell.
    ///
    /// Plan and other points are the yardsticks and not the fit, which a wrong point draws toward itself.
    #[must_use]
    pub fn is_beyond(&self) -> bool {
        self.off_plan.abs() > self.planned_spread * BEYOND || self.is_odd()
    }

    /// Whether the other points deny it.
    #[must_use]
    pub fn is_odd(&self) -> bool {
        self.odd.is_some_and(|it| it.abs() > ODD)
    }

    /// Whether it lies off the plan by more than the planned spread, as one of three good readings does.
    #[must_use]
    pub fn is_off(&self) -> bool {
        self.off_plan.abs() > self.planned_spread
    }
}

impl AsBuilt {
    /// m: where the tab's front edge will stand at an angle.
    #[must_use]
    pub fn place_at(&self, angle: Angle) -> Length {
        place(&self.geometry, self.line, angle)
    }

    /// The same loop with the marks that pull least at an angle, where a point is doubted: by all points, by
    /// those that are not doubted, or by the given length alone.
    ///
    /// A wrong reading must not make the pull harder; one that makes it easier costs a visit.
    #[must_use]
    pub fn held_back(self, planned: &Planned, angle: Angle) -> Self {
        if !self.points.iter().any(Checked::is_beyond) {
            return self;
        }
        let trusted = self.points.iter().filter(|it| !it.is_beyond()).map(|it| it.observation);
        let trusted: Vec<Observation> = trusted.collect();
        let by_length = Self { basis: Basis::Length, ..fitted_to(planned, &[]) };
        let mut others = vec![by_length];
        if !trusted.is_empty() {
            others.push(Self { basis: Basis::Trusted, ..fitted_to(planned, &trusted) });
        }
        let points = self.points.clone();
        let least = others.into_iter().fold(self, |least, it| {
            if it.place_at(angle) < least.place_at(angle) { it } else { least }
        });
        Self { points, ..least }
    }

    /// One standard deviation of [`Self::place_at`].
    ///
    /// First-order propagation of every measure's error, of the goniometer's and of the tab's reading
    /// through the fit: what shifts all marks alike is in the line's length by then. Without a point
    /// it is the plan's. JCGM 100:2008, 5.1.2, from memory.
    #[must_use]
    pub fn spread_at(&self, angle: Angle) -> Length {
        let at = Slopes::at(&self.geometry, angle, hole_at(&self.geometry, self.line, angle));
        let changed = self.change.map_or(0.0, |it| at.by(it.measure));
        let weights: Vec<f64> = self.gains.iter().map(|it| it.line - changed * it.change).collect();
        let given = if self.gains.is_empty() { self.line_error } else { Length::ZERO };
        total(&self.gains, &weights, |it| self.geometry.error(it), |it| at.by(it), given) / at.along
    }
}

/// The loop as made, from the places where the tab stood.
///
/// - no point: the given length;
/// - one or two: `L_n` = the mean of L(θᵢ, mᵢ − q), the geometry as measured;
/// - three or more: `L_n` and the least certain measure by weighted least squares, that measure held
///   by its planned error, the points weighted by the goniometer's and the tab's reading errors.
///
/// The given length counts no more once a point is there: it is what trying replaces. One point
/// read with a goniometer of some degrees can therefore be less sure than the plan, and the spread
/// says so. From the third point on each further one makes the fitted line surer; the spread of a mark
/// also holds the measures that are not fitted, whose part can grow by a little. A wrong point is named by
/// [`Checked::is_beyond`] and stays in this fit; [`AsBuilt::held_back`] keeps it from the marks until it is taken
/// again. Holds while the loop is taut at each point (derived here from the taut line).
#[must_use]
pub fn as_built(planned: &Planned, observations: &[Observation]) -> AsBuilt {
    let mut fitted = fitted_to(planned, observations);
    if observations.len() >= ENOUGH {
        // One wrong point makes its neighbours look odd too: only the furthest is told.
        let odds = (0..observations.len()).map(|it| (it, oddness(planned, observations, it)));
        let worst = odds.max_by(|a, b| a.1.abs().total_cmp(&b.1.abs()));
        if let Some((at, odd)) = worst {
            fitted.points[at].odd = Some(odd);
        }
    }
    fitted
}

/// How far a point lies from the place that all others tell, in standard deviations of the difference: from the
/// fit to the others, and from reading this one.
///
/// z = (m − m̂₋ᵢ) / √(σ(m̂₋ᵢ)² + sᵢ²). What errors of the measures shift alike cancels out, so that it sees
/// more than the plan's spread does (derived here).
fn oddness(planned: &Planned, observations: &[Observation], at: usize) -> f64 {
    let own = observations[at];
    let mut others = observations.to_vec();
    others.remove(at);
    let told = fitted_to(planned, &others);
    let slopes = Slopes::at(&told.geometry, own.angle, own.place - told.geometry.hole_to_pad);
    let read = slopes.reading(planned.goniometer) / slopes.along;
    let spread = Length::mm(hypot(told.spread_at(own.angle).to_mm(), read.to_mm()));
    (own.place - told.place_at(own.angle)) / spread
}

fn fitted_to(planned: &Planned, observations: &[Observation]) -> AsBuilt {
    let solution = solution(planned, observations);
    let geometry = solution.change.map_or_else(
        || planned.geometry.clone(),
        |(measure, by)| planned.geometry.moved(measure, by),
    );
    let gains = solution.gains;
    let weights = |of: fn(&Gain) -> f64| gains.iter().map(of).collect::<Vec<f64>>();
    let given = if gains.is_empty() { planned.line_error } else { Length::ZERO };
    let least = solve::least_certain(planned);
    let fitted = |it| if Some(it) == least { geometry.error(it) } else { Length::ZERO };
    let all = |it| geometry.error(it);
    let of_line = weights(|it| it.line);
    let change = solution.change.map(|(measure, by)| {
        let own = |it| if it == measure { -1.0 } else { 0.0 };
        let error = total(&gains, &weights(|it| it.change), all, own, Length::ZERO);
        Refit { measure, by, error }
    });
    AsBuilt {
        given: planned.line,
        line: solution.line,
        line_error: total(&gains, &of_line, fitted, |_| 0.0, given),
        bench_error: total(&gains, &of_line, all, |_| 0.0, given),
        change,
        points: observations
            .iter()
            .map(|it| checked(planned, &geometry, solution.line, it))
            .collect(),
        basis: Basis::All,
        geometry,
        gains,
    }
}

fn solution(planned: &Planned, observations: &[Observation]) -> Solution {
    if observations.is_empty() {
        return Solution { line: planned.line, change: None, gains: Vec::new() };
    }
    if observations.len() >= ENOUGH
        && let Some(fitted) = solve::length_and_measure(planned, observations)
    {
        return fitted;
    }
    solve::length_alone(planned, observations)
}

fn place(geometry: &Geometry, line: Length, angle: Angle) -> Length {
    hole_at(geometry, line, angle) + geometry.hole_to_pad
}

/// L(θ, m − q) at an observation.
fn line_at(geometry: &Geometry, it: &Observation) -> Length {
    TautLine::at(geometry, it.angle, it.place - geometry.hole_to_pad).length()
}

fn checked(planned: &Planned, geometry: &Geometry, line: Length, it: &Observation) -> Checked {
    let foreseen = hole_at(planned.geometry, planned.line, it.angle);
    let parts = Parts::at(planned, &Slopes::at(planned.geometry, it.angle, foreseen));
    Checked {
        observation: *it,
        residual: it.place - place(geometry, line, it.angle),
        off_plan: it.place - (foreseen + planned.geometry.hole_to_pad),
        planned_spread: parts.total(),
        again: parts.worst(),
        measure: parts.worst_measure(),
        odd: None,
    }
}
