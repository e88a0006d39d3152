//! The course so far: what was worn beside what was planned, scores, deficit regained, and what the
//! numbers suggest next.
//!
//! Nothing here sets a date for a goal or promises degrees from hours. A suggestion names its reasons, and
//! the therapist decides.

use jiff::civil::Date;

use super::dose::WearPlan;
use super::loops::Loop;
use super::progress::detectable_change;
use super::pull::PullPlan;
use crate::case::{Case, Direction, Pain, SkinSeen, Visit};
use crate::units::Angle;

/// What was worn between two days, beside what was planned.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Dose {
    /// The first day.
    pub from: Date,
    /// The day of the visit, not counted.
    pub to: Date,
    /// Minutes planned in between.
    pub planned: u32,
    /// Minutes worn, as the log says; nothing where no log was read.
    pub worn: Option<u32>,
    /// Sessions worn.
    pub sessions: Option<u32>,
}

impl Advice {
    /// Whether the patient stays at today's mark.
    #[must_use]
    pub fn stays(&self) -> bool {
        !matches!(self.next, Next::MoveOn | Next::NewLoop)
    }
}

impl Dose {
    /// Adherence: minutes worn over minutes planned.
    #[must_use]
    pub fn adherence(&self) -> Option<f64> {
        let worn = f64::from(self.worn?);
        (self.planned > 0).then(|| worn / f64::from(self.planned))
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
    /// Newest less first: negative is better.
    #[must_use]
    pub fn change(&self) -> f64 {
        let first = self.totals.first().map_or(0.0, |it| it.1);
        self.totals.last().map_or(0.0, |it| it.1) - first
    }
}

/// What the numbers suggest for one pull.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Next {
    /// Stop and send back to the doctor.
    ReferBack,
    /// A gentler stretch, or a pause.
    EaseOff,
    /// Stay where it is.
    Hold,
    /// The loop in use has no room left.
    NewLoop,
    /// This way is done; the other way remains.
    OtherDirection,
    /// The goal is reached.
    GoalReached,
    /// Go on to the next mark.
    MoveOn,
}

/// Why something is suggested.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Reason {
    /// Passive range fell by more than measuring error from its best.
    RangeLost {
        /// From the best to the newest.
        by: Angle,
        /// What is told from measuring error.
        error: Angle,
    },
    /// The skin broke.
    SkinBroken,
    /// Redness stayed longer than 20 minutes.
    RednessStays,
    /// Pain rose by two points or more since the visit before.
    PainRose {
        /// To this.
        to: u32,
    },
    /// Less than half of the planned minutes were worn.
    LittleWorn {
        /// The share.
        share: f64,
    },
    /// The loop in use ends within so much of today's range.
    LoopEnds {
        /// Today's range.
        at: Angle,
        /// Where it ends.
        to: Angle,
    },
    /// The loop in use rests past today's range: it would pull harder than the wrist allows.
    LoopTooShort {
        /// Today's range.
        at: Angle,
        /// Where the loop rests.
        rest: Angle,
    },
    /// Today's range is at the goal.
    AtGoal,
    /// The other direction is further from its goal.
    OtherIsFurther,
    /// A stop is not answered.
    Stopped,
    /// Pain at rest or while worn is high.
    Painful {
        /// Of ten.
        pain: u32,
    },
    /// More was worn than a day's limit allows.
    TooMuchWorn,
    /// Today's range lies past the angle that waits for the doctor's word.
    DoctorsWord,
    /// Neither range nor pain was asked for at the newest visit.
    NotMeasured,
    /// Skin and pain allow it.
    Clear,
}

/// A suggestion with its reasons.
#[derive(Debug, Clone, PartialEq)]
pub struct Advice {
    /// For which pull.
    pub pull: Direction,
    /// What.
    pub next: Next,
    /// Why, at least one.
    pub reasons: Vec<Reason>,
}

/// The course of a case with visits.
#[derive(Debug, Clone, PartialEq)]
pub struct Course {
    /// Dose between visits, oldest first.
    pub doses: Vec<Dose>,
    /// Scores that were taken.
    pub scores: Vec<ScoreCourse>,
    /// A suggestion for each pull.
    pub advice: Vec<Advice>,
}

/// Pain that rose by this is more than it was: two points are much (Salaffi F et al. Eur J Pain 2004, name
/// from memory).
const PAIN_STEP: u32 = 2;
/// Pain at rest, and while the orthosis is worn, from which the stretch is eased (common practice, no source).
const REST_PAIN: u32 = 4;
const WORN_PAIN: u32 = 5;
/// Below this share of the planned minutes wear comes before any change of the build (ours).
const LITTLE: f64 = 0.5;
/// Angles nearer than this are one.
const SAME_ANGLE: Angle = Angle::degrees(1e-6);
/// A loop that ends this near has no room for a next mark.
const LOOP_ROOM: Angle = Angle::degrees(5.0);

/// Reckons the course; nothing before the first visit.
pub(super) fn course(
    case: &Case,
    wear: &WearPlan,
    pulls: &[PullPlan],
    is_stopped: bool,
) -> Option<Course> {
    case.visits.last()?;
    let doses = doses(case, wear);
    let advice = pulls.iter().map(|it| advice(case, it, pulls, &doses, is_stopped)).collect();
    Some(Course { scores: scores(case), advice, doses })
}

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
        doses.push(Dose { from, to, planned, worn, sessions });
        from = to;
    }
    doses
}

fn scores(case: &Case) -> Vec<ScoreCourse> {
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

/// The gravest of what the numbers say, and all that speaks for it.
fn advice(
    case: &Case,
    pull: &PullPlan,
    pulls: &[PullPlan],
    doses: &[Dose],
    is_stopped: bool,
) -> Advice {
    let mut said: Vec<(Next, Reason)> = Vec::new();
    said.extend(painful(case).map(|pain| (Next::EaseOff, Reason::Painful { pain })));
    said.extend(overworn(case, doses).then_some((Next::EaseOff, Reason::TooMuchWorn)));
    said.extend(
        pull.hold.is_some_and(|it| it < pull.start).then_some((Next::Hold, Reason::DoctorsWord)),
    );
    said.extend(unasked(case, pull.direction).then_some((Next::Hold, Reason::NotMeasured)));
    said.extend(range_lost(case, pull.direction).map(|it| (Next::ReferBack, it)));
    said.extend(skin(case));
    said.extend(pain(case).map(|it| (Next::EaseOff, it)));
    let share = doses.last().and_then(Dose::adherence).filter(|share| *share < LITTLE);
    said.extend(share.map(|share| (Next::Hold, Reason::LittleWorn { share })));
    if pull.start >= pull.goal {
        let other = pulls.iter().any(|it| it.direction != pull.direction && it.start < it.goal);
        said.push((Next::GoalReached, Reason::AtGoal));
        if other {
            said.push((Next::OtherDirection, Reason::OtherIsFurther));
        }
    } else if let Some(end) = room(pull) {
        said.push((Next::NewLoop, end));
    }
    // A stop that has no reason of its own here is named as such.
    if is_stopped && said.iter().all(|it| it.0 != Next::ReferBack) {
        said.push((Next::ReferBack, Reason::Stopped));
    }
    said.push((Next::MoveOn, Reason::Clear));
    let next = said.iter().map(|it| it.0).min().unwrap_or(Next::MoveOn);
    let reasons = said.into_iter().filter(|it| it.0 == next).map(|it| it.1).collect();
    Advice { pull: pull.direction, next, reasons }
}

/// Pain at rest of four or while worn of five and more when it was last asked (common practice, no source).
fn painful(case: &Case) -> Option<u32> {
    let newest =
        |pick: fn(&Pain) -> Option<u32>| case.visits.iter().rev().find_map(|it| pick(&it.pain));
    let rest = newest(|it| it.rest).filter(|it| *it >= REST_PAIN);
    rest.or_else(|| newest(|it| it.worn).filter(|it| *it >= WORN_PAIN))
}

/// Whether more minutes were worn since the visit before than the daily limit allows.
pub(super) fn overworn(case: &Case, doses: &[Dose]) -> bool {
    doses.last().is_some_and(|dose| {
        let days = (dose.to - dose.from).get_days().max(1) as u32;
        dose.worn.is_some_and(|worn| worn > case.wear.daily_limit * days)
    })
}

/// Whether the newest visit has neither a passive range toward a pull nor a word on pain.
fn unasked(case: &Case, direction: Direction) -> bool {
    case.visits.last().is_some_and(|it| {
        it.motion.passive.toward(direction).is_none() && it.pain == Pain::default()
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

/// Passive range that fell from its best by more than measuring error tells.
pub(super) fn range_lost(case: &Case, direction: Direction) -> Option<Reason> {
    let all: Vec<Angle> = case.ranges().filter_map(|it| it.passive.toward(direction)).collect();
    let best = all.iter().copied().fold(*all.first()?, Angle::max);
    let by = best - *all.last()?;
    let error = detectable_change(case.measuring_error.goniometer);
    (by > error).then_some(Reason::RangeLost { by, error })
}

fn skin(case: &Case) -> Option<(Next, Reason)> {
    match case.visits.iter().rev().find_map(|it| it.skin)? {
        SkinSeen::Broken => Some((Next::ReferBack, Reason::SkinBroken)),
        SkinSeen::RedLong => Some((Next::EaseOff, Reason::RednessStays)),
        SkinSeen::Clear | SkinSeen::RedBriefly => None,
    }
}

/// Pain at rest or while worn that rose by two points or more above the least told before.
fn pain(case: &Case) -> Option<Reason> {
    // At rest pain was asked before the first fit too.
    let history = Pain { rest: Some(case.history.rest_pain), worn: None };
    let at_first = |pick: fn(&Pain) -> Option<u32>| pick(&history);
    let risen = |pick: fn(&Pain) -> Option<u32>| {
        let mut told = case.visits.iter().rev().filter_map(|it| pick(&it.pain));
        let newest = told.next()?;
        // The least of all before, so that a slow rise is seen.
        let before = told.chain(at_first(pick)).min()?;
        (newest >= before + PAIN_STEP).then_some(Reason::PainRose { to: newest })
    };
    risen(|it| it.rest).or_else(|| risen(|it| it.worn))
}

/// Why the loop in use has no room for a next mark, if it has none.
pub(super) fn room(pull: &PullPlan) -> Option<Reason> {
    let in_use = pull.in_use?;
    if in_use.from > pull.start + SAME_ANGLE {
        return Some(Reason::LoopTooShort { at: pull.start, rest: in_use.from });
    }
    let to = pull.loops.iter().find(|it| it.is_in_use).map_or(in_use.to, |it| it.to);
    let is_short = to < pull.start + LOOP_ROOM && to < pull.goal;
    is_short.then_some(Reason::LoopEnds { at: pull.start, to })
}
