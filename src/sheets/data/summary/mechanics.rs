//! Mechanics in a paragraph, and the wear plan as rows.

use super::{Citations, PullPart, StepRow, Wear, WeekRow, background};
use crate::calc::Plan;
use crate::calc::dose::Step;
use crate::calc::load::Load;
use crate::calc::loops::{Loop, Mark};
use crate::calc::pull::PullPlan;
use crate::case::{Case, Visit};
use crate::sheets::data::drawing::Drawings;
use crate::sheets::data::loads;
use crate::sheets::wording::{
    count, degrees, degrees1, fixed, kpa_mmhg, listed, mm1, newton_metres, newtons, percent,
    short_day,
};
use crate::sources::{JOHANSSON, LINDER_GANZ, MCGRATH, SHERMAN, WILLIAMS};
use crate::units::Pressure;

pub(super) fn pulls(case: &Case, plan: &Plan, cited: &mut Citations) -> Vec<PullPart> {
    let pulls = case.orthosis.pulls.iter().zip(&plan.pulls);
    pulls
        .map(|(pull, reckoned)| PullPart {
            direction: pull.direction.word(),
            figures: Drawings::of(case, pull, reckoned),
            lines: lines(case, reckoned, cited),
        })
        .collect()
}

/// The mechanics of one pull as paragraphs.
fn lines(case: &Case, pull: &PullPlan, cited: &mut Citations) -> Vec<String> {
    let Some((first, last)) = pull.marks().next().zip(pull.marks().last()) else {
        return vec!["No mark fits this geometry, so there is nothing to reckon.".to_owned()];
    };
    let loads = loads_line(case, pull, first, last, cited);
    vec![line_of_pull(first, last, cited), loads, loops(pull)]
}

/// How the line turns the wrist, from the first mark to the last.
fn line_of_pull(first: &Mark, last: &Mark, cited: &mut Citations) -> String {
    let (near, far) = (&first.line, &last.line);
    format!(
        "{} the line turns the wrist by a moment arm of {} mm, its shortening for each radian of wrist \
         motion {}. It meets the hand at {}, so that {} of the pull goes across the hand and turns it, and \
         {} goes along it and presses the joint.",
        background::capital(&span(first, last)),
        ends(mm1(near.moment_arm()), mm1(far.moment_arm())),
        cited.cite(&[SHERMAN]),
        ends(degrees1(near.pull_angle()), degrees1(far.pull_angle())),
        ends(percent(near.rotating_share()), percent(far.rotating_share())),
        ends(percent(near.axial_share()), percent(far.axial_share())),
    )
}

/// Torque, pull, pressures and what gives first, or that no gauge was read.
fn loads_line(
    case: &Case,
    pull: &PullPlan,
    first: &Mark,
    last: &Mark,
    cited: &mut Citations,
) -> String {
    let Some((near, far)) = pull.load(first).zip(pull.load(last)) else {
        return "No force gauge reading is on file, so pull and pressures are not reckoned."
            .to_owned();
    };
    let skin = cited.cite(&[JOHANSSON, WILLIAMS, LINDER_GANZ]);
    let most = |of: fn(&Load) -> Pressure| kpa_mmhg(of(&near).max(of(&far)));
    format!(
        "{} By it the stiff joint takes {} N·m {}; past today's range it is kept at today's value. The pull is {} N and presses the joint with {} N. The most pressure is {} kPa (mmHg) under the \
         cuff, {} under the forearm piece and {} behind the elbow; planned at most {} kPa {}.{}",
        gauge(case, pull).unwrap_or_default(),
        ends(newton_metres(near.torque), newton_metres(far.torque)),
        span(first, last),
        ends(newtons(near.tension), newtons(far.tension)),
        ends(newtons(near.joint), newtons(far.joint)),
        most(|it| it.cuff.peak),
        most(|it| it.forearm.peak),
        most(|it| it.elbow),
        fixed(pull.allowed.skin_plan.to_kpa(), 1),
        skin,
        gives(pull, first),
    )
}

/// Which gauge reading the loads rest on, and whether today's range was read.
pub(in crate::sheets::data) fn gauge(case: &Case, pull: &PullPlan) -> Option<String> {
    let read = case.readings(pull.direction);
    let last = read.iter().max_by(|one, other| one.angle.total_cmp(&other.angle))?;
    let is_of = |it: &&Visit| it.torque.iter().any(|it| it.pull == pull.direction);
    let visit = case.visits.iter().rev().find(is_of);
    let on = visit.map_or_else(
        || if case.visits.is_empty() { String::new() } else { " before the first fit".into() },
        |it| format!(" on {}", short_day(it.date())),
    );
    let today = if last.angle > pull.start {
        format!(", past today's {}; the pull at today's range is not known", degrees(pull.start))
    } else if last.angle < pull.start {
        format!(", not at today's {}, where the pull may be higher", degrees(pull.start))
    } else {
        String::new()
    };
    Some(format!(
        "Reckoned from a gauge reading of {} N·m at {}{on}{today}.",
        newton_metres(last.torque()),
        degrees(last.angle)
    ))
}

/// What gives first at a mark.
fn gives(pull: &PullPlan, mark: &Mark) -> String {
    pull.ceiling(mark).map_or_else(String::new, |it| {
        format!(
            " First to reach its limit at {} is {}, at a pull of {} N.",
            degrees(mark.angle),
            loads::gives(it.limit),
            newtons(it.tension)
        )
    })
}

/// The loops in use or to be made.
fn loops(pull: &PullPlan) -> String {
    let one = |it: &Loop| {
        format!(
            "loop {} serves {} to {} with {} mm of line ({} mm pulled flat)",
            it.number,
            degrees1(it.from),
            degrees1(it.to),
            mm1(it.line),
            mm1(it.flat)
        )
    };
    let all: Vec<String> = pull.loops.iter().map(one).collect();
    let all: Vec<&str> = all.iter().map(String::as_str).collect();
    let today = pull.marks().next().map_or_else(String::new, |it| {
        format!(
            " Today's mark lies {} mm along the strip, at {}.",
            mm1(it.place),
            degrees(it.angle)
        )
    });
    format!("{}.{today}", background::capital(&listed(&all)))
}

/// `from 25° to 60°`, or `at 25°` where first and last mark are one.
fn span(first: &Mark, last: &Mark) -> String {
    let (from, to) = (degrees(first.angle), degrees(last.angle));
    if from == to { format!("at {from}") } else { format!("from {from} to {to}") }
}

/// Two texts as `a to b`; the same text once.
fn ends(near: String, far: String) -> String {
    if near == far { near } else { format!("{near} to {far}") }
}

/// Whether every step lies within the band of the published series.
fn band(plan: &Plan) -> &'static str {
    let within = |step: &Step| (30..=60).contains(&step.minutes) && (1..=3).contains(&step.times);
    let inside = plan.wear.steps.iter().filter(|step| within(step)).count();
    if inside == plan.wear.steps.len() {
        "lies within that"
    } else if inside == 0 {
        "lies outside that throughout"
    } else {
        "lies outside that in some of its steps"
    }
}

/// Minutes of the whole plan.
fn planned(plan: &Plan) -> u32 {
    plan.wear.weeks.last().map_or(0, |it| it.total_minutes)
}

/// Where the dose worn stands, or that none was recorded.
fn worn(plan: &Plan) -> &'static str {
    let mut doses = plan.course.iter().flat_map(|it| &it.doses);
    if doses.any(|it| it.worn.is_some()) {
        "see the course so far"
    } else {
        "none recorded in this file"
    }
}

/// What is told instead of the steps to come while the stretch is eased.
pub(in crate::sheets::data) fn held(case: &Case, plan: &Plan) -> Option<String> {
    let today = case.head.prepared;
    let kept = plan.wear.steps.iter().find(|it| today <= it.to).filter(|_| plan.eases())?;
    Some(format!(
        "While the stretch is eased the patient keeps to {} minutes {} a day and adds none, until the therapist says so.",
        kept.minutes,
        count(kept.times.into(), "time", "times")
    ))
}

pub(super) fn wear(case: &Case, plan: &Plan, cited: &mut Citations) -> Wear {
    let steps = plan.wear.steps.iter().map(|step| StepRow {
        from: short_day(step.from),
        to: short_day(step.to),
        days: step.days.to_string(),
        minutes: step.minutes.to_string(),
        times: step.times.to_string(),
        daily: step.daily_minutes().to_string(),
    });
    // A course has its minutes in a chart.
    let weeks = plan.wear.weeks.iter().filter(|_| plan.course.is_none()).map(|week| WeekRow {
        week: week.number.to_string(),
        from: short_day(week.from),
        planned: week.minutes.to_string(),
        total: week.total_minutes.to_string(),
    });
    let most = plan.wear.steps.iter().map(Step::daily_minutes).max().unwrap_or_default();
    let notes = vec![
        format!(
            "At most {most} minutes a day. A published series of wrists wore 30 to 60 minutes, 1 to \
             3 times a day {}; this plan {}.",
            cited.cite(&[MCGRATH]),
            band(plan)
        ),
        format!(
            "Steps of {} minutes each {} days, only while skin and pain rules hold; no more than {} \
             minutes a day (common practice, no source).",
            case.wear.step, case.wear.days_per_step, case.wear.daily_limit
        ),
        format!("Planned in all: {} minutes. Dose worn so far: {}.", planned(plan), worn(plan)),
    ];
    let notes = held(case, plan).into_iter().chain(notes).chain(loads::shared_note(plan)).collect();
    Wear { steps: steps.collect(), weeks: weeks.collect(), notes }
}
