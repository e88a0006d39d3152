//! Free bodies to scale: the forces on hand and forearm at one wrist angle.
//!
//! Lengths are true; forces are arrows of so many millimetres a newton, pressures so many a
//! kilopascal. Frame and signs are those of the mechanics: x distally, y toward the pull.

use super::geometry::{Geometry, Measure};
use super::line::{Point, TautLine};
use super::load::Load;
use crate::units::math::sin_cos;
use crate::units::{Angle, Length};

/// What a piece of a free body shows.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// Forearm and hand, their midlines.
    Bone,
    /// The span of cuff or forearm piece.
    Span,
    /// The line.
    Line,
    /// The pull on the hand.
    Pull,
    /// Its part across the hand.
    Across,
    /// Its part along the hand, which presses the joint.
    Joint,
    /// The push behind the elbow.
    Elbow,
    /// Pressure under a piece.
    Pressure,
}

/// One stroke or outline.
#[derive(Debug, Clone, PartialEq)]
pub struct Stroke {
    /// What it shows.
    pub kind: Kind,
    /// Its corners; the last is the tip of an arrow where the kind is a force.
    pub corners: Vec<Point>,
}

/// The free bodies at one mark.
#[derive(Debug, Clone, PartialEq)]
pub struct FreeBody {
    /// The wrist's angle.
    pub angle: Angle,
    /// The loads drawn.
    pub load: Load,
    /// The strokes.
    pub strokes: Vec<Stroke>,
}

/// Millimetres of arrow for the pull that is drawn longest.
const LONGEST: Length = Length::mm(90.0);
/// Millimetres for one kilopascal.
const PER_KPA: Length = Length::mm(10.0);

/// The length of an arrow for one newton, the same in all bodies that are compared.
#[must_use]
pub fn scale(loads: &[Load]) -> Length {
    let most = loads.iter().map(|it| it.tension.to_newtons()).fold(0.0, f64::max);
    if most > 0.0 { LONGEST / most } else { Length::ZERO }
}

/// The free bodies at a mark, with `per_newton` of arrow.
#[must_use]
pub fn free_body(
    geometry: &Geometry,
    line: &TautLine,
    angle: Angle,
    load: Load,
    per_newton: Length,
) -> FreeBody {
    let axis = geometry.length(Measure::AxisPastCrease);
    let near = geometry.length(Measure::CuffEdgeFromCrease) - axis;
    let far = geometry.cuff_end - axis;
    let edge = -(geometry.length(Measure::PieceEdgeFromCrease) + axis);
    let end = edge - geometry.piece_length;
    let hand = Hand::at(angle);
    let on_forearm = |x: Length, y: Length| Point { x, y };
    let mut strokes = vec![
        stroke(Kind::Bone, [on_forearm(end, Length::ZERO), on_forearm(Length::ZERO, Length::ZERO)]),
        stroke(Kind::Bone, [hand.place(Length::ZERO, Length::ZERO), hand.place(far, Length::ZERO)]),
        stroke(Kind::Line, line.corners()),
    ];
    let cuff = load.cuff.ends();
    strokes.push(pressure(|x, y| hand.place(x, y), near, far, cuff.0.to_kpa(), cuff.1.to_kpa()));
    let forearm = load.forearm.ends();
    strokes.push(pressure(on_forearm, end, edge, forearm.0.to_kpa(), forearm.1.to_kpa()));
    strokes
        .push(stroke(Kind::Span, [hand.place(near, Length::ZERO), hand.place(far, Length::ZERO)]));
    strokes
        .push(stroke(Kind::Span, [on_forearm(end, Length::ZERO), on_forearm(edge, Length::ZERO)]));
    strokes.extend(forces(line, &hand, load, per_newton));
    let push = per_newton * (load.tension.to_newtons() * line.direction_on_forearm().0.abs());
    strokes.push(stroke(
        Kind::Elbow,
        [on_forearm(end - push, Length::ZERO), on_forearm(end, Length::ZERO)],
    ));
    FreeBody { angle, load, strokes }
}

/// The pull at the hand's hole and its parts across and along the hand.
fn forces(line: &TautLine, hand: &Hand, load: Load, per_newton: Length) -> [Stroke; 3] {
    let grip = line.grip_on_hand();
    let (along, across) = line.direction_on_hand();
    let pull = per_newton * load.tension.to_newtons();
    let at = |x: Length, y: Length| hand.place(grip.x + x, grip.y + y);
    let start = at(Length::ZERO, Length::ZERO);
    [
        stroke(Kind::Joint, [start, at(pull * along, Length::ZERO)]),
        stroke(Kind::Across, [start, at(Length::ZERO, pull * across)]),
        stroke(Kind::Pull, [start, at(pull * along, pull * across)]),
    ]
}

/// The linear pressure over a span, as an outline that stands off the midline: on the side away
/// from the pull where the piece presses there, on the other where it presses there.
fn pressure(
    place: impl Fn(Length, Length) -> Point,
    proximal: Length,
    distal: Length,
    at_proximal_kpa: f64,
    at_distal_kpa: f64,
) -> Stroke {
    let corners = vec![
        place(proximal, Length::ZERO),
        place(proximal, PER_KPA * -at_proximal_kpa),
        place(distal, PER_KPA * -at_distal_kpa),
        place(distal, Length::ZERO),
    ];
    Stroke { kind: Kind::Pressure, corners }
}

fn stroke(kind: Kind, corners: impl Into<Vec<Point>>) -> Stroke {
    Stroke { kind, corners: corners.into() }
}

/// The hand's frame, turned by the wrist's angle.
struct Hand {
    sin: f64,
    cos: f64,
}

impl Hand {
    fn at(angle: Angle) -> Self {
        let (sin, cos) = sin_cos(angle.to_radians());
        Self { sin, cos }
    }

    fn place(&self, x: Length, y: Length) -> Point {
        Point { x: x * self.cos - y * self.sin, y: x * self.sin + y * self.cos }
    }
}
