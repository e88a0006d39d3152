//! Loads, limits, better lines of pull and what the shelf offers, as rows and sentences.

use serde::Serialize;

use super::plot::{Curve, Plot, curve};
use crate::calc::Plan;
use crate::calc::alternatives::{Alternative, Change};
use crate::calc::ceiling::{Ceiling, Limit};
use crate::calc::load::Load;
use crate::calc::loops::Mark;
use crate::calc::pull::PullPlan;
use crate::calc::stock::{LineChoice, PadChoice};
use crate::case::StockLine;
use crate::sheets::wording::{degrees, degrees1, fixed, mm, mm0, mm1, newton_metres, newtons};
use crate::units::{Length, Pressure};

/// Shown where a number cannot be reckoned.
const NONE: &str = "\u{2013}";

/// What a mark bears.
#[derive(Debug, Serialize)]
pub(super) struct LoadRow {
    mark: String,
    joint: String,
    turning: String,
    cuff_mean: String,
    strand: String,
    tab: String,
    stretch: String,
    lost: String,
    ceiling_torque: String,
    ceiling: String,
    limit: &'static str,
}

/// One line of pull beside the planned one.
#[derive(Debug, Serialize)]
pub(super) struct AlternativeRow {
    change: String,
    planned: bool,
    arm: String,
    pull_angle: String,
    joint_start: String,
    joint_goal: String,
    room: String,
    cost: &'static str,
}

/// Alternatives with the sentence that sums them up.
#[derive(Debug, Serialize)]
pub(super) struct Alternatives {
    rows: Vec<AlternativeRow>,
    note: String,
}

pub(super) fn load_rows(pull: &PullPlan) -> Vec<LoadRow> {
    pull.marks().map(|it| load_row(it, pull.load(it), pull.ceiling(it))).collect()
}

fn load_row(mark: &Mark, load: Option<Load>, ceiling: Option<Ceiling>) -> LoadRow {
    let or_none = |text: Option<String>| text.unwrap_or_else(|| NONE.into());
    LoadRow {
        mark: mark.number.to_string(),
        joint: or_none(load.map(|it| newtons(it.joint))),
        turning: or_none(load.map(|it| newtons(it.across))),
        cuff_mean: or_none(load.map(|it| fixed(it.cuff.mean.to_kpa(), 1))),
        strand: or_none(load.map(|it| newtons(it.strand))),
        tab: or_none(load.map(|it| fixed(newtons_per_cm2(it.tab), 1))),
        stretch: or_none(load.map(|it| mm1(it.stretch))),
        lost: or_none(load.map(|it| degrees1(it.lost))),
        ceiling_torque: or_none(ceiling.map(|it| newton_metres(it.torque))),
        ceiling: or_none(ceiling.map(|it| newtons(it.tension))),
        limit: ceiling.map_or(NONE, |it| limit(it.limit)),
    }
}

fn limit(limit: Limit) -> &'static str {
    match limit {
        Limit::Cuff => "skin, cuff",
        Limit::Forearm => "skin, forearm",
        Limit::Elbow => "skin, elbow",
        Limit::Line => "line",
        Limit::Tab => "tab",
    }
}

/// The same in a sentence.
pub(super) fn gives(limit: Limit) -> &'static str {
    match limit {
        Limit::Cuff => "the skin under the cuff",
        Limit::Forearm => "the skin under the forearm piece",
        Limit::Elbow => "the skin behind the elbow",
        Limit::Line => "the line",
        Limit::Tab => "the tab",
    }
}

/// The limits that the ceiling is held against, in one sentence.
pub(super) fn limits_note(pull: &PullPlan) -> String {
    let allowed = &pull.allowed;
    let kpa = |it: Pressure| fixed(it.to_kpa(), 1);
    let lowered = if allowed.is_lowered { ", halved for skin or sensation" } else { "" };
    let line = allowed.strand.map_or_else(
        || "the line's strength is not recorded".to_owned(),
        |it| format!("a strand {} N", newtons(it)),
    );
    format!(
        "The most is what every limit allows at once: skin {} kPa planned (care to {}, stop above \
         {}{lowered}), {line}, the tab {} N/cm². Skin limits are a judgement resting on the works \
         cited; crimp, wet strength, shear strength and the line's stiffness are from memory or from \
         practitioners' tests and are fields of the case file.",
        kpa(allowed.skin_plan),
        kpa(allowed.skin_warn),
        kpa(allowed.skin_stop),
        fixed(newtons_per_cm2(allowed.tab), 1)
    )
}

/// The plan and the best changes, for the bench: a small table.
pub(super) fn best_alternatives(pull: &PullPlan) -> Alternatives {
    let is_shown = |(rank, it): &(usize, &Alternative)| *rank < BEST || it.change == Change::None;
    let shown = pull.alternatives.iter().enumerate().filter(is_shown);
    Alternatives { rows: shown.map(|(_, it)| alternative(it)).collect(), note: String::new() }
}

/// How many changes the bench sees beside the plan.
const BEST: usize = 3;

pub(super) fn alternatives(pull: &PullPlan) -> Alternatives {
    let rows = pull.alternatives.iter().map(alternative).collect();
    Alternatives { rows, note: alternatives_note(pull) }
}

fn alternative(it: &Alternative) -> AlternativeRow {
    let with_goal = |start: String, goal: Option<String>| match goal {
        Some(goal) => format!("{start} to {goal}"),
        None => format!("{start} to {NONE}"),
    };
    AlternativeRow {
        change: change(it.change),
        planned: it.change == Change::None,
        arm: with_goal(mm0(it.start.arm), it.goal.map(|goal| mm0(goal.arm))),
        pull_angle: with_goal(
            format!("{}°", fixed(it.start.pull_angle.to_degrees(), 0)),
            it.goal.map(|goal| format!("{}°", fixed(goal.pull_angle.to_degrees(), 0))),
        ),
        joint_start: newtons(it.start.joint),
        joint_goal: it.goal.map_or_else(|| NONE.into(), |goal| newtons(goal.joint)),
        room: match it.room {
            Some(room) => mm0(room),
            None => format!("loop ends at {}°", fixed(it.reach.to_degrees().floor(), 0)),
        },
        cost: cost(it.change),
    }
}

fn change(change: Change) -> String {
    match change {
        Change::None => "as planned".into(),
        Change::HoleAtPalm => "hole level with the knuckles".into(),
        Change::HoleFurther(by) => format!("hole and cuff {} mm further out", mm(by)),
        Change::StripRaised(by) => format!("strip raised {} mm", mm(by)),
        Change::StripNearer(by) => format!("strip {} mm nearer to the wrist", mm(by)),
        Change::StripFarther(by) => format!("strip {} mm nearer to the elbow", mm(by)),
    }
}

/// What a change costs in bulk or comfort (common practice, no source).
fn cost(change: Change) -> &'static str {
    match change {
        Change::None => "",
        Change::HoleAtPalm => "fingers freer, shorter lever",
        Change::HoleFurther(_) => "more sheet, fingers less free",
        Change::StripRaised(_) => "bulkier, catches on sleeves",
        Change::StripNearer(_) => "less room before the edge",
        Change::StripFarther(_) => "longer line, more strip",
    }
}

/// What the best change would bring at the start, in a therapist's words.
fn alternatives_note(pull: &PullPlan) -> String {
    let planned = pull.alternatives.iter().find(|it| it.change == Change::None);
    let best = pull.alternatives.first();
    let (Some(planned), Some(best)) = (planned, best) else { return String::new() };
    let measured = pull.torque.last_angle().is_some();
    let basis = if measured { "" } else { " for each newton metre" };
    if best.change == Change::None {
        return format!(
            "No change tried here presses less on the joint at the start than the plan does, {} N{basis}.",
            newtons(planned.start.joint)
        );
    }
    format!(
        "With the {}, the press on the joint at the start falls from {} N to {} N{basis}, and the pull \
         that is needed from {} N to {} N. A longer lever pulls better; it is bulkier and less \
         comfortable.",
        change(best.change),
        newtons(planned.start.joint),
        newtons(best.start.joint),
        newtons(planned.start.tension),
        newtons(best.start.tension)
    )
}

/// What the clinic's shelf offers, as sentences for the bench.
pub(super) fn stock(pull: &PullPlan) -> Vec<String> {
    let Some(choice) = &pull.choice else { return Vec::new() };
    let line = choice.line.map(line_sentence);
    let pad = choice.pad.map(pad_sentence);
    line.into_iter().chain(pad).collect()
}

fn line_sentence(choice: LineChoice) -> String {
    let name =
        |it: StockLine| format!("{} mm, {} N", mm(it.diameter), fixed(it.strength.to_newtons(), 0));
    let needed = fixed(choice.needed.to_newtons(), 0);
    let strand = newtons(choice.strand);
    match (choice.holds, choice.thinner) {
        (Some(holds), Some(thinner)) => format!(
            "Line: {}. Each strand bears {strand} N and needs a line of {needed} N; the next thinner \
             one, {}, falls short.",
            name(holds),
            name(thinner)
        ),
        (Some(holds), None) => format!(
            "Line: {}, the thinnest in stock. Each strand bears {strand} N and needs a line of {needed} N.",
            name(holds)
        ),
        (None, _) => format!(
            "Line: none in stock holds. Each strand bears {strand} N and needs a line of {needed} N."
        ),
    }
}

fn pad_sentence(choice: PadChoice) -> String {
    let size = |(width, length): (Length, Length)| {
        format!("{} mm wide, {} mm long", mm(width), mm0(length))
    };
    let pull = newtons(choice.pull);
    // Room that is not whole is no room.
    let longest = mm0(Length::mm(choice.longest.to_mm().floor()));
    match (choice.holds, choice.narrower) {
        (Some(holds), Some(narrower)) => format!(
            "Tab: hook {}. It bears {pull} N; the next narrower would have to be {} and only {longest} mm \
             leave room to move.",
            size(holds),
            size(narrower)
        ),
        (Some(holds), None) => {
            format!("Tab: hook {}, the narrowest in stock. It bears {pull} N.", size(holds))
        }
        (None, _) => format!(
            "Tab: no hook in stock holds {pull} N on {longest} mm, which is all that leaves room to \
             move. A longer strip or a wider hook would."
        ),
    }
}

/// Moment arm and tension over the range, with the ceiling as a line.
pub(super) fn curves(pull: &PullPlan) -> Vec<Plot> {
    let marks: Vec<&Mark> = pull.marks().collect();
    if marks.len() < 2 {
        return Vec::new();
    }
    let x: Vec<f64> = marks.iter().map(|it| it.angle.to_degrees()).collect();
    let arm = marks.iter().map(|it| Some(it.line.moment_arm().to_mm())).collect();
    let tension =
        marks.iter().map(|it| pull.load(it).map(|load| load.tension.to_newtons())).collect();
    let most = marks.iter().map(|it| pull.ceiling(it).map(|it| it.tension.to_newtons())).collect();
    let degrees_of = |value: f64| degrees(crate::units::Angle::degrees(value));
    [
        curve(
            "Moment arm over the wrist's angle",
            &x,
            degrees_of,
            vec![Curve::new("Moment arm (mm)", arm)],
        ),
        curve(
            "Pull over the wrist's angle",
            &x,
            degrees_of,
            vec![Curve::new("Pull needed (N)", tension), Curve::new("Most allowed (N)", most)],
        ),
    ]
    .into_iter()
    .flatten()
    .collect()
}

/// How two pulls share the sessions, for each wear step.
pub(super) fn shared_note(plan: &Plan) -> Option<String> {
    if plan.shares.is_empty() {
        return None;
    }
    let [one, other] = [0, 1].map(|at| plan.pulls[at].direction.word());
    let to_go = |at: usize| degrees(plan.pulls[at].goal - plan.pulls[at].start);
    Some(format!(
        "Both pulls share the day's sessions by how far each still has to go: {one} {}, {other} {}.",
        to_go(0),
        to_go(1)
    ))
}

fn newtons_per_cm2(pressure: Pressure) -> f64 {
    pressure.to_kpa() / 10.0
}
