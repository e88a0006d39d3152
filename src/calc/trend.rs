//! How a range has moved over the visits: its slope, how sure that is, and whether it stands still.
//!
//! [`fit`] draws the straight line, [`robust`] the one that a slip of the goniometer does not turn;
//! here dates become weeks and angles degrees.

pub mod fit;
pub mod robust;

use jiff::civil::Date;

use crate::units::{Angle, AngleRate};
use fit::{Fit, Sample, student_t};
use robust::theil_sen;

/// Share of repeated courses in which an interval holds the true slope.
const CONFIDENCE: f64 = 0.95;
/// z at 97.5 %.
const NORMAL_QUANTILE: f64 = 1.959_964;
/// Fewest days of visits for an interval: two days lie on a straight line whatever they show.
const FEWEST_VISITS: usize = 3;
/// Two angles this near count as one: far below what a goniometer shows.
const SAME: Angle = Angle::degrees(1e-6);
const DAYS_IN_A_WEEK: f64 = 7.0;

/// One reading: its day and the range found.
pub type Point = (Date, Angle);

/// A range over the visits.
#[derive(Debug, Clone, PartialEq)]
pub struct Trend {
    /// How many readings.
    pub points: usize,
    /// On how many days they were taken.
    pub visits: usize,
    /// The first day.
    pub first: Date,
    /// The newest day.
    pub last: Date,
    /// The fitted line's range on the first day.
    pub start: Angle,
    /// The least-squares slope, positive where the range grows.
    pub slope: AngleRate,
    /// How the readings scatter about the line; nothing with two readings.
    pub scatter: Option<Scatter>,
    /// 95 % confidence interval of the slope, by Student's t; nothing before the third day.
    pub interval: Option<Interval>,
    /// The Theil-Sen slope.
    pub robust: Robust,
    sum_of_squares: f64,
}

/// How readings scatter about the fitted line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Scatter {
    /// s: standard deviation of a reading about the line.
    pub residual: Angle,
    /// Standard error of the range on the first day.
    pub start_error: Angle,
    /// Standard error of the slope.
    pub slope_error: AngleRate,
}

/// From here to there, both included.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Interval {
    /// The lower end.
    pub low: AngleRate,
    /// The upper end.
    pub high: AngleRate,
}

/// A slope that up to about 29 % of wrong readings do not carry away.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Robust {
    /// The median of the slopes between every two days.
    pub slope: AngleRate,
    /// At least 95 % by ranks; nothing before the fifth day.
    pub interval: Option<Interval>,
}

impl Trend {
    /// The fitted line's range on a day.
    #[must_use]
    pub fn at(&self, day: Date) -> Angle {
        let gained = self.slope.to_degrees_per_week() * weeks(self.first, day);
        self.start + Angle::degrees(gained)
    }

    /// The wider of two 95 % confidence intervals of the slope: by Student's t from how the readings scatter, and
    /// slope ± 1.96 · SEM / √Σ(t − t̄)² from the goniometer's error; nothing before the third day.
    ///
    /// Readings of one rater, or whole degrees, can lie on a line by luck; the goniometer is no surer for that.
    #[must_use]
    pub fn wider_interval(&self, sem: Angle) -> Option<Interval> {
        let own = self.interval?;
        let half = NORMAL_QUANTILE * self.slope_error_by(sem).to_degrees_per_week();
        let slope = self.slope.to_degrees_per_week();
        let rate = AngleRate::degrees_per_week;
        Some(Interval {
            low: rate(own.low.to_degrees_per_week().min(slope - half)),
            high: rate(own.high.to_degrees_per_week().max(slope + half)),
        })
    }

    /// The slope's standard error if each reading has the goniometer's error: SEM / √Σ(t − t̄)²,
    /// t in weeks.
    ///
    /// Three readings in one line, as whole degrees often are, have no scatter of their own, and the
    /// interval by Student's t has no width; this one does not shrink by luck (derived here: the slope is a weighted sum of
    /// independent readings).
    #[must_use]
    pub fn slope_error_by(&self, sem: Angle) -> AngleRate {
        AngleRate::degrees_per_week(sem.to_degrees() / self.sum_of_squares.sqrt())
    }
}

/// The trend of a range; nothing where all readings lie on one day.
///
/// Range = start + slope · weeks since the first day, by least squares and by Theil and Sen.
/// Readings are taken as independent with the same error. Two of one day count as two readings of
/// one visit. A straight line is a summary of the course so far and no forecast.
#[must_use]
pub fn trend(points: &[Point]) -> Option<Trend> {
    let first = points.iter().map(|it| it.0).min()?;
    let last = points.iter().map(|it| it.0).max()?;
    let samples: Vec<Sample> = points
        .iter()
        .map(|(day, angle)| Sample { x: weeks(first, *day), y: angle.to_degrees() })
        .collect();
    let fit = Fit::of(&samples)?;
    let robust = theil_sen(&samples, CONFIDENCE)?;
    let visits = visits(points);
    let rate = AngleRate::degrees_per_week;
    let interval = |(low, high): (f64, f64)| Interval { low: rate(low), high: rate(high) };
    Some(Trend {
        points: points.len(),
        visits,
        first,
        last,
        start: Angle::degrees(fit.intercept),
        slope: rate(fit.slope),
        scatter: fit.scatter.map(|it| Scatter {
            residual: Angle::degrees(it.residual),
            start_error: Angle::degrees(it.intercept_error),
            slope_error: rate(it.slope_error),
        }),
        interval: (visits >= FEWEST_VISITS).then(|| slope_interval(&fit)).flatten().map(interval),
        robust: Robust { slope: rate(robust.slope), interval: robust.interval.map(interval) },
        sum_of_squares: fit.sum_of_squares,
    })
}

/// slope ± `t_{0.975}(n − 2)` · its standard error.
fn slope_interval(fit: &Fit) -> Option<(f64, f64)> {
    let t = student_t(f64::midpoint(1.0, CONFIDENCE), fit.points.checked_sub(2)?)?;
    let half = t * fit.scatter?.slope_error;
    Some((fit.slope - half, fit.slope + half))
}

/// A change between two visits.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Change {
    /// The earlier day.
    pub from: Date,
    /// The newest day.
    pub to: Date,
    /// The later range less the earlier, each the mean of its day's readings.
    pub by: Angle,
}

/// The change over at least so many weeks up to the newest visit.
///
/// It is taken from the newest visit that lies so many weeks or more before the last one, so that
/// the two visits span them; nothing where there is no such visit.
#[must_use]
pub fn change_over(points: &[Point], weeks: u32) -> Option<Change> {
    let to = points.iter().map(|it| it.0).max()?;
    let long_enough = |day: &Date| *day < to && (to - *day).get_days() >= span_in_days(weeks);
    let from = points.iter().map(|it| it.0).filter(long_enough).max()?;
    Some(Change { from, to, by: mean_of(points, to) - mean_of(points, from) })
}

/// Whether the range no longer grows: the total change over the last so many weeks is at most so many degrees.
///
/// change ≤ `degrees` with the change of [`change_over`]; nothing where no two visits span the weeks. A range that
/// falls does not grow either. What the change goes through between the two visits is left out.
#[must_use]
pub fn plateau(points: &[Point], weeks: u32, degrees: Angle) -> Option<bool> {
    Some(change_over(points, weeks)?.by <= degrees + SAME)
}

fn span_in_days(weeks: u32) -> i32 {
    i32::try_from(weeks).ok().and_then(|it| it.checked_mul(7)).unwrap_or(i32::MAX)
}

fn mean_of(points: &[Point], day: Date) -> Angle {
    let of_day = points.iter().filter(|it| it.0 == day);
    let (sum, count) = of_day.fold((Angle::ZERO, 0), |(sum, n), it| (sum + it.1, n + 1));
    sum / f64::from(count)
}

fn visits(points: &[Point]) -> usize {
    let mut days: Vec<Date> = points.iter().map(|it| it.0).collect();
    days.sort_unstable();
    days.dedup();
    days.len()
}

fn weeks(from: Date, to: Date) -> f64 {
    f64::from((to - from).get_days()) / DAYS_IN_A_WEEK
}
