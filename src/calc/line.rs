//! The taut line: its path over the contact points, its length, its moment arm.

use num_dual::Dual64;

use super::geometry::{Geometry, Lengths, Measure};
use crate::units::math::{Real, atan2, hypot};
use crate::units::{Angle, Length};

/// A point in the frame of the mechanics.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Point {
    /// Distally along the forearm's midline.
    pub x: Length,
    /// Toward the pull.
    pub y: Length,
}

/// A point that the line can bend over.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Contact {
    /// C: the cuff's proximal edge.
    CuffEdge,
    /// F: the forearm piece's distal edge.
    PieceEdge,
}

/// Coordinates in mm, plain or carrying derivatives.
#[derive(Debug, Clone, Copy)]
struct Spot<T> {
    x: T,
    y: T,
}

impl<T: Real> Spot<T> {
    fn to(self, other: Self) -> Self {
        Self { x: other.x - self.x, y: other.y - self.y }
    }

    fn cross(self, other: Self) -> T {
        self.x * other.y - self.y * other.x
    }

    fn size(self) -> T {
        (self.x * self.x + self.y * self.y).root()
    }
}

/// The corners of the line from the exit hole to the tab's hole, and what each lies on.
struct Corners<T> {
    spots: [Spot<T>; 4],
    used: [bool; 4],
}

/// Places of the four points in their order along the line.
const HOLE: usize = 0;
const CUFF: usize = 1;
const PIECE: usize = 2;
const TAB: usize = 3;

impl<T: Real> Corners<T> {
    /// The shortest path that stays on the pull side of both contact points, for points that follow
    /// each other along the forearm (see [`TautLine::is_in_order`]).
    ///
    /// P(θ) = R(θ)(D − a, h); C(θ) = R(θ)(E − a, e); F = (−(c + a), f); A = (−(S + a + u), k).
    /// Going proximally with the pull side on the right, each bend must turn left; a contact
    /// point that would turn the line right is not touched. Taking the points in their order
    /// and dropping those that do not turn left gives the convex chain, as in Andrew's monotone
    /// chain (Inf Process Lett 1979;9:216-219, from memory).
    fn taut(lengths: &Lengths<T>, theta: T, u: T) -> Self {
        let of = |measure| lengths.of(measure);
        let a = of(Measure::AxisPastCrease);
        let (sin, cos) = theta.sine_cosine();
        let turned = |x: T, y: T| Spot { x: x * cos - y * sin, y: x * sin + y * cos };
        let spots = [
            turned(of(Measure::HoleFromCrease) - a, of(Measure::HoleHeight)),
            turned(of(Measure::CuffEdgeFromCrease) - a, of(Measure::CuffEdgeHeight)),
            Spot { x: -(of(Measure::PieceEdgeFromCrease) + a), y: of(Measure::PieceEdgeHeight) },
            Spot { x: -(of(Measure::StripStartFromCrease) + a + u), y: of(Measure::StripHeight) },
        ];
        let mut chain = vec![HOLE];
        for next in [CUFF, PIECE, TAB] {
            while let [.., before, last] = chain[..] {
                let turn = spots[before].to(spots[last]).cross(spots[last].to(spots[next]));
                if turn.value() > 0.0 {
                    break;
                }
                chain.pop();
            }
            chain.push(next);
        }
        let mut used = [false; 4];
        for index in chain {
            used[index] = true;
        }
        Self { spots, used }
    }

    fn path(&self) -> impl Iterator<Item = Spot<T>> + '_ {
        (0..4).filter(|&index| self.used[index]).map(|index| self.spots[index])
    }

    fn length(&self) -> T {
        let mut path = self.path();
        let first = path.next().unwrap_or(self.spots[HOLE]);
        path.fold((T::of(0.0), first), |(sum, from), to| (sum + from.to(to).size(), to)).0
    }

    /// The crossing segment: last point on the hand, first point on the forearm.
    fn crossing(&self) -> (Spot<T>, Spot<T>) {
        let hand = if self.used[CUFF] { CUFF } else { HOLE };
        let forearm = if self.used[PIECE] { PIECE } else { TAB };
        (self.spots[hand], self.spots[forearm])
    }
}

/// The taut line at one wrist angle and one place of the tab.
#[derive(Debug, Clone, PartialEq)]
pub struct TautLine {
    path: Vec<(f64, f64)>,
    contacts: [(f64, f64); 2],
    hand: (f64, f64),
    forearm: (f64, f64),
    touches: Vec<Contact>,
    theta: Angle,
}

impl TautLine {
    /// The line at wrist angle θ with the tab's hole at u along the strip.
    #[must_use]
    pub fn at(geometry: &Geometry, theta: Angle, u: Length) -> Self {
        let corners = Corners::taut(&geometry.lengths, theta.to_radians(), u.to_mm());
        let pair = |spot: Spot<f64>| (spot.x, spot.y);
        let (hand, forearm) = corners.crossing();
        let touched = [(CUFF, Contact::CuffEdge), (PIECE, Contact::PieceEdge)];
        Self {
            path: corners.path().map(pair).collect(),
            contacts: [pair(corners.spots[CUFF]), pair(corners.spots[PIECE])],
            hand: pair(hand),
            forearm: pair(forearm),
            touches: touched.iter().filter(|(at, _)| corners.used[*at]).map(|it| it.1).collect(),
            theta,
        }
    }

    /// L: the line's length from the exit hole to the tab's hole.
    #[must_use]
    pub fn length(&self) -> Length {
        Length::mm(self.path.windows(2).map(|w| hypot(w[1].0 - w[0].0, w[1].1 - w[0].1)).sum())
    }

    /// The corners from the exit hole to the tab's hole.
    #[must_use]
    pub fn corners(&self) -> Vec<Point> {
        self.path.iter().map(|&(x, y)| Point { x: Length::mm(x), y: Length::mm(y) }).collect()
    }

    /// Whether hole, cuff edge, piece edge and tab still follow each other along the forearm.
    ///
    /// The path is reckoned for that order only. Past it the pieces meet, or the hand is bent past
    /// square and the line no longer runs over the cuff's edge as planned.
    #[must_use]
    pub fn is_in_order(&self) -> bool {
        let [cuff, piece] = self.contacts;
        let ends = self.path.first().zip(self.path.last());
        ends.is_some_and(|(hole, tab)| hole.0 > cuff.0 && cuff.0 > piece.0 && piece.0 > tab.0)
    }

    /// The contact points it bends over, from the hand to the forearm.
    #[must_use]
    pub fn touches(&self) -> &[Contact] {
        &self.touches
    }

    /// The least distance from a contact point to the line; nothing where it touches one.
    #[must_use]
    pub fn clearance(&self) -> Length {
        let to_line = |point: (f64, f64)| {
            let segments = self.path.windows(2).map(|w| distance(point, w[0], w[1]));
            segments.fold(f64::INFINITY, f64::min)
        };
        if !self.touches.is_empty() {
            return Length::ZERO;
        }
        Length::mm(to_line(self.contacts[0]).min(to_line(self.contacts[1])))
    }

    /// r: the moment arm about the wrist's axis, positive where the line turns the wrist toward
    /// its pull.
    ///
    /// r = (G × B) / |G − B| with G the last point on the hand and B the first on the forearm;
    /// by the principle of virtual work r = −∂L/∂θ (Sherman, Seth, Delp 2013, PMC4404026).
    #[must_use]
    pub fn moment_arm(&self) -> Length {
        let ((gx, gy), (bx, by)) = (self.hand, self.forearm);
        Length::mm((gx * by - gy * bx) / hypot(gx - bx, gy - by))
    }

    /// φ: from the hand's midline, pointing to the wrist, to the crossing segment, hand to
    /// forearm; 90° is square, below it the pull presses the joint together.
    #[must_use]
    pub fn pull_angle(&self) -> Angle {
        let (along, across) = self.direction_on_hand();
        Angle::radians(atan2(across, -along))
    }

    /// sin φ: the share of the pull that turns the wrist.
    #[must_use]
    pub fn rotating_share(&self) -> f64 {
        self.direction_on_hand().1
    }

    /// cos φ: the share along the hand, positive where it presses the joint together.
    #[must_use]
    pub fn axial_share(&self) -> f64 {
        -self.direction_on_hand().0
    }

    /// Unit vector of the crossing segment, hand to forearm, in the hand's frame: distally along
    /// the hand, and toward the pull.
    #[must_use]
    pub fn direction_on_hand(&self) -> (f64, f64) {
        let (x, y) = self.direction_on_forearm();
        self.to_hand(x, y)
    }

    /// The same unit vector in the forearm's frame.
    #[must_use]
    pub fn direction_on_forearm(&self) -> (f64, f64) {
        let ((gx, gy), (bx, by)) = (self.hand, self.forearm);
        let size = hypot(bx - gx, by - gy);
        ((bx - gx) / size, (by - gy) / size)
    }

    /// Where the line's force acts on the hand, in the hand's frame.
    #[must_use]
    pub fn grip_on_hand(&self) -> Point {
        let (x, y) = self.to_hand(self.hand.0, self.hand.1);
        Point { x: Length::mm(x), y: Length::mm(y) }
    }

    /// Where the line's force acts on the forearm.
    #[must_use]
    pub fn grip_on_forearm(&self) -> Point {
        Point { x: Length::mm(self.forearm.0), y: Length::mm(self.forearm.1) }
    }

    /// How far the line bends between the crossing stretch and the tab: over the forearm piece's
    /// edge, where it touches that.
    #[must_use]
    pub fn bend_toward_tab(&self) -> Angle {
        if !self.touches.contains(&Contact::PieceEdge) {
            return Angle::ZERO;
        }
        let (Some(tab), (fx, fy)) = (self.path.last(), self.forearm) else { return Angle::ZERO };
        let (cx, cy) = self.direction_on_forearm();
        let (tx, ty) = (tab.0 - fx, tab.1 - fy);
        Angle::radians(atan2(cx * ty - cy * tx, cx * tx + cy * ty)).abs()
    }

    /// How far the tab moves for each unit of wrist angle at the same loop: du/dθ = r / (∂L/∂u),
    /// where ∂L/∂u is the cosine between the line's last stretch and the strip.
    ///
    /// The result is a length per radian.
    #[must_use]
    pub fn travel_per_radian(&self) -> Length {
        self.moment_arm() / self.lengthening()
    }

    /// ∂L/∂u: how much the line lengthens for each unit the tab moves toward the elbow.
    #[must_use]
    pub fn lengthening(&self) -> f64 {
        match self.path[..] {
            [.., (fx, fy), (ax, ay)] => (fx - ax) / hypot(fx - ax, fy - ay),
            _ => 1.0,
        }
    }

    fn to_hand(&self, x: f64, y: f64) -> (f64, f64) {
        let (sin, cos) = crate::units::math::sin_cos(self.theta.to_radians());
        (x * cos + y * sin, y * cos - x * sin)
    }
}

/// ∂L/∂(measure) at an angle and a place of the tab, exact, by automatic differentiation.
#[must_use]
pub fn length_by(geometry: &Geometry, theta: Angle, u: Length, measure: Measure) -> f64 {
    let lengths = geometry.lengths.map(|it, value| {
        let plain = Dual64::from_re(value);
        if it == measure { plain.derivative() } else { plain }
    });
    let theta = Dual64::from_re(theta.to_radians());
    Corners::taut(&lengths, theta, Dual64::from_re(u.to_mm())).length().eps
}

/// −∂L/∂θ by automatic differentiation, as a length per radian: an independent road to the
/// moment arm.
#[must_use]
pub fn shortening(geometry: &Geometry, theta: Angle, u: Length) -> Length {
    let lengths = geometry.lengths.map(|_, value| Dual64::from_re(value));
    let theta = Dual64::from_re(theta.to_radians()).derivative();
    let corners = Corners::taut(&lengths, theta, Dual64::from_re(u.to_mm()));
    Length::mm(-corners.length().eps)
}

/// Distance from a point to a segment.
fn distance(point: (f64, f64), from: (f64, f64), to: (f64, f64)) -> f64 {
    let (dx, dy) = (to.0 - from.0, to.1 - from.1);
    let (px, py) = (point.0 - from.0, point.1 - from.1);
    let square = dx * dx + dy * dy;
    let along = if square > 0.0 { ((px * dx + py * dy) / square).clamp(0.0, 1.0) } else { 0.0 };
    hypot(px - along * dx, py - along * dy)
}
