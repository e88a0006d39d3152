//! Marks and loops of a case whose loop was made: what was measured flat and seen on the strip decides.

use tautline::calc;
use tautline::calc::Plan;
use tautline::calc::geometry::Measure;
use tautline::calc::line::TautLine;
use tautline::calc::loops::{Loop, Mark};
use tautline::units::{Angle, Length};

use crate::demo;
use crate::visits::with;

/// The base case's path of line in cuff and tab, per closed loop.
const CUFF_PATH: f64 = 60.0;
/// A millionth of a millimetre: the last bits of the marks' search.
const HAIR: f64 = 1e-6;

/// The base case with loops as made and with visits.
fn made(built: &str, visits: &str) -> Plan {
    let tail = format!("tail: 40 mm }}\n      built: [ {built} ]");
    calc::plan(&with(visits, &[("tail: 40 mm }", tail.as_str())]))
}

fn first(flat: f64) -> String {
    format!("{{ loop: 1, from: 2026-04-13, flat: {flat} mm }}")
}

fn planned() -> Plan {
    calc::plan(&with("visits: []", &[]))
}

#[track_caller]
fn near(one: Length, other: Length) {
    assert!((one - other).abs() < Length::mm(HAIR), "{one:?} and {other:?}");
}

/// L(θ, u) of a mark by the pull's own geometry.
fn line_at(plan: &Plan, mark: &Mark) -> Length {
    let geometry = &plan.pulls[0].geometry;
    TautLine::at(geometry, mark.angle, mark.place - geometry.hole_to_pad).length()
}

fn is_same(one: &Loop, other: &Loop) {
    assert_eq!(one.number, other.number);
    near(one.flat, other.flat);
    assert!((one.from - other.from).abs() < Angle::degrees(HAIR));
    assert!((one.to - other.to).abs() < Angle::degrees(HAIR));
    assert_eq!(one.marks.len(), other.marks.len());
    for (one, other) in one.marks.iter().zip(&other.marks) {
        assert_eq!((one.number, one.angle), (other.number, other.angle));
        near(one.place, other.place);
    }
}

/// A loop made to the planned length has the planned marks, and so has every loop behind it.
#[test]
fn a_loop_made_as_planned_has_the_marks_of_the_plan() {
    let plan = planned();
    let as_made = made(&first(plan.pulls[0].loops[0].flat.to_mm()), "visits: []");
    assert!(as_made.pulls[0].loops[0].is_in_use);
    is_same(&as_made.pulls[0].loops[0], &plan.pulls[0].loops[0]);
    let two = demo::plan("fell-farm-two-loops");
    let flat = two.pulls[0].loops[0].flat.to_mm();
    let tail = format!(
        "tail: 40 mm }}\n      built: [ {{ loop: 1, from: 2026-09-21, flat: {flat} mm }} ]"
    );
    let text = demo::edited("fell-farm-two-loops", &[("tail: 40 mm }", tail.as_str())]);
    let as_made = calc::plan(&demo::read(&text));
    assert_eq!(as_made.pulls[0].loops.len(), 2);
    assert_eq!(
        as_made.pulls[0].loops.iter().map(|it| it.is_in_use).collect::<Vec<_>>(),
        [true, false]
    );
    for (one, other) in as_made.pulls[0].loops.iter().zip(&two.pulls[0].loops) {
        is_same(one, other);
    }
}

/// Every mark of a longer or shorter loop lies where the taut line is as long as that loop.
#[test]
fn a_loop_of_another_length_moves_every_mark() {
    let plan = planned();
    let before = &plan.pulls[0].loops[0];
    for more in [-2.5, -0.5, 0.5, 3.0, 6.0] {
        let flat = before.flat.to_mm() + more;
        let as_made = made(&first(flat), "visits: []");
        let after = &as_made.pulls[0].loops[0];
        near(after.flat, Length::mm(flat));
        near(after.line, Length::mm(flat - CUFF_PATH / 2.0));
        let mut compared = 0;
        for mark in &after.marks {
            near(line_at(&as_made, mark), after.line);
            let Some(old) = before.marks.iter().find(|it| it.angle == mark.angle) else { continue };
            near(line_at(&as_made, mark) - line_at(&plan, old), Length::mm(more));
            // A line that runs straight toward the strip moves the tab by as much, one that is bent by more.
            let moved = (mark.place - old.place).to_mm() / more;
            assert!((1.0..1.3).contains(&moved), "{more} mm move mark {} by {moved}", mark.number);
            compared += 1;
        }
        assert!(compared >= 7, "{more}: {compared}");
    }
}

/// With one observation the mark at its angle lies where the tab was seen, whatever the loop measured flat.
#[test]
fn one_observation_sets_the_loop() {
    let visits = "visits: [ { date: 2026-04-20, passive: { flexion: 30 }, \
                  tab: [ { pull: flexion, angle: 40, place: 21.5 mm } ] } ]";
    let flats = [194.0, 196.0, 201.0].map(|flat| {
        let plan = made(&first(flat), visits);
        let made = &plan.pulls[0].loops[0];
        let mark = made.marks.iter().find(|it| it.angle == Angle::degrees(40.0)).unwrap();
        near(mark.place, Length::mm(21.5));
        made.marks.iter().for_each(|it| near(line_at(&plan, it), made.line));
        made.flat
    });
    near(flats[0], flats[1]);
    near(flats[1], flats[2]);
}

/// What was seen before the loop in use was fitted, or of the other pull, is no part of it.
#[test]
fn only_the_loop_in_use_is_seen() {
    let built =
        "{ loop: 1, from: 2026-04-13, flat: 196 mm }, { loop: 2, from: 2026-04-27, flat: 182 mm }";
    let day = |day: &str, pull: &str| {
        format!(
            "{{ date: {day}, passive: {{ flexion: 44 }}, tab: [ {{ pull: {pull}, angle: 44, place: 9 mm }} ] }}"
        )
    };
    let points = |visits: &str| {
        let plan = made(built, &format!("visits: [ {visits} ]"));
        plan.pulls[0].as_built.as_ref().unwrap().points.len()
    };
    assert_eq!(points(&day("2026-04-26", "flexion")), 0);
    assert_eq!(points(&day("2026-04-27", "flexion")), 1);
    assert_eq!(points(&day("2026-04-28", "extension")), 0);
    let both =
        [day("2026-04-20", "flexion"), day("2026-05-04", "flexion"), day("2026-05-11", "flexion")];
    assert_eq!(points(&both.join(", ")), 2);
}

/// What was found at a fit counts before the plan, and until a later fit says otherwise.
#[test]
fn what_was_found_at_the_fit_counts() {
    let found = "{ loop: 1, from: 2026-04-13, flat: 196 mm, hole_from_crease: 133 mm, strip_height: 37 mm }, \
                 { loop: 2, from: 2026-04-27, flat: 182 mm, hole_from_crease: 131 mm, strip_start_from_crease: 57 mm }";
    let plan = made(found, "visits: []");
    let geometry = &plan.pulls[0].geometry;
    for (measure, expected) in [
        (Measure::HoleFromCrease, 131.0),
        (Measure::StripHeight, 37.0),
        (Measure::StripStartFromCrease, 57.0),
        (Measure::PieceEdgeFromCrease, 12.0),
    ] {
        near(geometry.length(measure), Length::mm(expected));
    }
    let made = &plan.pulls[0].loops[0];
    made.marks.iter().for_each(|it| near(line_at(&plan, it), made.line));
}

/// The loops behind the one in use carry on its numbers, each from 5° before the end of the one before.
#[test]
fn the_next_loop_follows_the_one_in_use() {
    for number in [1, 3] {
        let built = format!("{{ loop: {number}, from: 2026-04-13, flat: 217 mm }}");
        let plan = made(&built, "visits: []");
        let loops = &plan.pulls[0].loops;
        assert_eq!(loops.iter().map(|it| it.number).collect::<Vec<_>>(), [number, number + 1]);
        assert!(loops[0].is_in_use && !loops[1].is_in_use);
        let overlap = loops[0].to - loops[1].from;
        assert!((overlap - Angle::degrees(5.0)).abs() < Angle::degrees(HAIR), "{overlap:?}");
        let last = loops[1].marks.last().unwrap();
        assert_eq!(last.angle, Angle::degrees(60.0));
    }
}

/// A loop that ends short of today's range has no marks left: the next one starts at today's range.
#[test]
fn a_loop_that_no_longer_reaches_is_followed_by_the_next() {
    let at = |flexion: f64| {
        made(
            "{ loop: 2, from: 2026-04-13, flat: 217 mm }",
            &format!("visits: [ {{ date: 2026-04-20, passive: {{ flexion: {flexion} }} }} ]"),
        )
    };
    let end = at(30.0).pulls[0].in_use.unwrap().to.to_degrees();
    let plan = at(end - 0.01);
    assert_eq!(plan.pulls[0].loops[0].number, 2);
    let plan = at(end + 0.01);
    let pull = &plan.pulls[0];
    assert_eq!(pull.in_use.map(|it| it.number), Some(2));
    assert!(pull.loops.iter().all(|it| !it.is_in_use));
    assert_eq!(pull.loops[0].number, 3);
    let rest = pull.start - pull.loops[0].from;
    assert!((rest - Angle::degrees(5.0)).abs() < Angle::degrees(HAIR), "the usual reserve");
    assert_eq!(pull.loops[0].marks[0].number, 0);
}

/// The first demo course: two loops made, and every place within 2 mm of the marks reckoned from them.
#[test]
fn the_demos_tabs_stood_where_the_marks_are() {
    for (name, points) in
        [("orchard-lane-new-loop", 4), ("ropewalk-plateau", 1), ("chalk-pit-stopped", 1)]
    {
        let plan = demo::plan(name);
        let fit = plan.pulls[0].as_built.as_ref().unwrap();
        assert_eq!(fit.points.len(), points, "{name}");
        for point in &fit.points {
            let (off, residual) = (point.off_plan.to_mm().abs(), point.residual.to_mm().abs());
            assert!(
                off < 2.0 && residual < 1.0,
                "{name}: {off} off the plan, {residual} off the fit"
            );
        }
    }
    let plan = demo::plan("orchard-lane-new-loop");
    assert!(
        plan.pulls[0].as_built.as_ref().unwrap().change.is_some(),
        "four points fit a measure too"
    );
}
