//! How long each loop of line must be, how far it reaches, and where its marks lie.

use super::geometry::{Geometry, Measure};
use super::line::{TautLine, length_by};
use crate::units::math::hypot;
use crate::units::{Angle, Length};

/// Marks lie this far apart, from today's range to the goal.
const MARK_STEP: Angle = Angle::degrees(5.0);
/// A new loop begins this far before the end of the one before it.
const OVERLAP: Angle = Angle::degrees(5.0);
/// No wrist bends further; a loop that reaches beyond is said to reach this far.
const FURTHEST: Angle = Angle::degrees(120.0);
/// The scan for a loop's end looks every so far.
const SCAN: Angle = Angle::degrees(0.5);
/// A next loop must reach at least this much further to be worth making.
const GAIN: Angle = Angle::degrees(1.0);
/// More loops than this are no plan.
const MOST_LOOPS: usize = 8;
/// A goal this near past the last mark needs no mark of its own: a goniometer does not tell them apart.
const GOAL_APART: Angle = Angle::degrees(2.0);
/// Two angles this near count as one: far below what a goniometer shows.
const SAME: Angle = Angle::degrees(1e-6);

/// One loop of line; its length is fixed for life, the patient moves the tab.
#[derive(Debug, Clone, PartialEq)]
pub struct Loop {
    /// Its number, from 1.
    pub number: usize,
    /// `L_n`: from the exit hole to the tab's hole.
    pub line: Length,
    /// The whole loop: 2 L + w.
    pub closed: Length,
    /// The loop pulled flat over the gauge: half of `closed`.
    pub flat: Length,
    /// What to cut: `closed` + 2 t.
    pub cut: Length,
    /// The wrist's angle with the tab at the strip's distal end.
    pub from: Angle,
    /// The furthest angle with the whole pad on the strip.
    pub to: Angle,
    /// Its marks, in the order they are reached.
    pub marks: Vec<Mark>,
    /// Whether it was made already and is in use.
    pub is_in_use: bool,
}

/// One mark along the strip.
#[derive(Debug, Clone, PartialEq)]
pub struct Mark {
    /// Its number: 0 is today's range, each next one is 5° on or the goal, whichever loop reaches it.
    pub number: usize,
    /// The wrist's angle there.
    pub angle: Angle,
    /// u: the tab's hole along the strip.
    pub hole: Length,
    /// m = u + q: the pad's front edge along the strip, what the patient lines up.
    pub place: Length,
    /// One standard deviation of the place, from the measuring errors.
    pub spread: Length,
    /// How far the tab moves for one degree.
    pub per_degree: Length,
    /// The line there.
    pub line: TautLine,
}

/// Why no loop reaches the goal.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Shortfall {
    /// The strip leaves the tab too little room: each new loop gains next to nothing.
    Room,
    /// The line runs over the axis: pulling further does not bend the wrist further.
    Lever,
    /// The pieces meet, or the hand is bent past square.
    Edges,
}

/// The loops of one pull.
#[derive(Debug, Clone, PartialEq)]
pub struct Loops {
    /// One after another.
    pub loops: Vec<Loop>,
    /// The furthest angle any of them reaches.
    pub reachable: Angle,
    /// Why the goal is not reached, if it is not.
    pub shortfall: Option<Shortfall>,
    /// The loop in use, whether or not it still reaches today's range.
    pub in_use: Option<InUse>,
}

/// A loop that was made and is worn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct InUse {
    /// Its number, from 1.
    pub number: usize,
    /// The wrist's angle with the tab at the strip's distal end.
    pub from: Angle,
    /// The furthest angle with the whole pad on the strip.
    pub to: Angle,
}

/// What loops are reckoned for.
#[derive(Clone, Copy)]
pub(super) struct Aim {
    /// Today's passive limit.
    pub start: Angle,
    /// The goal.
    pub goal: Angle,
    /// The rest short of today's limit at the strip's distal end.
    pub reserve: Angle,
    /// w: line used up in cuff and tab, per closed loop.
    pub cuff_path: Length,
    /// t: tail at each end.
    pub tail: Length,
    /// The loop in use: its number and `L_n`; nothing before the first is made.
    pub in_use: Option<(usize, Length)>,
}

/// As many loops as are needed to reach the goal, or as help on the way to it.
///
/// `L_1` = L(start − reserve, `u_min`); `L_{n+1}` = L(`to_n` − 5°, `u_min`). A loop in use comes first as it
/// is, as long as today's range lies between its rest and its end.
pub(super) fn loops(geometry: &Geometry, aim: &Aim) -> Loops {
    let mut made: Vec<Loop> = Vec::new();
    let mut from = aim.start - aim.reserve;
    let mut shortfall = None;
    let mut before = 0;
    let mut in_use = None;
    if let Some((number, line)) = aim.in_use {
        before = number;
        let rest = rest_of(geometry, line);
        let (loop_in_use, block) = loop_of(geometry, aim, number, rest, line);
        in_use = Some(InUse { number, from: rest, to: loop_in_use.to });
        // Between its rest and its end it can hold today's range; outside it is no loop for this wrist.
        if loop_in_use.to + SAME >= aim.start && rest - SAME <= aim.start {
            from = loop_in_use.to - OVERLAP;
            before -= 1;
            let is_enough = loop_in_use.to + SAME >= aim.goal;
            made.push(Loop { is_in_use: true, ..loop_in_use });
            if is_enough || block.is_some() {
                let reachable = made[0].to;
                let shortfall = block.filter(|_| !is_enough);
                return Loops { loops: made, reachable, shortfall, in_use };
            }
        }
    }
    while made.len() < MOST_LOOPS {
        let (next, block) = one_loop(geometry, aim, before + made.len() + 1, from);
        let gain = made.last().map_or(next.to - aim.start, |last| next.to - last.to);
        let worth = if made.is_empty() { gain >= Angle::ZERO } else { gain >= GAIN };
        let to = next.to;
        if worth {
            made.push(next);
        }
        if worth && to + SAME >= aim.goal {
            break;
        }
        if block.is_some() || !worth {
            shortfall = block.or(Some(Shortfall::Room));
            if !worth && made.is_empty() {
                return Loops { loops: made, reachable: to, shortfall, in_use };
            }
            break;
        }
        from = to - OVERLAP;
    }
    let reachable = made.last().map_or(from, |last| last.to);
    if shortfall.is_none() && reachable + SAME < aim.goal {
        shortfall = Some(Shortfall::Room);
    }
    Loops { loops: made, reachable, shortfall, in_use }
}

/// The loop that rests at `from`, and what else than the strip ends it.
fn one_loop(
    geometry: &Geometry,
    aim: &Aim,
    number: usize,
    from: Angle,
) -> (Loop, Option<Shortfall>) {
    let line = TautLine::at(geometry, from, geometry.first_place()).length();
    loop_of(geometry, aim, number, from, line)
}

/// The loop of a length that rests at `from`.
fn loop_of(
    geometry: &Geometry,
    aim: &Aim,
    number: usize,
    from: Angle,
    line: Length,
) -> (Loop, Option<Shortfall>) {
    let (to, block) = furthest(geometry, from, line);
    let closed = line * 2.0 + aim.cuff_path;
    let marks = mark_angles(aim)
        .into_iter()
        .enumerate()
        .filter(|(_, angle)| from - SAME <= *angle && *angle <= to + SAME)
        .map(|(number, angle)| mark(geometry, line, number, angle))
        .collect();
    let made = Loop {
        number,
        line,
        closed,
        flat: closed / 2.0,
        cut: closed + aim.tail * 2.0,
        from,
        to,
        marks,
        is_in_use: false,
    };
    (made, block)
}

/// The angle at which a loop of given length rests with the tab at the strip's distal end: L(θ, `u_min`) = line.
fn rest_of(geometry: &Geometry, line: Length) -> Angle {
    let first = geometry.first_place();
    bisect_angle(-FURTHEST, FURTHEST, |theta| TautLine::at(geometry, theta, first).length() <= line)
}

/// Angles of the marks: each 5° from today's range, and the goal itself last where it lies at least
/// 2° past the last of those.
fn mark_angles(aim: &Aim) -> Vec<Angle> {
    let steps = ((aim.goal - aim.start + SAME) / MARK_STEP).floor();
    let mut angles: Vec<Angle> =
        (0..=steps as usize).map(|step| aim.start + MARK_STEP * step as f64).collect();
    if angles.last().is_some_and(|last| aim.goal - *last + SAME >= GOAL_APART) {
        angles.push(aim.goal);
    }
    angles
}

/// The furthest angle at which the whole pad is still on the strip, where L(θ, `u_max`) = line,
/// or what ends the motion before: the moment arm gives out, or the pieces' edges meet.
fn furthest(geometry: &Geometry, from: Angle, line: Length) -> (Angle, Option<Shortfall>) {
    let last = geometry.last_place();
    let slack = |theta| TautLine::at(geometry, theta, last).length() <= line;
    let mut low = from;
    loop {
        let here = TautLine::at(geometry, low, last);
        if here.moment_arm() <= Length::ZERO {
            return (low, Some(Shortfall::Lever));
        }
        if !here.is_in_order() {
            return (low, Some(Shortfall::Edges));
        }
        if low >= FURTHEST {
            return (FURTHEST, None);
        }
        let high = low + SCAN;
        if slack(high) && TautLine::at(geometry, high, last).is_in_order() {
            return (bisect_angle(low, high, slack), None);
        }
        low = high;
    }
}

/// Halvings that bring half a degree, or a metre, below the last bit that matters on paper.
const HALVINGS: usize = 60;

/// The angle between `low` and `high` at which `beyond` turns true.
fn bisect_angle(mut low: Angle, mut high: Angle, beyond: impl Fn(Angle) -> bool) -> Angle {
    for _ in 0..HALVINGS {
        let middle = (low + high) / 2.0;
        if beyond(middle) {
            high = middle;
        } else {
            low = middle;
        }
    }
    low
}

/// The mark at an angle: u solves L(θ, u) = line.
fn mark(geometry: &Geometry, line: Length, number: usize, angle: Angle) -> Mark {
    let hole = hole_at(geometry, line, angle);
    let taut = TautLine::at(geometry, angle, hole);
    let per_radian = taut.travel_per_radian();
    Mark {
        number,
        angle,
        hole,
        place: hole + geometry.hole_to_pad,
        spread: spread(geometry, angle, hole, &taut),
        per_degree: per_radian * Angle::degrees(1.0).to_radians(),
        line: taut,
    }
}

/// u at which the taut line is as long as a loop.
///
/// L grows with u as long as the tab lies proximal of all other points of the line, so halving finds
/// it between the forearm piece's edge and a pad's length past the strip's end.
#[must_use]
pub fn hole_at(geometry: &Geometry, line: Length, angle: Angle) -> Length {
    let edge = geometry.length(Measure::PieceEdgeFromCrease);
    let mut low = edge - geometry.length(Measure::StripStartFromCrease);
    let mut high = geometry.last_place() + geometry.pad_length;
    for _ in 0..HALVINGS {
        let middle = (low + high) / 2.0;
        if TautLine::at(geometry, angle, middle).length() > line {
            high = middle;
        } else {
            low = middle;
        }
    }
    (low + high) / 2.0
}

/// One standard deviation of a mark's place for a loop of given length.
///
/// First-order propagation: σ² = Σ (∂u/∂pᵢ · σᵢ)², ∂u/∂pᵢ = −(∂L/∂pᵢ)/(∂L/∂u), errors taken as
/// independent (JCGM 100:2008, 5.1.2, from memory). It is the error before the loop is tried on
/// the patient; trying mark 0 takes most of it away. Where w was not measured the loop made flat to its gauge has a line
/// that is off by half of w's error, which adds [`path_part`].
fn spread(geometry: &Geometry, angle: Angle, hole: Length, taut: &TautLine) -> Length {
    let total = Measure::ALL.iter().fold(0.0, |sum, &measure| {
        let slope = length_by(geometry, angle, hole, measure) / taut.lengthening();
        hypot(sum, slope * geometry.error(measure).to_mm())
    });
    Length::mm(hypot(total, path_part(geometry, taut).to_mm()))
}

/// The part of a mark's spread that comes from w not being measured: `σ_w` / 2 · ∂u/∂L.
pub(super) fn path_part(geometry: &Geometry, taut: &TautLine) -> Length {
    geometry.path_error / 2.0 / taut.lengthening()
}
