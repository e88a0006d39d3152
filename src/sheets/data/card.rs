//! What the fabrication card shows.

use serde::Serialize;

use super::cut_list::{Part, parts};
use super::drawing::{Drawing, Drawings, Panel, crimp};
use super::flat;
use super::frame::{Frame, other_side, pull_side};
use super::loads::{Alternatives, best_alternatives, stock};
use super::pieces::{self, Refused};
use super::sizes::usual_parts;
use crate::calc::advice::Next;
use crate::calc::course::due_loops;
use crate::calc::geometry::Measure;
use crate::calc::loops::{Loop, Mark};
use crate::calc::pattern::{Lane, Piece};
use crate::calc::precautions::{Finding, Level};
use crate::calc::pull::PullPlan;
use crate::calc::{Estimate, Plan};
use crate::case::{Case, Direction, PageSize, Pull};
use crate::sheets::wording::{degrees, mm, mm0, mm1, round, short_day};
use crate::sheets::words::Words;
use crate::units::Length;

/// The longest gauge that fits down a page between header and footer, on Letter and on A4.
const LONGEST_GAUGE: Length = Length::mm(215.0);
/// A mark that waits for the doctor's word.
const HELD: &str = "doctor\u{2019}s word first";

#[derive(Debug, Serialize)]
pub(super) struct Card {
    paper: &'static str,
    frame: Frame,
    findings: Vec<CardFinding>,
    estimates: Vec<String>,
    pulls: Vec<PullPart>,
    pattern: CardPattern,
    /// The drawn sequence of tab and crimp.
    crimp: Vec<Panel>,
    /// From which side the cuff wraps the hand.
    wrap: &'static str,
    /// How the stretch should feel: `firm` or `gentle`.
    stretch: &'static str,
    /// Whether the pieces are made and worn: then only what is new is made.
    is_made: bool,
    /// Said where nothing is to be made now, for each pull.
    nothing: Vec<String>,
}

/// The flat pieces to scale.
#[derive(Debug, Default, Serialize)]
struct CardPattern {
    pieces: Vec<CardPiece>,
    refused: Vec<Refused>,
    estimates: Vec<String>,
    sheet: SheetPart,
}

#[derive(Debug, Serialize)]
struct CardPiece {
    name: String,
    size: String,
    area: String,
    facts: Vec<String>,
    figure: Drawing,
}

/// How the pieces lie on the sheet; a drawing for each sheet.
#[derive(Debug, Default, Serialize)]
struct SheetPart {
    words: Vec<String>,
    figures: Vec<Drawing>,
}

#[derive(Debug, Serialize)]
struct CardFinding {
    level: &'static str,
    title: String,
    /// What to do about it.
    text: String,
    answer: String,
}

#[derive(Debug, Serialize)]
struct PullPart {
    direction: &'static str,
    pull_side: &'static str,
    goal: String,
    figures: Drawings,
    parts: Vec<Part>,
    measures: Vec<Entry>,
    positions: Vec<Position>,
    loops: Vec<LoopPart>,
    stock: Vec<String>,
    alternatives: Alternatives,
}

#[derive(Debug, Serialize)]
struct Entry {
    what: String,
    value: String,
}

#[derive(Debug, Serialize)]
struct Position {
    what: &'static str,
    place: String,
    remark: String,
}

#[derive(Debug, Serialize)]
struct LoopPart {
    number: String,
    cut: String,
    closed: String,
    flat: String,
    line: String,
    tail: String,
    flat_mm: f64,
    gauge: Gauge,
    from: String,
    to: String,
    marks: Vec<MarkRow>,
}

#[derive(Debug, Serialize)]
struct Gauge {
    lane_mm: f64,
    folded: bool,
    /// How often the line is folded in half once it is doubled.
    folds: u32,
}

#[derive(Debug, Serialize)]
struct MarkRow {
    name: String,
    today: bool,
    angle: String,
    place: String,
    spread: String,
    mm_per_degree: String,
}

pub(super) fn card(case: &Case, plan: &Plan, page: PageSize, words: &Words) -> Card {
    let pulls = case.orthosis.pulls.iter().zip(&plan.pulls);
    let pulls: Vec<PullPart> =
        pulls.map(|(pull, reckoned)| pull_part(case, pull, reckoned, plan)).collect();
    let folds: Vec<u32> = pulls.iter().flat_map(|it| &it.loops).map(|it| it.gauge.folds).collect();
    let bears_on_making = |it: &&Finding| it.level != Level::Note;
    Card {
        paper: "card",
        frame: Frame::of(case, page, words),
        findings: plan
            .findings
            .iter()
            .filter(bears_on_making)
            .map(|it| finding(it, case))
            .collect(),
        estimates: plan
            .estimates
            .iter()
            .filter_map(|it| estimate(*it).map(str::to_owned))
            .chain(usual_parts(case))
            .collect(),
        pulls,
        pattern: pattern_part(case, plan),
        crimp: crimp(&folds),
        wrap: case.orthosis.cut.wrap.word(),
        stretch: feel(plan),
        is_made: is_made(case),
        nothing: plan.pulls.iter().filter_map(|it| nothing_to_make(it, plan)).collect(),
    }
}

/// How the stretch should feel at the fit, in a word of the layouts.
fn feel(plan: &Plan) -> &'static str {
    let is_gentle = plan.pulls.iter().any(|it| plan.is_gentle(it.direction));
    if is_gentle { "gentle" } else { "firm" }
}

/// Whether the pieces are made: a loop was fitted.
pub(super) fn is_made(case: &Case) -> bool {
    case.orthosis.pulls.iter().any(|it| it.in_use().is_some())
}

/// The loops of a pull that are to be made now; none while the numbers say to stay.
fn to_make<'p>(plan: &'p PullPlan, whole: &Plan) -> Vec<&'p Loop> {
    let is_longer = whole.next(plan.direction) == Some(Next::LongerLoop);
    if plan.in_use.is_some() && whole.stays(plan.direction) && !is_longer {
        return Vec::new();
    }
    due_loops(plan)
}

/// What is said of a pull for which nothing is to be made today.
fn nothing_to_make(plan: &PullPlan, whole: &Plan) -> Option<String> {
    let in_use = plan.in_use?;
    if !to_make(plan, whole).is_empty() {
        return None;
    }
    let next = plan.loops.iter().find(|it| !it.is_in_use);
    let is_due = due_loops(plan).into_iter().next();
    let waits = is_due.map(|it| {
        format!(" Loop {} is due and waits, since the numbers say to stay at this mark.", it.number)
    });
    let later = next.filter(|_| is_due.is_none()).map_or_else(
        || waits.unwrap_or_default(),
        |it| {
            let from = it.from.to_degrees().ceil();
            format!(" Loop {} is made when passive range reaches {from:.0}°.", it.number)
        },
    );
    let today = plan.loops.iter().filter(|it| it.is_in_use).find_map(|it| it.marks.first());
    let today = today.map_or_else(String::new, |it| {
        format!(" Draw today\u{2019}s mark at {} mm ({}).", mm0(it.place), degrees(it.angle))
    });
    let kept = kept(plan, whole);
    Some(format!(
        "{}: no loop to make today. Loop {} reaches {}, the goal is {}.{later} Rub the old mark off the \
         strip, and take the old label off.{today} {kept}",
        capital(plan.direction),
        in_use.number,
        degrees(in_use.to),
        degrees(plan.goal)
    ))
}

/// Whether tab and strip are replaced when nothing is to be made: a finding may ask for others.
fn kept(plan: &PullPlan, whole: &Plan) -> String {
    let id = format!("tab-{}", plan.direction.word());
    let asks = whole.findings.iter().find(|it| it.id == id && it.level != Level::Note);
    asks.map_or_else(
        || "Tab and strip are not replaced today.".into(),
        |it| {
            format!(
                "Tab and strip are not replaced today unless the therapist orders it: ask, since \
                 \u{201c}{}\u{201d} wants other sizes.",
                it.title
            )
        },
    )
}

fn capital(direction: Direction) -> &'static str {
    match direction {
        Direction::Flexion => "Flexion",
        Direction::Extension => "Extension",
    }
}

fn pattern_part(case: &Case, plan: &Plan) -> CardPattern {
    if is_made(case) {
        return CardPattern::default();
    }
    let pattern = &plan.pattern;
    let names: Vec<String> =
        pattern.pieces.iter().map(|it| pieces::name(it.kind, &it.pulls, case)).collect();
    let piece = |(piece, name): (&Piece, &String)| CardPiece {
        size: pieces::size(piece),
        area: pieces::area(piece.area()),
        facts: pieces::facts(piece, case),
        figure: flat::dimensioned(
            piece,
            format!("{name}, flat, outer face up, {}, with its dimensions.", pieces::size(piece)),
        ),
        name: name.clone(),
    };
    let words = pieces::sheet_words(plan, case);
    let sheets = (0..pattern.sheet.sheets).map(|number| {
        flat::on_sheet(&pattern.sheet, &pattern.pieces, &names, number, words.join(" "))
    });
    CardPattern {
        pieces: pattern.pieces.iter().zip(&names).map(piece).collect(),
        refused: pieces::refused(pattern, case),
        estimates: pieces::stand_ins(pattern),
        sheet: SheetPart { figures: sheets.collect(), words },
    }
}

/// What was taken and not measured, as far as the bench works by it.
fn estimate(estimate: Estimate) -> Option<&'static str> {
    match estimate {
        Estimate::Axis => Some("The wrist\u{2019}s axis: 10 mm past the crease."),
        Estimate::Heights => Some(
            "Heights of hole, edges and strip: half the measured depth and the sheet; the strip 2 mm \
             more.",
        ),
        // Sizes are told one by one.
        Estimate::ElbowArea | Estimate::Bearing | Estimate::Goniometer | Estimate::Sizes => None,
    }
}

fn finding(finding: &Finding, case: &Case) -> CardFinding {
    // With two pulls a finding says which of them it is about.
    let pulls = case.orthosis.pulls.iter().map(|it| it.direction.word());
    let own = pulls.filter(|_| case.orthosis.pulls.len() > 1).find(|way| finding.id.ends_with(way));
    CardFinding {
        level: finding.level.word(),
        title: own
            .map_or_else(|| finding.title.to_owned(), |way| format!("{}, {way}", finding.title)),
        text: finding.action.clone(),
        answer: answer(finding),
    }
}

/// Who decided to go on in spite of a finding, in words; nothing where nobody did.
pub(super) fn answer(finding: &Finding) -> String {
    finding.answer.as_ref().map_or_else(String::new, |it| {
        format!("{} decided to go on, {}: {}", it.by, short_day(it.date), it.why)
    })
}

fn pull_part(case: &Case, pull: &Pull, plan: &PullPlan, whole: &Plan) -> PullPart {
    let new = to_make(plan, whole);
    PullPart {
        direction: pull.direction.word(),
        pull_side: pull_side(pull.direction),
        goal: degrees(pull.goal),
        figures: Drawings::of(case, pull, plan),
        parts: parts(case, pull, &new, whole),
        measures: if is_made(case) { Vec::new() } else { measures(case) },
        positions: positions(pull, plan),
        loops: new.iter().map(|made| loop_part(plan, made, pull.line.tail)).collect(),
        stock: stock(plan),
        alternatives: best_alternatives(plan),
    }
}

/// The limb's measures that the aide cuts by.
fn measures(case: &Case) -> Vec<Entry> {
    let limb = &case.limb;
    let mut list = Vec::new();
    let mut add = |what: &str, value: Option<Length>| {
        if let Some(value) = value {
            list.push(Entry { what: what.into(), value: format!("{} mm", mm(value)) });
        }
    };
    add("Hand length", Some(limb.hand_length));
    add("Hand breadth", Some(limb.hand_breadth));
    add("Knuckles, round", limb.knuckle_girth);
    add("Finger joints, round", limb.finger_joint_girth);
    add("Wrist, round", limb.wrist_circumference);
    for it in &limb.forearm_girths {
        add(&format!("Forearm {} mm from crease, round", mm(it.from_crease)), Some(it.girth));
    }
    add("Elbow, round", limb.elbow_girth);
    add("Forearm, crease to crease", Some(limb.forearm_length));
    add("Round the elbow, crease to crease", limb.around_elbow);
    list
}

fn positions(pull: &Pull, plan: &PullPlan) -> Vec<Position> {
    let at = |measure| plan.geometry.length(measure);
    let side = pull_side(pull.direction);
    let past = |length| format!("{} mm past the crease", mm(length));
    let before = |length| format!("{} mm before the crease", mm(length));
    let height = |length| format!("{} mm above mid-thickness", mm(length));
    let other = other_side(pull.direction);
    let lane = Lane::of(pull);
    vec![
        Position {
            what: "Cuff, wrist edge",
            place: past(at(Measure::CuffEdgeFromCrease)),
            remark: "the wrist must bend freely over it".into(),
        },
        Position {
            what: "Hole in the cuff",
            place: past(at(Measure::HoleFromCrease)),
            remark: format!(
                "in the middle of the {side} side, {}; a second one level with it on the {other}",
                height(at(Measure::HoleHeight))
            ),
        },
        Position {
            what: "Cuff, finger edge",
            place: past(plan.geometry.cuff_end),
            remark: "about level with the fingers\u{2019} middle joints".into(),
        },
        Position {
            what: "Forearm piece, wrist edge",
            place: before(at(Measure::PieceEdgeFromCrease)),
            remark: "clear of the crease when the wrist bends".into(),
        },
        Position {
            what: "Strip, wrist end",
            place: before(at(Measure::StripStartFromCrease)),
            remark: format!(
                "{side} side; runs {} mm toward the elbow; surface {}",
                mm(pull.strip.length),
                height(at(Measure::StripHeight))
            ),
        },
        Position {
            what: "Lane",
            place: "down the middle".into(),
            remark: format!(
                "free of straps: {} mm wide from the edge, {} mm from {} mm on, {} mm over the strip",
                mm(lane.line_wide),
                mm(lane.tab_wide),
                mm0(lane.tab),
                mm(lane.strip_wide)
            ),
        },
    ]
}

fn loop_part(plan: &PullPlan, made: &Loop, tail: Length) -> LoopPart {
    let mut lane = made.flat;
    let mut folds = 0;
    while lane > LONGEST_GAUGE {
        lane = lane / 2.0;
        folds += 1;
    }
    LoopPart {
        number: made.number.to_string(),
        cut: mm0(made.cut),
        closed: mm0(made.closed),
        flat: mm0(made.flat),
        line: mm0(made.line),
        tail: mm(tail),
        flat_mm: made.flat.to_mm(),
        gauge: Gauge { lane_mm: lane.to_mm(), folded: folds > 0, folds },
        from: format!("{:.0}°", round(made.from.to_degrees(), 0)).replace('-', "\u{2212}"),
        to: format!("{:.0}°", made.to.to_degrees().floor()).replace('-', "\u{2212}"),
        marks: made.marks.iter().map(|it| mark_row(plan, it)).collect(),
    }
}

fn mark_row(plan: &PullPlan, mark: &Mark) -> MarkRow {
    MarkRow {
        name: mark.number.to_string(),
        today: mark.number == 0,
        angle: if plan.is_given_out(mark) {
            degrees(mark.angle)
        } else {
            format!("{}, {HELD}", degrees(mark.angle))
        },
        place: mm1(mark.place),
        spread: format!("± {}", mm0(mark.spread)),
        mm_per_degree: mm1(mark.per_degree),
    }
}
