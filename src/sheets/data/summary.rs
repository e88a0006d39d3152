//! What the clinician's summary shows.

mod advice;
mod background;
mod course;
mod evidence;

mod mechanics;
mod trends;
mod visits;

use serde::Serialize;

pub(super) use background::{capital, not_recorded, recheck, referral, tried, warm_up_lines};
pub(super) use mechanics::{gauge, held};
pub(super) use trends::{changed, dose_worn, lost, worse};

use course::CoursePart;

use super::drawing::Drawings;
use super::frame::Frame;
use super::pieces;

use super::plot::Plot;
use super::sizes::usual_sizes;
use crate::calc::precautions::Finding;
use crate::calc::{Estimate, Plan};
use crate::case::{Case, Limb, PageSize, Raters};
use crate::sheets::wording::{degrees, listed, mm0};
use crate::sheets::words::Words;
use crate::sources::{CUSTOM_FABRICATED, GONZALEZ, Ground, PAIN_AFTER, REDNESS, Source};
use crate::units::Length;

/// When the orthosis is left off until the clinic has spoken.
pub(super) const STOP_RULE: &str = "Stop rule: numbness, colour, swelling, broken skin, pain over 2 hours, redness over 20 \
                                    minutes, range lost beyond error either way.";
/// With two pulls, so many visits crowd the four pages.
const MANY_VISITS: usize = 3;

#[derive(Debug, Serialize)]
pub(super) struct Summary {
    paper: &'static str,
    frame: Frame,
    headline: String,
    /// Whether the whole record is attached to the file.
    pub(super) attached: bool,
    /// What each photo of the finished piece shows.
    photos: Vec<String>,
    withheld: bool,
    /// Whether two pulls and many visits must share its pages.
    crowded: bool,
    findings: Vec<FindingPart>,
    referral: Vec<[String; 2]>,
    history: Vec<[String; 2]>,
    /// What was tried, and how it went.
    tried: Vec<[String; 2]>,
    function: Vec<String>,
    /// The course so far, in the place of `motion`.
    #[serde(skip_serializing_if = "Option::is_none")]
    course: Option<CoursePart>,
    motion: Motion,
    preconditioning: Vec<String>,
    custom_made: Vec<String>,
    goals: Vec<Goal>,
    pulls: Vec<PullPart>,
    wear: Wear,
    evidence: Vec<Evidence>,
    plan: Vec<String>,
    estimates: Vec<String>,
    sources: Vec<SourcePart>,
}

#[derive(Debug, Serialize)]
struct FindingPart {
    level: &'static str,
    title: &'static str,
    text: String,
    action: String,
    answer: String,
    source: String,
}

#[derive(Debug, Serialize)]
struct Motion {
    rows: Vec<MotionRow>,
    plot: Option<Plot>,
    notes: Vec<String>,
}

#[derive(Debug, Serialize)]
struct MotionRow {
    date: String,
    passive_flexion: String,
    passive_extension: String,
    active_flexion: String,
    active_extension: String,
}

#[derive(Debug, Serialize)]
struct Goal {
    direction: &'static str,
    today: String,
    goal: String,
    functional: String,
    other_side: String,
}

#[derive(Debug, Serialize)]
struct PullPart {
    direction: &'static str,
    figures: Drawings,
    /// The mechanics in paragraphs.
    lines: Vec<String>,
}

#[derive(Debug, Serialize)]
struct Wear {
    steps: Vec<StepRow>,
    weeks: Vec<WeekRow>,
    notes: Vec<String>,
}

#[derive(Debug, Serialize)]
struct StepRow {
    from: String,
    to: String,
    days: String,
    minutes: String,
    times: String,
    daily: String,
}

#[derive(Debug, Serialize)]
struct WeekRow {
    week: String,
    from: String,
    planned: String,
    total: String,
}

#[derive(Debug, Serialize)]
struct Evidence {
    kind: &'static str,
    text: &'static str,
    source: String,
}

#[derive(Debug, Serialize)]
pub(super) struct SourcePart {
    number: String,
    text: &'static str,
    doi: &'static str,
    state: &'static str,
}

/// Sources in the order they are cited, each once.
#[derive(Debug, Default)]
pub(super) struct Citations(Vec<&'static Source>);

impl Citations {
    /// `[2]`, `[2, 5]`.
    pub(super) fn cite(&mut self, works: &[&'static Source]) -> String {
        let numbers: Vec<String> = works.iter().map(|work| self.number(work).to_string()).collect();
        format!("[{}]", numbers.join(", "))
    }

    fn number(&mut self, work: &'static Source) -> usize {
        if let Some(at) = self.0.iter().position(|it| it.key == work.key) {
            return at + 1;
        }
        self.0.push(work);
        self.0.len()
    }

    fn ground(&mut self, ground: &Ground) -> String {
        match ground {
            Ground::Cited(works) => self.cite(works),
            other => other.words(),
        }
    }

    pub(super) fn list(self) -> Vec<SourcePart> {
        self.0
            .into_iter()
            .zip(1..)
            .map(|(work, number)| SourcePart {
                number: number.to_string(),
                text: work.reference,
                doi: work.address,
                state: work.state.words(),
            })
            .collect()
    }
}

pub(super) fn summary(case: &Case, plan: &Plan, page: PageSize, words: &Words) -> Summary {
    let mut cited = Citations::default();
    let findings = plan.findings.iter().map(|it| finding(it, &mut cited)).collect();
    let course = course::course(case, plan, &mut cited);
    let motion = background::motion(case, plan, &mut cited);
    let preconditioning = background::preconditioning(plan, &mut cited);
    let mut custom_made = custom_made(case, plan, &mut cited);
    custom_made.extend(background::tried_sentence(case));
    let goals = background::goals(plan, &mut cited);
    let pulls = mechanics::pulls(case, plan, &mut cited);
    let wear = mechanics::wear(case, plan, &mut cited);
    let evidence = evidence::evidence(&mut cited);
    let next_steps = next_steps(case, plan, &mut cited);
    let estimates = estimates(case, plan, &mut cited);
    Summary {
        paper: "summary",
        frame: Frame::of(case, page, words),
        headline: headline(case, plan),
        attached: false,
        photos: case.photos.iter().map(|it| it.shows.clone()).collect(),
        withheld: plan.is_withheld(),
        crowded: case.orthosis.pulls.len() > 1 && case.visits.len() >= MANY_VISITS,
        findings,
        referral: background::referral(case)
            .into_iter()
            .chain(background::not_recorded(case))
            .collect(),
        history: background::history(case),
        tried: background::tried(case),
        function: case.referral.function.clone(),
        course,
        motion,
        preconditioning,
        custom_made,
        goals,
        pulls,
        wear,
        evidence,
        plan: next_steps,
        estimates,
        sources: cited.list(),
    }
}

/// The finding in one line, at the top.
pub(super) fn headline(case: &Case, plan: &Plan) -> String {
    if let Some(course) = course::headline(case, plan) {
        return course;
    }
    let side = case.patient.side.word();
    if plan.is_withheld() {
        let stops: Vec<&str> =
            plan.findings.iter().filter(|it| it.withholds()).map(|it| it.title).collect();
        return format!(
            "Do not make this orthosis for the {side} wrist yet: {}.",
            listed(&stops).to_lowercase()
        );
    }
    let pulls: Vec<String> = plan
        .pulls
        .iter()
        .map(|pull| {
            format!(
                "passive {} is {} today and the orthosis works from there toward {}",
                pull.direction.word(),
                degrees(pull.start),
                degrees(pull.goal)
            )
        })
        .collect();
    format!("For the {side} wrist, {}.", pulls.join("; "))
}

fn finding(finding: &Finding, cited: &mut Citations) -> FindingPart {
    FindingPart {
        level: finding.level.word(),
        title: finding.title,
        text: without_keys(&finding.text),
        action: without_keys(&finding.action),
        answer: super::card::answer(finding),
        source: cited.ground(&finding.ground),
    }
}

/// A finding's words without the case file's keys in brackets, which only who edits the file needs.
fn without_keys(words: &str) -> String {
    let mut parts = words.split(" (`");
    let first = parts.next().unwrap_or_default().to_owned();
    parts.fold(first, |kept, part| kept + part.split_once("`)").map_or(part, |it| it.1))
}

/// Why nothing else would do, as far as the build tells.
pub(super) fn custom_made(case: &Case, plan: &Plan, cited: &mut Citations) -> Vec<String> {
    let source = cited.cite(&[CUSTOM_FABRICATED]);
    let limb = &case.limb;
    let optional = [
        limb.hand_depth,
        limb.palm_depth,
        limb.wrist_depth,
        limb.wrist_circumference,
        limb.forearm_depth,
        limb.around_elbow,
        limb.elbow_girth,
        limb.knuckle_girth,
        limb.finger_joint_girth,
        limb.axis_past_crease,
    ];
    // Hand length and breadth, forearm length and breadth are always there.
    let count = 4 + optional.iter().flatten().count() + limb.forearm_girths.len();
    // What a stop withholds is not made, or not worn.
    let are = if plan.is_withheld() { "would be" } else { "are" };
    vec![
        format!(
            "Both pieces {are} cut and moulded on this person from flat sheet, by {count} measures of \
             the limb ({}): made for one person from basic material, custom fabricated as a Medicare contractor\u{2019}s \
             page puts it {source}.",
            named_measures(limb)
        ),
        "Hole, strip and line are placed for this wrist's own range, so that the pull turns the joint at today's \
         limit and at each mark after it."
            .to_owned(),
        "The forearm piece goes round the elbow, moulded at 90°, so that it does not slide toward the hand."
            .to_owned(),
    ]
}

/// `hand 176 by 78 mm, forearm 235 by 65 mm, 158 mm round the wrist`.
fn named_measures(limb: &Limb) -> String {
    let round = |it: Option<Length>, what: &str| {
        it.map(|it| format!(", {} mm round the {what}", mm0(it))).unwrap_or_default()
    };
    format!(
        "hand {} by {} mm, forearm {} by {} mm{}{}",
        mm0(limb.hand_length),
        mm0(limb.hand_breadth),
        mm0(limb.forearm_length),
        mm0(limb.forearm_breadth),
        round(limb.wrist_circumference, "wrist"),
        round(limb.elbow_girth, "elbow")
    )
}

/// What was taken or reckoned and not measured.
pub(super) fn estimates(case: &Case, plan: &Plan, cited: &mut Citations) -> Vec<String> {
    let raters = match case.measuring_error.raters {
        Raters::Same => "one rater",
        Raters::Several => "several raters",
    };
    let taken = plan.estimates.iter().map(|it| match it {
        Estimate::Goniometer => format!(
            "The goniometer's standard error was not given; {} is assumed for {raters}.",
            degrees(case.measuring_error.goniometer)
        ),
        Estimate::Axis => format!("{} {}", estimate(*it), cited.cite(&[GONZALEZ])),
        Estimate::Sizes => usual_sizes(case).join(" "),
        other => estimate(*other),
    });
    let taken: Vec<String> = taken.collect();
    taken.into_iter().chain(pieces::stand_ins(&plan.pattern)).collect()
}

/// An estimate in words.
fn estimate(estimate: Estimate) -> String {
    match estimate {
        Estimate::Axis => {
            "The wrist's axis was not measured; 10 mm past the crease is assumed. A published model \
             has it 10.5 mm past the tip of the radial styloid, and the crease is taken to lie there."
        }
        Estimate::ElbowArea => {
            "The bearing behind the elbow is taken as the forearm's breadth by 60 mm, a quarter turn."
        }
        Estimate::Bearing => {
            "The pieces are taken to bear over the full breadth of hand and forearm."
        }
        Estimate::Goniometer => "The goniometer's standard error was not given.",
        Estimate::Sizes => "Sizes that the file leaves out are as usual.",
        Estimate::Heights => {
            "Heights of hole, edges and strip are half the measured depth and the sheet's thickness; \
             the strip adds 2 mm of pile."
        }
    }
    .to_owned()
}

fn next_steps(case: &Case, plan: &Plan, cited: &mut Citations) -> Vec<String> {
    let mut steps = vec![
        "At each visit check skin, sensation, swelling and pain and measure range; no change beyond error over \
         several: check the end feel, speak with the doctor."
            .to_owned(),
    ];
    if plan.course.is_none() {
        let first = "First session in the clinic, with a skin check 20 minutes after it.";
        steps.push(first.to_owned());
    }
    steps.extend([
        format!(
            "Step up the sessions only while redness fades within 20 minutes and pain has settled \
             within 2 hours {}; the course as planned is {} weeks.",
            cited.cite(&[REDNESS, PAIN_AFTER]),
            case.wear.weeks
        ),
        STOP_RULE.to_owned(),
    ]);
    if plan.is_withheld() {
        steps.insert(0, "Answer each stop above before anything is made.".to_owned());
    }
    steps.extend(background::recheck(case, plan));
    steps.push(
        "The treating clinician decides; local rules and the doctor's order come before this plan."
            .to_owned(),
    );
    steps
}
