//! The course so far: what is suggested, the visits, ranges and dose over time, and what they tell.

use serde::Serialize;

use super::trends::{Trends, beginning, doses, scores, trends};
use super::visits::{VisitTable, visits};
use super::{Citations, background};
use crate::calc::Plan;
use crate::calc::course::{Advice, Course, Next, Reason};
use crate::calc::pull::PullPlan;
use crate::case::{Case, Direction};
use crate::sheets::data::dose_chart::{DoseChart, dose_chart};
use crate::sheets::data::made::{Made, made};
use crate::sheets::data::range_plot::{Known, RangePlot, range_plot};
use crate::sheets::wording::{count, degrees, listed, percent};
use crate::sources::{BRUMFIELD, REDNESS, RYU, SALAFFI};
use crate::units::Angle;

/// What the summary says of the course.
#[derive(Debug, Serialize)]
pub(super) struct CoursePart {
    advice: Vec<Named>,
    visits: VisitTable,
    ranges: Vec<RangePlot>,
    #[serde(skip_serializing_if = "Option::is_none")]
    dose_chart: Option<DoseChart>,
    trends: Trends,
    error: String,
    doses: Vec<String>,
    scores: Vec<String>,
    /// The loops in use as they were made.
    made: Vec<Named>,
}

/// A sentence with what it is about.
#[derive(Debug, Serialize)]
pub(super) struct Named {
    name: String,
    text: String,
}

impl Named {
    pub(super) fn new(name: String, text: String) -> Self {
        Self { name, text }
    }
}

/// The course; nothing before the first visit.
pub(super) fn course(case: &Case, plan: &Plan, cited: &mut Citations) -> Option<CoursePart> {
    let course = plan.course.as_ref()?;
    let worn_from = course.doses.first().map(|it| it.from);
    let directions = [Direction::Flexion, Direction::Extension];
    Some(CoursePart {
        advice: course.advice.iter().map(|it| advice(it, plan.is_withheld(), cited)).collect(),
        visits: visits(case, plan),
        ranges: directions
            .into_iter()
            .filter_map(|it| range_plot(case, it, &known(plan, it, cited), worn_from))
            .collect(),
        dose_chart: dose_chart(&course.doses),
        trends: trends(case, plan),
        error: background::measuring_error(case, cited),
        doses: doses(course),
        scores: scores(case, course, cited),
        made: made(case, plan).into_iter().map(as_made).collect(),
    })
}

fn as_made(it: Made) -> Named {
    let name = format!("{} loop as built", background::capital(it.direction));
    Named::new(name, it.lines.join(" "))
}

/// The levels that a range is seen against: goal, other side, what daily life needs.
fn known(plan: &Plan, direction: Direction, cited: &mut Citations) -> Vec<Known> {
    let pull = plan.pulls.iter().find(|it| it.direction == direction);
    let standing = plan.standings.iter().find(|it| it.direction == direction);
    let level = |kind, angle, source| Known { kind, angle, source };
    let own = [
        pull.map(|it| level("goal", it.goal, String::new())),
        standing.and_then(|it| it.other_side).map(|it| level("other_side", it, String::new())),
    ];
    let (activities, tasks) = background::functional(direction);
    let functional = [
        level("activities", activities, cited.cite(&[BRUMFIELD])),
        level("tasks", tasks, cited.cite(&[RYU])),
    ];
    own.into_iter().flatten().chain(functional).collect()
}

fn advice(advice: &Advice, is_withheld: bool, cited: &mut Citations) -> Named {
    let reasons: Vec<String> = advice.reasons.iter().map(|it| reason(it, cited)).collect();
    let reasons: Vec<&str> = reasons.iter().map(String::as_str).collect();
    let is_stop = matches!(advice.next, Next::ReferBack | Next::EaseOff);
    let held = if is_withheld && !is_stop { "once each stop is answered: " } else { "" };
    let text = format!("{held}{}, because {}.", next(advice.next), listed(&reasons));
    Named::new(format!("{} pull", background::capital(advice.pull.word())), text)
}

/// What is suggested, as an order.
fn next(next: Next) -> &'static str {
    match next {
        Next::ReferBack => "stop, and send back to the doctor",
        Next::EaseOff => "ease off with a gentler stretch or a pause",
        Next::Hold => "stay at this mark",
        Next::NewLoop => "make the next loop",
        Next::OtherDirection => "turn to the other direction",
        Next::GoalReached => "set a new goal, keep what was won or end the course",
        Next::MoveOn => "go on to the next mark",
    }
}

/// The same in a word or two, for the headline.
fn short(next: Next) -> &'static str {
    match next {
        Next::ReferBack => "send back to the doctor",
        Next::EaseOff => "ease off",
        Next::Hold => "stay at this mark",
        Next::NewLoop => "new loop",
        Next::OtherDirection => "other direction",
        Next::GoalReached => "goal reached",
        Next::MoveOn => "next mark",
    }
}

fn reason(reason: &Reason, cited: &mut Citations) -> String {
    match *reason {
        Reason::RangeLost { by, error } => format!(
            "passive range fell by {} from its best, more than the measuring error of {}",
            degrees(by),
            degrees(error)
        ),
        Reason::SkinBroken => "the skin under the orthosis broke".into(),
        Reason::RednessStays => {
            format!("redness stayed longer than 20 minutes {}", cited.cite(&[REDNESS]))
        }
        Reason::PainRose { to } => {
            format!("pain rose by two points or more, to {to} of 10 {}", cited.cite(&[SALAFFI]))
        }
        Reason::LittleWorn { share } => {
            format!("{} of the minutes planned since the visit before were worn", percent(share))
        }
        Reason::LoopEnds { at, to } => format!(
            "today's range is {} and the loop in use ends at {}",
            degrees(at),
            degrees(whole(to))
        ),
        Reason::LoopTooShort { at, rest } => format!(
            "the loop in use rests at {}, past today's range of {}",
            degrees(whole(rest)),
            degrees(at)
        ),
        Reason::AtGoal => "today's range is at the goal".into(),
        Reason::OtherIsFurther => "the other direction is still short of its goal".into(),
        Reason::Stopped => "a stop is not answered".into(),
        Reason::Painful { pain } => format!("pain was {pain} of 10 when it was last asked"),
        Reason::TooMuchWorn => "more was worn than the daily limit allows".into(),
        Reason::DoctorsWord => {
            "today's range lies past the angle that waits for the doctor's word".into()
        }
        Reason::NotMeasured => {
            "neither range nor pain was asked for at the newest visit: measure first".into()
        }
        Reason::Clear => "nothing on file speaks against it".into(),
    }
}

/// Reckoned angles are printed whole beside measured ones.
fn whole(angle: Angle) -> Angle {
    Angle::degrees(angle.to_degrees().round())
}

/// Where the course stands, in one line; nothing before the first visit.
pub(super) fn headline(case: &Case, plan: &Plan) -> Option<String> {
    let course = plan.course.as_ref()?;
    let pulls: Vec<String> =
        plan.pulls.iter().map(|it| stands(case, it, course, plan.is_withheld())).collect();
    let stands = background::capital(&pulls.join("; "));
    Some(if plan.is_withheld() {
        let stops: Vec<&str> =
            plan.findings.iter().filter(|it| it.withholds()).map(|it| it.title).collect();
        let stops = listed(&stops).to_lowercase();
        let side = case.patient.side.word();
        format!("Stop for the {side} wrist: {stops}. {stands}. The therapist decides.")
    } else {
        format!("{stands}. The therapist decides.")
    })
}

/// `passive flexion 25° to 46° in 8 weeks, goal 60°; suggested: new loop`.
fn stands(case: &Case, pull: &PullPlan, course: &Course, is_withheld: bool) -> String {
    let way = pull.direction.word();
    let newest = case.ranges().rev().find(|it| it.passive.toward(pull.direction).is_some());
    let range = match beginning(case, pull.direction).zip(newest) {
        Some(((from, first), newest)) if newest.date > from => {
            let days = (newest.date - from).get_days();
            format!("{} to {} in {}", degrees(first), degrees(pull.start), span(days))
        }
        _ => degrees(pull.start),
    };
    let advised = course.advice.iter().find(|it| it.pull == pull.direction);
    let suggested = advised
        .filter(|_| !is_withheld)
        .map_or_else(String::new, |it| format!("; suggested: {}", short(it.next)));
    format!("passive {way} {range}, goal {}{suggested}", degrees(pull.goal))
}

/// Days below two weeks, else whole weeks.
fn span(days: i32) -> String {
    if days < 14 {
        count(days.into(), "day", "days")
    } else {
        count(((days + 3) / 7).into(), "week", "weeks")
    }
}
