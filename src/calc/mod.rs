//! [`Case`] → [`Plan`]: pure and total. What the therapist must know becomes a finding.
//!
//! The arrows run one way here too: geometry → line → loops, load → ceiling → stock; loops, load →
//! alternatives; dose → sharing; progress; all → precautions.

pub mod alternatives;
pub mod bearing;
pub mod build;
pub mod ceiling;
pub mod dose;
pub mod figure;
pub mod free_body;
pub mod geometry;
pub mod line;
pub mod load;
pub mod loops;
pub mod precautions;
pub mod progress;
pub mod sharing;
pub mod stock;
pub mod torque;

use crate::case::{Case, Direction, Pull};
use crate::units::{Angle, Force, Length};

use alternatives::Alternative;
use ceiling::{Allowed, Ceiling};
use dose::WearPlan;
use geometry::Geometry;
use line::TautLine;
use load::Load;
use loops::{Aim, Loop, Mark, Shortfall};
use precautions::Finding;
use progress::{Standing, WarmUpReading};
use sharing::Share;
use stock::Choice;
use torque::TorqueCurve;

/// Everything that the papers say of a case.
#[derive(Debug, Clone, PartialEq)]
pub struct Plan {
    /// One for each pull, in file order.
    pub pulls: Vec<PullPlan>,
    /// How long to wear it.
    pub wear: WearPlan,
    /// How two pulls share the sessions of each wear step; nothing with one pull.
    pub shares: Vec<Share>,
    /// Where each direction stands.
    pub standings: Vec<Standing>,
    /// The warm-up tests.
    pub warm_ups: Vec<WarmUpReading>,
    /// What speaks against it, the weightiest first.
    pub findings: Vec<Finding>,
    /// What was assumed where nothing was measured.
    pub estimates: Vec<Estimate>,
}

impl Plan {
    /// Whether a stop withholds handout and card.
    #[must_use]
    pub fn is_withheld(&self) -> bool {
        self.findings.iter().any(Finding::withholds)
    }
}

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

/// Something assumed where nothing was measured.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Estimate {
    /// The wrist's axis past the crease.
    Axis,
    /// The bearing behind the elbow.
    ElbowArea,
    /// Bearing breadths of the pieces.
    Bearing,
    /// Heights of hole, edges and strip, from half depths.
    Heights,
}

/// Reckons a case.
#[must_use]
pub fn plan(case: &Case) -> Plan {
    let pulls: Vec<PullPlan> = case.orthosis.pulls.iter().map(|it| pull_plan(case, it)).collect();
    let findings = precautions::findings(case, &pulls);
    let wear = dose::wear_plan(&case.wear, case.head.prepared);
    Plan {
        shares: shares(&wear, &pulls),
        wear,
        standings: progress::standings(case),
        warm_ups: progress::warm_ups(case),
        estimates: estimates(case),
        findings,
        pulls,
    }
}

fn pull_plan(case: &Case, pull: &Pull) -> PullPlan {
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

/// How two pulls share each wear step, by how far each still has to go.
fn shares(wear: &WearPlan, pulls: &[PullPlan]) -> Vec<Share> {
    let [one, other] = pulls else { return Vec::new() };
    let to_go = |pull: &PullPlan| pull.goal - pull.start;
    wear.steps.iter().map(|step| sharing::share(step.times, to_go(one), to_go(other))).collect()
}

fn estimates(case: &Case) -> Vec<Estimate> {
    let pulls = &case.orthosis.pulls;
    let any = |test: fn(&Pull) -> bool| pulls.iter().any(test);
    let assumed = [
        (Estimate::Axis, case.limb.axis_past_crease.is_none()),
        (Estimate::ElbowArea, any(|it| it.forearm_piece.elbow_area.is_none())),
        (
            Estimate::Bearing,
            any(|it| {
                it.cuff.bearing_breadth.is_none() || it.forearm_piece.bearing_breadth.is_none()
            }),
        ),
        (
            Estimate::Heights,
            any(|it| {
                it.cuff.hole_height.is_none()
                    || it.cuff.edge_height.is_none()
                    || it.forearm_piece.edge_height.is_none()
                    || it.strip.height.is_none()
            }),
        ),
    ];
    assumed.into_iter().filter(|(_, is)| *is).map(|(it, _)| it).collect()
}
