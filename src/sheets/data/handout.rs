//! What the patient's handout shows. No force, no degrees.

use jiff::civil::Date;
use serde::Serialize;

use super::drawing::Drawing;
use super::frame::{Frame, other_side, pull_side};
use super::wearing::Wearing;
use crate::calc::Plan;
use crate::calc::advice::Stretch;
use crate::calc::build::build;
use crate::calc::course::due_loops;
use crate::calc::dose::{Step, WearPlan, after};
use crate::calc::figure::{Build, tab_settings};
use crate::calc::loops::{Loop, Mark};
use crate::calc::precautions::{Finding, Level};
use crate::calc::pull::PullPlan;
use crate::calc::sharing::Share;
use crate::case::{Case, Direction, PrintSize, Pull};
use crate::sheets::Edition;
use crate::sheets::wording::mm0;
use crate::sheets::words::Words;
use crate::units::Length;

/// Days in the log where the next visit is not on file.
const LOG_DAYS: u32 = 14;
/// Fewer days than these make one short table.
const LEAST_LOG: usize = 8;
/// The longest ruler that fits down a page.
const LONGEST_RULER: Length = Length::mm(200.0);
/// More boxes a day than these do not fit half the page's width.
const MOST_TIMES: u32 = 3;
/// The ruler goes on this far past the last mark.
const RULER_REST: Length = Length::mm(8.0);

#[derive(Debug, Serialize)]
pub(super) struct Handout {
    paper: &'static str,
    frame: Frame,
    print_size: &'static str,
    /// Whether it ends in the teach-back.
    teach_back: bool,
    schedule: Schedule,
    log: Vec<LogDay>,
    /// The day of the next visit, where it is on file.
    next_visit: Option<String>,
    /// Whether the log may stand in two halves side by side.
    log_halves: bool,
    cautions: Vec<&'static str>,
    /// Whether the skin needs the sleeve.
    needs_sleeve: bool,
    /// From which side the cuff wraps the hand.
    wrap: &'static str,
    wearing: Wearing,
    pulls: Vec<PullPart>,
}

#[derive(Debug, Serialize)]
struct Schedule {
    rows: Vec<ScheduleRow>,
    /// Whether the stretch of any pull is eased: then today's minutes are the most.
    eases: bool,
    /// Whether the patient wears it already.
    goes_on: bool,
    first_day: String,
    last_day: String,
}

#[derive(Debug, Serialize)]
struct ScheduleRow {
    from: String,
    to: String,
    minutes: String,
    times: String,
    /// With two pulls: sessions a day for the first and the second.
    each_day: Option<[String; 2]>,
    /// With two pulls and one session a day: days of the first pull among so many.
    turns: Option<[String; 2]>,
}

#[derive(Debug, Serialize)]
struct LogDay {
    day: String,
    /// The same for a narrow column.
    short: String,
    minutes: String,
    times: u32,
}

#[derive(Debug, Serialize)]
struct PullPart {
    direction: &'static str,
    pull_side: &'static str,
    other_side: &'static str,
    loops: Vec<LoopPart>,
    /// The tab set right at a mark, and set wrong.
    settings: Settings,
    /// How the patient sets the stretch until the next visit: `on`, `stay`, `ease` or `pause`.
    stretch: &'static str,
    /// Whether the patient must go gently.
    is_gentle: bool,
    /// The name of the last mark given out, where it is a later one than today's.
    last: Option<String>,
}

#[derive(Debug, Serialize)]
struct Settings {
    right: Drawing,
    wrong: Drawing,
}

#[derive(Debug, Serialize)]
struct LoopPart {
    number: String,
    /// Whether it takes the place of another that is in use.
    is_new: bool,
    ruler: Ruler,
}

#[derive(Debug, Serialize)]
struct Ruler {
    length_mm: f64,
    strip_mm: f64,
    marks: Vec<RulerMark>,
}

#[derive(Debug, Serialize)]
struct RulerMark {
    /// Its number; nothing for today's mark, whose name is a word of the paper's language.
    name: Option<String>,
    place_mm: f64,
    place: String,
}

pub(super) fn handout(case: &Case, plan: &Plan, edition: Edition<'_>, words: &Words) -> Handout {
    let pulls = case.orthosis.pulls.iter().zip(&plan.pulls);
    let schedule = schedule(case, plan, words);
    let log = log(case, plan, words);
    let cautions = cautions(plan);
    Handout {
        paper: "handout",
        frame: Frame::of(case, edition.page, words),
        print_size: case.head.print_size.word(),
        teach_back: edition.teach_back,
        log_halves: fits_in_halves(case, &log),
        schedule,
        next_visit: case.head.next_visit.map(|day| words.long_day(day)),
        log,
        needs_sleeve: cautions.contains(&"fragile_skin"),
        cautions,
        wrap: case.orthosis.cut.wrap.word(),
        wearing: Wearing::of(case, plan),
        pulls: pulls.map(|(pull, reckoned)| pull_part(case, plan, pull, reckoned)).collect(),
    }
}

fn pull_part(case: &Case, plan: &Plan, of: &Pull, pull: &PullPlan) -> PullPart {
    let direction = of.direction;
    let given = given_out(pull, plan.stays(direction));
    let last = given.iter().flat_map(|it| &it.marks).map(|it| it.number).max();
    let last = last.filter(|number| *number > 0);
    let stretch = match stretch(plan, direction) {
        // With no later mark to go to, the patient stays at today's.
        "on" if last.is_none() => "stay",
        other => other,
    };
    PullPart {
        direction: direction.word(),
        pull_side: pull_side(direction),
        other_side: other_side(direction),
        loops: loops(&given, pull),
        settings: settings(&build(case, of, pull)),
        stretch,
        is_gentle: plan.is_gentle(direction),
        last: last.map(|it| it.to_string()),
    }
}

/// The words for a screen reader are the layout's, which knows the language.
fn settings(build: &Build) -> Settings {
    let [right, wrong] = tab_settings(build).map(|it| Drawing::of(&it.figure, String::new()));
    Settings { right, wrong }
}

/// How the stretch goes on, in a word of the layouts.
///
/// While a stop stands unanswered the orthosis rests, whatever else the numbers say.
fn stretch(plan: &Plan, direction: Direction) -> &'static str {
    match plan.stretch(direction) {
        _ if plan.is_withheld() => "pause",
        Stretch::On => "on",
        Stretch::Stay => "stay",
        Stretch::Ease => "ease",
    }
}

/// Whether two halves of the log fit side by side: with two pulls each day has one field more.
fn fits_in_halves(case: &Case, log: &[LogDay]) -> bool {
    let most = if case.orthosis.pulls.len() == 1 { MOST_TIMES } else { MOST_TIMES - 1 };
    case.head.print_size == PrintSize::Standard
        && log.len() >= LEAST_LOG
        && log.iter().all(|day| day.times <= most)
}

fn schedule(case: &Case, plan: &Plan, words: &Words) -> Schedule {
    let today = case.head.prepared;
    let steps = &plan.wear.steps;
    let last = steps.last().map_or(today, |step| step.to);
    // Who wears it already goes on today.
    let begins = steps.first().map(|it| it.from).filter(|_| case.visits.is_empty());
    let first = begins.map_or(today, |it| it.max(today));
    Schedule {
        rows: rows(&plan.wear, &plan.shares, today, words),
        eases: plan.eases(),
        goes_on: !case.visits.is_empty(),
        first_day: words.long_day(first),
        last_day: words.day(last),
    }
}

/// One row for each wear step, with its share where two pulls share it.
///
/// Steps that lie behind the day of the papers are done; the last one stays where all are.
fn rows(wear: &WearPlan, shares: &[Share], today: Date, words: &Words) -> Vec<ScheduleRow> {
    let last = wear.steps.len().saturating_sub(1);
    let steps = wear.steps.iter().enumerate();
    steps
        .filter(|(index, step)| step.to >= today || *index == last)
        .map(|(index, step)| {
            let left = Step { from: step.from.max(today), to: step.to.max(today), ..*step };
            row(&left, shares.get(index), words)
        })
        .collect()
}

fn row(step: &Step, share: Option<&Share>, words: &Words) -> ScheduleRow {
    let pair = |one: u32, other: u32| Some([one.to_string(), other.to_string()]);
    ScheduleRow {
        from: words.week_day(step.from),
        to: words.week_day(step.to),
        minutes: step.minutes.to_string(),
        times: step.times.to_string(),
        each_day: share.and_then(|it| match *it {
            Share::EachDay(one, other) => pair(one, other),
            Share::Turns(..) => None,
        }),
        turns: share.and_then(|it| match *it {
            Share::EachDay(..) => None,
            Share::Turns(days, of) => pair(days, of),
        }),
    }
}

/// One row a day up to the next visit, or for two weeks.
fn log(case: &Case, plan: &Plan, words: &Words) -> Vec<LogDay> {
    let first = case.head.prepared;
    let days = case.head.next_visit.map_or(LOG_DAYS, |next| (next - first).get_days() as u32);
    let on = |day: Date| plan.wear.steps.iter().find(|step| step.from <= day && day <= step.to);
    (0..days)
        .map(|day| after(first, day))
        .filter_map(|day| on(day).map(|step| (day, step)))
        .map(|(day, step)| LogDay {
            day: words.log_day(day),
            short: words.log_day_short(day),
            minutes: step.minutes.to_string(),
            times: step.times,
        })
        .collect()
}

/// The cautions that have a sentence for the patient, by the name of the sentence, the gravest first.
fn cautions(plan: &Plan) -> Vec<&'static str> {
    let sentences = [
        ("median-nerve-flexion", "nerve_compression"),
        ("median-nerve-extension", "nerve_compression"),
        ("tendon-repair-flexor", "tendon_repair"),
        ("tendon-repair-extensor", "tendon_repair"),
        ("tendon-too-early-flexor", "tendon_repair"),
        ("tendon-too-early-extensor", "tendon_repair"),
        ("sensation-reduced", "reduced_sensation"),
        ("sensation-absent", "reduced_sensation"),
        ("skin-fragile", "fragile_skin"),
        ("diabetes", "diabetes"),
        ("blood-thinners", "blood_thinners"),
        ("bone-healing", "gentle"),
        ("early", "gentle"),
        ("too-early", "gentle"),
        ("rest-pain", "gentle"),
        ("rest-pain-high", "gentle"),
        ("osteoporosis", "gentle"),
        ("inflammatory-arthritis", "gentle"),
        ("complex-regional-pain", "gentle"),
        ("heterotopic-ossification", "gentle"),
    ];
    let found = |id: &str| plan.findings.iter().any(|it| it.id == id && it.level != Level::Note);
    let mut names: Vec<&str> =
        sentences.iter().filter(|(id, _)| found(id)).map(|(_, name)| *name).collect();
    // Findings of one name stand together.
    names.dedup();
    // Who goes on against a stop goes gently.
    if !names.contains(&"gentle") && plan.findings.iter().any(Finding::is_answered_stop) {
        names.push("gentle");
    }
    names
}

fn loops(given: &[Loop], pull: &PullPlan) -> Vec<LoopPart> {
    given
        .iter()
        .map(|made| LoopPart {
            number: made.number.to_string(),
            is_new: pull.in_use.is_some() && !made.is_in_use,
            ruler: ruler(made, pull),
        })
        .collect()
}

/// The loops that the patient is given, each with its marks: those in use or due, and only today's mark where
/// the patient stays there.
pub(super) fn given_out(pull: &PullPlan, stays: bool) -> Vec<Loop> {
    let due: Vec<usize> = due_loops(pull).iter().map(|it| it.number).collect();
    let mut given: Vec<Loop> =
        pull.loops.iter().filter(|it| it.is_in_use || due.contains(&it.number)).cloned().collect();
    for made in &mut given {
        made.marks.retain(|it| pull.is_given_out(it) && (!stays || it.number == 0));
    }
    given.retain(|it| !it.marks.is_empty());
    if stays {
        given.truncate(1);
    }
    given
}

fn ruler(made: &Loop, pull: &PullPlan) -> Ruler {
    let strip = pull.geometry.strip_length;
    let given: Vec<&Mark> = made.marks.iter().filter(|mark| pull.is_given_out(mark)).collect();
    let marks: Vec<RulerMark> = given
        .iter()
        .map(|mark| RulerMark {
            name: (mark.number > 0).then(|| mark.number.to_string()),
            place_mm: mark.place.to_mm(),
            place: mm0(mark.place),
        })
        .collect();
    let last = given.last().map_or(Length::ZERO, |mark| mark.place);
    // To the next whole centimetre, but no longer than the strip itself or the page.
    let tens = ((last + RULER_REST).to_cm()).ceil() * 10.0;
    Ruler {
        length_mm: tens.min(strip.to_mm().floor()).min(LONGEST_RULER.to_mm()),
        strip_mm: strip.to_mm(),
        marks,
    }
}
