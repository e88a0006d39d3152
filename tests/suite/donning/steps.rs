//! The places that tell each step, for who looks and does not read.

use tautline::calc;
use tautline::calc::build::build;
use tautline::calc::figure::{Build, Part, Point, Pull, Shape};
use tautline::case::Wrap;
use tautline::units::math;

use super::{BACK, Scene, base, ends, holds, middle, middle_of_ring, named, of_part};
use crate::demo;

/// The thumb lies low on the page; the cuff comes from the little finger's side above, or over the thumb from below.
#[test]
fn the_cuff_comes_from_its_closed_side() {
    for (wrap, is_above) in [(Wrap::LittleFinger, true), (Wrap::Thumb, false)] {
        let panels = base(wrap, Pull::Palm).panels(false);
        let cuff = |key: &str| middle(of_part(named(&panels, key), Part::Cuff)[0]).1;
        let palm = |key: &str| middle(of_part(named(&panels, key), Part::Crease)[0]).1;
        let off = |key: &str| cuff(key) - palm(key);
        let (before, worn) = (off("cuff"), off("hand_strap"));
        assert_eq!(before < worn, is_above, "{wrap:?}: {before} before, {worn} worn");
        assert!((before - worn).abs() > 10.0, "{wrap:?}: {before} before, {worn} worn");
    }
}

/// Where the cuff wraps round the thumb's side, the thumb comes out of its hole and its tip stands past it.
#[test]
fn the_thumb_goes_through_its_hole() {
    for pull in [Pull::Palm, Pull::Back] {
        let panels = base(Wrap::Thumb, pull).panels(false);
        let drawing = named(&panels, "cuff");
        let hole = *of_part(drawing, Part::Inside).last().unwrap();
        let thumb = *of_part(drawing, Part::Hand).last().unwrap();
        let line = ends(thumb);
        let root = (
            f64::midpoint(line[0].0, line[line.len() - 1].0),
            f64::midpoint(line[0].1, line[line.len() - 1].1),
        );
        assert!(holds(hole, root), "the thumb comes from {root:?}");
        let tip = line[line.len() / 2];
        assert!(!holds(hole, tip), "the tip {tip:?} is in the hole");
        let low = ends(of_part(drawing, Part::Cuff)[0]).iter().map(|it| it.1).fold(0.0, f64::max);
        assert!(tip.1 > low + 5.0, "the tip at {}, the cuff to {low}", tip.1);
    }
}

/// The elbow goes into the forearm piece from above and before: beside where it is worn the piece lies lower and farther
/// from the hand, and the thumb stands over the fingers, the upper arm over the elbow.
#[test]
fn the_forearm_piece_comes_from_below_the_elbow() {
    for key in ["forearm_piece", "forearm_piece_off"] {
        let panels = base(Wrap::LittleFinger, Pull::Palm).panels(false);
        let drawing = named(&panels, key);
        let low = |part: Part, of: fn(f64, f64) -> f64, from: f64| {
            of_part(drawing, part).into_iter().flat_map(ends).map(|it| it.1).fold(from, of)
        };
        let arm = of_part(drawing, Part::Arm);
        // Of the limb, then the upper arm.
        let span = |shape: &Shape, of: fn(&(f64, f64)) -> f64| {
            let all: Vec<f64> = ends(shape).iter().map(of).collect();
            let least = all.iter().copied().fold(f64::INFINITY, f64::min);
            (least, all.into_iter().fold(f64::NEG_INFINITY, f64::max))
        };
        let piece = of_part(drawing, Part::ForearmPiece)[0];
        assert!(span(piece, |it| it.1).0 > span(arm[0], |it| it.1).0 + 30.0);
        assert!(span(piece, |it| it.0).0 < span(arm[0], |it| it.0).0 - 30.0);
        let thumb = *of_part(drawing, Part::Hand).last().unwrap();
        let fingers = of_part(drawing, Part::Hand)[3];
        assert!(span(thumb, |it| it.1).0 < span(fingers, |it| it.1).0);
        assert!(span(arm[1], |it| it.1).1 < low(Part::Arm, f64::max, 0.0));
        // Taller than wide, and over the elbow's end of the forearm.
        let (wide, high) = (span(arm[1], |it| it.0), span(arm[1], |it| it.1));
        assert!(high.1 - high.0 > wide.1 - wide.0);
        assert!(wide.1 < f64::midpoint(span(arm[0], |it| it.0).0, span(arm[0], |it| it.0).1));
    }
}

/// Of the hand's straps one lies in the web, past the thumb, and one over the thumb's root, short of it.
#[test]
fn the_hand_straps_go_past_the_thumb_on_both_sides() {
    let panels = base(Wrap::LittleFinger, Pull::Palm).panels(false);
    let drawing = named(&panels, "hand_strap");
    let [web, wrist] = of_part(drawing, Part::Strap)[..2] else { panic!("two straps") };
    let thumb = ends(of_part(drawing, Part::Hand).last().unwrap());
    // Where its two edges leave the palm.
    let (fingers, wrists) = (thumb[1].0, thumb[thumb.len() - 2].0);
    assert!(middle(web).0 > fingers.max(wrists), "{:?} beside {fingers}", middle(web));
    assert!(middle(wrist).0 < fingers.max(wrists), "{:?} beside {wrists}", middle(wrist));
    // The one in the web is half way over: its loose end hangs lower than the closed one.
    let low = |shape: &Shape| ends(shape).iter().map(|it| it.1).fold(f64::MIN, f64::max);
    assert!(low(web) > low(wrist) + 10.0);
}

/// The front edge of the tab's wide part, not its tip, lies at today's mark: on the drawn strip the line along that edge
/// stands where the ruler says, and the tip with the hole past it toward the hand.
#[test]
fn the_front_edge_of_the_wide_part_is_at_todays_mark() {
    for (wrap, pull) in [(Wrap::LittleFinger, Pull::Palm), (Wrap::Thumb, Pull::Back)] {
        let scene = base(wrap, pull);
        let panels = scene.panels(false);
        let drawing = named(&panels, "tab");
        let line = ends(of_part(drawing, Part::Today).last().unwrap());
        let (far, near) = (line[0], line[2]);
        let wide = ends(of_part(drawing, Part::Tab).last().unwrap());
        for corner in [far, near] {
            let off = wide.iter().map(|it| math::hypot(it.0 - corner.0, it.1 - corner.1));
            assert!(off.fold(f64::INFINITY, f64::min) < 0.1, "no corner of the tab at {corner:?}");
        }
        // Of the strip's end toward the hand, the corner toward the eye.
        let strip = ends(of_part(drawing, Part::Strip)[0]);
        let end = strip.into_iter().fold((f64::MIN, f64::MIN), |best, it| {
            if it.0 + it.1 > best.0 + best.1 { it } else { best }
        });
        let zero = end.0 + BACK * scene.build.strip_width.to_mm() / 2.0;
        let place = zero - f64::midpoint(far.0, near.0);
        let mark = scene.marks[0].to_mm();
        assert!((place - mark).abs() < 0.1, "{place} mm drawn, {mark} mm marked");
        let hole = middle_of_ring(of_part(drawing, Part::Hole)[1]);
        assert!(hole.0 > far.0.max(near.0) + 3.0, "hole {hole:?}, edge {far:?} to {near:?}");
    }
}

/// With two pulls all that is set out or worn shows both lines with their tabs and both strips, on opposite sides.
#[test]
fn two_pulls_show_both_lines_and_strips() {
    let case = demo::case("kiln-both-ways");
    let plan = calc::plan(&case);
    let builds: Vec<Build> =
        case.orthosis.pulls.iter().zip(&plan.pulls).map(|(it, of)| build(&case, it, of)).collect();
    for (index, pull) in [Pull::Palm, Pull::Back].into_iter().enumerate() {
        let mark = plan.pulls[index].marks().next().unwrap();
        let scene = Scene {
            build: builds[index],
            pull,
            today: mark.angle,
            line: mark.line.corners().iter().map(|it| Point { x: it.x, y: it.y }).collect(),
            hole: mark.hole,
            marks: vec![mark.place],
            other: Some(builds[1 - index]),
        };
        let panels = scene.panels(false);
        for key in ["set_out", "cuff", "hand_strap", "tab", "check", "lift_tab", "cuff_off"] {
            let drawing = named(&panels, key);
            assert_eq!(of_part(drawing, Part::Line).len(), 2, "{key}");
            assert_eq!(of_part(drawing, Part::Hole).len(), 4, "{key}");
        }
        for key in ["set_out", "tab", "check", "lift_tab"] {
            let drawing = named(&panels, key);
            let strips = of_part(drawing, Part::Strip);
            let heights: Vec<f64> = strips.iter().map(|it| middle(it).1).collect();
            let piece = of_part(drawing, Part::ForearmPiece);
            let all: Vec<f64> = piece.into_iter().flat_map(ends).map(|it| it.1).collect();
            let between = f64::midpoint(
                all.iter().copied().fold(f64::INFINITY, f64::min),
                all.iter().copied().fold(f64::NEG_INFINITY, f64::max),
            );
            assert_eq!(heights.len(), 2, "{key}");
            let above = heights.iter().filter(|it| **it < between).count();
            assert_eq!(above, 1, "{key}: strips at {heights:?}, the piece about {between}");
        }
    }
}
