//! The course so far: what is suggested, the visits, ranges and dose over time, and what they tell.

use serde::Serialize;

use super::trends::{Trends, beginning, doses, scores, trends};
use super::visits::{VisitTable, visits};
use super::{Citations, advice, background};
use crate::calc::Plan;
use crate::calc::advice::Course;
use crate::calc::pull::PullPlan;
use crate::case::{Case, Direction};
use crate::sheets::data::dose_chart::{DoseChart, dose_chart};
use crate::sheets::data::made::{Made, made};
use crate::sheets::data::range_plot::{Known, RangePlot, range_plot};
use crate::sheets::wording::{count, degrees, listed};
use crate::sources::{BRUMFIELD, RYU};

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
        advice: course
            .advice
            .iter()
            .map(|it| advice::named(it, plan.is_withheld(), cited))
            .collect(),
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
        .filter(|it| !is_withheld || it.next.is_stop())
        .map_or_else(String::new, |it| format!("; suggested: {}", advice::short(it)));
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
