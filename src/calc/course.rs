//! The course so far: what was worn beside what was planned, scores, what was lost, and the loop's room.
//!
//! Nothing here sets a date for a goal or promises degrees from hours.

use jiff::civil::Date;

use super::dose::{WearPlan, after};
use super::loops::Loop;
use super::progress::detectable_change;
use super::pull::PullPlan;
use crate::case::{Case, Direction, Motion, Visit};
use crate::units::Angle;

/// What was worn between two days, beside what was planned.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Dose {
    /// The first day.
    pub from: Date,
    /// The day of the visit, not counted.
    pub to: Date,
    /// Whether the plan's last day lies before the visit's eve, so that what was worn after it has no plan.
    pub is_past_plan: bool,
    /// Minutes planned in between.
    pub planned: u32,
    /// Minutes worn, as the log says; nothing where no log was read.
    pub worn: Option<u32>,
    /// Sessions worn.
    pub sessions: Option<u32>,
}

impl Dose {
    /// Adherence: minutes worn over minutes planned; nothing where the plan ended in between, since what was worn
    /// after its last day has no minutes beside it.
    #[must_use]
    pub fn adherence(&self) -> Option<f64> {
        let worn = f64::from(self.worn?);
        (self.planned > 0 && !self.is_past_plan).then(|| worn / f64::from(self.planned))
    }
}

/// An outcome score.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Score {
    /// Disabilities of the Arm, Shoulder and Hand.
    Dash,
    /// Its short form.
    QuickDash,
    /// Patient-Rated Wrist Evaluation.
    Prwe,
}

impl Score {
    /// The smallest change that patients call important, in points: 10, 14 and 14 (Sorensen AA et al. J Hand
    /// Surg Am 2013;38:641-9; 102 people with hand and wrist conditions without injury, treated without an
    /// operation).
    #[must_use]
    pub const fn important(self) -> f64 {
        match self {
            Self::Dash => 10.0,
            Self::QuickDash | Self::Prwe => 14.0,
        }
    }

    /// The 95 % confidence interval of [`Self::important`], in points (same source).
    #[must_use]
    pub const fn important_interval(self) -> (f64, f64) {
        match self {
            Self::Dash => (5.0, 15.0),
            Self::QuickDash => (9.0, 20.0),
            Self::Prwe => (8.0, 20.0),
        }
    }

    /// The score's name.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Dash => "DASH",
            Self::QuickDash => "QuickDASH",
            Self::Prwe => "PRWE",
        }
    }
}

/// A score's course.
#[derive(Debug, Clone, PartialEq)]
pub struct ScoreCourse {
    /// Which.
    pub score: Score,
    /// Every total with its day, oldest first, at least one.
    pub totals: Vec<(Date, f64)>,
}

impl ScoreCourse {
    /// The best total before the newest, with its day; nothing with one total.
    #[must_use]
    pub fn best_before(&self) -> Option<(Date, f64)> {
        let (_, before) = self.totals.split_last()?;
        before.iter().copied().reduce(|best, it| if it.1 < best.1 { it } else { best })
    }

    /// By how much the newest total is worse than the best before it, where that is what patients call important.
    #[must_use]
    pub fn worse_by(&self) -> Option<f64> {
        let by = self.totals.last()?.1 - self.best_before()?.1;
        (by >= self.score.important()).then_some(by)
    }

    /// Newest less first: negative is better.
    #[must_use]
    pub fn change(&self) -> f64 {
        let first = self.totals.first().map_or(0.0, |it| it.1);
        self.totals.last().map_or(0.0, |it| it.1) - first
    }
}

/// Angles nearer than this are one.
const SAME_ANGLE: Angle = Angle::degrees(1e-6);
/// A loop that ends this near has no room for a next mark.
const LOOP_ROOM: Angle = Angle::degrees(5.0);

pub(super) fn doses(case: &Case, wear: &WearPlan) -> Vec<Dose> {
    let Some(first) = wear.steps.first() else { return Vec::new() };
    let mut from = first.from;
    let mut doses = Vec::new();
    for visit in &case.visits {
        let to = visit.date();
        if to <= from {
            continue;
        }
        let planned = wear.minutes_between(from, to);
        let (worn, sessions) = visit.worn.map(|it| (it.minutes, it.sessions)).unzip();
        let is_past_plan = wear.steps.last().is_some_and(|it| after(it.to, 1) < to);
        doses.push(Dose { from, to, is_past_plan, planned, worn, sessions });
        from = to;
    }
    doses
}

pub(super) fn scores(case: &Case) -> Vec<ScoreCourse> {
    let of = |score: Score, pick: fn(&Visit) -> Option<f64>| {
        let totals: Vec<(Date, f64)> =
            case.visits.iter().filter_map(|it| Some((it.date(), pick(it)?))).collect();
        (!totals.is_empty()).then_some(ScoreCourse { score, totals })
    };
    [
        of(Score::Dash, |it| it.scores.dash),
        of(Score::QuickDash, |it| it.scores.quick_dash),
        of(Score::Prwe, |it| it.scores.prwe),
    ]
    .into_iter()
    .flatten()
    .collect()
}

/// Whether more minutes were worn since the visit before than the daily limit allows.
pub(super) fn overworn(case: &Case, doses: &[Dose]) -> bool {
    doses.last().is_some_and(|dose| {
        let days = (dose.to - dose.from).get_days().max(1) as u32;
        dose.worn.is_some_and(|worn| worn > case.wear.daily_limit * days)
    })
}

/// The loop that is to be made now: all before the first fit; later the next one where the loop in use has no
/// room left and the next does not rest past today's range.
#[must_use]
pub fn due_loops(pull: &PullPlan) -> Vec<&Loop> {
    let new = pull.loops.iter().filter(|it| !it.is_in_use);
    if pull.in_use.is_none() {
        return new.collect();
    }
    let is_due = room(pull).is_some();
    new.filter(|it| is_due && it.from <= pull.start + SAME_ANGLE).take(1).collect()
}

/// Range that fell from its best by more than measuring error tells.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Lost {
    /// From the best to the newest.
    pub(super) by: Angle,
    /// What is told from measuring error.
    pub(super) error: Angle,
}

/// Passive range lost since its best.
pub(super) fn passive_lost(case: &Case, direction: Direction) -> Option<Lost> {
    lost(case, |it| it.passive.toward(direction))
}

/// Active range lost since its best.
pub(super) fn active_lost(case: &Case, direction: Direction) -> Option<Lost> {
    lost(case, |it| it.active.toward(direction))
}

fn lost(case: &Case, of: impl Fn(&Motion) -> Option<Angle>) -> Option<Lost> {
    let all: Vec<Angle> = case.ranges().filter_map(of).collect();
    let best = all.iter().copied().fold(*all.first()?, Angle::max);
    let by = best - *all.last()?;
    let error = detectable_change(case.measuring_error.goniometer);
    (by > error).then_some(Lost { by, error })
}

/// Why the loop in use has no room for a next mark.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Room {
    /// It ends within a step of today's range.
    Ends {
        /// Where it ends.
        to: Angle,
    },
    /// It rests past today's range: it would pull harder than the wrist allows.
    TooShort {
        /// Where it rests.
        rest: Angle,
    },
}

/// Why the loop in use has no room for a next mark, if it has none.
pub(super) fn room(pull: &PullPlan) -> Option<Room> {
    let in_use = pull.in_use?;
    if in_use.from > pull.start + SAME_ANGLE {
        return Some(Room::TooShort { rest: in_use.from });
    }
    let to = pull.loops.iter().find(|it| it.is_in_use).map_or(in_use.to, |it| it.to);
    let is_short = to < pull.start + LOOP_ROOM && to < pull.goal;
    is_short.then_some(Room::Ends { to })
}
