//! Deterministic elementary functions, in radians where an angle is meant.

use std::ops::{Add, Mul, Neg, Sub};

use num_dual::Dual64;

/// Sine and cosine of an angle (rad).
#[must_use]
pub fn sin_cos(radians: f64) -> (f64, f64) {
    libm::sincos(radians)
}

/// The angle of the vector (x, y) from the x axis (rad), in (−π, π].
#[must_use]
pub fn atan2(y: f64, x: f64) -> f64 {
    libm::atan2(y, x)
}

/// e to the power x.
#[must_use]
pub fn exp(x: f64) -> f64 {
    libm::exp(x)
}

/// √(x² + y²).
#[must_use]
pub fn hypot(x: f64, y: f64) -> f64 {
    libm::hypot(x, y)
}

/// A number that a formula can be written for once: plain, or carrying a derivative along.
///
/// The dual number (crate `num-dual`) gives exact first derivatives by forward-mode automatic
/// differentiation: f(x + ε) = f(x) + f′(x)·ε with ε² = 0.
pub trait Real:
    Copy + Add<Output = Self> + Sub<Output = Self> + Mul<Output = Self> + Neg<Output = Self>
{
    /// A constant.
    fn of(value: f64) -> Self;

    /// The plain value.
    fn value(self) -> f64;

    /// √self.
    #[must_use]
    fn root(self) -> Self;

    /// Sine and cosine of self (rad).
    #[must_use]
    fn sine_cosine(self) -> (Self, Self);
}

impl Real for f64 {
    fn of(value: f64) -> Self {
        value
    }

    fn value(self) -> f64 {
        self
    }

    fn root(self) -> Self {
        self.sqrt()
    }

    fn sine_cosine(self) -> (Self, Self) {
        sin_cos(self)
    }
}

impl Real for Dual64 {
    fn of(value: f64) -> Self {
        Self::from_re(value)
    }

    fn value(self) -> f64 {
        self.re
    }

    fn root(self) -> Self {
        let root = self.re.sqrt();
        Self::new(root, self.eps / (2.0 * root))
    }

    fn sine_cosine(self) -> (Self, Self) {
        let (sin, cos) = sin_cos(self.re);
        (Self::new(sin, cos * self.eps), Self::new(cos, -sin * self.eps))
    }
}
