//! Outlines: smooth runs of points, shells of even thickness, tapering fingers, rings.

use super::plane::{Vector, at, heading};
use crate::units::{Angle, math};

/// One stroke of an outline, in drawing points.
#[derive(Debug, Clone, Copy)]
pub(super) enum Stroke {
    Line(Vector),
    Curve(Vector, Vector, Vector),
}

/// A path that grows run by run, not yet on its page.
#[derive(Debug, Clone)]
pub(super) struct Outline {
    pub(super) start: Vector,
    pub(super) strokes: Vec<Stroke>,
    pub(super) closed: bool,
}

/// How far a smooth run's handles reach: a third of the chord gives a curve without overshoot.
const HANDLE: f64 = 1.0 / 3.0;
/// How far the handles of a rounded corner reach toward it: near enough to a quarter circle.
const CORNER_REACH: f64 = 0.55;
/// Half a turn in steps of the round end of a finger.
const CAP_STEPS: [f64; 5] = [60.0, 30.0, 0.0, -30.0, -60.0];
/// A ring's four quarters need handles of this share of the radius; (4/3)·tan(90°/4).
const QUARTER_HANDLE: f64 = 0.552_284_75;

impl Outline {
    /// Straight through the points.
    pub(super) fn straight(points: &[Vector]) -> Self {
        let mut outline = Self::from(points.first().copied().unwrap_or(at(0.0, 0.0)));
        outline.line(points.get(1..).unwrap_or_default());
        outline
    }

    /// Smooth through the points.
    pub(super) fn smooth(points: &[Vector]) -> Self {
        let mut outline = Self::from(points.first().copied().unwrap_or(at(0.0, 0.0)));
        outline.run(points);
        outline
    }

    /// Nothing yet but a start.
    pub(super) fn from(start: Vector) -> Self {
        Self { start, strokes: Vec::new(), closed: false }
    }

    /// Joins the end to the start.
    pub(super) fn close(mut self) -> Self {
        self.closed = true;
        self
    }

    /// Goes on straight through the points.
    pub(super) fn line(&mut self, points: &[Vector]) {
        self.strokes.extend(points.iter().map(|&point| Stroke::Line(point)));
    }

    /// Goes straight to the first point, then smoothly through the rest.
    pub(super) fn run(&mut self, points: &[Vector]) {
        let Some(&first) = points.first() else { return };
        if (first - self.end()).size() > 0.0 {
            self.strokes.push(Stroke::Line(first));
        }
        for (index, pair) in points.windows(2).enumerate() {
            let reach = (pair[1] - pair[0]).size() * HANDLE;
            let leave = pair[0] + heading(points, index) * reach;
            let arrive = pair[1] - heading(points, index + 1) * reach;
            self.strokes.push(Stroke::Curve(leave, arrive, pair[1]));
        }
    }

    /// Goes round a corner to a point past it, without reaching it.
    pub(super) fn bend(&mut self, corner: Vector, after: Vector) {
        let leave = self.end().toward(corner, CORNER_REACH);
        self.strokes.push(Stroke::Curve(leave, after.toward(corner, CORNER_REACH), after));
    }

    fn end(&self) -> Vector {
        match self.strokes.last() {
            Some(Stroke::Line(end) | Stroke::Curve(_, _, end)) => *end,
            None => self.start,
        }
    }

    /// Every defining point moved by the same rule.
    pub(super) fn map(&self, place: impl Fn(Vector) -> Vector) -> Self {
        let strokes = self.strokes.iter().map(|stroke| match *stroke {
            Stroke::Line(end) => Stroke::Line(place(end)),
            Stroke::Curve(leave, arrive, end) => {
                Stroke::Curve(place(leave), place(arrive), place(end))
            }
        });
        Self { start: place(self.start), strokes: strokes.collect(), closed: self.closed }
    }
}

/// A shell seen on edge: its outer face through the points, its inner face `thickness` (mm) to
/// the left of their course.
pub(super) fn shell(outer: &[Vector], thickness: f64) -> Outline {
    let inner: Vec<Vector> = (0..outer.len())
        .rev()
        .map(|index| outer[index] + heading(outer, index).left() * thickness)
        .collect();
    let mut outline = Outline::smooth(outer);
    outline.run(&inner);
    outline.close()
}

/// A finger: half as wide on each side of its middle line as told (mm), with a round tip at the
/// last point, open at the first.
pub(super) fn finger(middle: &[(Vector, f64)]) -> Vec<Vector> {
    let points: Vec<Vector> = middle.iter().map(|knot| knot.0).collect();
    let side = |sign: f64| {
        let points = &points;
        middle.iter().enumerate().map(move |(index, &(point, half))| {
            point + heading(points, index).left() * (half * sign)
        })
    };
    let mut outline: Vec<Vector> = side(1.0).collect();
    if let Some(&(tip, half)) = middle.last() {
        let ahead = heading(&points, points.len() - 1);
        outline
            .extend(CAP_STEPS.iter().map(|&step| tip + ahead.turned(Angle::degrees(step)) * half));
    }
    let back: Vec<Vector> = side(-1.0).collect();
    outline.extend(back.iter().rev());
    outline
}

/// An upright ellipse about a centre with half axes along x and y (mm).
pub(super) fn ellipse(centre: Vector, half: Vector) -> Outline {
    let spot = |x: f64, y: f64| centre + at(x * half.x, y * half.y);
    let h = QUARTER_HANDLE;
    let mut outline = Outline::from(spot(1.0, 0.0));
    outline.strokes = vec![
        Stroke::Curve(spot(1.0, h), spot(h, 1.0), spot(0.0, 1.0)),
        Stroke::Curve(spot(-h, 1.0), spot(-1.0, h), spot(-1.0, 0.0)),
        Stroke::Curve(spot(-1.0, -h), spot(-h, -1.0), spot(0.0, -1.0)),
        Stroke::Curve(spot(h, -1.0), spot(1.0, -h), spot(1.0, 0.0)),
    ];
    outline.close()
}

/// Points on an upright ellipse at angles from the x axis (degrees), positive to the left.
pub(super) fn arc(centre: Vector, half: Vector, degrees: &[f64]) -> Vec<Vector> {
    let spot = |&turn: &f64| {
        let (sin, cos) = math::sin_cos(Angle::degrees(turn).to_radians());
        centre + at(cos * half.x, sin * half.y)
    };
    degrees.iter().map(spot).collect()
}

/// A closed polygon with its corners rounded off by at most `radius` (mm).
pub(super) fn rounded(corners: &[Vector], radius: f64) -> Outline {
    let count = corners.len();
    let cut = |from: Vector, to: Vector| {
        let reach = radius.min((to - from).size() / 2.0);
        from + (to - from).direction() * reach
    };
    let mut outline = Outline::from(at(0.0, 0.0));
    for (index, &corner) in corners.iter().enumerate() {
        let before = cut(corner, corners[(index + count - 1) % count]);
        let after = cut(corner, corners[(index + 1) % count]);
        if index == 0 {
            outline.start = before;
        } else {
            outline.line(&[before]);
        }
        outline.bend(corner, after);
    }
    outline.close()
}
