//! Outlines on the flat sheet: smooth paths with area, perimeter and extent, by kurbo.

use kurbo::{Affine, BezPath, ParamCurveNearest, Point, Shape};

use crate::units::{Angle, Area, Length, math};

/// A place on a flat piece: x along it to the right, y down, as on a page; from the piece's own origin.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spot {
    /// To the right.
    pub x: Length,
    /// Down.
    pub y: Length,
}

impl Spot {
    /// The place (x, y) in mm.
    pub(super) fn at(point: Point) -> Self {
        Self { x: Length::mm(point.x), y: Length::mm(point.y) }
    }

    fn point(self) -> Point {
        Point::new(self.x.to_mm(), self.y.to_mm())
    }

    /// Straight to another place.
    #[must_use]
    pub fn distance(self, other: Self) -> Length {
        Length::mm(self.point().distance(other.point()))
    }
}

/// What encloses an outline.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Extent {
    /// The least x and y.
    pub low: Spot,
    /// The greatest x and y.
    pub high: Spot,
}

impl Extent {
    /// Along x.
    #[must_use]
    pub fn width(&self) -> Length {
        self.high.x - self.low.x
    }

    /// Half way between its corners.
    #[must_use]
    pub fn middle(&self) -> Spot {
        Spot { x: (self.low.x + self.high.x) / 2.0, y: (self.low.y + self.high.y) / 2.0 }
    }

    /// Along y.
    #[must_use]
    pub fn height(&self) -> Length {
        self.high.y - self.low.y
    }
}

/// A smooth path in mm, closed unless it says otherwise.
#[derive(Debug, Clone, PartialEq)]
pub struct Outline(BezPath);

/// How far numerical lengths may be off (mm): far below what scissors follow.
const ACCURACY: f64 = 1e-4;
/// Handles of a quarter circle, in radii: (4/3)·tan(90°/4).
const QUARTER: f64 = 0.552_284_75;

/// A corner that is rounded off.
#[derive(Debug, Clone, Copy)]
pub(super) struct Corner {
    at: Point,
    reach: f64,
    /// Whether the reach is counted along x: then the rounded edge is a mean of the edges' heights
    /// with weights that do not depend on them.
    is_taper: bool,
}

impl Corner {
    /// Rounded so that it leaves its edges `reach` before and behind it: a square corner becomes a quarter
    /// circle of that radius.
    pub(super) fn round(x: f64, y: f64, reach: f64) -> Self {
        Self { at: Point::new(x, y), reach, is_taper: false }
    }

    /// A bend in an edge that runs along x.
    pub(super) fn taper(x: f64, y: f64, reach: f64) -> Self {
        Self { at: Point::new(x, y), reach, is_taper: true }
    }

    /// The same corner on the other side of the line y = 0.
    pub(super) fn across(self) -> Self {
        Self { at: Point::new(self.at.x, -self.at.y), ..self }
    }

    /// Moved to the other side of the line x = 0.
    pub(super) fn opposite(self) -> Self {
        Self { at: Point::new(-self.at.x, self.at.y), ..self }
    }

    /// The point on the way to a neighbour where the rounding begins. Two alike share the edge; a rounded end
    /// comes before a bend.
    fn leave(&self, neighbour: &Self) -> Point {
        let measure = |from: Point, to: Point| {
            if self.is_taper || neighbour.is_taper {
                (to.x - from.x).abs()
            } else {
                from.distance(to)
            }
        };
        let edge = measure(self.at, neighbour.at);
        if edge <= 0.0 {
            return self.at;
        }
        let most = match (self.is_taper, neighbour.is_taper) {
            (false, true) => 1.0,
            (true, false) => (1.0 - neighbour.reach / edge).max(0.0),
            _ => 0.5,
        };
        self.at.lerp(neighbour.at, (self.reach / edge).min(most))
    }
}

impl Outline {
    /// A closed polygon with each corner rounded: smooth wherever a corner has a reach.
    pub(super) fn rounded(corners: &[Corner]) -> Self {
        let mut path = BezPath::new();
        let count = corners.len();
        for (index, corner) in corners.iter().enumerate() {
            let before = corner.leave(&corners[(index + count - 1) % count]);
            let after = corner.leave(&corners[(index + 1) % count]);
            if index == 0 {
                path.move_to(before);
            } else {
                path.line_to(before);
            }
            path.curve_to(before.lerp(corner.at, QUARTER), after.lerp(corner.at, QUARTER), after);
        }
        path.close_path();
        Self(path)
    }

    /// A closed polygon with sharp corners.
    pub(super) fn polygon(corners: &[(f64, f64)]) -> Self {
        let mut outline = Self::open(corners);
        outline.0.close_path();
        outline
    }

    /// An upright rectangle.
    pub(super) fn rectangle(left: f64, top: f64, right: f64, bottom: f64) -> Self {
        Self::polygon(&[(left, top), (right, top), (right, bottom), (left, bottom)])
    }

    /// Straight through the points, not closed.
    pub(super) fn open(points: &[(f64, f64)]) -> Self {
        let mut path = BezPath::new();
        for (index, &(x, y)) in points.iter().enumerate() {
            if index == 0 {
                path.move_to((x, y));
            } else {
                path.line_to((x, y));
            }
        }
        Self(path)
    }

    /// An upright ellipse.
    pub(super) fn ellipse(x: f64, y: f64, half_wide: f64, half_high: f64) -> Self {
        let spot = |across: f64, down: f64| (x + across * half_wide, y + down * half_high);
        let mut path = BezPath::new();
        path.move_to(spot(1.0, 0.0));
        path.curve_to(spot(1.0, QUARTER), spot(QUARTER, 1.0), spot(0.0, 1.0));
        path.curve_to(spot(-QUARTER, 1.0), spot(-1.0, QUARTER), spot(-1.0, 0.0));
        path.curve_to(spot(-1.0, -QUARTER), spot(-QUARTER, -1.0), spot(0.0, -1.0));
        path.curve_to(spot(QUARTER, -1.0), spot(1.0, -QUARTER), spot(1.0, 0.0));
        path.close_path();
        Self(path)
    }

    /// A straight line between two places.
    #[must_use]
    pub fn line(from: Spot, to: Spot) -> Self {
        let mut path = BezPath::new();
        path.move_to(from.point());
        path.line_to(to.point());
        Self(path)
    }

    /// A rectangle with a corner at the origin.
    #[must_use]
    pub fn upright(width: Length, height: Length) -> Self {
        Self::rectangle(0.0, 0.0, width.to_mm(), height.to_mm())
    }

    /// A circle.
    #[must_use]
    pub fn circle(middle: Spot, diameter: Length) -> Self {
        let radius = diameter.to_mm() / 2.0;
        Self::ellipse(middle.x.to_mm(), middle.y.to_mm(), radius, radius)
    }

    /// The path, in mm.
    #[must_use]
    pub fn path(&self) -> &BezPath {
        &self.0
    }

    /// Whether it encloses something.
    #[must_use]
    pub fn is_closed(&self) -> bool {
        matches!(self.0.elements().last(), Some(kurbo::PathEl::ClosePath))
    }

    /// The area inside, by Green's theorem: ½ ∮ (x dy − y dx), without its sign.
    #[must_use]
    pub fn area(&self) -> Area {
        Area::mm2(self.0.area().abs())
    }

    /// The length of its edge.
    #[must_use]
    pub fn perimeter(&self) -> Length {
        Length::mm(self.0.perimeter(ACCURACY))
    }

    /// What encloses it.
    #[must_use]
    pub fn extent(&self) -> Extent {
        let bounds = self.0.bounding_box();
        Extent {
            low: Spot::at(Point::new(bounds.x0, bounds.y0)),
            high: Spot::at(Point::new(bounds.x1, bounds.y1)),
        }
    }

    /// Whether a place lies inside.
    #[must_use]
    pub fn holds(&self, spot: Spot) -> bool {
        self.0.winding(spot.point()) != 0
    }

    /// From a place to the nearest point of its edge.
    #[must_use]
    pub fn distance(&self, spot: Spot) -> Length {
        let nearest = self.0.segments().map(|it| it.nearest(spot.point(), ACCURACY).distance_sq);
        Length::mm(nearest.fold(f64::INFINITY, f64::min).sqrt())
    }

    /// The image in a mirror that stands across x at nothing.
    #[must_use]
    pub fn mirrored(&self) -> Self {
        Self(Affine::FLIP_X * self.0.clone())
    }

    /// Turned about a place, clockwise on the page, which then lies at another.
    #[must_use]
    pub fn laid(&self, about: Spot, at: Spot, turned: Angle) -> Self {
        let (sin, cos) = math::sin_cos(turned.to_radians());
        let (from, to) = (about.point(), at.point());
        let x = to.x - cos * from.x + sin * from.y;
        let y = to.y - sin * from.x - cos * from.y;
        Self(Affine::new([cos, sin, -sin, cos, x, y]) * self.0.clone())
    }

    /// Moved.
    #[must_use]
    pub fn moved(&self, by: Spot) -> Self {
        Self(Affine::translate((by.x.to_mm(), by.y.to_mm())) * self.0.clone())
    }
}
