//! What the workings show: every number behind one pull, for a clinician who checks them.

use serde::Serialize;

use super::drawing::{Body, Drawings, bodies};
use super::frame::Frame;
use super::loads::{self, Alternatives, LoadRow, alternatives, curves, load_rows};
use super::made::{Made, made};
use super::plot::Plot;
use super::summary::{Citations, SourcePart, estimates};
use crate::calc::Plan;
use crate::calc::load::Load;
use crate::calc::loops::{Loop, Mark};
use crate::calc::pull::PullPlan;
use crate::case::{Case, PageSize, Pull};
use crate::sheets::wording::{degrees, degrees1, kpa_mmhg, mm1, newton_metres, newtons, percent};
use crate::sheets::words::Words;
use crate::sources::{HOOK_SHEAR, JOHANSSON, LINDER_GANZ, SHERMAN, WILLIAMS};

/// Shown where a number cannot be reckoned.
const NONE: &str = "\u{2013}";

#[derive(Debug, Serialize)]
pub(super) struct Workings {
    paper: &'static str,
    frame: Frame,
    withheld: bool,
    /// Titles of the findings that withhold the other papers.
    stops: Vec<&'static str>,
    pulls: Vec<PullPart>,
    /// The loops in use as they were made, with the places of the tab that tell it.
    made: Vec<Made>,
    estimates: Vec<String>,
    sources: Vec<SourcePart>,
}

#[derive(Debug, Serialize)]
struct PullPart {
    direction: &'static str,
    figures: Drawings,
    mechanics: Vec<MechanicsRow>,
    loops: Vec<LoopRow>,
    notes: Vec<String>,
    bodies: Vec<Body>,
    loads: Vec<LoadRow>,
    limits: String,
    curves: Vec<Plot>,
    alternatives: Alternatives,
}

#[derive(Debug, Serialize)]
struct MechanicsRow {
    mark: String,
    angle: String,
    place: String,
    arm: String,
    pull_angle: String,
    turning: String,
    along: String,
    torque: String,
    tension: String,
    cuff: String,
    forearm: String,
    elbow: String,
}

#[derive(Debug, Serialize)]
struct LoopRow {
    number: String,
    line: String,
    flat: String,
    closed: String,
    cut: String,
    from: String,
    to: String,
}

pub(super) fn workings(case: &Case, plan: &Plan, page: PageSize, words: &Words) -> Workings {
    let mut cited = Citations::default();
    let pulls = case.orthosis.pulls.iter().zip(&plan.pulls);
    let pulls = pulls.map(|(pull, reckoned)| part(case, pull, reckoned, &mut cited)).collect();
    Workings {
        paper: "workings",
        frame: Frame::of(case, page, words),
        withheld: plan.is_withheld(),
        stops: plan.findings.iter().filter(|it| it.withholds()).map(|it| it.title).collect(),
        pulls,
        made: made(case, plan),
        estimates: estimates(case, plan, &mut cited),
        sources: cited.list(),
    }
}

fn part(case: &Case, pull: &Pull, reckoned: &PullPlan, cited: &mut Citations) -> PullPart {
    PullPart {
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
    }
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
             today's end-range value: a later mark is meant to be reached at the same \
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
