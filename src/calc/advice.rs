//! What the numbers suggest next for each pull, and why. The therapist decides.
//!
//! Going on is suggested only where the newest visit took range, skin and pain: what was not looked at
//! speaks for nothing.

mod kinds;

pub use kinds::{Advice, Course, Look, Looked, Next, Reason, Stretch, WornOf};

use super::as_built::Checked;
use super::course::{Dose, Lost, Room, active_lost, doses, overworn, passive_lost, room, scores};
use super::dose::{Hold, WearPlan};
use super::precautions::Finding;
use super::progress::{Class, nearest_class, warm_ups};
use super::pull::PullPlan;
use super::trend::{Change, Point, change_over, plateau, trend};
use crate::case::{Case, Direction, Pain, Pull, SkinSeen, Visit};

/// Pain that rose by this is more than it was: two points are much (Salaffi F et al. Eur J Pain 2004, name
/// from memory).
const PAIN_STEP: u32 = 2;
/// Pain at rest, and while the orthosis is worn, from which the stretch is eased (common practice, no source).
const REST_PAIN: u32 = 4;
const WORN_PAIN: u32 = 5;
/// Below this share of the planned minutes wear comes before any change of the build (ours).
const LITTLE: f64 = 0.5;
/// Above this share more was worn than planned, and the plan comes first (ours).
const MUCH: f64 = 1.1;

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

/// The days on which no minutes are added: from each visit whose findings ask to ease, until the next visit.
pub(super) fn holds(case: &Case) -> Vec<Hold> {
    let mut seen = case.clone();
    seen.visits.clear();
    let mut holds = Vec::new();
    for (number, visit) in case.visits.iter().enumerate() {
        seen.visits.push(visit.clone());
        let eases = |it: &Pull| {
            !eased(&seen, it.direction).is_empty()
                || newest_skin(&seen) == Some(SkinSeen::Broken)
                || passive_lost(&seen, it.direction).is_some()
        };
        if seen.orthosis.pulls.iter().any(eases) {
            let until = case.visits.get(number + 1).map(Visit::date);
            holds.push(Hold { from: visit.date(), until });
        }
    }
    holds
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
    said.extend(eased(case, pull.direction));
    said.extend(findings.iter().filter(own).filter_map(|it| of_answered(case, pull, it)));
    said.extend(asked(case, pull, doses));
    said.extend(held(case, pull, doses));
    said.extend(build(pull, pulls));
    if let Some(looked) = looked(case, pull.direction, doses) {
        said.push((Next::MoveOn, Reason::Looked(looked)));
    }
    let next = said.iter().map(|it| it.0).min().unwrap_or(Next::Hold);
    let of = |wanted: Next| {
        let mut reasons: Vec<Reason> = Vec::new();
        for (_, reason) in said.iter().filter(|it| it.0 == wanted) {
            if !reasons.contains(reason) {
                reasons.push(reason.clone());
            }
        }
        reasons
    };
    let ask = if next < Next::AskDoctor { of(Next::AskDoctor) } else { Vec::new() };
    let answered = findings.iter().filter(|it| it.is_answered_stop()).filter(own);
    let yet = answered.map(|it| Reason::Answered { title: it.title });
    let yet = yet.chain(doubted(pull)).chain(warm_up(case, pull.direction)).collect();
    Advice { pull: pull.direction, next, reasons: of(next), ask, yet }
}

fn doubted(pull: &PullPlan) -> Option<Reason> {
    let points = &pull.as_built.as_ref()?.points;
    points.iter().any(Checked::is_beyond).then_some(Reason::Doubted)
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
        "past-hold-" => (Next::DoctorsWord, Reason::DoctorsWord),
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
fn eased(case: &Case, pulled: Direction) -> Vec<Said> {
    let direction = pulled.other();
    let other_way = passive_lost(case, direction).map(|Lost { by, error }| Reason::OtherWayLost {
        direction,
        by,
        error,
    });
    let red = newest_skin(case).filter(|it| *it == SkinSeen::RedLong);
    let rose = pain_rose(case);
    let all = [
        painful(case).filter(|_| rose.is_none()).map(|pain| Reason::Painful { pain }),
        red.map(|_| Reason::RednessStays),
        rose,
        other_way,
    ];
    all.into_iter().flatten().map(|it| (Next::EaseOff, it)).collect()
}

/// What is spoken over with the doctor before anything changes.
fn asked(case: &Case, pull: &PullPlan, doses: &[Dose]) -> Vec<Said> {
    let active = active_lost(case, pull.direction)
        .map(|Lost { by, error }| Reason::ActiveLost { by, error });
    let other_way = passive_lost(case, pull.direction.other()).map(|Lost { by, error }| {
        Reason::OtherWayLost { direction: pull.direction.other(), by, error }
    });
    let worse = scores(case).into_iter();
    let worse =
        worse.filter_map(|it| Some(Reason::ScoreWorse { score: it.score, by: it.worse_by()? }));
    let plateau = on_a_plateau(case, pull).filter(|it| worn_over(doses, it) >= LITTLE);
    let all = [active, falling(case, pull), plateau.map(Reason::from), other_way];
    all.into_iter().flatten().chain(worse).map(|it| (Next::AskDoctor, it)).collect()
}

/// What keeps the patient at today's mark.
fn held(case: &Case, pull: &PullPlan, doses: &[Dose]) -> Vec<Said> {
    let missing = not_taken(case, pull.direction);
    let share = doses.last().and_then(Dose::adherence);
    // Where little was worn while the range stood still, the dose comes before the doctor.
    let plateau = on_a_plateau(case, pull).filter(|it| worn_over(doses, it) < LITTLE);
    let all = [
        (!missing.is_empty()).then_some(Reason::NotTaken(missing)),
        share.filter(|it| *it < LITTLE).map(|share| Reason::LittleWorn { share }),
        plateau.map(Reason::from),
        share.filter(|it| *it > MUCH).map(|share| Reason::WornOver { share }),
        overworn(case, doses).then_some(Reason::TooMuchWorn),
        pull.hold.filter(|it| *it < pull.start).map(|_| Reason::DoctorsWord),
    ];
    all.into_iter().flatten().map(|it| (Next::Hold, it)).collect()
}

impl From<Change> for Reason {
    fn from(it: Change) -> Self {
        Self::Plateau { by: it.by, from: it.from, to: it.to }
    }
}

/// The share of the planned minutes worn over the span of a plateau; all of it where no log was read.
fn worn_over(doses: &[Dose], plateau: &Change) -> f64 {
    let within =
        |it: &&Dose| plateau.from <= it.from && it.to <= plateau.to && it.adherence().is_some();
    let (worn, planned) = doses.iter().filter(within).fold((0, 0), |(worn, planned), it| {
        (worn + it.worn.unwrap_or_default(), planned + it.planned)
    });
    if planned > 0 { f64::from(worn) / f64::from(planned) } else { 1.0 }
}

/// A range that falls since the first visit: the wider interval of its slope lies below nought.
///
/// What it won before the first visit is left out: it would hide a fall under the orthosis.
fn falling(case: &Case, pull: &PullPlan) -> Option<Reason> {
    let first = case.visits.first()?.date();
    let points = pull.points(case);
    let points: Vec<Point> = points.into_iter().filter(|it| it.0 >= first).collect();
    let trend = trend(&points)?;
    let interval = trend.wider_interval(case.measuring_error.goniometer)?;
    let is_below = interval.high.to_degrees_per_week() < 0.0;
    is_below.then_some(Reason::Falling { slope: trend.slope, interval })
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
    let next = if other { Next::OtherDirection } else { Next::GoalReached };
    let further = other.then_some((next, Reason::OtherIsFurther));
    [(next, Reason::AtGoal)].into_iter().chain(further).collect()
}

/// The therapist's own rule; at the goal it says nothing.
fn on_a_plateau(case: &Case, pull: &PullPlan) -> Option<Change> {
    let rule = case.plateau.filter(|_| pull.start < pull.goal)?;
    let points = pull.points(case);
    plateau(&points, rule.weeks, rule.degrees).filter(|is_met| *is_met)?;
    change_over(&points, rule.weeks)
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
    let dose = doses.last().filter(|it| it.to == newest.date());
    let worn = match dose.and_then(|it| Some((it, it.worn?))) {
        None => WornOf::NoLog,
        Some((dose, minutes)) => dose.adherence().map_or(WornOf::PastPlan(minutes), WornOf::Share),
    };
    let skin = newest.skin.filter(|it| matches!(it, SkinSeen::Clear | SkinSeen::RedBriefly))?;
    let other = direction.other();
    let unseen = newest.motion.passive.toward(other).is_none().then_some(other);
    Some(Looked { skin, pain, worn, unseen })
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
