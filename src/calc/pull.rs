//! One pull reckoned: loops and marks, loads and what gives first, better lines of pull.

use super::alternatives::{self, Alternative};
use super::ceiling::{self, Allowed, Ceiling};
use super::geometry::Geometry;
use super::hold::hold;
use super::line::TautLine;
use super::load::{self, Load};
use super::loops::{self, Aim, Loop, Mark, Shortfall};
use super::stock::{self, Choice};
use super::torque::TorqueCurve;
use crate::case::{Case, Direction, Pull};
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
    /// The furthest angle that any loop reaches.
    pub reachable: Angle,
    /// Why the goal is not reached, if it is not.
    pub shortfall: Option<Shortfall>,
    /// The loops.
    pub loops: Vec<Loop>,
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

    /// The loads at all marks, where the torque is known.
    pub fn loads(&self) -> impl Iterator<Item = Load> {
        self.marks().filter_map(|mark| self.load(mark))
    }
}

pub(super) fn pull_plan(case: &Case, pull: &Pull) -> PullPlan {
    let geometry = Geometry::of(case, pull);
    // A case that was read has today's range toward each of its pulls.
    let start = case.today().passive.toward(pull.direction).unwrap_or_default();
    let aim = Aim {
        start,
        goal: pull.goal,
        reserve: pull.reserve,
        cuff_path: pull.line.cuff_path,
        tail: pull.line.tail,
    };
    let made = loops::loops(&geometry, &aim);
    let rest = start - pull.reserve;
    let rest_arm = TautLine::at(&geometry, rest, geometry.first_place()).moment_arm();
    let torque = TorqueCurve::of(&case.torque, pull.direction, start);
    let mut plan = PullPlan {
        direction: pull.direction,
        start,
        goal: pull.goal,
        rest,
        rest_arm,
        reachable: made.reachable,
        shortfall: made.shortfall,
        loops: made.loops,
        hold: hold(case, pull),
        allowed: Allowed::of(case, pull.line.strength),
        alternatives: alternatives::alternatives(case, pull, &aim, &torque),
        choice: None,
        torque,
        geometry,
    };
    plan.choice = choice(case, &plan);
    plan
}

/// What to take from the shelf for the largest loads of a pull.
fn choice(case: &Case, plan: &PullPlan) -> Option<Choice> {
    let strand = plan.loads().map(|load| load.strand).reduce(Force::max)?;
    let pull = plan.loads().map(|load| load.at_tab).reduce(Force::max)?;
    let furthest = plan.marks().map(|mark| mark.place).reduce(Length::max)?;
    Some(stock::choose(case, strand, pull, plan.geometry.strip_length - furthest))
}
