//! What the findings say of the flat pieces, each just before and just behind its limit.

use proptest::prelude::*;
use tautline::calc;
use tautline::calc::pattern::{Hole, Kind};
use tautline::calc::precautions::{Finding, Level};
use tautline::case::Case;
use tautline::units::Length;

use crate::demo;
use crate::lanes::strips;
use crate::shapes::{anything, between, cut, knots, limbs, piece, points};

const BASE: &str = "quarry-bend-left-flexion";
pub const SHEET: &str = "sheet: { thickness: 3.2 mm }";

fn mm(value: f64) -> Length {
    Length::mm(value)
}

/// The base case with a group under `orthosis.pattern`, and more changes.
#[track_caller]
pub fn drawn(group: &str, changes: &[(&str, &str)]) -> Case {
    let with = format!("{SHEET}\n  pattern: {{ {group} }}");
    let mut all = changes.to_vec();
    if !group.is_empty() {
        all.push((SHEET, &with));
    }
    demo::read(&demo::edited(BASE, &all))
}

pub fn found(case: &Case, id: &str) -> Option<Finding> {
    calc::plan(case).findings.into_iter().find(|it| it.id == id)
}

/// Holds that a finding is there for one case and is not for another just short of it.
#[track_caller]
pub fn turns(id: &str, with: &Case, without: &Case) {
    let finding = found(with, id).unwrap_or_else(|| panic!("no `{id}`"));
    let weight = if id == "not-drawn" { Level::Note } else { Level::Caution };
    assert_eq!(finding.level, weight);
    assert!(!finding.text.is_empty() && !finding.action.is_empty() && !finding.title.is_empty());
    assert!(found(without, id).is_none(), "`{id}` too early");
}

#[test]
fn the_base_case_has_none_of_the_benchs_findings() {
    let base = demo::case(BASE);
    for id in [
        "strap-over-lane",
        "strip-past-edges",
        "hole-near-edge",
        "piece-small",
        "cuff-small",
        "thumb-opening",
        "thumb-not-cleared",
        "sheet-too-small",
        "not-drawn",
    ] {
        assert!(found(&base, id).is_none(), "{id}");
    }
}

/// At a strap over 87.5 to 112.5 mm the piece is 205.04/2 − 15 = 87.52 mm wide: 43.76 − 3 − s/2 − 2 mm are
/// left beside a strip of breadth s, fewer than 10 from s = 57.52 on.
#[test]
fn a_strap_over_the_strip_needs_room_beside_it() {
    let strip =
        |width: &str| drawn("forearm_straps: [ 33 mm, 100 mm ]", &[("width: 50 mm", width)]);
    turns("strap-over-lane", &strip("width: 57.6 mm"), &strip("width: 57.4 mm"));
    let text = found(&strip("width: 57.6 mm"), "strap-over-lane").unwrap().text;
    assert!(text.contains("near the elbow") && !text.contains("near the wrist"), "{text}");
}

/// Where the strip begins, 55 mm from the crease, the piece is (182 + 43·5/70)/2 − 15 = 77.5 mm wide, and
/// it widens from there.
#[test]
fn a_strip_wider_than_the_piece_under_it_is_found() {
    let strip = |width: &str| drawn("", &[("width: 50 mm", width)]);
    turns("strip-past-edges", &strip("width: 78 mm"), &strip("width: 77 mm"));
}

#[test]
fn a_hole_at_the_edge_is_found() {
    let hole = |place: &str| drawn("", &[("hole_from_crease: 135 mm", place)]);
    let [with, without] = ["hole_from_crease: 137.1 mm", "hole_from_crease: 136.9 mm"].map(hole);
    turns("hole-near-edge", &with, &without);
}

/// The published rule (sources: TROUGH): a trough holds half of the girth and two thirds of the length. At the
/// edge, 12 mm from the crease, the girth is 169.84 mm: half of it is left up to a gap of 42.46 mm on each side.
/// Of a forearm of 220 mm two thirds are left up to an edge at 73.3 mm.
#[test]
fn a_piece_under_the_published_rule_is_small() {
    let gap = |it: &str| drawn(it, &[]);
    turns("piece-small", &gap("gap: 42.5 mm"), &gap("gap: 42.4 mm"));
    let edge = |it: &str| {
        let changes = [
            ("forearm_length: 24.5 cm", "forearm_length: 22 cm"),
            ("edge_from_crease: 12 mm", it),
            ("start_from_crease: 55 mm", "start_from_crease: 95 mm"),
        ];
        drawn("", &changes)
    };
    let [with, without] = ["edge_from_crease: 73.4 mm", "edge_from_crease: 73.3 mm"].map(edge);
    turns("piece-small", &with, &without);
}

/// At the wrist edge, 20 mm from the crease, the girth is 173.8 mm and with its share of the room 175.3 mm: the
/// cuff covers (175.3 − o)/173.8 of it, half from o = 88.36 mm on.
#[test]
fn a_cuff_under_the_published_rule_is_small() {
    let opening = |it: &str| drawn(it, &[]);
    turns("cuff-small", &opening("opening: 88.6 mm"), &opening("opening: 88.2 mm"));
}

/// A hand of 184 mm leaves its thumb 0.15 of it, 27.6 mm; from 0.20 of the hand, 36.8 mm, or 12 mm past the cuff's
/// edge the opening runs to 12 mm before its end.
#[test]
fn a_thumb_needs_its_opening() {
    let cuff = |end: &str| {
        let hole = ("hole_from_crease: 135 mm", "hole_from_crease: 60 mm");
        drawn("wrap_from: thumb", &[hole, ("end_from_crease: 142 mm", end)])
    };
    let [with, without] = ["end_from_crease: 76 mm", "end_from_crease: 77 mm"].map(cuff);
    turns("thumb-opening", &with, &without);
}

/// From the cuff's edge E the wrist's tongue takes 12 + 6 mm, the web's begins 3 mm before 0.43 of the hand, and the
/// thumb's root needs 16 mm between: 0.43·184 − 3 − E − 18 ≥ 16 up to E = 42.12 mm.
#[test]
fn a_thumb_needs_its_root_free() {
    let edge = |it: &str| drawn("", &[("edge_from_crease: 20 mm", it)]);
    let [with, without] = ["edge_from_crease: 42.3 mm", "edge_from_crease: 42.0 mm"].map(edge);
    turns("thumb-not-cleared", &with, &without);
}

/// Two pieces that ask for the same thing ask once.
#[test]
fn a_finding_on_both_pieces_comes_once() {
    let edge = "forearm_piece: { edge_from_crease: 12 mm }";
    let kiln = "kiln-both-ways";
    let changes =
        [(edge, "forearm_piece: { edge_from_crease: 14 mm }"), ("gap: 12 mm", "gap: 45 mm")];
    let plan = calc::plan(&demo::read(&demo::edited(kiln, &changes)));
    let forearm = plan.pattern.pieces.iter().filter(|it| it.kind == Kind::ForearmPiece);
    assert_eq!(forearm.count(), 2);
    for id in ["piece-small", "strap-over-lane", "strip-past-edges"] {
        assert_eq!(plan.findings.iter().filter(|it| it.id == id).count(), 1, "{id}");
    }
}

/// A refusal names the piece; what it says must be true of a child too.
#[test]
fn a_piece_that_is_not_drawn_is_found() {
    let without = drawn("", &[("  around_elbow: 58 cm", "  #")]);
    let child = drawn("", &[("  around_elbow: 58 cm", "  #"), ("age: 57", "age: 15")]);
    turns("not-drawn", &child, &without);
    let text = found(&child, "not-drawn").unwrap().text;
    assert!(text.contains("forearm piece") && !text.contains("cuff"), "{text}");
    assert!(!text.contains("too many"), "one measure is missing, and the age forbids: {text}");
}

/// Sources: TROUGH. Each face covers no more than half the girth, both together no less than half, and
/// the piece no less than two thirds of the forearm's length; measured on the outline, by cutting it.
fn follows_the_published_rule(case: &Case) -> Result<(), String> {
    let drawn = piece(case, Kind::ForearmPiece);
    let ring = points(&drawn.outline, 48);
    let knots = knots(case);
    let edge = case.orthosis.pulls[0].forearm_piece.edge_from_crease.to_mm();
    let (elbow, left) = (case.limb.forearm_length.to_mm(), 1.0 - case.orthosis.cut.draping_stretch);
    let corner = case.orthosis.cut.corner.to_mm();
    for step in 0..60 {
        let place = edge + corner + (elbow - edge - corner) * f64::from(step) / 60.0;
        let (wide, girth) = (cut(&ring, (place - edge) * left, true), between(&knots, place));
        if wide > girth / 2.0 || 2.0 * wide < girth / 2.0 {
            return Err(format!("{wide} mm at {place} mm of girth {girth} mm"));
        }
    }
    let long = (elbow - edge) / elbow;
    if long < 2.0 / 3.0 { Err(format!("{long} of the length")) } else { Ok(()) }
}

#[test]
fn the_measured_demos_follow_the_published_rule() {
    for name in [BASE, "saltmarsh-right-extension"] {
        follows_the_published_rule(&demo::case(name)).unwrap();
    }
}

proptest! {
    #![proptest_config(demo::draws(300))]

    /// Dots too small to hold bring up the finding, and only they do.
    #[test]
    fn narrow_dots_are_found(case in strips()) {
        let drawn = piece(&case, Kind::ForearmPiece);
        let least = drawn.straps.iter().map(|it| it.dots.unwrap().breadth.to_mm());
        let is_narrow = least.fold(f64::INFINITY, f64::min) < 10.0;
        prop_assert_eq!(found(&case, "strap-over-lane").is_some(), is_narrow);
    }

    #[test]
    fn limbs_follow_the_published_rule_or_are_found(case in limbs()) {
        let follows = follows_the_published_rule(&case);
        let is_found = found(&case, "piece-small").is_some();
        prop_assert!(follows.is_ok() || is_found, "{}", follows.unwrap_err());
    }

    /// A hole that lies outside the cuff or at its edge is never passed over in silence.
    #[test]
    fn a_hole_off_the_cuff_is_found(case in anything()) {
        let cuff = piece(&case, Kind::Cuff);
        let is_off = |it: &Hole| {
            !cuff.outline.holds(it.at) || it.to_edge < mm(5.0)
        };
        if cuff.holes.iter().any(is_off) {
            prop_assert!(found(&case, "hole-near-edge").is_some(), "{:?}", cuff.holes);
        }
    }
}
