//! The loop in use as it was made: its length, the refitted measure, the tab's places against them.

use serde::Serialize;

use crate::calc::Plan;
use crate::calc::as_built::{AsBuilt, Basis, Checked, Origin, Refit};
use crate::calc::precautions::Finding;
use crate::calc::pull::PullPlan;
use crate::case::{Built, Case, Pull};
use crate::sheets::wording::{count, degrees, listed, mm, mm1, short_day, signed};
use crate::units::Length;

/// One pull's loop in use.
#[derive(Debug, Serialize)]
pub(super) struct Made {
    pub(super) direction: &'static str,
    pub(super) lines: Vec<String>,
    rows: Vec<SeenRow>,
    /// Whether anything is to be measured again.
    beyond: bool,
}

/// One place of the tab.
#[derive(Debug, Serialize)]
struct SeenRow {
    date: String,
    angle: String,
    place: String,
    off_fit: String,
    off_plan: String,
    spread: String,
    again: String,
}

pub(super) fn made(case: &Case, plan: &Plan) -> Vec<Made> {
    let pulls = case.orthosis.pulls.iter().zip(&plan.pulls);
    pulls.filter_map(|(pull, reckoned)| one(case, plan, pull, reckoned)).collect()
}

fn one(case: &Case, plan: &Plan, pull: &Pull, reckoned: &PullPlan) -> Option<Made> {
    // A stop for moved marks says already what is read again.
    let is_moved = |it: &Finding| it.withholds() && it.id.starts_with("marks-moved");
    let is_stopped = plan.findings.iter().any(is_moved);
    let (built, fitted) = (pull.in_use()?, reckoned.as_built.as_ref()?);
    // The days stand in the order in which the fit took the points.
    let days =
        case.visits.iter().filter(|it| it.date() >= built.from).flat_map(|it| {
            it.tab.iter().filter(|seen| seen.pull == pull.direction).map(|_| it.date())
        });
    let rows = days.zip(&fitted.points).map(|(day, it)| row(short_day(day), it)).collect();
    Some(Made {
        direction: pull.direction.word(),
        lines: lines(built, fitted, is_stopped),
        rows,
        beyond: fitted.points.iter().any(Checked::is_beyond),
    })
}

fn lines(built: &Built, fitted: &AsBuilt, is_stopped: bool) -> Vec<String> {
    let mut lines = vec![format!(
        "Loop {} is in use since {}: measured flat {} mm, so the line from hole to tab is {} mm. {}",
        built.number,
        short_day(built.from),
        mm(built.flat),
        mm1(fitted.given),
        length(fitted)
    )];
    if let Some(change) = fitted.change {
        lines.push(refitted(&change));
    }
    lines.extend(again(fitted, is_stopped));
    lines
}

fn refitted(change: &Refit) -> String {
    let (name, by, error) = (change.measure.words(), mm1(change.by.abs()), mm1(change.error));
    match by.as_str() {
        "0.0" => format!("Refitted with it: {name} stays as measured, ± {error} mm."),
        by if change.by > Length::ZERO => {
            format!("Refitted with it: {name} comes out {by} ± {error} mm longer than measured.")
        }
        by => {
            format!("Refitted with it: {name} comes out {by} ± {error} mm shorter than measured.")
        }
    }
}

fn length(fitted: &AsBuilt) -> String {
    if fitted.basis == Basis::Length {
        return format!(
            "A place of the tab is doubted, so that length stands, ± {} mm.",
            mm1(fitted.line_error)
        );
    }
    if fitted.points.is_empty() {
        return format!(
            "No place of the tab is on file since then, so that length stands, ± {} mm.",
            mm1(fitted.line_error)
        );
    }
    format!(
        "Fitted to {} of the tab it is {} ± {} mm, {} mm against the loop measured flat; on the bench \
         a ruler may differ by {} mm (one standard deviation each).",
        count(counted(fitted) as i64, "place", "places"),
        mm1(fitted.line),
        mm1(fitted.line_error),
        signed((fitted.line - fitted.given).to_mm(), 1),
        mm1(fitted.bench_error)
    )
}

/// How many places the marks go by.
fn counted(fitted: &AsBuilt) -> usize {
    let is_left_out = |it: &&Checked| fitted.basis == Basis::Trusted && it.is_beyond();
    fitted.points.len() - fitted.points.iter().filter(is_left_out).count()
}

/// What to measure again, if any place is doubted; nothing where a stop says so already.
fn again(fitted: &AsBuilt, is_stopped: bool) -> Vec<String> {
    let points = &fitted.points;
    let at = |it: &Checked| degrees(it.observation.angle);
    let list = |all: Vec<String>| listed(&all.iter().map(String::as_str).collect::<Vec<_>>());
    let some = |all: Vec<String>| (!all.is_empty()).then_some(all);
    let beyond = points.iter().filter(|it| it.is_beyond());
    let what = |it: &Checked| if it.is_odd() { "angle and tab" } else { again_words(it.again) };
    let beyond = some(beyond.map(|it| format!("at {} {}", at(it), what(it))).collect());
    let off = some(points.iter().filter(|it| it.is_off() && !it.is_beyond()).map(at).collect());
    let beyond = beyond.map(|it| {
        format!(
            "Beyond twice the plan's spread, or where no other place fits; measure again: {}; then the angle \
             and the tab's place.",
            list(it)
        )
    });
    let off = off.map(|it| {
        format!(
            "Off the plan by more than its spread, which may be chance: {}; read angle and tab there once more \
             when it suits.",
            list(it)
        )
    });
    let off = off.filter(|_| !is_stopped);
    let held = match fitted.basis {
        Basis::All => beyond.as_ref().map(|_| "Until then the marks keep it in, which pulls less."),
        Basis::Trusted => Some("Until then the marks leave out what is doubted, which pulls less."),
        Basis::Length => Some("Until then the marks go by the loop pulled flat, which pulls less."),
    };
    beyond.into_iter().chain(held.map(str::to_owned)).chain(off).collect()
}

fn again_words(origin: Origin) -> &'static str {
    match origin {
        Origin::Measure(measure) => measure.words(),
        Origin::Line => "the loop's length",
        Origin::Goniometer => "the wrist's angle",
        Origin::Tab => "the tab's place",
    }
}

fn row(date: String, it: &Checked) -> SeenRow {
    SeenRow {
        date,
        angle: degrees(it.observation.angle),
        place: mm1(it.observation.place),
        off_fit: signed(it.residual.to_mm(), 1),
        off_plan: signed(it.off_plan.to_mm(), 1),
        spread: mm1(it.planned_spread),
        again: if it.is_beyond() { again_words(it.again) } else { "\u{2013}" }.to_owned(),
    }
}
