//! The course as a table: one row a visit, the ranges before the fit first; empty columns left out.

use jiff::civil::Date;
use serde::Serialize;

use super::background::capital;
use crate::calc::Plan;
use crate::calc::course::Dose;
use crate::case::{Case, Direction, Motion, Range, SkinSeen, Visit};
use crate::sheets::wording::{degrees, fixed, percent, short_day};

/// Shown where nothing was recorded.
const NONE: &str = "\u{2013}";

/// The table and what stands under it.
#[derive(Debug, Serialize)]
pub(super) struct VisitTable {
    /// The columns' names in the words file.
    columns: Vec<&'static str>,
    rows: Vec<Vec<String>>,
    /// Changes and remarks, each with its day.
    notes: Vec<[String; 2]>,
}

/// One day: ranges, and the visit where it was one.
struct Day<'a> {
    motion: &'a Motion,
    visit: Option<&'a Visit>,
    dose: Option<&'a Dose>,
}

/// A column: its name, and its cell of each day.
type Column = (&'static str, Vec<Option<String>>);

pub(super) fn visits(case: &Case, plan: &Plan) -> VisitTable {
    let doses: &[Dose] = plan.course.as_ref().map_or(&[], |it| &it.doses);
    let dose = |day: Date| doses.iter().find(|it| it.to == day);
    let before = case.motion.iter().map(|it| Day { motion: it, visit: None, dose: None });
    let after = case.visits.iter().map(|it| Day {
        motion: &it.motion,
        visit: Some(it),
        dose: dose(it.date()),
    });
    let days: Vec<Day> = before.chain(after).collect();
    let mut columns = columns(&days);
    columns.retain(|(_, cells)| cells.iter().any(Option::is_some));
    let rows = days.iter().enumerate().map(|(index, day)| {
        let cell = |(_, cells): &Column| cells[index].clone().unwrap_or_else(|| NONE.into());
        let cells = columns.iter().map(cell);
        [short_day(day.motion.date)].into_iter().chain(cells).collect()
    });
    VisitTable {
        rows: rows.collect(),
        columns: ["date"].into_iter().chain(columns.iter().map(|it| it.0)).collect(),
        notes: case.visits.iter().flat_map(notes).collect(),
    }
}

fn columns(days: &[Day]) -> Vec<Column> {
    let mut all = vec![
        ranges(days, ["passive_flexion", "passive_extension", "passive_both"], |it| it.passive),
        ranges(days, ["active_flexion", "active_extension", "active_both"], |it| it.active),
        ranges(days, ["other_flexion", "other_extension", "other_both"], |it| it.other_side),
        pain(days),
        of_visit(days, "skin", |it| it.skin.map(|skin| skin_words(skin).to_owned())),
        of_visit(days, "sensation", |it| it.sensation.map(|it| it.word().to_owned())),
        of_visit(days, "swelling", |it| it.swelling.map(|it| it.word().to_owned())),
        of_visit(days, "end_feel", |it| it.end_feel.map(|it| it.word().to_owned())),
        marks(days),
        of_visit(days, "sessions", |it| it.worn.map(|worn| worn.sessions.to_string())),
        of_dose(days, "minutes", |it| Some(format!("{}/{}", it.worn?, it.planned))),
        of_dose(days, "adherence", |it| it.adherence().map(whole_percent)),
    ];
    let score = |total: Option<f64>| {
        total.map(|it| fixed(it, usize::from((it * 10.0).round() % 10.0 != 0.0)))
    };
    all.push(of_visit(days, "dash", |it| score(it.scores.dash)));
    all.push(of_visit(days, "quick_dash", |it| score(it.scores.quick_dash)));
    all.push(of_visit(days, "prwe", |it| score(it.scores.prwe)));
    all
}

fn of_visit(days: &[Day], name: &'static str, cell: impl Fn(&Visit) -> Option<String>) -> Column {
    (name, days.iter().map(|it| cell(it.visit?)).collect())
}

fn of_dose(days: &[Day], name: &'static str, cell: impl Fn(&Dose) -> Option<String>) -> Column {
    (name, days.iter().map(|it| cell(it.dose?)).collect())
}

/// Two values of one day as one column, named by which of them were ever recorded.
fn pair(
    days: &[Day],
    names: [&'static str; 3],
    cells: impl Fn(&Day) -> [Option<String>; 2],
) -> Column {
    let cells: Vec<[Option<String>; 2]> = days.iter().map(cells).collect();
    let any = |which: usize| cells.iter().any(|it| it[which].is_some());
    let [one, other, both] = names;
    let only = |which: usize| cells.iter().map(|it| it[which].clone()).collect();
    match (any(0), any(1)) {
        (true, true) => (both, cells.iter().map(joined).collect()),
        (false, true) => (other, only(1)),
        _ => (one, only(0)),
    }
}

/// `46°/58°`, `46°/–`, or nothing.
fn joined(cells: &[Option<String>; 2]) -> Option<String> {
    let cell = |it: &Option<String>| it.clone().unwrap_or_else(|| NONE.into());
    cells.iter().any(Option::is_some).then(|| format!("{}/{}", cell(&cells[0]), cell(&cells[1])))
}

fn ranges(days: &[Day], names: [&'static str; 3], of: fn(&Motion) -> Range) -> Column {
    pair(days, names, |it| {
        let range = of(it.motion);
        [range.flexion.map(degrees), range.extension.map(degrees)]
    })
}

fn pain(days: &[Day]) -> Column {
    pair(days, ["pain_rest", "pain_worn", "pain_both"], |it| {
        let pain = it.visit.map(|it| it.pain).unwrap_or_default();
        [pain.rest, pain.worn].map(|it| it.map(|it| it.to_string()))
    })
}

fn marks(days: &[Day]) -> Column {
    pair(days, ["mark_flexion", "mark_extension", "mark_both"], |it| {
        let reached = |pull: Direction| {
            let mark = it.visit?.marks.iter().find(|it| it.pull == pull)?;
            Some(mark.mark.to_string())
        };
        [reached(Direction::Flexion), reached(Direction::Extension)]
    })
}

/// `75 %` on one line.
fn whole_percent(share: f64) -> String {
    percent(share).replace(' ', "\u{a0}")
}

fn skin_words(skin: SkinSeen) -> &'static str {
    match skin {
        SkinSeen::Clear => "clear",
        SkinSeen::RedBriefly => "red\u{a0}<20\u{a0}min",
        SkinSeen::RedLong => "red\u{a0}>20\u{a0}min",
        SkinSeen::Broken => "broken",
    }
}

fn notes(visit: &Visit) -> Vec<[String; 2]> {
    let all = visit.changes.iter().chain(&visit.remark);
    let words: Vec<&str> = all.map(|it| it.trim()).filter(|it| !it.is_empty()).collect();
    let day = || short_day(visit.date());
    if words.is_empty() { Vec::new() } else { vec![[day(), sentences(&words)]] }
}

/// Joins what people wrote, each closed by a full stop.
fn sentences(words: &[&str]) -> String {
    let closed = |it: &&str| {
        let it = capital(it);
        if it.ends_with(['.', '!', '?']) { it } else { format!("{it}.") }
    };
    words.iter().map(closed).collect::<Vec<_>>().join(" ")
}
