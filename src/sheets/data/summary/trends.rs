//! Trend as a table, dose worn and scores in sentences; no date for a goal is reckoned.

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
        trends.rows.push([
            format!("Passive {}", it.direction.word()),
            on(it.first),
            on(it.newest),
            changed(it, detectable_change(case.measuring_error.goniometer)),
            trend.as_ref().map_or_else(none, least_squares),
            trend.as_ref().map_or_else(none, robust),
            regained(it).unwrap_or_else(none),
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

fn changed(standing: &Standing, error: Angle) -> String {
    let verdict = if standing.change().abs() > error { "more than" } else { "within" };
    format!("{}, {verdict} error", change(standing.change()))
}

fn least_squares(trend: &Trend) -> String {
    let interval = trend.interval.filter(|_| trend.scatter.is_some());
    with_interval(trend.slope, interval)
}

fn robust(trend: &Trend) -> String {
    with_interval(trend.robust.slope, trend.robust.interval)
}

/// `+3.3° (+2.9° to +3.7°)`; the rate alone where no interval can be told.
fn with_interval(slope: AngleRate, interval: Option<Interval>) -> String {
    interval.map_or_else(|| rate(slope), |it| format!("{} ({})", rate(slope), between(it)))
}

/// The share of the first deficit won back, and the other side's range.
fn regained(standing: &Standing) -> Option<String> {
    let (share, other) = (standing.regained()?, standing.other_side?);
    let share = if share > 0.0 { percent(share) } else { "nothing".into() };
    Some(format!("{share} of {} to {}", degrees(other - standing.first.1), degrees(other)))
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
        trend.filter(|_| is_pulled).and_then(|it| in_words(it, sem)),
        rule.and_then(|rule| stands_still(points, rule)),
    ]
    .into_iter()
    .flatten()
    .map(|it| format!("{way}: {it}"))
    .collect()
}

/// Range lost from its best day, where that is more than measuring error.
fn lost(points: &[Point], error: Angle) -> Option<String> {
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

/// The interval of the rate in words, from the fourth reading on, and how sure the goniometer alone lets it be.
fn in_words(trend: &Trend, sem: Angle) -> Option<String> {
    let interval = trend.interval.filter(|_| trend.points >= IN_WORDS)?;
    let (low, high) = (interval.low.to_degrees_per_week(), interval.high.to_degrees_per_week());
    let said = if low > 0.0 {
        format!(
            "by these {} readings it grew by {} to {} a week",
            trend.points,
            plain(low),
            plain(high)
        )
    } else if high < 0.0 {
        format!(
            "by these {} readings it fell by {} to {} a week",
            trend.points,
            plain(-high),
            plain(-low)
        )
    } else {
        format!(
            "these {} readings agree with no change, and with anything from {} to {} a week",
            trend.points,
            rate(interval.low),
            rate(interval.high)
        )
    };
    let scatter = trend.scatter?;
    let by_sem = trend.slope_error_by(sem);
    let doubt = if by_sem > scatter.slope_error {
        format!(
            "; they scatter by {} about the line, and the goniometer's own error makes the rate less sure, \
             ± {} a week (one standard error)",
            degrees1(scatter.residual),
            plain(by_sem.to_degrees_per_week())
        )
    } else {
        format!("; they scatter by {} about the line", degrees1(scatter.residual))
    };
    Some(format!("{said}{doubt}."))
}

/// From so many readings on the interval is told in words too.
const IN_WORDS: usize = 4;

/// The therapist's rule, and whether it is met.
fn stands_still(points: &[Point], rule: Plateau) -> Option<String> {
    let words = format!(
        "plateau by this file's rule, at most {} in {} weeks:",
        degrees(rule.degrees),
        rule.weeks
    );
    let Some(change_over) = change_over(points, rule.weeks) else {
        return Some(format!("{words} not to be told yet, no two days lie so far apart."));
    };
    let is_met = plateau(points, rule.weeks, rule.degrees)?;
    Some(format!(
        "{words} {}, {} from {} to {}.",
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

/// Minutes worn beside minutes planned, over the intervals whose log was read; nothing without a log.
pub(in crate::sheets::data) fn dose_worn(doses: &[Dose]) -> Option<String> {
    let logged: Vec<&Dose> = doses.iter().filter(|it| it.worn.is_some()).collect();
    let (first, last) = (logged.first()?, logged.last()?);
    let worn: u32 = logged.iter().filter_map(|it| it.worn).sum();
    let planned: u32 = logged.iter().map(|it| it.planned).sum();
    let sessions: u32 = logged.iter().filter_map(|it| it.sessions).sum();
    let share = if planned > 0 {
        format!(
            " of {planned} planned, adherence {}",
            percent(f64::from(worn) / f64::from(planned))
        )
    } else {
        String::new()
    };
    Some(format!(
        "Dose worn by the logs from {} to {}: {worn} minutes in {sessions} sessions{share}.",
        short_day(first.from),
        short_day(last.to)
    ))
}

/// The dose in sentences: all, and the intervals without a log.
pub(super) fn doses(course: &Course) -> Vec<String> {
    let unlogged: Vec<String> = course
        .doses
        .iter()
        .filter(|it| it.worn.is_none())
        .map(|it| format!("{} to {}", short_day(it.from), short_day(it.to)))
        .collect();
    let unlogged: Vec<&str> = unlogged.iter().map(String::as_str).collect();
    let missing = (!unlogged.is_empty())
        .then(|| format!("No log was read for {}; left out of the adherence.", listed(&unlogged)));
    dose_worn(&course.doses).into_iter().chain(missing).collect()
}

/// Scores and pain, first against newest.
pub(super) fn scores(case: &Case, course: &Course, cited: &mut Citations) -> Vec<String> {
    let mut told: Vec<String> = course.scores.iter().map(score).collect();
    if !course.scores.is_empty() {
        told.push(important(&course.scores, &cited.cite(&[SORENSEN])));
    }
    let pain = [pain(case, "at rest", |it| it.rest), pain(case, "while worn", |it| it.worn)];
    let pain: Vec<String> = pain.into_iter().flatten().collect();
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
    format!("{name}: {}, {}; {} points, {verdict}.", total(first), total(last), signed(change, 1))
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

fn pain(case: &Case, when: &str, pick: fn(&Pain) -> Option<u32>) -> Option<String> {
    let told: Vec<u32> = case.visits.iter().filter_map(|it| pick(&it.pain)).collect();
    let (first, last) = (told.first()?, told.last()?);
    (told.len() > 1).then(|| format!("Pain {when} from {first} to {last} of 10."))
}

/// Where the course began: the newest range before the first visit, else the first range.
pub(super) fn beginning(case: &Case, direction: Direction) -> Option<Point> {
    let mut before = case.motion.iter().rev();
    let of = |it: &Motion| Some((it.date, it.passive.toward(direction)?));
    before.find_map(of).or_else(|| points(case, direction).first().copied())
}
