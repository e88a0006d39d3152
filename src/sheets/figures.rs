//! The plan's numbers as one JSON object, for machines and for checking.
//!
//! Lengths in mm, angles in degrees, torques in N·m, forces in N, pressures in kPa, each with its
//! unit in the key. A number that cannot be reckoned for want of a measurement is null, and a
//! finding of level `note` names the measurement.

mod course;
mod pattern;
mod table;

use serde::Serialize;

use super::wording::round;
use crate::calc::Plan;
use crate::calc::alternatives::{Alternative, Change, Effect};
use crate::calc::ceiling::{Allowed, Ceiling, Limit};
use crate::calc::line::Contact;
use crate::calc::load::Load;
use crate::calc::loops::{Loop, Mark};
use crate::calc::precautions::Finding;
use crate::calc::progress::{Class, Standing, WarmUpReading, detectable_change};
use crate::calc::pull::PullPlan;
use crate::calc::sharing::Share;
use crate::calc::stock::Choice;
use crate::case::{Case, Pull};
use course::{
    AsBuiltFigures, CourseFigures, TrendFigures, as_built_figures, course_figures, trend_figures,
};
use pattern::PatternFigures;
pub(crate) use pattern::key_of;

/// All numbers of a plan.
#[derive(Debug, Serialize)]
pub struct Figures {
    case: String,
    withheld: bool,
    pulls: Vec<PullFigures>,
    wear: WearFigures,
    progress: ProgressFigures,
    pattern: PatternFigures,
    findings: Vec<FindingFigures>,
}

#[derive(Debug, Serialize)]
struct PullFigures {
    direction: &'static str,
    start_deg: f64,
    goal_deg: f64,
    reachable_deg: f64,
    hold_deg: Option<f64>,
    /// The loop in use as it was made.
    #[serde(skip_serializing_if = "Option::is_none")]
    as_built: Option<AsBuiltFigures>,
    loops: Vec<LoopFigures>,
    allowed: AllowedFigures,
    alternatives: Vec<AlternativeFigures>,
    stock: Option<ChoiceFigures>,
}

#[derive(Debug, Serialize)]
struct LoopFigures {
    number: usize,
    line_mm: f64,
    flat_mm: f64,
    closed_mm: f64,
    cut_mm: f64,
    from_deg: f64,
    to_deg: f64,
    marks: Vec<MarkFigures>,
}

#[derive(Debug, Serialize)]
struct MarkFigures {
    mark: usize,
    angle_deg: f64,
    strip_mm: f64,
    spread_mm: f64,
    mm_per_deg: f64,
    moment_arm_mm: f64,
    pull_angle_deg: f64,
    rotating_share: f64,
    axial_share: f64,
    touches: Vec<&'static str>,
    clearance_mm: f64,
    torque_nm: Option<f64>,
    tension_n: Option<f64>,
    across_n: Option<f64>,
    joint_n: Option<f64>,
    cuff_kpa: Option<f64>,
    cuff_mean_kpa: Option<f64>,
    forearm_kpa: Option<f64>,
    forearm_mean_kpa: Option<f64>,
    elbow_kpa: Option<f64>,
    strand_n: Option<f64>,
    tab_n: Option<f64>,
    tab_n_per_cm2: Option<f64>,
    stretch_mm: Option<f64>,
    lost_deg: Option<f64>,
    ceiling_nm: Option<f64>,
    ceiling_n: Option<f64>,
    ceiling_limit: Option<&'static str>,
}

#[derive(Debug, Serialize)]
struct AllowedFigures {
    skin_plan_kpa: f64,
    skin_warn_kpa: f64,
    skin_stop_kpa: f64,
    skin_lowered: bool,
    strand_n: Option<f64>,
    tab_n_per_cm2: f64,
}

#[derive(Debug, Serialize)]
struct AlternativeFigures {
    change: &'static str,
    by_mm: Option<f64>,
    start: EffectFigures,
    goal: Option<EffectFigures>,
    reach_deg: f64,
    room_mm: Option<f64>,
}

#[derive(Debug, Serialize)]
struct EffectFigures {
    moment_arm_mm: f64,
    pull_angle_deg: f64,
    joint_n: f64,
    tension_n: f64,
}

#[derive(Debug, Serialize)]
struct ChoiceFigures {
    line_diameter_mm: Option<f64>,
    line_strength_needed_n: Option<f64>,
    pad_width_mm: Option<f64>,
    pad_length_mm: Option<f64>,
}

#[derive(Debug, Serialize)]
struct WearFigures {
    steps: Vec<StepFigures>,
    weeks: Vec<WeekFigures>,
}

#[derive(Debug, Serialize)]
struct StepFigures {
    from: String,
    to: String,
    days: u32,
    minutes: u32,
    times: u32,
    daily_min: u32,
    /// With two pulls: sessions a day for the first and the second, or days of the first among so many.
    #[serde(skip_serializing_if = "Option::is_none")]
    shared: Option<ShareFigures>,
}

#[derive(Debug, Serialize)]
#[serde(rename_all = "snake_case")]
enum ShareFigures {
    EachDay([u32; 2]),
    Turns([u32; 2]),
}

#[derive(Debug, Serialize)]
struct WeekFigures {
    week: u32,
    from: String,
    planned_min: u32,
    total_min: u32,
}

#[derive(Debug, Serialize)]
struct ProgressFigures {
    detectable_change_deg: f64,
    directions: Vec<StandingFigures>,
    preconditioning: Vec<WarmUpFigures>,
    /// The course so far, from the first visit on.
    #[serde(skip_serializing_if = "Option::is_none")]
    course: Option<CourseFigures>,
}

#[derive(Debug, Serialize)]
struct StandingFigures {
    direction: &'static str,
    first: String,
    first_deg: f64,
    newest: String,
    newest_deg: f64,
    change_deg: f64,
    beyond_error: bool,
    other_side_deg: Option<f64>,
    deficit_deg: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    trend: Option<TrendFigures>,
}

#[derive(Debug, Serialize)]
struct WarmUpFigures {
    direction: &'static str,
    cold_deg: f64,
    warm_deg: f64,
    gain_deg: f64,
    error_deg: f64,
    classes: Vec<&'static str>,
}

#[derive(Debug, Serialize)]
struct FindingFigures {
    id: String,
    level: &'static str,
    title: &'static str,
    text: String,
    action: String,
    source: String,
    #[serde(rename = "override")]
    answer: Option<AnswerFigures>,
}

#[derive(Debug, Serialize)]
struct AnswerFigures {
    by: String,
    date: String,
    why: String,
}

impl Figures {
    /// The numbers of a case and its plan.
    #[must_use]
    pub fn of(case: &Case, plan: &Plan) -> Self {
        Self {
            case: case.head.id.clone(),
            withheld: plan.is_withheld(),
            pulls: case
                .orthosis
                .pulls
                .iter()
                .zip(&plan.pulls)
                .map(|(it, plan)| pull(it, plan))
                .collect(),
            wear: wear(plan),
            progress: progress(case, plan),
            pattern: PatternFigures::of(&plan.pattern),
            findings: plan.findings.iter().map(finding).collect(),
        }
    }

    /// The object on one line.
    ///
    /// # Panics
    ///
    /// Never: texts and finite numbers are always JSON.
    #[must_use]
    pub fn to_json(&self) -> String {
        serde_json::to_string(self).expect("texts and finite numbers are JSON")
    }
}

fn pull(planned: &Pull, pull: &PullPlan) -> PullFigures {
    PullFigures {
        direction: pull.direction.word(),
        start_deg: round(pull.start.to_degrees(), 2),
        goal_deg: round(pull.goal.to_degrees(), 2),
        reachable_deg: round(pull.reachable.to_degrees(), 2),
        hold_deg: pull.hold.map(|it| round(it.to_degrees(), 2)),
        as_built: as_built_figures(planned, pull),
        loops: pull.loops.iter().map(|it| one_loop(pull, it)).collect(),
        allowed: allowed(&pull.allowed),
        alternatives: pull.alternatives.iter().map(alternative).collect(),
        stock: pull.choice.as_ref().map(choice),
    }
}

fn allowed(allowed: &Allowed) -> AllowedFigures {
    AllowedFigures {
        skin_plan_kpa: round(allowed.skin_plan.to_kpa(), 3),
        skin_warn_kpa: round(allowed.skin_warn.to_kpa(), 3),
        skin_stop_kpa: round(allowed.skin_stop.to_kpa(), 3),
        skin_lowered: allowed.is_lowered,
        strand_n: allowed.strand.map(|it| round(it.to_newtons(), 3)),
        tab_n_per_cm2: round(allowed.tab.to_kpa() / 10.0, 4),
    }
}

fn alternative(it: &Alternative) -> AlternativeFigures {
    let (change, by) = match it.change {
        Change::None => ("as_planned", None),
        Change::HoleAtPalm => ("hole_at_palm", None),
        Change::HoleFurther(by) => ("hole_further_out", Some(by)),
        Change::StripRaised(by) => ("strip_raised", Some(by)),
        Change::StripNearer(by) => ("strip_nearer", Some(by)),
        Change::StripFarther(by) => ("strip_farther", Some(by)),
    };
    let effect = |it: Effect| EffectFigures {
        moment_arm_mm: round(it.arm.to_mm(), 3),
        pull_angle_deg: round(it.pull_angle.to_degrees(), 3),
        joint_n: round(it.joint.to_newtons(), 3),
        tension_n: round(it.tension.to_newtons(), 3),
    };
    AlternativeFigures {
        change,
        by_mm: by.map(|it| round(it.to_mm(), 3)),
        start: effect(it.start),
        goal: it.goal.map(effect),
        reach_deg: round(it.reach.to_degrees(), 2),
        room_mm: it.room.map(|it| round(it.to_mm(), 3)),
    }
}

fn choice(choice: &Choice) -> ChoiceFigures {
    let pad = choice.pad.and_then(|it| it.holds);
    ChoiceFigures {
        line_diameter_mm: choice
            .line
            .and_then(|it| it.holds)
            .map(|it| round(it.diameter.to_mm(), 3)),
        line_strength_needed_n: choice.line.map(|it| round(it.needed.to_newtons(), 2)),
        pad_width_mm: pad.map(|(width, _)| round(width.to_mm(), 3)),
        pad_length_mm: pad.map(|(_, length)| round(length.to_mm(), 3)),
    }
}

fn one_loop(pull: &PullPlan, made: &Loop) -> LoopFigures {
    LoopFigures {
        number: made.number,
        line_mm: round(made.line.to_mm(), 3),
        flat_mm: round(made.flat.to_mm(), 3),
        closed_mm: round(made.closed.to_mm(), 3),
        cut_mm: round(made.cut.to_mm(), 3),
        from_deg: round(made.from.to_degrees(), 2),
        to_deg: round(made.to.to_degrees(), 2),
        marks: made.marks.iter().map(|it| mark(it, pull.load(it), pull.ceiling(it))).collect(),
    }
}

fn mark(mark: &Mark, load: Option<Load>, ceiling: Option<Ceiling>) -> MarkFigures {
    let touches = mark.line.touches().iter().map(|contact| match contact {
        Contact::CuffEdge => "cuff_edge",
        Contact::PieceEdge => "piece_edge",
    });
    MarkFigures {
        mark: mark.number,
        angle_deg: round(mark.angle.to_degrees(), 2),
        strip_mm: round(mark.place.to_mm(), 3),
        spread_mm: round(mark.spread.to_mm(), 3),
        mm_per_deg: round(mark.per_degree.to_mm(), 4),
        moment_arm_mm: round(mark.line.moment_arm().to_mm(), 3),
        pull_angle_deg: round(mark.line.pull_angle().to_degrees(), 3),
        rotating_share: round(mark.line.rotating_share(), 4),
        axial_share: round(mark.line.axial_share(), 4),
        touches: touches.collect(),
        clearance_mm: round(mark.line.clearance().to_mm(), 3),
        torque_nm: load.map(|it| round(it.torque.to_newton_metres(), 4)),
        tension_n: load.map(|it| round(it.tension.to_newtons(), 3)),
        across_n: load.map(|it| round(it.across.to_newtons(), 3)),
        joint_n: load.map(|it| round(it.joint.to_newtons(), 3)),
        cuff_kpa: load.map(|it| round(it.cuff.peak.to_kpa(), 3)),
        cuff_mean_kpa: load.map(|it| round(it.cuff.mean.to_kpa(), 3)),
        forearm_kpa: load.map(|it| round(it.forearm.peak.to_kpa(), 3)),
        forearm_mean_kpa: load.map(|it| round(it.forearm.mean.to_kpa(), 3)),
        elbow_kpa: load.map(|it| round(it.elbow.to_kpa(), 3)),
        strand_n: load.map(|it| round(it.strand.to_newtons(), 3)),
        tab_n: load.map(|it| round(it.at_tab.to_newtons(), 3)),
        tab_n_per_cm2: load.map(|it| round(it.tab.to_kpa() / 10.0, 4)),
        stretch_mm: load.map(|it| round(it.stretch.to_mm(), 4)),
        lost_deg: load.map(|it| round(it.lost.to_degrees(), 4)),
        ceiling_nm: ceiling.map(|it| round(it.torque.to_newton_metres(), 4)),
        ceiling_n: ceiling.map(|it| round(it.tension.to_newtons(), 3)),
        ceiling_limit: ceiling.map(|it| limit_key(it.limit)),
    }
}

fn limit_key(limit: Limit) -> &'static str {
    match limit {
        Limit::Cuff => "cuff",
        Limit::Forearm => "forearm",
        Limit::Elbow => "elbow",
        Limit::Line => "line",
        Limit::Tab => "tab",
    }
}

fn wear(plan: &Plan) -> WearFigures {
    let share = |index: usize| {
        plan.shares.get(index).map(|it| match *it {
            Share::EachDay(one, other) => ShareFigures::EachDay([one, other]),
            Share::Turns(days, of) => ShareFigures::Turns([days, of]),
        })
    };
    let steps = plan.wear.steps.iter().enumerate().map(|(index, step)| StepFigures {
        from: step.from.to_string(),
        to: step.to.to_string(),
        days: step.days,
        minutes: step.minutes,
        times: step.times,
        daily_min: step.daily_minutes(),
        shared: share(index),
    });
    let weeks = plan.wear.weeks.iter().map(|week| WeekFigures {
        week: week.number,
        from: week.from.to_string(),
        planned_min: week.minutes,
        total_min: week.total_minutes,
    });
    WearFigures { steps: steps.collect(), weeks: weeks.collect() }
}

fn progress(case: &Case, plan: &Plan) -> ProgressFigures {
    let error = detectable_change(case.measuring_error.goniometer);
    let standing = |it: &Standing| StandingFigures {
        direction: it.direction.word(),
        first: it.first.0.to_string(),
        first_deg: round(it.first.1.to_degrees(), 2),
        newest: it.newest.0.to_string(),
        newest_deg: round(it.newest.1.to_degrees(), 2),
        change_deg: round(it.change().to_degrees(), 2),
        beyond_error: it.change().abs() > error,
        other_side_deg: it.other_side.map(|other| round(other.to_degrees(), 2)),
        deficit_deg: it.deficit().map(|deficit| round(deficit.to_degrees(), 2)),
        trend: trend_figures(case, it),
    };
    let warm_up = |it: &WarmUpReading| WarmUpFigures {
        direction: it.direction.word(),
        cold_deg: round(it.cold.to_degrees(), 2),
        warm_deg: round(it.warm.to_degrees(), 2),
        gain_deg: round(it.gain().to_degrees(), 2),
        error_deg: round(it.error.to_degrees(), 2),
        classes: it.classes.iter().map(|class| class_word(*class)).collect(),
    };
    ProgressFigures {
        detectable_change_deg: round(error.to_degrees(), 2),
        directions: plan.standings.iter().map(standing).collect(),
        preconditioning: plan.warm_ups.iter().map(warm_up).collect(),
        course: plan.course.as_ref().map(course_figures),
    }
}

fn class_word(class: Class) -> &'static str {
    match class {
        Class::Exercise => "exercise",
        Class::Static => "static",
        Class::Dynamic => "dynamic",
        Class::StaticProgressive => "static_progressive",
    }
}

fn finding(finding: &Finding) -> FindingFigures {
    FindingFigures {
        id: finding.id.clone(),
        level: finding.level.word(),
        title: finding.title,
        text: finding.text.clone(),
        action: finding.action.clone(),
        source: finding.ground.words(),
        answer: finding.answer.as_ref().map(|it| AnswerFigures {
            by: it.by.clone(),
            date: it.date.to_string(),
            why: it.why.clone(),
        }),
    }
}
