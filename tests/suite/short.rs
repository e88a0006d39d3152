//! The short case: twelve measured values, usual sizes for the rest, and what would sharpen which number.

use serde_yaml::Value;
use tautline::calc::geometry::Geometry;
use tautline::calc::loops::hole_at;
use tautline::calc::sharpen::{self, Missing, Number};
use tautline::calc::{self};
use tautline::case::{self, CUFF_PATH_SPREAD, Kind, Size};
use tautline::sheets::Paper;
use tautline::units::Length;

use crate::cli::{Scene, run};
use crate::demo;
use crate::papers;
use crate::pdf::Pdf;
use crate::spread::Draws;

const SHORT: &str = "rope-loft-short";

/// Values with a unit, and degrees, below a key; the place of a girth is chosen, not measured.
fn measured(value: &Value) -> usize {
    match value {
        Value::Mapping(keys) => keys
            .iter()
            .filter(|(key, _)| !["from_crease", "date"].contains(&key.as_str().unwrap()))
            .map(|(_, value)| measured(value))
            .sum(),
        Value::Sequence(items) => items.iter().map(measured).sum(),
        _ => 1,
    }
}

#[test]
fn twelve_measured_values_give_every_paper() {
    let tree: Value = serde_yaml::from_str(&demo::text(SHORT)).unwrap();
    assert_eq!(measured(&tree["limb"]) + measured(&tree["motion"]), 12);
    let plan = demo::plan(SHORT);
    assert!(!plan.is_withheld());
    assert_eq!(plan.pattern.refused, [], "both pieces are drawn");
    assert_eq!(plan.pulls[0].shortfall, None, "the goal is reached");
    let scene = Scene::new();
    scene.write("case.yaml", demo::text(SHORT).as_bytes());
    let done = run(&scene, &["print", "case.yaml"]);
    assert_eq!((done.code, done.stdout.lines().count()), (0, Paper::ALL.len()), "{}", done.stderr);
}

/// The same file with every usual size written out.
fn written_out() -> String {
    let case = demo::case(SHORT);
    let mut lines = String::new();
    for (group, _) in [("cuff", 0), ("forearm_piece", 0), ("strip", 0), ("tab", 0), ("line", 0)] {
        lines.push_str(&format!("      {group}:\n"));
        for size in Size::ALL {
            if let Some(key) = size.key().strip_prefix(&format!("{group}.")) {
                let mm = size.usual(case.limb.hand_length).to_mm();
                lines.push_str(&format!("        {key}: {mm} mm\n"));
            }
        }
    }
    demo::edited(SHORT, &[("      goal: 60\n", &format!("      goal: 60\n{lines}"))])
}

#[test]
fn usual_sizes_are_those_that_are_told() {
    let short = demo::case(SHORT);
    let long = demo::read(&written_out());
    assert_eq!(short.orthosis.pulls[0].usual, Size::ALL);
    assert_eq!(long.orthosis.pulls[0].usual, []);
    let (short, long) = (&short.orthosis.pulls[0], &long.orthosis.pulls[0]);
    assert_eq!((&short.cuff, &short.tab, &short.strip), (&long.cuff, &long.tab, &long.strip));
    assert_eq!((&short.forearm_piece, &short.line), (&long.forearm_piece, &long.line));
    // 0.77 of 191 mm is 147.07 mm.
    assert_eq!(short.cuff.end_from_crease, Length::mm(147.0));
    assert_eq!(short.cuff.hole_from_crease, Length::mm(139.0));
}

/// The places are the same; only their ± carries what was not measured.
#[test]
fn only_the_spread_knows_what_was_left_out() {
    let short = demo::plan(SHORT);
    let long = calc::plan(&demo::read(&written_out()));
    let marks = |plan: &calc::Plan| plan.pulls[0].loops[0].marks.clone();
    for (short, long) in marks(&short).iter().zip(&marks(&long)) {
        assert_eq!(short.place, long.place);
        assert!(
            short.spread > long.spread + Length::mm(1.0),
            "{:?} {:?}",
            short.spread,
            long.spread
        );
    }
}

/// The part of w in the ± against a Monte Carlo run: w off by its spread, the loop still flat to its gauge.
#[test]
fn the_line_in_the_cuff_spreads_the_marks_as_in_a_run() {
    let case = demo::case(SHORT);
    let geometry = Geometry::of(&case, &case.orthosis.pulls[0]);
    let long = calc::plan(&demo::read(&written_out()));
    let short = calc::plan(&case);
    let made = &short.pulls[0].loops[0];
    let mut draws = Draws(931);
    for (mark, plain) in made.marks.iter().zip(&long.pulls[0].loops[0].marks).step_by(3) {
        let places: Vec<f64> = (0..20_000)
            .map(|_| {
                let off = CUFF_PATH_SPREAD * draws.standard() / 2.0;
                hole_at(&geometry, made.line + off, mark.angle).to_mm()
            })
            .collect();
        let mean = places.iter().sum::<f64>() / places.len() as f64;
        let square: f64 = places.iter().map(|it| (it - mean) * (it - mean)).sum();
        let run = (square / (places.len() - 1) as f64).sqrt();
        let told = (mark.spread.to_mm() * mark.spread.to_mm()
            - plain.spread.to_mm() * plain.spread.to_mm())
        .sqrt();
        assert!((told / run - 1.0).abs() < 0.03, "{told} and {run}");
    }
}

/// What is promised of a measure is what the plan says once it is taken.
#[test]
fn what_would_sharpen_most_does_so_once_it_is_measured() {
    let case = demo::case(SHORT);
    let plan = calc::plan(&case);
    let [mark, girth] = sharpen::most(&case, &plan)[..] else { panic!("a mark and a girth") };
    assert_eq!(mark.missing, Missing::CuffPath(0));
    let Number::Mark(_, number) = mark.number else { panic!("{:?}", mark.number) };
    let text = demo::edited(
        SHORT,
        &[("      goal: 60\n", "      goal: 60\n      line: { cuff_path: 60 mm }\n")],
    );
    let measured = demo::read(&text);
    let after = calc::plan(&measured);
    let spread = after.pulls[0].loops[0].marks[number].spread;
    assert!((spread - mark.then).abs() < Length::mm(1e-9), "{spread:?} {:?}", mark.then);
    for (other, before) in after.pulls[0].loops[0].marks.iter().zip(&plan.pulls[0].loops[0].marks) {
        assert!(before.spread - other.spread <= mark.now - mark.then + Length::mm(1e-9));
    }
    // Of the girths the one with the widest stand-in.
    let widest = plan.pattern.stand_ins.iter().filter_map(|it| it.spread).reduce(Length::max);
    assert_eq!(Some(girth.now), widest);
    // Where all is measured nothing is left to sharpen.
    let base = demo::case("quarry-bend-left-flexion");
    assert_eq!(sharpen::most(&base, &calc::plan(&base)), []);
}

#[test]
fn check_says_what_would_sharpen_most() {
    let scene = Scene::new();
    scene.write("case.yaml", demo::text(SHORT).as_bytes());
    let said = run(&scene, &["check", "case.yaml"]).stderr;
    assert!(said.contains("sharpen `orthosis.pulls[1].line.cuff_path`"), "{said}");
    assert!(said.contains("sharpen `limb.around_elbow`"), "{said}");
}

#[test]
fn card_and_summary_name_what_is_as_usual() {
    for printed in papers::typeset("short", &demo::text(SHORT)) {
        let words =
            Pdf::read(&printed.bytes).text().split_whitespace().collect::<Vec<_>>().join(" ");
        let is_told =
            words.contains("not chosen in the file") && words.contains("give or take 10 mm");
        let wanted = matches!(printed.paper, Paper::Card | Paper::Summary | Paper::Workings);
        assert_eq!(is_told, wanted, "{}", printed.name);
    }
}

/// What nothing can stand in for stays required, and says why.
#[test]
fn depths_stay_required_with_the_reason() {
    let text = demo::edited(SHORT, &[("  hand_depth: 31 mm               # 4\n", "")]);
    let unsound = case::read(text.as_bytes()).expect_err("a fault");
    let [fault] = &unsound.faults[..] else { panic!("{:?}", unsound.faults) };
    let Kind::Missing { key, accepted } = &fault.kind else { panic!("{fault:?}") };
    assert_eq!(key, "limb.hand_depth");
    assert!(accepted.contains("no survey has it"), "{accepted}");
}

/// A usual size that does not go with a given one is a conflict, like a given one.
#[test]
fn usual_sizes_are_held_against_given_ones() {
    for (given, key) in [
        ("cuff: { edge_from_crease: 100 mm, end_from_crease: 105 mm }", "cuff.hole_from_crease"),
        ("cuff: { hole_from_crease: 160 mm }", "cuff.hole_from_crease"),
        ("strip: { start_from_crease: 20 mm }", "strip.start_from_crease"),
        ("strip: { length: 25 mm }", "tab.pad_length"),
        ("strip: { width: 20 mm }", "tab.width"),
        ("strip: { start_from_crease: 200 mm }", "strip.length"),
    ] {
        let text = demo::edited(
            SHORT,
            &[("      goal: 60\n", &format!("      goal: 60\n      {given}\n"))],
        );
        let unsound = case::read(text.as_bytes()).expect_err(given);
        let keys: Vec<&str> = unsound.faults.iter().filter_map(|it| it.kind.key()).collect();
        assert_eq!(keys, [format!("orthosis.pulls[1].{key}")], "{given}: {:?}", unsound.faults);
    }
}
