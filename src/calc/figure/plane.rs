//! Points and directions of a drawing before it is set on its page (mm), x right, y up.

use std::ops::{Add, Mul, Sub};

use crate::units::{Angle, math};

/// A point, or the step between two (mm).
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Vector {
    pub(super) x: f64,
    pub(super) y: f64,
}

/// The point (x, y) (mm).
pub(super) const fn at(x: f64, y: f64) -> Vector {
    Vector { x, y }
}

impl Vector {
    /// Its length (mm).
    pub(super) fn size(self) -> f64 {
        math::hypot(self.x, self.y)
    }

    /// The scalar product (mm²).
    pub(super) fn dot(self, other: Self) -> f64 {
        self.x * other.x + self.y * other.y
    }

    /// Of length one; zero stays zero.
    pub(super) fn direction(self) -> Self {
        let size = self.size();
        if size > 0.0 { self * (1.0 / size) } else { at(0.0, 0.0) }
    }

    /// Its direction, or another's where it has none.
    fn direction_or(self, other: Self) -> Self {
        if self.size() > 0.0 { self.direction() } else { other.direction() }
    }

    /// A quarter turn to the left.
    pub(super) fn left(self) -> Self {
        at(-self.y, self.x)
    }

    /// Turned about the origin, positive to the left.
    pub(super) fn turned(self, angle: Angle) -> Self {
        let (sin, cos) = math::sin_cos(angle.to_radians());
        at(self.x * cos - self.y * sin, self.x * sin + self.y * cos)
    }

    /// The point a share of the way to another: 0 here, 1 there.
    pub(super) fn toward(self, other: Self, share: f64) -> Self {
        self + (other - self) * share
    }
}

impl Add for Vector {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        at(self.x + other.x, self.y + other.y)
    }
}

impl Sub for Vector {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        at(self.x - other.x, self.y - other.y)
    }
}

impl Mul<f64> for Vector {
    type Output = Self;
    fn mul(self, factor: f64) -> Self {
        at(self.x * factor, self.y * factor)
    }
}

/// The direction a run of points has at one of them, the nearer neighbour counting more; at an
/// end, that of its only neighbour.
pub(super) fn heading(points: &[Vector], index: usize) -> Vector {
    let last = points.len().saturating_sub(1);
    let ahead = points[(index + 1).min(last)] - points[index];
    let behind = points[index] - points[index.saturating_sub(1)];
    (ahead.direction() * behind.size() + behind.direction() * ahead.size())
        .direction_or(ahead + behind)
}

/// The height of a broken line through knots (x, y), x rising; level beyond its ends.
pub(super) fn height_at(knots: &[Vector], x: f64) -> f64 {
    let mut before = None::<Vector>;
    for &knot in knots {
        if x <= knot.x {
            return before.map_or(knot.y, |start| {
                let run = knot.x - start.x;
                let share = if run > 0.0 { (x - start.x) / run } else { 1.0 };
                start.toward(knot, share).y
            });
        }
        before = Some(knot);
    }
    before.map_or(0.0, |last| last.y)
}

/// The point a share of the way along a broken line: 0 its start, 1 its end.
pub(super) fn along(points: &[Vector], share: f64) -> Vector {
    let whole: f64 = points.windows(2).map(|pair| (pair[1] - pair[0]).size()).sum();
    let mut left = whole * share;
    for pair in points.windows(2) {
        let size = (pair[1] - pair[0]).size();
        if size > 0.0 && left <= size {
            return pair[0].toward(pair[1], left / size);
        }
        left -= size;
    }
    points.last().copied().unwrap_or(at(0.0, 0.0))
}
