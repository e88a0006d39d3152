//! Trend as a table, dose worn and scores in sentences; no date for a goal is reckoned.

use std::cmp::Ordering;

use jiff::civil::Date;
use serde::Serialize;

use super::Citations;
use crate::calc::Plan;
use crate::calc::advice::Course;
use crate::calc::course::{Dose, Score, ScoreCourse};
use crate::calc::progress::{Standing, detectable_change, points};
use crate::calc::trend::{Interval, Point, Trend, change_over, plateau, trend};
use crate::case::{Case, Direction, Motion, Pain, Plateau};
use crate::sheets::wording::{
    change, day_of_year, degrees, degrees1, fixed, listed, percent, short_day, signed,
};
use crate::sources::{SALAFFI, SORENSEN};
use crate::units::{Angle, AngleRate};

/// How one direction has moved, as a row, and what no row can hold.
#[derive(Debug, Default, Serialize)]
pub(super) struct Trends {
    rows: Vec<[String; 7]>,
    notes: Vec<String>,
}

/// One row for each direction measured on two days.
pub(super) fn trends(case: &Case, plan: &Plan) -> Trends {
    let mut trends = Trends::default();
    for it in plan.standings.iter().filter(|it| it.first.0 != it.newest.0) {
        let points = points(case, it.direction);
        let trend = trend(&points);
        let sem = case.measuring_error.goniometer;
        let error = detectable_change(sem);
        trends.rows.push([
            format!("Passive {}", it.direction.word()),
            on(it.first),
            on(it.newest),
            changed(it, error),
            trend.as_ref().and_then(|it| least_squares(it, sem)).unwrap_or_else(none),
            trend.as_ref().and_then(robust).unwrap_or_else(none),
            regained(it, error).unwrap_or_else(none),
        ]);
        trends.notes.extend(notes(case, plan, it, &points, trend.as_ref()));
    }
    trends
}

fn none() -> String {
    "\u{2013}".to_owned()
}

fn on((day, range): Point) -> String {
    format!("{}, {}", degrees(range), day_of_year(day))
}

/// `+20°, won: more than error`.
pub(in crate::sheets::data) fn changed(standing: &Standing, error: Angle) -> String {
    let moved = standing.change();
    let verdict = match () {
        () if moved > error => "won, more than error",
        () if moved < -error => "lost, more than error",
        () => "within error",
    };
    format!("{}, {verdict}", change(moved))
}

/// The slope with the wider of its intervals; two days tell no rate.
fn least_squares(trend: &Trend, sem: Angle) -> Option<String> {
    trend.wider_interval(sem).map(|it| format!("{} ({})", rate(trend.slope), between(it)))
}

/// The robust slope, from three days on, with its interval where there are days enough for one.
fn robust(trend: &Trend) -> Option<String> {
    let slope = rate(trend.robust.slope);
    let interval = trend.robust.interval;
    trend
        .interval
        .map(|_| interval.map_or_else(|| slope.clone(), |it| format!("{slope} ({})", between(it))))
}

/// The share of the first deficit won back, and the other side's range.
fn regained(standing: &Standing, error: Angle) -> Option<String> {
    let (share, other) = (standing.regained()?, standing.other_side?);
    let of = format!("of the {} short of {}", degrees(other - standing.first.1), degrees(other));
    Some(match () {
        () if standing.change() < -error => format!("lost, none {of}"),
        () if share <= 0.0 => format!("none {of}"),
        () if standing.change() <= error => format!("{} {of}, within error", percent(share)),
        () => format!("{} {of}", percent(share)),
    })
}

/// The interval in words, what was lost from the best, and the therapist's rule where this way is pulled.
fn notes(
    case: &Case,
    plan: &Plan,
    standing: &Standing,
    points: &[Point],
    trend: Option<&Trend>,
) -> Vec<String> {
    let way = format!("Passive {}", standing.direction.word());
    let is_pulled = plan.pulls.iter().any(|it| it.direction == standing.direction);
    let sem = case.measuring_error.goniometer;
    let rule = case.plateau.filter(|_| is_pulled);
    [
        lost(points, detectable_change(sem)),
        trend
            .filter(|_| is_pulled && lost(points, detectable_change(sem)).is_none())
            .and_then(|it| in_words(it, sem)),
        rule.and_then(|rule| stands_still(points, rule, detectable_change(sem))),
    ]
    .into_iter()
    .flatten()
    .map(|it| format!("{way}: {it}"))
    .collect()
}

/// Range lost from its best day, where that is more than measuring error.
pub(in crate::sheets::data) fn lost(points: &[Point], error: Angle) -> Option<String> {
    let best = points.iter().copied().reduce(|best, it| if it.1 > best.1 { it } else { best })?;
    let newest = points.last()?;
    let by = best.1 - newest.1;
    (by > error).then(|| {
        format!(
            "lost {} since its best, {} on {}; that is more than the measuring error.",
            degrees(by),
            degrees(best.1),
            short_day(best.0)
        )
    })
}

/// The interval of the rate in words, from the fourth reading on.
fn in_words(trend: &Trend, sem: Angle) -> Option<String> {
    let interval = trend.wider_interval(sem).filter(|_| trend.points >= IN_WORDS)?;
    let (low, high) = (interval.low.to_degrees_per_week(), interval.high.to_degrees_per_week());
    let readings = trend.points;
    let said = if low > 0.0 {
        format!("by these {readings} readings it grew by {} to {} a week", plain(low), plain(high))
    } else if high < 0.0 {
        format!(
            "by these {readings} readings it fell by {} to {} a week",
            plain(-high),
            plain(-low)
        )
    } else {
        let open = if trend.slope.to_degrees_per_week() < 0.0 { "loss" } else { "gain" };
        format!(
            "by these {readings} readings no {open} at all is not ruled out: they agree with anything from {} to {} \
             a week",
            rate(interval.low),
            rate(interval.high)
        )
    };
    let scatter = trend.scatter?;
    Some(format!("{said}; they scatter by {} about the line.", degrees1(scatter.residual)))
}

/// From so many readings on the interval is told in words too.
const IN_WORDS: usize = 4;

/// The therapist's rule, and whether it is met.
fn stands_still(points: &[Point], rule: Plateau, error: Angle) -> Option<String> {
    let words = format!(
        "plateau by this file's rule, at most {} in {} weeks:",
        degrees(rule.degrees),
        rule.weeks
    );
    let Some(change_over) = change_over(points, rule.weeks) else {
        return Some(format!("{words} not to be told yet, no two days lie so far apart."));
    };
    let is_met = plateau(points, rule.weeks, rule.degrees)?;
    let days = (change_over.to - change_over.from).get_days();
    let doubt = if is_met && rule.degrees < error {
        format!(
            " The rule\u{2019}s {} lie below the measuring error, so that it proves nothing by itself.",
            degrees(rule.degrees)
        )
    } else {
        String::new()
    };
    Some(format!(
        "{words} {}, {} in the {days} days from {} to {}.{doubt}",
        if is_met { "met" } else { "not met" },
        change(change_over.by),
        short_day(change_over.from),
        short_day(change_over.to)
    ))
}

/// `+2.1°`: degrees per week.
fn rate(rate: AngleRate) -> String {
    format!("{}°", signed(rate.to_degrees_per_week(), 1))
}

/// `2.1°`: degrees per week without a sign.
fn plain(degrees_per_week: f64) -> String {
    format!("{}°", fixed(degrees_per_week, 1))
}

fn between(interval: Interval) -> String {
    format!("{} to {}", rate(interval.low), rate(interval.high))
}

/// Minutes worn beside minutes planned, over the intervals whose log was read and whose plan did not end in
/// between; nothing without a log.
pub(in crate::sheets::data) fn dose_worn(doses: &[Dose]) -> Option<String> {
    let logged: Vec<&Dose> = doses.iter().filter(|it| it.worn.is_some()).collect();
    let (first, last) = (logged.first()?, logged.last()?);
    let worn: u32 = logged.iter().filter_map(|it| it.worn).sum();
    let sessions: u32 = logged.iter().filter_map(|it| it.sessions).sum();
    Some(format!(
        "Dose worn by the logs from {} to {}, in {sessions} sessions: {worn} minutes{}.",
        short_day(first.from),
        short_day(last.to),
        adherence(&logged).unwrap_or_default()
    ))
}

/// `, 90 % of the 2,000 planned (75 % to 102 % between visits)`, over what has a plan beside it.
fn adherence(logged: &[&Dose]) -> Option<String> {
    let counted: Vec<&&Dose> = logged.iter().filter(|it| it.adherence().is_some()).collect();
    let worn: u32 = counted.iter().filter_map(|it| it.worn).sum();
    let planned: u32 = counted.iter().map(|it| it.planned).sum();
    let shares = || counted.iter().filter_map(|it| it.adherence());
    let (least, most) = (shares().reduce(f64::min)?, shares().reduce(f64::max)?);
    let between = if counted.len() > 1 {
        format!(" ({} to {} between visits)", percent(least), percent(most))
    } else {
        String::new()
    };
    let all =
        if counted.len() == logged.len() { "" } else { "; adherence where the plan ran through:" };
    Some(format!(
        "{all}{} of {planned} planned, adherence {}{between}",
        if all.is_empty() { String::new() } else { format!(" {worn}") },
        percent(f64::from(worn) / f64::from(planned))
    ))
}

/// The dose in sentences: all, the intervals without a log, and those in which the plan ended.
pub(super) fn doses(course: &Course) -> Vec<String> {
    let spans = |is: fn(&Dose) -> bool| {
        let all = course.doses.iter().filter(|it| is(it));
        all.map(|it| format!("{} to {}", short_day(it.from), short_day(it.to))).collect::<Vec<_>>()
    };
    let told = |spans: Vec<String>, what: &str| {
        let all: Vec<&str> = spans.iter().map(String::as_str).collect();
        (!all.is_empty()).then(|| format!("{what} {}; left out of the adherence.", listed(&all)))
    };
    let missing = told(spans(|it| it.worn.is_none()), "No log was read for");
    let past = told(
        spans(|it| it.worn.is_some() && it.is_past_plan),
        "The plan\u{2019}s last day lies within",
    );
    dose_worn(&course.doses).into_iter().chain(missing).chain(past).collect()
}

/// Scores and pain, first against newest.
pub(super) fn scores(case: &Case, course: &Course, cited: &mut Citations) -> Vec<String> {
    let mut told: Vec<String> = course.scores.iter().map(score).collect();
    if !course.scores.is_empty() {
        told.push(important(&course.scores, &cited.cite(&[SORENSEN])));
    }
    let pain: Vec<String> = pains(case).into_iter().map(|it| it.0).collect();
    if !pain.is_empty() {
        told.push(format!(
            "{} To 825 people with lasting musculoskeletal pain two points less meant much better {}.",
            pain.join(" "),
            cited.cite(&[SALAFFI])
        ));
    }
    told
}

fn score(course: &ScoreCourse) -> String {
    let name = course.score.name();
    let total = |it: &(Date, f64)| format!("{} on {}", fixed(it.1, 1), short_day(it.0));
    let (Some(first), Some(last)) = (course.totals.first(), course.totals.last()) else {
        return String::new();
    };
    if course.totals.len() == 1 {
        return format!("{name}: {}, scored once so far.", total(first));
    }
    let change = course.change();
    let important = course.score.important();
    let verdict = match change {
        it if it <= -important => "better by an important change",
        it if it >= important => "worse by an important change",
        _ => "less than an important change",
    };
    let best = course.best_before().zip(course.worse_by());
    let best = best.map_or_else(String::new, |(best, by)| {
        format!(", and worse than its best, {}, by {}", total(&best), fixed(by, 1))
    });
    format!(
        "{name}: {}, {}; {} points, {verdict}{best}.",
        total(first),
        total(last),
        signed(change, 1)
    )
}

/// Scores that are worse than at first by an important change, and pain that rose.
pub(in crate::sheets::data) fn worse(case: &Case, course: &Course) -> Vec<String> {
    let scores = course.scores.iter().filter(|it| it.worse_by().is_some()).map(score);
    let pain = pains(case).into_iter().filter(|it| it.1 == Ordering::Less).map(|it| it.0);
    scores.chain(pain).collect()
}

/// Pain at rest and while worn, first against newest.
fn pains(case: &Case) -> Vec<(String, Ordering)> {
    [pain(case, "at rest", |it| it.rest), pain(case, "while worn", |it| it.worn)]
        .into_iter()
        .flatten()
        .collect()
}

fn important(scores: &[ScoreCourse], source: &str) -> String {
    let one = |score: Score| {
        let (low, high) = score.important_interval();
        format!("{} {} points (95 % {low} to {high})", score.name(), score.important())
    };
    let all: Vec<String> = scores.iter().map(|it| one(it.score)).collect();
    let all: Vec<&str> = all.iter().map(String::as_str).collect();
    format!(
        "Important change: {}, as 102 people with hand and wrist conditions without injury, treated \
         without an operation, told it {source}; for others it is a guide. 0 is best, 100 worst.",
        listed(&all)
    )
}

fn pain(case: &Case, when: &str, pick: fn(&Pain) -> Option<u32>) -> Option<(String, Ordering)> {
    let told: Vec<u32> = case.visits.iter().filter_map(|it| pick(&it.pain)).collect();
    let (first, last) = (told.first()?, told.last()?);
    let by = last.abs_diff(*first);
    let moved = first.cmp(last);
    let said = match moved {
        Ordering::Equal => format!("Pain {when} {first} of 10 at first and now"),
        Ordering::Less => format!("Pain {when} from {first} to {last} of 10, worse by {by}"),
        Ordering::Greater => format!("Pain {when} from {first} to {last} of 10, better by {by}"),
    };
    // Pain that came back is worse than its lowest, whatever it was at first.
    let lowest = told.iter().min().filter(|it| *it + 2 <= *last);
    let since = lowest.filter(|it| *it < first);
    let said =
        since.map_or_else(|| format!("{said}."), |it| format!("{said}, from {it} at its lowest."));
    (told.len() > 1).then_some((said, if since.is_some() { Ordering::Less } else { moved }))
}

/// Where the course began: the newest range before the first visit, else the first range.
pub(super) fn beginning(case: &Case, direction: Direction) -> Option<Point> {
    let mut before = case.motion.iter().rev();
    let of = |it: &Motion| Some((it.date, it.passive.toward(direction)?));
    before.find_map(of).or_else(|| points(case, direction).first().copied())
}
