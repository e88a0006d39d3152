//! Every part of one pull: how many, how wide, how long, of what, and what to mind.

use serde::Serialize;

use super::frame::{other_side, pull_side};
use crate::calc::Plan;
use crate::calc::loops::Loop;
use crate::calc::pattern::{Kind, Piece, Strap, StrapPlace};
use crate::calc::straps::PAST_HOLE;
use crate::case::{Case, Pull, STRAP_WIDTH, Wrap};
use crate::sheets::wording::{mm, mm0, round};
use crate::units::Length;

/// A row of the cut list.
#[derive(Debug, Serialize)]
pub(super) struct Part {
    quantity: String,
    part: String,
    width: String,
    length: String,
    material: String,
    remark: String,
    /// The pull that it belongs to alone; nothing where all pulls share it.
    #[serde(skip_serializing_if = "Option::is_none")]
    own: Option<&'static str>,
}

/// Sheet material left above the elbow for the stockinette (common practice, no source).
const SLEEVE_MORE: Length = Length::mm(150.0);
/// Left on a strap for stockinette and padding, trimmed on the patient (common practice, no source).
const STRAP_MORE: Length = Length::mm(20.0);
/// Hook under a strap's end on a tongue of the cuff (common practice, no source).
const TONGUE_HOOK: Length = Length::mm(40.0);

/// The parts of one pull, or only its next loops where the orthosis is worn already; those that pulls share
/// come out alike for each.
pub(super) fn parts(case: &Case, pull: &Pull, new: &[&Loop], whole: &Plan) -> Vec<Part> {
    let pattern = &whole.pattern;
    // A tab that is too small, and the strip under it, wait for the therapist.
    let doubt = format!("tab-{}", pull.direction.word());
    let is_doubtful = whole.findings.iter().any(|it| it.id == doubt && it.answer.is_none());
    if pull.in_use().is_some() {
        return next_loops(pull, new, is_doubtful);
    }
    if case.orthosis.pulls.iter().any(|it| it.in_use().is_some()) {
        // The pieces are worn already; this pull is added to them.
        let mut list = vec![strip(pull, is_doubtful).of(pull)];
        list.extend(next_loops(pull, new, is_doubtful));
        return list;
    }
    let serves = |it: &&Piece| it.pulls.contains(&pull.direction);
    let of = |kind: Kind| pattern.pieces.iter().filter(serves).find(|it| it.kind == kind);
    let (forearm, cuff) = (of(Kind::ForearmPiece), of(Kind::Cuff));
    let mut list = vec![
        sheet_part(
            case,
            "Forearm piece",
            forearm,
            "up one side, round the elbow at 90°, down the other".into(),
        ),
        sheet_part(case, "Hand cuff", cuff, cuff_remark(case)),
        strip(pull, is_doubtful).of(pull),
        tab(pull, new.len(), is_doubtful).of(pull),
    ];
    list.extend(new.iter().map(|made| line(made, new.len(), pull).of(pull)));
    list.push(sleeve(pull, new.len()).of(pull));
    list.extend(straps(forearm, &FOREARM_STRAPS));
    list.extend(straps(cuff, hand_straps(case)));
    list.push(padding());
    list.push(stockinette(case));
    list
}

impl Part {
    /// A part that a pull does not share with the other.
    fn of(self, pull: &Pull) -> Self {
        Self { own: Some(pull.direction.word()), ..self }
    }
}

/// What the next loops of an orthosis that is worn already take; nothing where none is due.
fn next_loops(pull: &Pull, new: &[&Loop], is_doubtful: bool) -> Vec<Part> {
    if new.is_empty() {
        return Vec::new();
    }
    let mut list = vec![tab(pull, new.len(), is_doubtful).of(pull)];
    list.extend(new.iter().map(|made| line(made, 0, pull).of(pull)));
    list.push(sleeve(pull, new.len()).of(pull));
    list
}

fn row(
    quantity: usize,
    part: impl Into<String>,
    size: [String; 2],
    material: &str,
    remark: impl Into<String>,
) -> Part {
    let [width, length] = size;
    Part {
        quantity: quantity.to_string(),
        part: part.into(),
        width,
        length,
        material: material.into(),
        remark: remark.into(),
        own: None,
    }
}

fn sheet_part(case: &Case, name: &str, piece: Option<&Piece>, remark: String) -> Part {
    let material = format!("thermoplastic sheet, {} mm", mm(case.orthosis.sheet.thickness));
    match piece {
        Some(piece) => {
            let extent = piece.extent();
            row(1, name, [mm0(extent.height()), mm0(extent.width())], &material, remark)
        }
        None => row(1, name, NO_SIZE, &material, "not drawn: see what to measure first"),
    }
}

const NO_SIZE: [String; 2] = [String::new(), String::new()];

fn cuff_remark(case: &Case) -> String {
    let side = match case.orthosis.cut.wrap {
        Wrap::LittleFinger => "little-finger side",
        Wrap::Thumb => "thumb side",
    };
    format!("wraps the hand from the {side}")
}

/// Said of a part that a finding may change.
const WAIT: &str = "do not cut yet: see Watch for";

fn strip(pull: &Pull, is_doubtful: bool) -> Part {
    let size = [mm(pull.strip.width), mm(pull.strip.length)];
    let remark =
        format!("down the middle of the forearm piece, {} side", pull_side(pull.direction));
    let remark = if is_doubtful { format!("{remark}; {WAIT}") } else { remark };
    row(1, "Strip", size, "loop tape, sticky-backed", remark)
}

/// Pad, then hole and folded end, and the same once more back over itself: p + 2 (q + 6 mm).
fn tab(pull: &Pull, loops: usize, is_doubtful: bool) -> Part {
    let tab = &pull.tab;
    let cut = tab.pad_length + (tab.hole_to_pad + PAST_HOLE) * 2.0;
    let remark = format!(
        "fold {} mm of one end double, hook inside, punch through both layers {} mm from the {} mm pad",
        mm0(tab.hole_to_pad + PAST_HOLE),
        mm(tab.hole_to_pad),
        mm(tab.pad_length)
    );
    let remark = if is_doubtful { format!("{remark}; {WAIT}") } else { remark };
    row(loops.max(1), "Tab", [mm(tab.width), mm0(cut)], "hook tape, plain back", remark)
}

fn line(made: &Loop, all: usize, pull: &Pull) -> Part {
    let name = if all == 1 { "Line".to_owned() } else { format!("Line, loop {}", made.number) };
    let strength = pull.line.strength.map_or_else(
        || "strength not recorded: read it on the spool".to_owned(),
        |it| format!("breaking strength {} N", round(it.to_newtons(), 0)),
    );
    let material = format!("line that does not stretch, {} mm thick", mm(pull.line.diameter));
    row(1, name, [String::new(), mm0(made.cut)], &material, strength)
}

fn sleeve(pull: &Pull, loops: usize) -> Part {
    let material = format!("crimp sleeve for {} mm line", mm(pull.line.diameter));
    row(loops.max(1), "Crimp sleeve", NO_SIZE, &material, "the smallest that two strands just pass")
}

const FOREARM_STRAPS: [(StrapPlace, &str); 2] = [
    (StrapPlace::NearWrist, "Forearm strap, wrist"),
    (StrapPlace::NearElbow, "Forearm strap, elbow"),
];

/// The hand's straps by where they run, which follows from the cuff's open side.
fn hand_straps(case: &Case) -> &'static [(StrapPlace, &'static str); 2] {
    match case.orthosis.cut.wrap {
        Wrap::LittleFinger => &HAND_STRAPS,
        Wrap::Thumb => &FAR_STRAPS,
    }
}

const FAR_STRAPS: [(StrapPlace, &str); 2] =
    [(StrapPlace::HandWrist, "Hand strap, wrist"), (StrapPlace::HandWeb, "Hand strap, knuckles")];
const HAND_STRAPS: [(StrapPlace, &str); 2] =
    [(StrapPlace::HandWrist, "Hand strap, snuffbox"), (StrapPlace::HandWeb, "Hand strap, web")];

/// The straps of a piece and the hook under their ends; where the piece is not drawn, two straps to be
/// cut on the patient.
fn straps(piece: Option<&Piece>, names: &[(StrapPlace, &str); 2]) -> Vec<Part> {
    let Some(piece) = piece else {
        let name = names[0].1.split(',').next().unwrap_or_default();
        let size = [mm(STRAP_WIDTH), String::new()];
        return vec![row(2, name, size, "loop strapping", "cut to length on the patient")];
    };
    let mut list: Vec<Part> = piece
        .straps
        .iter()
        .filter_map(|it| {
            let (_, name) = names.iter().find(|(place, _)| *place == it.place)?;
            let size = [mm(it.width), mm0(it.length + STRAP_MORE)];
            let remark = strap_remark(it, piece);
            Some(row(it.quantity.into(), *name, size, "loop strapping", remark))
        })
        .collect();
    list.extend(hooks(piece));
    list
}

fn strap_remark(strap: &Strap, piece: &Piece) -> String {
    let place = format!("middle {} mm from the crease", mm0(strap.from_crease));
    match (strap.dots, strap.quantity) {
        (Some(dots), _) if dots.breadth <= Length::ZERO => {
            format!("{place}; no room for its hook: ask the therapist before cutting")
        }
        (Some(_), 1) => {
            // The strap runs over the face that carries no strip.
            let over = piece.pulls.first().map_or("other", |it| other_side(*it));
            format!("{place}; round the {over} side, from dot to dot; trim on the patient")
        }
        (Some(_), _) => format!("{place}; one over each side; trim on the patient"),
        (None, _) => format!("{place}; from tongue to tongue; trim on the patient"),
    }
}

/// Hook under the straps' ends: short dots beside the lane, or on the tongues.
fn hooks(piece: &Piece) -> Vec<Part> {
    const MATERIAL: &str = "hook tape, sticky-backed";
    match piece.kind {
        Kind::ForearmPiece => piece
            .straps
            .iter()
            .filter_map(|it| {
                let dots = it.dots.filter(|dots| dots.breadth > Length::ZERO)?;
                let size = [mm0(dots.breadth), mm(it.width)];
                let place = if it.place == StrapPlace::NearWrist { "wrist" } else { "elbow" };
                let remark = "beside the lane of the line, corners rounded";
                Some(row(
                    dots.quantity.into(),
                    format!("Hook dot, {place} strap"),
                    size,
                    MATERIAL,
                    remark,
                ))
            })
            .collect(),
        Kind::Cuff => {
            let width = piece.straps.first().map_or(STRAP_WIDTH, |it| it.width);
            let size = [mm(width), mm(TONGUE_HOOK)];
            vec![row(
                4,
                "Hook on the tongues",
                size,
                MATERIAL,
                "two for each hand strap, corners rounded",
            )]
        }
    }
}

fn padding() -> Part {
    row(
        1,
        "Padding",
        NO_SIZE,
        "padding, sticky-backed",
        "as needed: both bony knobs of the wrist, point of the elbow",
    )
}

fn stockinette(case: &Case) -> Part {
    let length = case.limb.hand_length + case.limb.forearm_length + SLEEVE_MORE;
    let size = [String::new(), mm0(length)];
    row(
        1,
        "Stockinette",
        size,
        "tube, to fit the arm",
        "hand to above the elbow, under the warm sheet; a second one to take home",
    )
}
