//! The drawings: finite, inside their frame, mirrored truly, the line on its holes.

use proptest::prelude::*;
use tautline::calc::PullPlan;
use tautline::calc::build::build;
use tautline::calc::figure::{
    Anchor, Build, Drawing, Part, Place, Point, Pull, Step, crimp_sequence, face_view, side_view,
};
use tautline::calc::{self};
use tautline::units::{Angle, Length};

use crate::demo;

fn places(drawing: &Drawing) -> Vec<Place> {
    let steps = drawing.shapes.iter().flat_map(|it| &it.path);
    let mut places: Vec<Place> = steps
        .flat_map(|step| match *step {
            Step::Move(to) | Step::Line(to) => vec![to],
            Step::Curve(one, other, to) => vec![one, other, to],
        })
        .collect();
    places.extend(drawing.labels.iter().flat_map(|it| [it.at, it.to]));
    places
}

/// Both views of a demo case's first pull, mirrored or not, with the wrist at an angle.
fn views(sizes: &Build, plan: &PullPlan, mirrored: bool) -> Vec<Drawing> {
    let mark = plan.marks().next().unwrap();
    let corners: Vec<Point> =
        mark.line.corners().iter().map(|it| Point { x: it.x, y: it.y }).collect();
    let marks: Vec<Length> = plan.marks().map(|it| it.place).collect();
    [Pull::Palm, Pull::Back]
        .into_iter()
        .flat_map(|pull| {
            [
                side_view(sizes, pull, mark.angle, &corners, mark.hole, mirrored),
                face_view(sizes, pull, mark.hole, &marks, mirrored),
            ]
        })
        .collect()
}

#[test]
fn drawings_of_the_demo_cases_keep_their_rules() {
    for path in demo::files() {
        let case = demo::read(&std::fs::read_to_string(&path).unwrap());
        for (pull, plan) in case.orthosis.pulls.iter().zip(&calc::plan(&case).pulls) {
            let sizes = build(&case, pull, plan);
            let plain = views(&sizes, plan, false);
            let mirrored = views(&sizes, plan, true);
            for (one, other) in plain.iter().zip(&mirrored) {
                inside(one);
                mirror_images(one, other);
                well_formed(one);
            }
            let mark = plan.marks().next().unwrap();
            let corners: Vec<Point> =
                mark.line.corners().iter().map(|it| Point { x: it.x, y: it.y }).collect();
            line_runs_through(&plain[0], &corners);
            line_runs_through(&mirrored[2], &corners);
        }
    }
}

/// The bench's panels stand in order, keep their frame, share one width, and name only what they draw.
#[test]
fn the_crimp_sequence_keeps_its_rules() {
    let panels = crimp_sequence();
    let keys: Vec<&str> = panels.iter().map(|it| it.key).collect();
    assert_eq!(keys, ["gauge", "gauge_folded", "thread", "sleeve", "squeeze", "tab"]);
    for (panel, wanted) in panels.iter().zip([
        &[Part::Gauge, Part::Line, Part::Mark][..],
        &[Part::Gauge, Part::Line, Part::Mark],
        &[Part::Cuff, Part::Tab, Part::Hole, Part::Line, Part::Mark],
        &[Part::Sleeve, Part::Line, Part::Mark],
        &[Part::Sleeve, Part::Squeezed, Part::Tail],
        &[Part::Tab, Part::Hole, Part::Fold, Part::Pad, Part::Hooks],
    ]) {
        let figure = &panel.figure;
        inside(figure);
        let steps = figure.shapes.iter().flat_map(|it| &it.path).map(|step| match *step {
            Step::Move(to) | Step::Line(to) | Step::Curve(_, _, to) => to.x.to_mm(),
        });
        let (left, right) = steps.fold((f64::MAX, f64::MIN), |it, x| (it.0.min(x), it.1.max(x)));
        assert!((right - left - 50.0).abs() < 1e-6, "{}: {left} to {right} mm", panel.key);
        let is_drawn = |part: &Part| figure.shapes.iter().any(|it| it.part == *part);
        let named: Vec<Part> = figure.labels.iter().map(|it| it.part).collect();
        for part in wanted {
            assert!(is_drawn(part) && named.contains(part), "{}: {part:?}", panel.key);
        }
        assert!(named.iter().all(is_drawn), "{}: {named:?}", panel.key);
    }
}

/// Whoever follows the picture makes a loop of the right length: from mark to mark twice the gauge lies in the line that is
/// folded in half, four times in the one on a gauge of half the length.
#[test]
fn the_gauge_is_drawn_as_long_as_it_is_used() {
    let panels = crimp_sequence();
    for (key, lanes) in [("gauge", 2.0), ("gauge_folded", 4.0)] {
        let figure = &panels.iter().find(|it| it.key == key).unwrap().figure;
        let line = figure.shapes.iter().find(|it| it.part == Part::Line).unwrap();
        let mut ends = figure.shapes.iter().filter(|it| it.part == Part::Gauge).map(|it| {
            let Step::Move(to) = it.path[0] else { panic!("a path begins somewhere") };
            to.x.to_mm()
        });
        let (left, right) = (ends.next().unwrap(), ends.next_back().unwrap());
        let mut path = kurbo::BezPath::new();
        let point = |it: Place| kurbo::Point::new(it.x.to_mm(), it.y.to_mm());
        for step in &line.path {
            match *step {
                Step::Move(to) => path.move_to(point(to)),
                Step::Line(to) => path.line_to(point(to)),
                Step::Curve(one, other, to) => path.curve_to(point(one), point(other), point(to)),
            }
        }
        // What lies between the end lines, by short steps.
        let mut points: Vec<kurbo::Point> = Vec::new();
        kurbo::flatten(&path, 0.01, |it| points.extend(it.end_point()));
        let inside = |it: &&[kurbo::Point]| it.iter().all(|it| it.x <= right + 1e-6);
        let length: f64 = points.windows(2).filter(inside).map(|it| it[0].distance(it[1])).sum();
        let wanted = lanes * (right - left);
        assert!((length / wanted - 1.0).abs() < 0.1, "{key}: {length:.1} mm for {wanted:.1}");
    }
}

/// Each part of the panels has its look and, where it is named, its name.
#[test]
fn the_crimp_sequence_is_styled_and_named() {
    let read = |path: &str| {
        std::fs::read_to_string(format!("{}/{path}", env!("CARGO_MANIFEST_DIR"))).unwrap()
    };
    let (styles, words) = (read("layouts/drawings/style.typ"), read("layouts/words/en.yaml"));
    let (_, words) = words.split_once("\nparts:\n").unwrap();
    let (words, _) = words.split_once("\n\n").unwrap();
    for panel in crimp_sequence() {
        for shape in &panel.figure.shapes {
            assert!(styles.contains(&format!("\n  {}: (", shape.part.key())), "{:?}", shape.part);
        }
        for label in &panel.figure.labels {
            let key = format!("\n  {}: ", label.part.key());
            assert!(format!("\n{words}").contains(&key), "{:?}", label.part);
        }
    }
}

/// The side view draws the line from hole to tab through each corner, in the plan's own proportions.
fn line_runs_through(drawing: &Drawing, corners: &[Point]) {
    let line = drawing.shapes.iter().find(|it| it.part == Part::Line).unwrap();
    let drawn: Vec<Place> = line
        .path
        .iter()
        .map(|step| match *step {
            Step::Move(to) | Step::Line(to) | Step::Curve(_, _, to) => to,
        })
        .collect();
    assert_eq!(drawn.len(), corners.len());
    let far = |x: Length, y: Length| (x.to_mm() * x.to_mm() + y.to_mm() * y.to_mm()).sqrt();
    let pairs = drawn.windows(2).zip(corners.windows(2));
    for (here, there) in pairs {
        let drawn = far(here[1].x - here[0].x, here[1].y - here[0].y);
        let real = far(there[1].x - there[0].x, there[1].y - there[0].y);
        assert!((drawn - real).abs() < 1e-6, "{drawn} mm drawn, {real} mm planned");
    }
}

fn inside(drawing: &Drawing) {
    let slack = Length::mm(0.001);
    for place in places(drawing) {
        assert!(place.x >= -slack && place.x <= drawing.width + slack, "{place:?}");
        assert!(place.y >= -slack && place.y <= drawing.height + slack, "{place:?}");
    }
}

fn mirror_images(one: &Drawing, other: &Drawing) {
    assert_eq!((one.width, one.height), (other.width, other.height));
    assert_eq!(places(one).len(), places(other).len());
    assert_eq!(one.labels.len(), other.labels.len());
    for (left, right) in places(one).iter().zip(places(other)) {
        assert!((one.width - left.x - right.x).abs() < Length::mm(1e-6));
        assert!((left.y - right.y).abs() < Length::mm(1e-6));
    }
    for (left, right) in one.labels.iter().zip(&other.labels) {
        let turned = match left.anchor {
            Anchor::Left => Anchor::Right,
            Anchor::Right => Anchor::Left,
            upright => upright,
        };
        assert_eq!((left.part, turned), (right.part, right.anchor));
    }
}

fn well_formed(drawing: &Drawing) {
    for shape in &drawing.shapes {
        assert!(matches!(shape.path.first(), Some(Step::Move(_))));
        assert!(shape.path[1..].iter().all(|step| !matches!(step, Step::Move(_))));
    }
    for part in [Part::Cuff, Part::ForearmPiece, Part::Strip, Part::Tab, Part::Line, Part::Strap] {
        assert!(drawing.shapes.iter().any(|it| it.part == part), "{part:?} is drawn");
        assert!(drawing.labels.iter().any(|it| it.part == part), "{part:?} is named");
    }
}

proptest! {
    #![proptest_config(demo::draws(300))]

    /// Any sizes, right or absurd, give finite coordinates.
    #[test]
    fn drawings_are_finite(factor in 0.0..4.0_f64, degrees in -90.0..110.0_f64, mirrored: bool) {
        let case = demo::case("quarry-bend-left-flexion");
        let plan = demo::plan("quarry-bend-left-flexion");
        let mut sizes = build(&case, &case.orthosis.pulls[0], &plan.pulls[0]);
        sizes.hand_length = sizes.hand_length * factor;
        sizes.forearm_depth = sizes.forearm_depth * (4.0 - factor);
        sizes.strip_length = sizes.strip_length * factor;
        for pull in [Pull::Palm, Pull::Back] {
            let side = side_view(&sizes, pull, Angle::degrees(degrees), &[], Length::ZERO, mirrored);
            let face = face_view(&sizes, pull, Length::ZERO, &[], mirrored);
            for place in places(&side).into_iter().chain(places(&face)) {
                prop_assert!(place.x.to_mm().is_finite() && place.y.to_mm().is_finite());
            }
        }
    }
}
