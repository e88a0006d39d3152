//! A straight line by least squares, and Student's t.
//!
//! Both work on plain numbers so that they can be held against published data; the module above
//! gives them weeks and degrees.

use statrs::distribution::{ContinuousCDF, StudentsT};

/// One point of plain numbers; each user says what they mean.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sample {
    /// What is known without error.
    pub x: f64,
    /// What was found there.
    pub y: f64,
}

/// The least-squares line y = intercept + slope · x.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Fit {
    /// How many points.
    pub points: usize,
    /// y at x = 0.
    pub intercept: f64,
    /// The change of y for each 1 of x.
    pub slope: f64,
    /// Σ(x − x̄)².
    pub sum_of_squares: f64,
    /// How the points scatter about the line; nothing with two points.
    pub scatter: Option<FitScatter>,
}

/// How points scatter about the line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FitScatter {
    /// s: standard deviation about the line.
    pub residual: f64,
    /// Standard error of the intercept.
    pub intercept_error: f64,
    /// Standard error of the slope.
    pub slope_error: f64,
}

impl Fit {
    /// The line through points; nothing where all have one x, or a number is not finite.
    ///
    /// slope = Σ(x − x̄)(y − ȳ) / S, intercept = ȳ − slope · x̄, S = Σ(x − x̄)²;
    /// s² = Σ(y − intercept − slope · x)² / (n − 2); standard errors s/√S and s·√(1/n + x̄²/S).
    /// Errors are taken as independent and equal. Any textbook of regression; held against the
    /// certified values of the NIST statistical reference data in the tests.
    #[must_use]
    pub fn of(samples: &[Sample]) -> Option<Self> {
        let n = samples.len() as f64;
        let mean = |of: fn(&Sample) -> f64| samples.iter().map(of).sum::<f64>() / n;
        let (x, y) = (mean(|it| it.x), mean(|it| it.y));
        let sum = |of: &dyn Fn(&Sample) -> f64| samples.iter().map(of).sum::<f64>();
        let sum_of_squares = sum(&|it| (it.x - x) * (it.x - x));
        let slope = sum(&|it| (it.x - x) * (it.y - y)) / sum_of_squares;
        let varies = samples.windows(2).any(|pair| pair[0].x.to_bits() != pair[1].x.to_bits());
        if !varies || !slope.is_finite() {
            return None;
        }
        let scatter = (samples.len() > 2).then(|| {
            // About the means, so that no large numbers cancel.
            let off = |it: &Sample| it.y - y - slope * (it.x - x);
            let residual = (sum(&|it| off(it) * off(it)) / (n - 2.0)).sqrt();
            FitScatter {
                residual,
                intercept_error: residual * (1.0 / n + x * x / sum_of_squares).sqrt(),
                slope_error: residual / sum_of_squares.sqrt(),
            }
        });
        Some(Self {
            points: samples.len(),
            intercept: y - slope * x,
            slope,
            sum_of_squares,
            scatter,
        })
    }
}

/// The quantile of Student's t: P(T ≤ t) = probability for so many degrees of freedom.
///
/// Nothing for no degree of freedom or a probability outside (0, 1). By crate `statrs`, rounded to
/// 1e-9: it takes logarithms from the platform, and the last bits of those differ.
#[must_use]
pub fn student_t(probability: f64, freedom: usize) -> Option<f64> {
    const STEP: f64 = 1e-9;
    if !(probability > 0.0 && probability < 1.0) {
        return None;
    }
    let quantile = StudentsT::new(0.0, 1.0, freedom as f64).ok()?.inverse_cdf(probability);
    quantile.is_finite().then(|| (quantile / STEP).round() * STEP)
}
