//! What the short form shows: one page to attach to the payer's justification.

use serde::Serialize;

use super::card::answer;
use super::frame::{Frame, pull_side};
use super::summary::{
    Citations, STOP_RULE, SourcePart, capital, changed, custom_made, dose_worn, gauge, headline,
    held, lost, not_recorded, recheck, referral, tried, warm_up_lines, worse,
};
use crate::calc::Plan;
use crate::calc::advice::{Advice, Reason};
use crate::calc::dose::Step;
use crate::calc::precautions::{Finding, Level};
use crate::calc::progress::{Standing, detectable_change, points};
use crate::calc::pull::PullPlan;
use crate::case::{Case, PageSize};
use crate::sheets::wording::{change, count, degrees, listed, newton_metres, newtons, short_day};
use crate::sheets::words::Words;
use crate::sources::{HARVEY, JONGS, LINDENHOVIUS, LUCADO, MCGRATH, SCHWARTZ};
use crate::units::Angle;

/// Shown where nothing was recorded.
const NONE: &str = "\u{2013}";
/// So many of what was tried, and of what is lost, are told here; the summary has all.
const TOLD: usize = 3;

#[derive(Debug, Serialize)]
pub(super) struct Brief {
    paper: &'static str,
    frame: Frame,
    headline: String,
    withheld: bool,
    /// Titles of the findings that withhold the other papers.
    stops: Vec<&'static str>,
    referral: Vec<[String; 2]>,
    tried: Vec<[String; 2]>,
    function: Vec<String>,
    /// How many more the summary tells, of what was tried and of what is lost.
    more: Vec<String>,
    /// What is suggested and why, what stands still, what was lost or became worse, and the warm-up test.
    course: Vec<String>,
    ranges: Vec<[String; 6]>,
    error: String,
    custom_made: Vec<String>,
    does: Vec<String>,
    evidence: Vec<String>,
    precautions: String,
    findings: Vec<FindingLine>,
    plan: Vec<String>,
    sources: Vec<SourcePart>,
}

/// A stop or a caution: its level, its title, and how it was answered.
#[derive(Debug, Serialize)]
struct FindingLine {
    level: &'static str,
    title: &'static str,
    answer: String,
}

pub(super) fn brief(case: &Case, plan: &Plan, page: PageSize, words: &Words) -> Brief {
    let mut cited = Citations::default();
    let course = course(case, plan, &mut cited);
    let custom_made = custom_made(case, plan, &mut cited);
    let evidence = evidence(&mut cited);
    let (told, function) = (tried(case), &case.referral.function);
    let more = [("of what was tried", told.len()), ("of the function lost", function.len())];
    let more = more.into_iter().filter(|it| it.1 > TOLD);
    Brief {
        paper: "brief",
        frame: Frame::of(case, page, words),
        headline: headline(case, plan),
        withheld: plan.is_withheld(),
        stops: plan.findings.iter().filter(|it| it.withholds()).map(|it| it.title).collect(),
        referral: referral(case).into_iter().chain(not_recorded(case)).collect(),
        course,
        tried: told.into_iter().take(TOLD).collect(),
        function: function.iter().take(TOLD).cloned().collect(),
        more: more.map(|(what, all)| format!("{} more {what}", all - TOLD)).collect(),
        ranges: plan.standings.iter().map(|it| range(it, case, plan)).collect(),
        error: error(case),
        custom_made,
        does: does(case, plan),
        evidence,
        precautions: precautions(&plan.findings),
        // Stops that nobody answered stand on top.
        findings: plan
            .findings
            .iter()
            .filter(|it| it.level != Level::Note && !it.withholds())
            .map(finding)
            .collect(),
        plan: next_steps(case, plan),
        sources: cited.list(),
    }
}

/// Motion, first, newest, change, other side, goal.
fn range(standing: &Standing, case: &Case, plan: &Plan) -> [String; 6] {
    let or_none = |it: Option<Angle>| it.map_or_else(|| NONE.to_owned(), degrees);
    let on = |(day, angle)| format!("{}, {}", degrees(angle), short_day(day));
    let is_moved = standing.first.0 != standing.newest.0;
    let error = detectable_change(case.measuring_error.goniometer);
    let pull = plan.pulls.iter().find(|it| it.direction == standing.direction);
    [
        format!("Passive {}", standing.direction.word()),
        on(standing.first),
        if is_moved { on(standing.newest) } else { NONE.into() },
        if is_moved { changed(standing, error) } else { NONE.into() },
        or_none(standing.other_side),
        or_none(pull.map(|it| it.goal)),
    ]
}

/// What the headline has no room for: range lost or standing still, scores that became worse, the warm-up test.
fn course(case: &Case, plan: &Plan, cited: &mut Citations) -> Vec<String> {
    let Some(course) = &plan.course else { return warm_up_lines(plan, cited) };
    let lost = plan.standings.iter().filter_map(|it| range_lost(case, it));
    let whys =
        |it: &Advice| it.reasons.iter().chain(&it.ask).chain(&it.yet).cloned().collect::<Vec<_>>();
    let reasons =
        course.advice.iter().flat_map(|it| whys(it).into_iter().map(|why| (it.pull, why)));
    let still = reasons.filter_map(|(pull, why)| match why {
        Reason::Plateau { by, from, to } => Some(format!(
            "Passive {} no longer grows by the file\u{2019}s own rule: {} from {} to {}.",
            pull.word(),
            change(by),
            short_day(from),
            short_day(to)
        )),
        _ => None,
    });
    let told: Vec<String> = lost.chain(still).chain(worse(case, course)).collect();
    told.into_iter().chain(warm_up_lines(plan, cited)).collect()
}

fn range_lost(case: &Case, standing: &Standing) -> Option<String> {
    let error = detectable_change(case.measuring_error.goniometer);
    let lost = lost(&points(case, standing.direction), error)?;
    Some(format!("Passive {}: {lost}", standing.direction.word()))
}

fn error(case: &Case) -> String {
    let sem = case.measuring_error.goniometer;
    format!(
        "Measuring error: {}, 2.77 times the goniometer\u{2019}s standard error of {}.",
        degrees(detectable_change(sem)),
        degrees(sem)
    )
}

/// Each pull, how long it is worn, and how long it was worn so far.
fn does(case: &Case, plan: &Plan) -> Vec<String> {
    let worn = plan.course.as_ref().and_then(|it| dose_worn(&it.doses));
    let pulls = plan.pulls.iter().map(|it| pull(case, plan, it));
    pulls.chain(wear(case, plan)).chain(worn).collect()
}

fn pull(case: &Case, plan: &Plan, pull: &PullPlan) -> String {
    let at = |it| Some((it, pull.load(it)?));
    let force = pull.marks().next().and_then(at).map_or_else(String::new, |(mark, load)| {
        format!(
            " It pulls with {} N at {}, {} N·m at the wrist. {}",
            newtons(load.tension),
            degrees(mark.angle),
            newton_metres(load.torque),
            gauge(case, pull).unwrap_or_default()
        )
    });
    if pull.start >= pull.goal {
        return format!(
            "{}: at its goal of {}, held there by a line on the {}.{force}",
            capital(pull.direction.word()),
            degrees(pull.goal),
            if pull_side(pull.direction) == "palm" { "palm side" } else { "back of the hand" }
        );
    }
    let marks = count((pull.marks().count() as i64 - 1).max(0), "mark", "marks");
    let feel = if plan.is_gentle(pull.direction) {
        "to a light stretch without pain"
    } else {
        "to a firm stretch without sharp pain"
    };
    format!(
        "{}: a line on the {} holds the wrist at its end range and is moved on by hand as it gives, \
         {} to {}, {marks} after today's. The wearer sets it by feel, {feel}.{force}",
        capital(pull.direction.word()),
        if pull_side(pull.direction) == "palm" { "palm side" } else { "back of the hand" },
        degrees(pull.start),
        degrees(pull.goal)
    )
}

/// The wear plan in one line.
fn wear(case: &Case, plan: &Plan) -> Option<String> {
    let steps = &plan.wear.steps;
    let (first, last) = (steps.first()?, steps.last()?);
    let session = |it: &Step| {
        let times = count(it.times.into(), "time", "times");
        format!("{} minutes {times} a day from {}", it.minutes, short_day(it.from))
    };
    let grown =
        if steps.len() > 1 { format!(", in steps to {}", session(last)) } else { String::new() };
    let held = held(case, plan).map_or_else(String::new, |it| format!(" {it}"));
    Some(format!(
        "Wear plan: {}{grown}; {} to {}, at most {} minutes a day, longer only while skin and pain \
         allow.{held}",
        session(first),
        count(case.wear.weeks.into(), "week", "weeks"),
        short_day(last.to),
        case.wear.daily_limit
    ))
}

/// One hopeful sentence, one sober.
fn evidence(cited: &mut Citations) -> Vec<String> {
    vec![
        format!(
            "Without controls: 47 stiff wrists gained 35 degrees of flexion and extension together over a mean of \
             10 weeks, and in 8 patients after radius fracture the passive arc rose from 65 to 106 \
             degrees in 12 weeks; both include natural recovery, chosen patients and more tolerance of stretch {}.",
            cited.cite(&[MCGRATH, LUCADO])
        ),
        format!(
            "With controls: in a randomised trial of a dynamic splint, 40 patients, passive extension was 4 degrees better \
             at 8 weeks (95 % interval \u{2212}4 to 12) and 6 at 12 (1 to 12), the patient-rated score no different; at \
             66 elbows static progressive and dynamic won the same arc; stretch in people without a disease of the \
             nerves won 1 degree (0 to 2) by a review, and another calls the evidence for static progressive orthoses low {}.",
            cited.cite(&[JONGS, LINDENHOVIUS, HARVEY, SCHWARTZ])
        ),
    ]
}

/// `4 precautions found: 1 stop, 1 caution and 2 notes.`
fn precautions(findings: &[Finding]) -> String {
    let kinds = [
        (Level::Stop, "stop", "stops"),
        (Level::Caution, "caution", "cautions"),
        (Level::Note, "note", "notes"),
    ];
    let counts: Vec<String> = kinds
        .into_iter()
        .map(|(level, one, many)| {
            (findings.iter().filter(|it| it.level == level).count(), one, many)
        })
        .filter(|it| it.0 > 0)
        .map(|(number, one, many)| count(number as i64, one, many))
        .collect();
    if counts.is_empty() {
        return "None found.".into();
    }
    let all = count(findings.len() as i64, "precaution", "precautions");
    let counts: Vec<&str> = counts.iter().map(String::as_str).collect();
    format!("{all} found: {}.", listed(&counts))
}

fn finding(finding: &Finding) -> FindingLine {
    FindingLine { level: finding.level.word(), title: finding.title, answer: answer(finding) }
}

fn next_steps(case: &Case, plan: &Plan) -> Vec<String> {
    let visits = "Skin, sensation, swelling, pain and range are checked at each visit; no change over several: \
                  end feel checked, doctor asked.";
    let steps = [Some(visits.to_owned()), recheck(case, plan), Some(STOP_RULE.to_owned())];
    steps.into_iter().flatten().collect()
}
