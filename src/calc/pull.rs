//! One pull reckoned: loops and marks, loads and what gives first, better lines of pull.

use jiff::civil::Date;

use super::alternatives::{self, Alternative};
use super::as_built::{AsBuilt, Observation, Planned, as_built};
use super::ceiling::{self, Allowed, Ceiling};
use super::geometry::Geometry;
use super::hold::hold;
use super::line::TautLine;
use super::load::{self, Load};
use super::loops::{self, Aim, InUse, Loop, Loops, Mark, Shortfall};
use super::progress::points;
use super::stock::{self, Choice};
use super::torque::TorqueCurve;
use crate::case::{Built, Case, Direction, Pull};
use crate::units::{Angle, Force, Length};

/// One pull reckoned.
#[derive(Debug, Clone, PartialEq)]
pub struct PullPlan {
    /// Which way.
    pub direction: Direction,
    /// Today's passive limit.
    pub start: Angle,
    /// The goal.
    pub goal: Angle,
    /// The wrist's angle at the strip's distal end of the first loop.
    pub rest: Angle,
    /// The moment arm there.
    pub rest_arm: Length,
    /// The angle past which no mark is given out before the doctor's word.
    pub hold: Option<Angle>,
    /// How far the tab's places moved today's mark from where the loop's own length puts it.
    pub moved: Option<Angle>,
    /// The loop in use as it was made, as far as the visits tell.
    pub as_built: Option<AsBuilt>,
    /// The furthest angle that any loop reaches.
    pub reachable: Angle,
    /// Why the goal is not reached, if it is not.
    pub shortfall: Option<Shortfall>,
    /// The loops.
    pub loops: Vec<Loop>,
    /// How far the loop in use reaches, where one was made.
    pub in_use: Option<InUse>,
    /// Where things lie.
    pub geometry: Geometry,
    /// The measured pull of the stiff joint.
    pub torque: TorqueCurve,
    /// What skin, line and tab may bear.
    pub allowed: Allowed,
    /// The same case built otherwise, the least press on the joint first.
    pub alternatives: Vec<Alternative>,
    /// What to take from the clinic's shelf, where the torque is known.
    pub choice: Option<Choice>,
}

impl PullPlan {
    /// All marks of all loops.
    pub fn marks(&self) -> impl Iterator<Item = &Mark> {
        self.loops.iter().flat_map(|it| &it.marks)
    }

    /// Whether a mark may be given to the patient, or waits for the doctor's word.
    #[must_use]
    pub fn is_given_out(&self, mark: &Mark) -> bool {
        self.hold.is_none_or(|hold| mark.angle <= hold)
    }

    /// Loads at a mark, where the torque is known and the line turns the wrist toward its pull.
    #[must_use]
    pub fn load(&self, mark: &Mark) -> Option<Load> {
        load::load(&self.geometry, &mark.line, self.torque.at(mark.angle)?)
    }

    /// The largest torque that every limit allows at a mark, and which limit it is.
    #[must_use]
    pub fn ceiling(&self, mark: &Mark) -> Option<Ceiling> {
        ceiling::ceiling(&self.geometry, &mark.line, &self.allowed)
    }

    /// The passive range toward this pull at every day it was measured.
    #[must_use]
    pub fn points(&self, case: &Case) -> Vec<(Date, Angle)> {
        points(case, self.direction)
    }

    /// The loads at all marks, where the torque is known.
    pub fn loads(&self) -> impl Iterator<Item = Load> {
        self.marks().filter_map(|mark| self.load(mark))
    }
}

pub(super) fn pull_plan(case: &Case, pull: &Pull) -> PullPlan {
    let planned = Geometry::of(case, pull);
    // A case that was read has today's range toward each of its pulls.
    let start = case.passive(pull.direction).unwrap_or_default();
    let aim = Aim {
        // No mark lies past the goal.
        start: start.min(pull.goal),
        goal: pull.goal,
        reserve: pull.reserve,
        cuff_path: pull.line.cuff_path,
        tail: pull.line.tail,
        in_use: None,
    };
    let by_length = pull.in_use().map(|it| (planned.clone(), line_of(pull, it.flat)));
    let (tried, fitted) = pull.in_use().map(|it| fit(case, pull, it, &planned, &aim)).unzip();
    let geometry = fitted.as_ref().map_or(planned, |it| it.geometry.clone());
    let in_use = pull.in_use().zip(fitted.as_ref());
    let aim = Aim { in_use: in_use.map(|(made, it)| (made.number as usize, it.line)), ..aim };
    let mut made = loops::loops(&geometry, &aim);
    if let Some(fitted) = &fitted {
        for mark in made.loops.iter_mut().filter(|it| it.is_in_use).flat_map(|it| &mut it.marks) {
            mark.spread = fitted.spread_at(mark.angle);
        }
    }
    let rest = start - pull.reserve;
    let rest_arm = TautLine::at(&geometry, rest, geometry.first_place()).moment_arm();
    let torque = TorqueCurve::of(&case.readings(pull.direction), pull.direction, start);
    let mut plan = PullPlan {
        direction: pull.direction,
        start,
        goal: pull.goal,
        rest,
        rest_arm,
        moved: tried.as_ref().and_then(|it| moved(it, by_length.as_ref(), &made, aim.start)),
        as_built: fitted,
        reachable: made.reachable,
        shortfall: made.shortfall,
        loops: made.loops,
        hold: hold(case, pull),
        allowed: Allowed::of(case, pull.line.strength),
        alternatives: alternatives::alternatives(case, pull, &aim, &torque),
        choice: None,
        in_use: made.in_use,
        torque,
        geometry,
    };
    plan.choice = choice(case, &plan);
    plan
}

/// The loop in use, from its measured length and from where its tab stood at the visits since it was made: as all
/// places tell it, and as the marks go by it.
fn fit(
    case: &Case,
    pull: &Pull,
    made: &Built,
    geometry: &Geometry,
    aim: &Aim,
) -> (AsBuilt, AsBuilt) {
    let planned = Planned {
        geometry,
        line: line_of(pull, made.flat),
        line_error: case.measuring_error.tape,
        range: (aim.start - aim.reserve, aim.goal),
        goniometer: case.measuring_error.goniometer,
    };
    let since = case.visits.iter().filter(|it| it.date() >= made.from);
    let seen: Vec<Observation> = since
        .flat_map(|it| &it.tab)
        .filter(|it| it.pull == pull.direction)
        .map(|it| Observation { angle: it.angle, place: it.place })
        .collect();
    let tried = as_built(&planned, &seen);
    (tried.clone(), tried.held_back(&planned, aim.start))
}

/// Today's mark as fitted less the one by the loop's measured length, in degrees of the wrist; positive where
/// the patient would pull harder.
fn moved(
    fitted: &AsBuilt,
    by_length: Option<&(Geometry, Length)>,
    made: &Loops,
    today: Angle,
) -> Option<Angle> {
    let (geometry, line) = by_length?;
    let mark = made.loops.iter().filter(|it| it.is_in_use).find_map(|it| it.marks.first())?;
    let planned = loops::hole_at(geometry, *line, today) + geometry.hole_to_pad;
    Some(Angle::degrees((fitted.place_at(today) - planned) / mark.per_degree))
}

/// L of a loop measured flat: (2 · flat − w) / 2.
fn line_of(pull: &Pull, flat: Length) -> Length {
    flat - pull.line.cuff_path / 2.0
}

/// What to take from the shelf for the largest loads of a pull.
fn choice(case: &Case, plan: &PullPlan) -> Option<Choice> {
    let strand = plan.loads().map(|load| load.strand).reduce(Force::max)?;
    let pull = plan.loads().map(|load| load.at_tab).reduce(Force::max)?;
    let furthest = plan.marks().map(|mark| mark.place).reduce(Length::max)?;
    Some(stock::choose(case, strand, pull, plan.geometry.strip_length - furthest))
}
