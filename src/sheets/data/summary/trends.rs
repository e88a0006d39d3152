//! Trend, dose worn and scores in sentences; no date for a goal is reckoned.

use jiff::civil::Date;

use super::Citations;
use super::course::Named;
use crate::calc::Plan;
use crate::calc::course::{Course, Dose, Score, ScoreCourse};
use crate::calc::progress::{Standing, detectable_change, points};
use crate::calc::trend::{Interval, Point, Trend, change_over, plateau, trend};
use crate::case::{Case, Direction, Motion, Pain, Plateau};
use crate::sheets::wording::{
    change, degrees, degrees1, fixed, listed, percent, short_day, signed,
};
use crate::sources::{SALAFFI, SORENSEN};
use crate::units::{Angle, AngleRate};

/// One entry for each direction measured on two days.
pub(super) fn trends(case: &Case, plan: &Plan) -> Vec<Named> {
    let moved = plan.standings.iter().filter(|it| it.first.0 != it.newest.0);
    moved.map(|it| Named::new(format!("Passive {}", it.direction.word()), one(case, it))).collect()
}

fn one(case: &Case, standing: &Standing) -> String {
    let error = detectable_change(case.measuring_error.goniometer);
    let points = points(case, standing.direction);
    let sentences = [
        Some(changed(standing, error)),
        trend(&points).map(|it| slope(&it, case.measuring_error.goniometer)),
        regained(standing),
        case.plateau.and_then(|rule| stands_still(&points, rule)),
    ];
    sentences.into_iter().flatten().collect::<Vec<_>>().join(" ")
}

fn changed(standing: &Standing, error: Angle) -> String {
    let verdict = if standing.change().abs() > error {
        format!("more than the measuring error of {}", degrees(error))
    } else {
        format!("within the measuring error of {}, so no change can be told", degrees(error))
    };
    format!(
        "{} on {}, {} on {}: {}, {verdict}.",
        degrees(standing.first.1),
        short_day(standing.first.0),
        degrees(standing.newest.1),
        short_day(standing.newest.0),
        change(standing.change())
    )
}

fn slope(trend: &Trend, sem: Angle) -> String {
    let days = trend.visits;
    let mut text = format!("Least squares over {days} days: {} a week", rate(trend.slope));
    let scatter = trend.scatter.filter(|_| trend.interval.is_some());
    if let (Some(interval), Some(scatter)) = (trend.interval, scatter) {
        let by_sem = trend.slope_error_by(sem);
        text += &format!(
            ", 95 % interval {}; residual standard deviation {}.",
            between(interval),
            degrees1(scatter.residual)
        );
        if by_sem > scatter.slope_error {
            text += &format!(
                " The goniometer's error alone makes it less sure: standard error {} a week, by the \
                 scatter {}.",
                unsigned(by_sem),
                unsigned(scatter.slope_error)
            );
        }
    } else {
        text += ". An interval needs a third day.";
    }
    let robust = trend
        .robust
        .interval
        .map_or_else(String::new, |it| format!(", 95 % interval {}", between(it)));
    text + &format!(" Robust slope (Theil-Sen): {} a week{robust}.", rate(trend.robust.slope))
}

fn regained(standing: &Standing) -> Option<String> {
    let (share, other) = (standing.regained()?, standing.other_side?);
    let share = if share > 0.0 { percent(share) } else { "nothing".into() };
    Some(format!(
        "Of the first deficit of {} to the other side's {}, {share} is regained.",
        degrees(other - standing.first.1),
        degrees(other)
    ))
}

/// The therapist's rule, and whether it is met.
fn stands_still(points: &[Point], rule: Plateau) -> Option<String> {
    let words = format!(
        "Plateau by this file's rule, at most {} in {} weeks:",
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

fn unsigned(rate: AngleRate) -> String {
    format!("{}°", fixed(rate.to_degrees_per_week(), 2))
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
