//! What the numbers suggest next for each pull, and why. The therapist decides.
//!
//! Going on is suggested only where the newest visit took range, skin and pain: what was not looked at
//! speaks for nothing.

use jiff::civil::Date;

use super::course::{
    Dose, Lost, Room, Score, ScoreCourse, active_lost, doses, overworn, passive_lost, room, scores,
};
use super::dose::WearPlan;
use super::precautions::Finding;
use super::progress::{Class, nearest_class, warm_ups};
use super::pull::PullPlan;
use super::trend::{change_over, plateau};
use crate::case::{Case, Direction, Pain, SkinSeen};
use crate::units::Angle;

/// What the numbers suggest for one pull, the gravest first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Next {
    /// Stop and send back to the doctor.
    ReferBack,
    /// Take the loop off and make a longer one.
    LongerLoop,
    /// Not worn before range, tab and loop are measured again.
    MeasureAgain,
    /// The plan is over: ask whether the course goes on.
    SetCourse,
    /// A gentler stretch, or a pause.
    EaseOff,
    /// Stay, check the end feel and speak with the doctor.
    AskDoctor,
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

/// How far the wearer goes in a session until the clinic says otherwise.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stretch {
    /// From today's mark on as it gives.
    On,
    /// At today's mark.
    Stay,
    /// Gentler than today's mark.
    Ease,
}

impl Next {
    /// What it asks of the wearer.
    #[must_use]
    pub fn stretch(self) -> Stretch {
        match self {
            Self::MoveOn | Self::NewLoop => Stretch::On,
            Self::AskDoctor | Self::Hold | Self::OtherDirection | Self::GoalReached => {
                Stretch::Stay
            }
            Self::ReferBack
            | Self::LongerLoop
            | Self::MeasureAgain
            | Self::SetCourse
            | Self::EaseOff => Stretch::Ease,
        }
    }

    /// Whether it asks that the orthosis is not worn as it is.
    #[must_use]
    pub fn is_stop(self) -> bool {
        self.stretch() == Stretch::Ease
    }
}

/// What a visit takes before going on is suggested.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Look {
    /// Passive range toward the pull.
    Range,
    /// Skin under the orthosis.
    Skin,
    /// Pain.
    Pain,
}

/// What the newest visit found where nothing holds the course up.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Looked {
    /// The skin.
    pub skin: SkinSeen,
    /// The highest pain told that day, of ten.
    pub pain: u32,
    /// The share of the planned minutes worn since the visit before; nothing where no log was read.
    pub worn: Option<f64>,
}

/// Why something is suggested.
#[derive(Debug, Clone, PartialEq)]
pub enum Reason {
    /// Passive range fell by more than measuring error from its best.
    RangeLost {
        /// From the best to the newest.
        by: Angle,
        /// What is told from measuring error.
        error: Angle,
    },
    /// So did passive range the other way, which nothing pulls.
    OtherWayLost {
        /// Which way.
        direction: Direction,
        /// From the best to the newest.
        by: Angle,
        /// What is told from measuring error.
        error: Angle,
    },
    /// So did active range toward the pull.
    ActiveLost {
        /// From the best to the newest.
        by: Angle,
        /// What is told from measuring error.
        error: Angle,
    },
    /// An outcome score is worse than at first by what patients call important.
    ScoreWorse {
        /// Which.
        score: Score,
        /// By so many points.
        by: f64,
    },
    /// The therapist's rule for a plateau is met, and what was worn is no reason for it.
    Plateau {
        /// The change.
        by: Angle,
        /// From this day.
        from: Date,
        /// To this.
        to: Date,
    },
    /// The skin broke.
    SkinBroken,
    /// Redness stayed longer than 20 minutes.
    RednessStays,
    /// Pain rose by two points or more above the least told before.
    PainRose {
        /// From the least.
        from: u32,
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
    /// A stop that no one answered, by its title.
    Stop {
        /// The finding's title.
        title: &'static str,
    },
    /// A stop that somebody answered: the course goes on against it.
    Answered {
        /// The finding's title.
        title: &'static str,
    },
    /// Pain at rest or while worn is high.
    Painful {
        /// Of ten.
        pain: u32,
    },
    /// More was worn than a day's limit allows.
    TooMuchWorn,
    /// Today's range lies past the angle that waits for the doctor's word.
    DoctorsWord,
    /// The newest visit did not take these.
    NotTaken(Vec<Look>),
    /// A warm-up test lies nearest another class than this orthosis.
    WarmUp {
        /// Warm less cold.
        gain: Angle,
        /// Whose level is nearest.
        nearest: Class,
    },
    /// What was looked at, and nothing of it holds the course up.
    Looked(Looked),
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
    /// What is on file and points elsewhere, though it does not decide.
    pub yet: Vec<Reason>,
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

/// Reckons the course; nothing before the first visit.
pub(super) fn course(
    case: &Case,
    wear: &WearPlan,
    pulls: &[PullPlan],
    findings: &[Finding],
) -> Option<Course> {
    case.visits.last()?;
    let doses = doses(case, wear);
    let advice = pulls.iter().map(|it| one(case, it, pulls, &doses, findings)).collect();
    Some(Course { scores: scores(case), advice, doses })
}

/// A reason and what it asks for.
type Said = (Next, Reason);

/// The gravest of what the numbers say, and all that speaks for it.
fn one(
    case: &Case,
    pull: &PullPlan,
    pulls: &[PullPlan],
    doses: &[Dose],
    findings: &[Finding],
) -> Advice {
    let own = |it: &&Finding| it.pull().is_none_or(|way| way == pull.direction);
    let mut said: Vec<Said> = Vec::new();
    for stop in findings.iter().filter(|it| it.withholds()).filter(own) {
        said.push(of_stop(case, pull, stop));
    }
    said.extend(eased(case, pulls, doses));
    said.extend(findings.iter().filter(own).filter_map(|it| of_answered(case, pull, it)));
    said.extend(asked(case, pull, doses));
    said.extend(held(case, pull, doses));
    said.extend(build(pull, pulls));
    if let Some(looked) = looked(case, pull.direction, doses) {
        said.push((Next::MoveOn, Reason::Looked(looked)));
    }
    let next = said.iter().map(|it| it.0).min().unwrap_or(Next::Hold);
    let reasons = said.into_iter().filter(|it| it.0 == next).map(|it| it.1).collect();
    let answered = findings.iter().filter(|it| it.is_answered_stop()).filter(own);
    let yet = answered.map(|it| Reason::Answered { title: it.title });
    // Where little was worn a plateau says nothing of the wrist, and is told all the same.
    let plateau = on_a_plateau(case, pull).filter(|_| little_worn(doses).is_some());
    let yet = yet.chain(plateau).chain(warm_up(case, pull.direction)).collect();
    Advice { pull: pull.direction, next, reasons, yet }
}

/// What an unanswered stop asks for: some are the clinic's to mend, the rest go back to the doctor.
fn of_stop(case: &Case, pull: &PullPlan, stop: &Finding) -> Said {
    let stem = stop.id.strip_suffix(pull.direction.word()).map_or(stop.id.as_str(), |it| it);
    match stem {
        "range-lost-" => {
            let lost = passive_lost(case, pull.direction);
            let reason = lost.map(|Lost { by, error }| Reason::RangeLost { by, error });
            (Next::ReferBack, reason.unwrap_or(Reason::Stop { title: stop.title }))
        }
        "skin-broken" => (Next::ReferBack, Reason::SkinBroken),
        "loop-too-short-" => match room(pull) {
            Some(Room::TooShort { rest }) => {
                (Next::LongerLoop, Reason::LoopTooShort { at: pull.start, rest })
            }
            _ => (Next::LongerLoop, Reason::Stop { title: stop.title }),
        },
        "marks-moved-" | "loop-slack-" => (Next::MeasureAgain, Reason::Stop { title: stop.title }),
        "wear-over" => (Next::SetCourse, Reason::Stop { title: stop.title }),
        "past-hold-" => (Next::AskDoctor, Reason::DoctorsWord),
        _ => (Next::ReferBack, Reason::Stop { title: stop.title }),
    }
}

/// What a stop that somebody answered still asks for: who goes on with range lost or broken skin goes gently.
fn of_answered(case: &Case, pull: &PullPlan, stop: &Finding) -> Option<Said> {
    if !stop.is_answered_stop() {
        return None;
    }
    let lost = || passive_lost(case, pull.direction);
    let reason = match stop.id.as_str() {
        "skin-broken" => Some(Reason::SkinBroken),
        it if it.starts_with("range-lost-") => {
            lost().map(|Lost { by, error }| Reason::RangeLost { by, error })
        }
        _ => None,
    };
    reason.map(|it| (Next::EaseOff, it))
}

/// What asks for a gentler stretch.
fn eased(case: &Case, pulls: &[PullPlan], doses: &[Dose]) -> Vec<Said> {
    let untreated = [Direction::Flexion, Direction::Extension]
        .into_iter()
        .filter(|way| pulls.iter().all(|it| it.direction != *way));
    let other_way = untreated.filter_map(|direction| {
        let Lost { by, error } = passive_lost(case, direction)?;
        Some(Reason::OtherWayLost { direction, by, error })
    });
    let red = newest_skin(case).filter(|it| *it == SkinSeen::RedLong);
    let all = [
        painful(case).map(|pain| Reason::Painful { pain }),
        overworn(case, doses).then_some(Reason::TooMuchWorn),
        red.map(|_| Reason::RednessStays),
        pain_rose(case),
    ];
    all.into_iter().flatten().chain(other_way).map(|it| (Next::EaseOff, it)).collect()
}

/// What is spoken over with the doctor before anything changes.
fn asked(case: &Case, pull: &PullPlan, doses: &[Dose]) -> Vec<Said> {
    let active = active_lost(case, pull.direction)
        .map(|Lost { by, error }| Reason::ActiveLost { by, error });
    let worse = scores(case).into_iter().filter(ScoreCourse::is_worse);
    let worse = worse.map(|it| Reason::ScoreWorse { score: it.score, by: it.change() });
    let plateau = on_a_plateau(case, pull).filter(|_| little_worn(doses).is_none());
    active.into_iter().chain(worse).chain(plateau).map(|it| (Next::AskDoctor, it)).collect()
}

/// What keeps the patient at today's mark.
fn held(case: &Case, pull: &PullPlan, doses: &[Dose]) -> Vec<Said> {
    let missing = not_taken(case, pull.direction);
    let all = [
        (!missing.is_empty()).then_some(Reason::NotTaken(missing)),
        little_worn(doses).map(|share| Reason::LittleWorn { share }),
        pull.hold.filter(|it| *it < pull.start).map(|_| Reason::DoctorsWord),
    ];
    all.into_iter().flatten().map(|it| (Next::Hold, it)).collect()
}

/// What goal and loop ask for.
fn build(pull: &PullPlan, pulls: &[PullPlan]) -> Vec<Said> {
    if pull.start < pull.goal {
        return match room(pull) {
            Some(Room::Ends { to }) => {
                vec![(Next::NewLoop, Reason::LoopEnds { at: pull.start, to })]
            }
            Some(Room::TooShort { rest }) => {
                vec![(Next::LongerLoop, Reason::LoopTooShort { at: pull.start, rest })]
            }
            None => Vec::new(),
        };
    }
    let other = pulls.iter().any(|it| it.direction != pull.direction && it.start < it.goal);
    let other = other.then_some((Next::OtherDirection, Reason::OtherIsFurther));
    [(Next::GoalReached, Reason::AtGoal)].into_iter().chain(other).collect()
}

/// The therapist's own rule; at the goal it says nothing.
fn on_a_plateau(case: &Case, pull: &PullPlan) -> Option<Reason> {
    let rule = case.plateau.filter(|_| pull.start < pull.goal)?;
    let points = pull.points(case);
    plateau(&points, rule.weeks, rule.degrees).filter(|is_met| *is_met)?;
    let change = change_over(&points, rule.weeks)?;
    Some(Reason::Plateau { by: change.by, from: change.from, to: change.to })
}

/// The share worn since the visit before, where it is little.
fn little_worn(doses: &[Dose]) -> Option<f64> {
    doses.last().and_then(Dose::adherence).filter(|share| *share < LITTLE)
}

/// What the newest visit did not take.
fn not_taken(case: &Case, direction: Direction) -> Vec<Look> {
    let Some(newest) = case.visits.last() else { return Vec::new() };
    let all = [
        (Look::Range, newest.motion.passive.toward(direction).is_none()),
        (Look::Skin, newest.skin.is_none()),
        (Look::Pain, newest.pain == Pain::default()),
    ];
    all.into_iter().filter(|it| it.1).map(|it| it.0).collect()
}

/// What the newest visit found, where it took all that counts.
fn looked(case: &Case, direction: Direction, doses: &[Dose]) -> Option<Looked> {
    let newest = case.visits.last()?;
    newest.motion.passive.toward(direction)?;
    let pain = [newest.pain.rest, newest.pain.worn].into_iter().flatten().max()?;
    // A log of an earlier visit says nothing of the days since.
    let worn = doses.last().filter(|it| it.to == newest.date()).and_then(Dose::adherence);
    let skin = newest.skin.filter(|it| matches!(it, SkinSeen::Clear | SkinSeen::RedBriefly))?;
    Some(Looked { skin, pain, worn })
}

fn newest_skin(case: &Case) -> Option<SkinSeen> {
    case.visits.iter().rev().find_map(|it| it.skin)
}

/// Pain at rest of four or while worn of five and more when it was last asked (common practice, no source).
fn painful(case: &Case) -> Option<u32> {
    let newest =
        |pick: fn(&Pain) -> Option<u32>| case.visits.iter().rev().find_map(|it| pick(&it.pain));
    let rest = newest(|it| it.rest).filter(|it| *it >= REST_PAIN);
    rest.or_else(|| newest(|it| it.worn).filter(|it| *it >= WORN_PAIN))
}

/// Pain at rest or while worn that rose by two points or more above the least told before.
fn pain_rose(case: &Case) -> Option<Reason> {
    // At rest pain was asked before the first fit too.
    let history = Pain { rest: Some(case.history.rest_pain), worn: None };
    let at_first = |pick: fn(&Pain) -> Option<u32>| pick(&history);
    let risen = |pick: fn(&Pain) -> Option<u32>| {
        let mut told = case.visits.iter().rev().filter_map(|it| pick(&it.pain));
        let newest = told.next()?;
        // The least of all before, so that a slow rise is seen.
        let least = told.chain(at_first(pick)).min()?;
        (newest >= least + PAIN_STEP).then_some(Reason::PainRose { from: least, to: newest })
    };
    risen(|it| it.rest).or_else(|| risen(|it| it.worn))
}

/// A warm-up test that lies nearest another class than this orthosis.
fn warm_up(case: &Case, direction: Direction) -> Option<Reason> {
    let test = warm_ups(case).into_iter().find(|it| it.direction == direction)?;
    let nearest = nearest_class(test.gain());
    (nearest != Class::StaticProgressive).then(|| Reason::WarmUp { gain: test.gain(), nearest })
}
