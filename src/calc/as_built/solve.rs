//! The fit itself: the loop's length alone, or with one measure by weighted least squares.

use levenberg_marquardt::{LeastSquaresProblem, LevenbergMarquardt};
use nalgebra::storage::Owned;
use nalgebra::{DVector, Dyn, OMatrix, RowVector2, U2, Vector2};

use crate::calc::as_built::spread::{Gain, Slopes};
use crate::calc::as_built::{Observation, Planned, line_at};
use crate::calc::geometry::{Geometry, Measure};
use crate::calc::line::length_by;
use crate::calc::loops::hole_at;
use crate::units::Length;

/// So many places over the loop's range tell which measure is least certain.
const MARKS: usize = 7;

/// What was fitted, and what each observation did to it.
pub(super) struct Solution {
    pub(super) line: Length,
    pub(super) change: Option<(Measure, Length)>,
    pub(super) gains: Vec<Gain>,
}

/// `L_n` = the mean of L(θᵢ, mᵢ − q).
pub(super) fn length_alone(planned: &Planned, observations: &[Observation]) -> Solution {
    let share = 1.0 / observations.len() as f64;
    let gains = slopes(planned, planned.geometry, observations)
        .into_iter()
        .map(|(slopes, reading)| Gain { slopes, reading, line: share, change: 0.0 })
        .collect();
    Solution { line: mean_line(planned.geometry, observations), change: None, gains }
}

/// `L_n` and the least certain measure p together.
///
/// Least is Σ((L(θᵢ, mᵢ − q; p) − `L_n`)/sᵢ)² + ((p − its measured value)/σₚ)², sᵢ the error of
/// reading the point. The other measures keep their values: whatever they shift all marks by goes into
/// `L_n`, which is then the length that gives the marks their places. By Levenberg and Marquardt
/// (crate `levenberg-marquardt`, after Moré 1978, from memory), which shortens its step where the
/// line comes to lie on an edge and the derivative jumps. Nothing where no measure has an error that
/// tells the marks apart.
pub(super) fn length_and_measure(
    planned: &Planned,
    observations: &[Observation],
) -> Option<Solution> {
    let measure = least_certain(planned)?;
    let readings = slopes(planned, planned.geometry, observations);
    let start = Fitting {
        planned,
        observations,
        measure,
        readings: readings.iter().map(|it| it.1.to_mm()).collect(),
        at: Vector2::new(mean_line(planned.geometry, observations).to_mm(), 0.0),
    };
    let (fitted, report) = LevenbergMarquardt::new().minimize(start);
    if !report.termination.was_successful() || !fitted.at.iter().all(|it| it.is_finite()) {
        return None;
    }
    let gains = gains(&fitted)?;
    let change = Some((measure, Length::mm(fitted.at.y)));
    Some(Solution { line: Length::mm(fitted.at.x), change, gains })
}

/// The derivatives at each observation and one standard deviation of L from reading it.
fn slopes(
    planned: &Planned,
    geometry: &Geometry,
    observations: &[Observation],
) -> Vec<(Slopes, Length)> {
    let slopes = observations
        .iter()
        .map(|it| Slopes::at(geometry, it.angle, it.place - geometry.hole_to_pad));
    slopes.map(|it| (it.reading(planned.goniometer), it)).map(|(s, it)| (it, s)).collect()
}

fn mean_line(geometry: &Geometry, observations: &[Observation]) -> Length {
    let sum = observations.iter().fold(Length::ZERO, |sum, it| sum + line_at(geometry, it));
    sum / observations.len() as f64
}

/// The measure whose standard error moves the marks most against each other.
///
/// Largest of σₖ² Σ (gₖ − ḡₖ)² over the loop's range, gₖ = ∂u/∂pₖ at constant length. What shifts all
/// marks alike is in the loop's length once that is fitted, and no observation tells it from the length.
pub(super) fn least_certain(planned: &Planned) -> Option<Measure> {
    let (from, to) = planned.range;
    let marks: Vec<Slopes> = (0..MARKS)
        .map(|at| from + (to - from) * (at as f64 / (MARKS - 1) as f64))
        .map(|it| Slopes::at(planned.geometry, it, hole_at(planned.geometry, planned.line, it)))
        .collect();
    let scatter = |measure: Measure| {
        let error = planned.geometry.error(measure).to_mm();
        let moved: Vec<f64> = marks.iter().map(|it| error * it.by(measure) / it.along).collect();
        let mean = moved.iter().sum::<f64>() / moved.len() as f64;
        moved.iter().map(|it| (it - mean) * (it - mean)).sum::<f64>()
    };
    let scatters = Measure::ALL.map(|it| (it, scatter(it)));
    let most = scatters.into_iter().max_by(|a, b| a.1.total_cmp(&b.1))?;
    (most.1 > 0.0).then_some(most.0)
}

/// How line and measure follow each observation: K = −(Jᵀ J)⁻¹ Jᵀ S⁻¹, J the solver's last and
/// S = diag(sᵢ).
fn gains(fitted: &Fitting) -> Option<Vec<Gain>> {
    let jacobian = fitted.jacobian()?;
    let gain = -(jacobian.transpose() * &jacobian).try_inverse()? * jacobian.transpose();
    let slopes = slopes(fitted.planned, &fitted.geometry(), fitted.observations);
    let gains = slopes.into_iter().zip(&fitted.readings).enumerate();
    let gains = gains.map(|(at, ((slopes, reading), weighed))| Gain {
        slopes,
        reading,
        line: gain[(0, at)] / weighed,
        change: gain[(1, at)] / weighed,
    });
    Some(gains.collect())
}

/// The problem as the solver sees it: two unknowns in mm, the line's length and the measure's change.
struct Fitting<'a> {
    planned: &'a Planned<'a>,
    observations: &'a [Observation],
    measure: Measure,
    /// sᵢ (mm).
    readings: Vec<f64>,
    at: Vector2<f64>,
}

impl Fitting<'_> {
    fn geometry(&self) -> Geometry {
        self.planned.geometry.moved(self.measure, Length::mm(self.at.y))
    }

    /// σₚ (mm).
    fn error(&self) -> f64 {
        self.planned.geometry.error(self.measure).to_mm()
    }
}

impl LeastSquaresProblem<f64, Dyn, U2> for Fitting<'_> {
    type ResidualStorage = Owned<f64, Dyn>;
    type JacobianStorage = Owned<f64, Dyn, U2>;
    type ParameterStorage = Owned<f64, U2>;

    fn set_params(&mut self, at: &Vector2<f64>) {
        self.at = *at;
    }

    fn params(&self) -> Vector2<f64> {
        self.at
    }

    fn residuals(&self) -> Option<DVector<f64>> {
        let geometry = self.geometry();
        let points = self.observations.iter().zip(&self.readings);
        let off = points.map(|(it, s)| (line_at(&geometry, it).to_mm() - self.at.x) / s);
        let prior = self.at.y / self.error();
        Some(DVector::from_iterator(self.observations.len() + 1, off.chain(std::iter::once(prior))))
    }

    fn jacobian(&self) -> Option<OMatrix<f64, Dyn, U2>> {
        let geometry = self.geometry();
        let by = |it: &Observation| {
            length_by(&geometry, it.angle, it.place - geometry.hole_to_pad, self.measure)
        };
        let points = self.observations.iter().zip(&self.readings);
        let rows = points.map(|(it, s)| RowVector2::new(-1.0 / s, by(it) / s));
        let prior = RowVector2::new(0.0, 1.0 / self.error());
        let rows: Vec<RowVector2<f64>> = rows.chain(std::iter::once(prior)).collect();
        Some(OMatrix::<f64, Dyn, U2>::from_rows(&rows))
    }
}
