//! Mechanics, loops and wear, as rows.

use super::{Citations, LoopRow, MechanicsRow, PullPart, StepRow, Wear, WeekRow};
use crate::calc::Plan;
use crate::calc::dose::Step;
use crate::calc::load::Load;
use crate::calc::loops::{Loop, Mark};
use crate::calc::pull::PullPlan;
use crate::case::Case;
use crate::sheets::data::drawing::{Drawings, bodies};
use crate::sheets::data::loads::{self, alternatives, curves, load_rows};
use crate::sheets::wording::{
    degrees, degrees1, kpa_mmhg, mm1, newton_metres, newtons, percent, short_day,
};
use crate::sources::{HOOK_SHEAR, JOHANSSON, LINDER_GANZ, MCGRATH, SHERMAN, WILLIAMS};

/// Shown where a number cannot be reckoned.
const NONE: &str = "\u{2013}";

pub(super) fn pulls(case: &Case, plan: &Plan, cited: &mut Citations) -> Vec<PullPart> {
    let pulls = case.orthosis.pulls.iter().zip(&plan.pulls);
    pulls
        .map(|(pull, reckoned)| PullPart {
            direction: pull.direction.word(),
            figures: Drawings::of(case, pull, reckoned),
            mechanics: reckoned.marks().map(|it| row(it, reckoned.load(it))).collect(),
            loops: reckoned.loops.iter().map(loop_row).collect(),
            notes: notes(reckoned, cited),
            bodies: bodies(reckoned),
            loads: load_rows(reckoned),
            limits: limits_note(reckoned, cited),
            curves: curves(reckoned),
            alternatives: alternatives(reckoned),
        })
        .collect()
}

fn row(mark: &Mark, load: Option<Load>) -> MechanicsRow {
    let line = &mark.line;
    let or_none = |text: Option<String>| text.unwrap_or_else(|| NONE.into());
    MechanicsRow {
        mark: mark.number.to_string(),
        angle: degrees(mark.angle),
        place: mm1(mark.place),
        arm: mm1(line.moment_arm()),
        pull_angle: degrees1(line.pull_angle()),
        turning: percent(line.rotating_share()),
        along: percent(line.axial_share()),
        torque: or_none(load.map(|it| newton_metres(it.torque))),
        tension: or_none(load.map(|it| newtons(it.tension))),
        cuff: or_none(load.map(|it| kpa_mmhg(it.cuff.peak))),
        forearm: or_none(load.map(|it| kpa_mmhg(it.forearm.peak))),
        elbow: or_none(load.map(|it| kpa_mmhg(it.elbow))),
    }
}

fn limits_note(pull: &PullPlan, cited: &mut Citations) -> String {
    let skin = cited.cite(&[JOHANSSON, WILLIAMS, LINDER_GANZ]);
    let tab = cited.cite(&[HOOK_SHEAR]);
    format!("{} Skin {skin}; test of the tab {tab}.", loads::limits_note(pull))
}

fn loop_row(made: &Loop) -> LoopRow {
    LoopRow {
        number: made.number.to_string(),
        line: mm1(made.line),
        flat: mm1(made.flat),
        closed: mm1(made.closed),
        cut: mm1(made.cut),
        from: degrees1(made.from),
        to: degrees1(made.to),
    }
}

fn notes(pull: &PullPlan, cited: &mut Citations) -> Vec<String> {
    let mut notes = vec![format!(
        "The moment arm is the line's shortening for each radian of wrist motion {}. Across and \
         along the hand: the sine and cosine of the pull angle; what goes along presses the joint. \
         Pressures are peaks under a stiff cuff and forearm piece on an even bed, and the mean \
         behind the elbow, in kPa (mmHg).",
        cited.cite(&[SHERMAN])
    )];
    if let Some(last) = pull.torque.last_angle() {
        notes.push(format!(
            "Torque was read with a force gauge up to {}. Past today's end range it is kept at \
             today's end-range value: a later mark is meant to be reached at the same firm \
             stretch, not at a harder one.",
            degrees(last)
        ));
    } else {
        notes.push(
            "No force gauge reading is on file, so tension and pressures are not shown.".into(),
        );
    }
    if pull.loops.len() > 1 {
        notes.push(format!(
            "One strip cannot hold the whole way: {} loops follow each other, each new one \
             beginning 5° before the end of the last.",
            pull.loops.len()
        ));
    }
    notes
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

/// Where the dose worn stands, or that none was recorded.
fn worn(plan: &Plan) -> &'static str {
    let mut doses = plan.course.iter().flat_map(|it| &it.doses);
    if doses.any(|it| it.worn.is_some()) {
        "see the course so far"
    } else {
        "none recorded in this file"
    }
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
    let weeks = plan.wear.weeks.iter().map(|week| WeekRow {
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
        format!("Dose worn so far: {}.", worn(plan)),
    ];
    let notes = notes.into_iter().chain(loads::shared_note(plan)).collect();
    Wear { steps: steps.collect(), weeks: weeks.collect(), notes }
}
