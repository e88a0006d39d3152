//! Referral, history, ranges over time, the warm-up test and goals, in words.

use super::{Citations, Goal, Motion, MotionRow};
use crate::calc::Plan;
use crate::calc::precautions::weeks_since;
use crate::calc::progress::{Class, Standing, WarmUpReading, detectable_change};
use crate::calc::pull::PullPlan;
use crate::case::{Case, Condition, Direction, Raters, Tendon};
use crate::sheets::data::plot::plot;
use crate::sheets::wording::{change, count, day, degrees, listed, short_day};
use crate::sources::{BRUMFIELD, CARTER, FLOWERS, OBSERVERS, REISSNER, RYU};
use crate::units::Angle;

const NOT_RECORDED: &str = "not recorded";

pub(in crate::sheets::data) fn referral(case: &Case) -> Vec<[String; 2]> {
    let referral = &case.referral;
    let row = |what: &str, value: String| [what.to_owned(), value];
    vec![
        row("Ordered by", format!("{}, {}", referral.by, day(referral.date))),
        row("Diagnosis", referral.diagnosis.clone()),
        row(
            "Code, as the clinic wrote it",
            referral.code.clone().unwrap_or_else(|| NOT_RECORDED.into()),
        ),
        row(
            "Patient",
            format!(
                "{}, {} years; {} wrist treated, works with the {} hand",
                case.patient.name,
                case.patient.age,
                case.patient.side.word(),
                case.patient.works_with.word()
            ),
        ),
    ]
}

pub(super) fn history(case: &Case) -> Vec<[String; 2]> {
    let history = &case.history;
    let ago = |date| {
        let weeks = count(i64::from(weeks_since(case, date)), "week", "weeks");
        format!("{} ({weeks} ago)", day(date))
    };
    let mut rows: Vec<(&str, String)> = vec![("Injury", ago(history.injury))];
    if let Some(operation) = history.operation {
        rows.push(("Operation", ago(operation)));
    }
    rows.push(("Bone", bone(case)));
    // What the visits look at again stands in their table.
    let is_over = !case.visits.is_empty();
    let at_first = |now, then| if is_over { then } else { now };
    rows.push((at_first("End feel", "End feel at first"), history.end_feel.word().into()));
    rows.push((at_first("Sensation", "Sensation at first"), history.sensation.word().into()));
    rows.push((at_first("Skin", "Skin at first"), history.skin.word().into()));
    rows.push((at_first("Swelling", "Swelling at first"), history.swelling.word().into()));
    let pain = format!("{} of 10", history.rest_pain);
    rows.push((at_first("Pain at rest", "Pain at rest at first"), pain));
    rows.push(("Conditions", conditions(case)));
    // Where it was done it has a section of its own.
    if case.preconditioning.is_empty() {
        rows.push(("Preconditioning test", NOT_RECORDED.into()));
    }
    rows.into_iter().map(|(what, value)| [what.to_owned(), value]).collect()
}

/// What the payer looks for and the file does not hold; nothing where it holds all.
pub(in crate::sheets::data) fn not_recorded(case: &Case) -> Option<[String; 2]> {
    let referral = &case.referral;
    let missing = [
        (referral.tried.is_empty(), "what was tried before"),
        (referral.function.is_empty(), "the function lost"),
        (referral.recheck.is_none(), "the day of the re-check"),
    ];
    let missing: Vec<&str> = missing.into_iter().filter(|it| it.0).map(|it| it.1).collect();
    (!missing.is_empty()).then(|| ["Not recorded".to_owned(), listed(&missing)])
}

/// What was tried before, and how it went, in the clinic's words.
pub(in crate::sheets::data) fn tried(case: &Case) -> Vec<[String; 2]> {
    case.referral.tried.iter().map(|it| [it.what.clone(), it.result.clone()]).collect()
}

/// The same in one sentence; nothing where nothing is recorded.
pub(super) fn tried_sentence(case: &Case) -> Option<String> {
    let tried = &case.referral.tried;
    let all: Vec<String> =
        tried.iter().map(|it| format!("{} ({})", closed(&it.what), closed(&it.result))).collect();
    (!tried.is_empty())
        .then(|| format!("Tried before it, in the clinic\u{2019}s words: {}.", all.join("; ")))
}

/// Words without the full stop that a sentence of its own would end with.
fn closed(words: &str) -> &str {
    words.trim_end_matches('.')
}

/// When the need is looked at again; nothing where no day is recorded.
pub(in crate::sheets::data) fn recheck(case: &Case, plan: &Plan) -> Option<String> {
    let recheck = case.referral.recheck?;
    let on = day(recheck);
    let last = plan.wear.steps.last().map(|it| it.to).filter(|it| *it < recheck);
    let late = last.map_or_else(String::new, |it| {
        format!("; it lies after the last day of wear, {}: a new order or an earlier re-check is needed", day(it))
    });
    Some(format!(
        "Re-check on {on}: range and function measured again, and whether the orthosis is still wanted{late}."
    ))
}

fn bone(case: &Case) -> String {
    let state = case.history.bone.word();
    match &case.history.cleared_for_stretch {
        Some(it) => format!("{state}; cleared for stretch by {}, {}", it.by, day(it.date)),
        None => format!("{state}; no clearance for stretch recorded"),
    }
}

fn conditions(case: &Case) -> String {
    if case.history.conditions.is_empty() {
        return "none recorded".into();
    }
    let words: Vec<String> = case.history.conditions.iter().map(condition).collect();
    listed(&words.iter().map(String::as_str).collect::<Vec<_>>())
}

fn condition(condition: &Condition) -> String {
    match condition {
        Condition::Diabetes => "diabetes".into(),
        Condition::BloodThinners => "medicine against clotting".into(),
        Condition::NerveCompression => "nerve compression at the wrist".into(),
        Condition::Osteoporosis => "thin bone".into(),
        Condition::InflammatoryArthritis => "inflammatory joint disease".into(),
        Condition::ComplexRegionalPain => "complex regional pain syndrome".into(),
        Condition::HeterotopicOssification => "bone forming in soft tissue".into(),
        Condition::Infection => "infection of the limb".into(),
        Condition::TendonRepair(Tendon::Flexor, on) => {
            format!("flexor tendon repair, {}", day(*on))
        }
        Condition::TendonRepair(Tendon::Extensor, on) => {
            format!("extensor tendon repair, {}", day(*on))
        }
        Condition::Other(words) => words.clone(),
    }
}

pub(super) fn motion(case: &Case, plan: &Plan, cited: &mut Citations) -> Motion {
    // The course has a table of its own.
    if plan.course.is_some() {
        return Motion { rows: Vec::new(), plot: None, notes: Vec::new() };
    }
    let angle = |it: Option<Angle>| it.map_or_else(|| "\u{2013}".to_owned(), degrees);
    let rows = case.ranges().map(|visit| MotionRow {
        date: short_day(visit.date),
        passive_flexion: angle(visit.passive.flexion),
        passive_extension: angle(visit.passive.extension),
        active_flexion: angle(visit.active.flexion),
        active_extension: angle(visit.active.extension),
    });
    let error = detectable_change(case.measuring_error.goniometer);
    let mut notes: Vec<String> =
        plan.standings.iter().filter_map(|it| change_note(it, error)).collect();
    notes.push(measuring_error(case, cited));
    Motion { rows: rows.collect(), plot: plot(case), notes }
}

/// From which change on it is more than measuring error, and what that rests on.
pub(super) fn measuring_error(case: &Case, cited: &mut Citations) -> String {
    let error = case.measuring_error;
    let (raters, works): (_, &[_]) = match error.raters {
        Raters::Same => ("one rater", &[REISSNER, CARTER]),
        Raters::Several => ("several raters", &[REISSNER, CARTER, OBSERVERS]),
    };
    format!(
        "A change counts from {} on: 2.77 times a standard error of measurement of {}, taken for \
         {raters}; published errors run from 4 to 11 degrees (healthy fingers and wrists, active motion), \
         accuracy from 6 to 7 {}.",
        degrees(detectable_change(error.goniometer)),
        degrees(error.goniometer),
        cited.cite(works)
    )
}

/// The warm-up tests in a line each: gain, error and every class that the band holds.
pub(in crate::sheets::data) fn warm_up_lines(plan: &Plan, cited: &mut Citations) -> Vec<String> {
    let line = |test: &WarmUpReading, cited: &mut Citations| {
        let classes: Vec<&str> = test.classes.iter().map(|it| class(*it)).collect();
        format!(
            "Preconditioning test, {}: {} ± {}, which holds the levels for {} {}.",
            test.direction.word(),
            change(test.gain()),
            degrees(test.error),
            listed(&classes),
            cited.cite(&[FLOWERS])
        )
    };
    plan.warm_ups.iter().map(|it| line(it, cited)).collect()
}

fn change_note(standing: &Standing, error: Angle) -> Option<String> {
    if standing.first.0 == standing.newest.0 {
        return None;
    }
    let moved = standing.change();
    let verdict = if moved.abs() > error {
        "more than the measuring error"
    } else {
        "within the measuring error, so no change can be told"
    };
    Some(format!(
        "Passive {} since {}: {}, {verdict}.",
        standing.direction.word(),
        short_day(standing.first.0),
        change(moved)
    ))
}

pub(super) fn preconditioning(plan: &Plan, cited: &mut Citations) -> Vec<String> {
    if plan.warm_ups.is_empty() {
        return Vec::new();
    }
    let source = cited.cite(&[FLOWERS]);
    plan.warm_ups
        .iter()
        .map(|test| {
            let classes: Vec<&str> = test.classes.iter().map(|it| class(*it)).collect();
            format!(
                "{}: {} before heat and stretch, {} after, a gain of {} ± {}. By the levels that \
                 one secondary page gives (about 5° static progressive, 10° dynamic, 15° static, 20° \
                 exercise alone; another sets static progressive below 10°) this band holds: {} {source}. One reading cannot choose the class.",
                capital(test.direction.word()),
                degrees(test.cold),
                degrees(test.warm),
                change(test.gain()),
                degrees(test.error),
                listed(&classes)
            )
        })
        .collect()
}

pub(super) fn class(class: Class) -> &'static str {
    match class {
        Class::Exercise => "exercise alone",
        Class::Static => "a static orthosis",
        Class::Dynamic => "a dynamic orthosis",
        Class::StaticProgressive => "a static progressive orthosis",
    }
}

pub(super) fn goals(plan: &Plan, cited: &mut Citations) -> Vec<Goal> {
    plan.pulls.iter().map(|pull| goal(plan, pull, cited)).collect()
}

/// What daily life needs: for most activities, and for most tasks (Brumfield, Ryu).
pub(super) fn functional(direction: Direction) -> (Angle, Angle) {
    let activities = match direction {
        Direction::Flexion => 10.0,
        Direction::Extension => 35.0,
    };
    (Angle::degrees(activities), Angle::degrees(40.0))
}

fn goal(plan: &Plan, pull: &PullPlan, cited: &mut Citations) -> Goal {
    let (activities, tasks) = functional(pull.direction);
    let functional = format!(
        "{} for most activities {}, {} for most tasks {}",
        degrees(activities),
        cited.cite(&[BRUMFIELD]),
        degrees(tasks),
        cited.cite(&[RYU])
    );
    let standing = plan.standings.iter().find(|it| it.direction == pull.direction);
    let other = standing.and_then(|it| Some((it.other_side?, it.deficit()?)));
    Goal {
        direction: pull.direction.word(),
        today: degrees(pull.start),
        goal: degrees(pull.goal),
        functional,
        other_side: other.map_or_else(
            || NOT_RECORDED.into(),
            |(angle, deficit)| format!("{} ({} short)", degrees(angle), degrees(deficit)),
        ),
    }
}

pub(in crate::sheets::data) fn capital(word: &str) -> String {
    let mut letters = word.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().collect::<String>() + letters.as_str()
    })
}
