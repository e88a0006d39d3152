//! [`Case`] → [`Plan`]: pure and total. What the therapist must know becomes a finding.
//!
//! The arrows run one way here too: geometry → line → loops, load → ceiling → stock; loops, load →
//! alternatives; dose → sharing; progress; all → precautions → advice.

pub mod advice;
pub mod alternatives;
pub mod as_built;
pub mod bearing;
pub mod build;
pub mod ceiling;
pub mod course;
pub mod dose;
pub mod figure;
pub mod free_body;
pub mod geometry;
pub mod hold;
pub mod line;
pub mod load;
pub mod loops;
pub mod pattern;
pub mod precautions;
pub mod progress;
pub mod pull;
pub mod sharing;
pub mod sharpen;
pub mod stock;
pub mod straps;
pub mod torque;
pub mod trend;

use jiff::civil::Date;

use crate::case::{Case, Direction, Pull};
use crate::units::Angle;

use advice::{Course, Next, Stretch};
use dose::{Hold, WearPlan};
use pattern::Pattern;
use precautions::Finding;
use progress::{Standing, WarmUpReading};
use sharing::Share;

pub use pull::PullPlan;

/// Everything that the papers say of a case.
#[derive(Debug, Clone, PartialEq)]
pub struct Plan {
    /// One for each pull, in file order.
    pub pulls: Vec<PullPlan>,
    /// How long to wear it, as the patient is told: without growing while the stretch is eased.
    pub wear: WearPlan,
    /// How two pulls share the sessions of each wear step; nothing with one pull.
    pub shares: Vec<Share>,
    /// Where each direction stands.
    pub standings: Vec<Standing>,
    /// The course so far; nothing before the first visit.
    pub course: Option<Course>,
    /// The warm-up tests.
    pub warm_ups: Vec<WarmUpReading>,
    /// The flat pieces.
    pub pattern: Pattern,
    /// What speaks against it, the weightiest first.
    pub findings: Vec<Finding>,
    /// What was assumed where nothing was measured.
    pub estimates: Vec<Estimate>,
}

impl Plan {
    /// Whether the patient stays at today's mark of a pull, as the numbers suggest.
    #[must_use]
    pub fn stays(&self, direction: Direction) -> bool {
        self.stretch(direction) != Stretch::On
    }

    /// What the numbers suggest for a pull; nothing before the first visit.
    #[must_use]
    pub fn next(&self, direction: Direction) -> Option<Next> {
        let mut advice = self.course.iter().flat_map(|it| &it.advice);
        advice.find(|it| it.pull == direction).map(|it| it.next)
    }

    /// How far the wearer goes in a session, as the numbers suggest; before the first visit from mark to mark.
    #[must_use]
    pub fn stretch(&self, direction: Direction) -> Stretch {
        self.next(direction).map_or(Stretch::On, Next::stretch)
    }

    /// Whether the wearer must go gently with a pull: a finding says so, somebody went on against a stop, or the numbers
    /// ask to ease.
    #[must_use]
    pub fn is_gentle(&self, direction: Direction) -> bool {
        let asks = |it: &Finding| {
            (it.is_gentle || it.is_answered_stop()) && it.pull().is_none_or(|way| way == direction)
        };
        self.stretch(direction) == Stretch::Ease || self.findings.iter().any(asks)
    }

    /// Whether the numbers ask to ease the stretch of any pull; while a stop stands the orthosis rests instead.
    #[must_use]
    pub fn eases(&self) -> bool {
        !self.is_withheld()
            && self.pulls.iter().any(|it| self.stretch(it.direction) == Stretch::Ease)
    }

    /// Whether a stop withholds handout, card, pattern and labels.
    #[must_use]
    pub fn is_withheld(&self) -> bool {
        self.findings.iter().any(Finding::withholds)
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
    /// Sizes of the made parts that the file leaves out.
    Sizes,
    /// The goniometer's error.
    Goniometer,
}

/// Reckons a case.
#[must_use]
pub fn plan(case: &Case) -> Plan {
    let pulls: Vec<PullPlan> =
        case.orthosis.pulls.iter().map(|it| pull::pull_plan(case, it)).collect();
    let pattern = pattern::pattern(case);
    let mut holds = advice::holds(case);
    let wear = dose::wear_plan(&case.wear, first_day(case), &holds);
    let findings = precautions::findings(case, &pulls, &pattern, &wear);
    let mut plan = Plan {
        course: advice::course(case, &wear, &pulls, &findings),
        shares: Vec::new(),
        wear,
        standings: progress::standings(case),
        warm_ups: progress::warm_ups(case),
        estimates: estimates(case),
        pattern,
        findings,
        pulls,
    };
    // What else asks to ease is known only now; it holds from the newest visit on, which no dose so far hangs on.
    let is_held = holds.last().is_some_and(|it| it.until.is_none());
    if let Some(newest) = case.visits.last().filter(|_| plan.eases() && !is_held) {
        holds.push(Hold { from: newest.date(), until: None });
        plan.wear = dose::wear_plan(&case.wear, first_day(case), &holds);
    }
    plan.shares = shares(&plan.wear, &plan.pulls);
    plan
}

/// The first day of wear: as the file says, or the first fit, or the day the papers are for.
fn first_day(case: &Case) -> Date {
    let fits = case.orthosis.pulls.iter().filter_map(|it| it.built.first());
    let fitted = fits.map(|it| it.from).min();
    case.wear.from.or(fitted).unwrap_or(case.head.prepared)
}

/// How two pulls share each wear step, by how far each still has to go.
fn shares(wear: &WearPlan, pulls: &[PullPlan]) -> Vec<Share> {
    let [one, other] = pulls else { return Vec::new() };
    // A way that is done takes no share.
    let to_go = |pull: &PullPlan| (pull.goal - pull.start).max(Angle::ZERO);
    wear.steps.iter().map(|step| sharing::share(step.times, to_go(one), to_go(other))).collect()
}

fn estimates(case: &Case) -> Vec<Estimate> {
    let pulls = &case.orthosis.pulls;
    let any = |test: fn(&Pull) -> bool| pulls.iter().any(test);
    let usual = case.measuring_error.raters.goniometer();
    let assumed = [
        (Estimate::Axis, case.limb.axis_past_crease.is_none()),
        (Estimate::ElbowArea, any(|it| it.forearm_piece.elbow_area.is_none())),
        (
            Estimate::Bearing,
            any(|it| {
                it.cuff.bearing_breadth.is_none() || it.forearm_piece.bearing_breadth.is_none()
            }),
        ),
        (Estimate::Sizes, any(|it| !it.usual.is_empty())),
        (Estimate::Goniometer, case.measuring_error.goniometer == usual),
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
