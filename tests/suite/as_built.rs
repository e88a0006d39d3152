//! What was made against what was planned: builds that are known, given back from noisy points.

use proptest::prelude::*;
use tautline::calc::as_built::{
    AsBuilt, Checked, Observation, Origin, Planned, Refit, TAB_READING, as_built,
};
use tautline::calc::geometry::{Geometry, Measure};
use tautline::calc::line::TautLine;
use tautline::calc::loops::hole_at;
use tautline::calc::{self};
use tautline::units::{Angle, Length};

use crate::demo;
use crate::line::cases;
use crate::spread::Draws;

/// A pull's geometry with its first loop's line and range.
pub struct Bench {
    pub name: &'static str,
    pub geometry: Geometry,
    pub line: Length,
    range: (Angle, Angle),
}

impl Bench {
    fn of(name: &'static str, pull: usize) -> Self {
        let case = demo::case(name);
        let made = calc::plan(&case).pulls[pull].loops[0].clone();
        let geometry = Geometry::of(&case, &case.orthosis.pulls[pull]);
        Self { name, geometry, line: made.line, range: (made.from, made.to) }
    }

    /// A low strip behind high edges: the line bends over both.
    fn touching() -> Self {
        let mut case = demo::case("quarry-bend-left-flexion");
        let pull = &mut case.orthosis.pulls[0];
        pull.strip.height = Some(Length::mm(10.0));
        pull.cuff.edge_height = Some(Length::mm(34.0));
        pull.cuff.hole_height = Some(Length::mm(10.0));
        let made = calc::plan(&case).pulls[0].loops[0].clone();
        let geometry = Geometry::of(&case, &case.orthosis.pulls[0]);
        Self { name: "touching", geometry, line: made.line, range: (made.from, made.to) }
    }

    pub fn planned(&self, goniometer: f64) -> Planned<'_> {
        Planned {
            geometry: &self.geometry,
            line: self.line,
            line_error: Length::ZERO,
            range: self.range,
            goniometer: Angle::degrees(goniometer),
        }
    }

    /// The angle at a share of the loop's range.
    pub fn angle(&self, share: f64) -> Angle {
        self.range.0 + (self.range.1 - self.range.0) * share
    }
}

/// Both ways of pulling, two pulls of one orthosis, and a line over the edges.
pub fn benches() -> Vec<Bench> {
    vec![
        Bench::of("quarry-bend-left-flexion", 0),
        Bench::of("saltmarsh-right-extension", 0),
        Bench::of("kiln-both-ways", 0),
        Bench::of("kiln-both-ways", 1),
        Bench::touching(),
    ]
}

/// What would be seen at an angle on a build, without any error.
pub fn seen(geometry: &Geometry, line: Length, angle: Angle) -> Observation {
    Observation { angle, place: hole_at(geometry, line, angle) + geometry.hole_to_pad }
}

/// The same read by a goniometer and a ruler.
pub fn read(it: Observation, goniometer: f64, draws: &mut Draws) -> Observation {
    Observation {
        angle: it.angle + Angle::degrees(goniometer) * draws.standard(),
        place: it.place + TAB_READING * draws.standard(),
    }
}

/// Shares of the range that lie well spread however many are taken.
pub fn share(number: usize) -> f64 {
    (0.381_966 * number as f64).fract()
}

#[track_caller]
pub fn near(got: Length, expected: Length, tolerance: f64, what: &str) {
    assert!((got - expected).abs() <= Length::mm(tolerance), "{what}: {got:?} and {expected:?}");
}

#[test]
fn without_a_point_the_plan_stands() {
    let plan = demo::plan("quarry-bend-left-flexion");
    let bench = Bench::of("quarry-bend-left-flexion", 0);
    let found = as_built(&bench.planned(5.0), &[]);
    assert_eq!((found.line, found.change, found.points.len()), (bench.line, None, 0));
    assert_eq!(found.line_error, Length::ZERO);
    for mark in &plan.pulls[0].loops[0].marks {
        near(found.place_at(mark.angle), mark.place, 1e-9, "place");
        near(found.spread_at(mark.angle), mark.spread, 1e-9, "spread");
    }
    let unsure = Planned { line_error: Length::mm(3.0), ..bench.planned(5.0) };
    let unsure = as_built(&unsure, &[]);
    assert_eq!((unsure.line_error, unsure.bench_error), (Length::mm(3.0), Length::mm(3.0)));
    assert!(unsure.spread_at(bench.angle(0.5)) > found.spread_at(bench.angle(0.5)));
}

#[test]
fn one_point_puts_the_mark_on_it_and_two_take_the_mean() {
    for bench in benches() {
        let place = bench.geometry.first_place() + bench.geometry.hole_to_pad + Length::mm(21.3);
        let one = Observation { angle: bench.angle(0.3), place };
        let found = as_built(&bench.planned(5.0), &[one]);
        near(found.place_at(one.angle), one.place, 1e-9, bench.name);
        near(found.points[0].residual, Length::ZERO, 1e-9, bench.name);
        let other = Observation { angle: bench.angle(0.7), place: place + Length::mm(30.0) };
        let length = |it: Observation| {
            TautLine::at(&bench.geometry, it.angle, it.place - bench.geometry.hole_to_pad).length()
        };
        let found = as_built(&bench.planned(5.0), &[one, other]);
        near(found.line, (length(one) + length(other)) / 2.0, 1e-9, bench.name);
        assert_eq!((found.change, &found.geometry), (None, &bench.geometry));
    }
}

#[test]
fn exact_points_give_back_a_longer_loop() {
    for bench in benches() {
        for (count, longer) in [(1, -8.0), (2, 6.0), (3, 6.0), (4, -8.0), (8, 12.0)] {
            let line = bench.line + Length::mm(longer);
            let points: Vec<Observation> = (0..count)
                .map(|it| seen(&bench.geometry, line, bench.angle(0.15 + 0.7 * share(it))))
                .collect();
            let found = as_built(&bench.planned(5.0), &points);
            near(found.line, line, 1e-6, bench.name);
            assert_eq!(found.change.is_some(), count >= 3, "{}", bench.name);
            if let Some(change) = found.change {
                near(change.by, Length::ZERO, 1e-6, bench.name);
            }
            for point in &found.points {
                near(point.residual, Length::ZERO, 1e-6, bench.name);
            }
        }
    }
}

#[test]
fn the_touching_bench_touches_and_changes_its_contacts() {
    let bench = Bench::touching();
    let touches = |share| {
        let angle = bench.angle(share);
        let hole = hole_at(&bench.geometry, bench.line, angle);
        TautLine::at(&bench.geometry, angle, hole).touches().len()
    };
    let counts: Vec<usize> = (0..=10).map(|it| touches(f64::from(it) / 10.0)).collect();
    assert!(counts.contains(&1) && counts.iter().any(|it| *it != counts[0]), "{counts:?}");
}

/// What a run of a coverage check finds: error over standard error, and the error itself (mm).
#[derive(Default)]
struct Runs {
    within: usize,
    errors: Vec<f64>,
}

impl Runs {
    fn note(&mut self, found: Length, truth: Length, error: Length) {
        self.within += usize::from((found - truth).abs() <= error * 2.0);
        self.errors.push((found - truth).to_mm());
    }

    /// Holds the share within two standard errors, and the mean error to three of its own and to
    /// what the goniometer's error brings by the bend of the line over the angle, ½ L″ SEM².
    #[track_caller]
    fn hold(&self, least: f64, most: f64, what: &str) {
        const BEND: f64 = 0.2;
        let n = self.errors.len() as f64;
        let share = self.within as f64 / n;
        assert!((least..=most).contains(&share), "{what}: {share}");
        let mean = self.errors.iter().sum::<f64>() / n;
        let square = self.errors.iter().map(|it| (it - mean) * (it - mean)).sum::<f64>();
        let error = (square / (n - 1.0) / n).sqrt();
        assert!(mean.abs() < 3.0 * error + BEND, "{what}: {mean} ± {error}");
    }
}

pub const RUNS: usize = 500;

/// Builds that differ from the plan by the loop's length and by the measures that `moved` names,
/// each drawn from its error; what is found in them from so many points.
fn runs(
    bench: &Bench,
    count: usize,
    goniometer: f64,
    moved: &[Measure],
    mut note: impl FnMut(&AsBuilt, &Geometry, Length),
) {
    let mut draws = Draws(4_711);
    for _ in 0..RUNS {
        let truth = moved.iter().fold(bench.geometry.clone(), |geometry, &measure| {
            let by = geometry.error(measure) * draws.standard();
            geometry.moved(measure, by)
        });
        let line = bench.line + Length::mm(5.0) * draws.standard();
        let points: Vec<Observation> = (0..count)
            .map(|it| bench.angle(0.1 + 0.8 * share(it)))
            .map(|angle| read(seen(&truth, line, angle), goniometer, &mut draws))
            .collect();
        note(&as_built(&bench.planned(goniometer), &points), &truth, line);
    }
}

/// The measure that is fitted, as three exact points show.
fn fitted(bench: &Bench) -> Measure {
    let points = [0.2, 0.5, 0.8].map(|it| seen(&bench.geometry, bench.line, bench.angle(it)));
    as_built(&bench.planned(5.0), &points).change.unwrap().measure
}

#[test]
fn a_known_build_is_given_back() {
    for bench in benches() {
        let measure = fitted(&bench);
        for (count, goniometer) in [(3, 2.0), (6, 2.0), (6, 5.0)] {
            let (mut line, mut by, mut mark) = <(Runs, Runs, Runs)>::default();
            runs(&bench, count, goniometer, &[measure], |found, truth, length| {
                let change = found.change.unwrap();
                assert_eq!(change.measure, measure);
                let moved = truth.length(measure) - bench.geometry.length(measure);
                line.note(found.line, length, found.line_error);
                by.note(change.by, moved, change.error);
                let angle = bench.angle(0.5);
                let place = seen(truth, length, angle).place;
                mark.note(found.place_at(angle), place, found.spread_at(angle));
            });
            for (what, runs) in [("line", line), ("measure", by), ("mark", mark)] {
                runs.hold(0.90, 0.99, &format!("{} {count} {goniometer} {what}", bench.name));
            }
        }
    }
}

/// The harder truth: every measure is off by its own error, and only one of them is fitted.
#[test]
fn the_told_spread_holds_where_every_measure_is_off() {
    for bench in benches() {
        for (count, goniometer) in [(1, 2.0), (2, 2.0), (4, 2.0), (8, 2.0), (6, 5.0)] {
            let (mut line, mut mark, mut far) = <(Runs, Runs, Runs)>::default();
            runs(&bench, count, goniometer, &Measure::ALL, |found, truth, length| {
                line.note(found.line, length, found.bench_error);
                for (runs, share) in [(&mut mark, 0.5), (&mut far, 0.85)] {
                    let angle = bench.angle(share);
                    let place = seen(truth, length, angle).place;
                    runs.note(found.place_at(angle), place, found.spread_at(angle));
                }
            });
            for (what, runs) in [("line", line), ("mark", mark), ("far mark", far)] {
                runs.hold(0.90, 0.99, &format!("{} {count} {goniometer} {what}", bench.name));
            }
        }
    }
}

#[test]
fn more_points_never_enlarge_the_spread() {
    for bench in benches() {
        for goniometer in [2.0, 5.0] {
            let points: Vec<Observation> = (0..9)
                .map(|it| seen(&bench.geometry, bench.line, bench.angle(share(it))))
                .collect();
            let told = |count: usize| {
                let found = as_built(&bench.planned(goniometer), &points[..count]);
                let marks = (0..=4).map(|it| found.spread_at(bench.angle(f64::from(it) / 4.0)));
                [found.line_error].into_iter().chain(marks).collect::<Vec<Length>>()
            };
            for count in 1..points.len() {
                for (was, is) in told(count).into_iter().zip(told(count + 1)) {
                    assert!(is <= was, "{} {count}: {was:?}, then {is:?}", bench.name);
                }
            }
        }
    }
}

proptest! {
    #![proptest_config(demo::draws(500))]

    /// Points anywhere on any geometry. From the third on, each further one makes the fitted line
    /// surer. A mark's spread also holds the measures that are not fitted, and those can weigh a
    /// little more in a fit of more points: by less than a tenth.
    #[test]
    fn more_points_make_the_line_surer_on_any_geometry(
        case in cases(), goniometer in 2.0..8.0_f64, seed in 0_u64..1_000,
    ) {
        let plan = calc::plan(&case);
        prop_assume!(!plan.pulls[0].loops.is_empty());
        let made = &plan.pulls[0].loops[0];
        let geometry = Geometry::of(&case, &case.orthosis.pulls[0]);
        let range = (made.from, made.to);
        let bench = Bench { name: "random", geometry, line: made.line, range };
        let mut draws = Draws(seed);
        let points: Vec<Observation> = (0..9)
            .map(|_| seen(&bench.geometry, bench.line, bench.angle(draws.uniform())))
            .collect();
        let found = |count: usize| as_built(&bench.planned(goniometer), &points[..count]);
        for count in 3..points.len() {
            let (before, after) = (found(count), found(count + 1));
            prop_assert!(after.line_error <= before.line_error + Length::mm(1e-9));
            for place in 0..=4 {
                let angle = bench.angle(f64::from(place) / 4.0);
                prop_assert!(after.spread_at(angle) <= before.spread_at(angle) * 1.1);
            }
        }
    }
}

/// The share of each measure and of the readings in a place along the strip, by moving each by its
/// error and solving again.
fn shares(bench: &Bench, angle: Angle, goniometer: f64) -> Vec<(Origin, f64)> {
    let place = |geometry: &Geometry, angle| seen(geometry, bench.line, angle).place.to_mm();
    let moved = |it: Measure, sign: f64| {
        let error = bench.geometry.error(it);
        place(&bench.geometry.moved(it, error * (0.01 * sign)), angle)
    };
    let turned =
        |sign: f64| place(&bench.geometry, angle + Angle::degrees(goniometer * 0.01) * sign);
    let measures = Measure::ALL.map(|it| (Origin::Measure(it), moved(it, 1.0) - moved(it, -1.0)));
    let mut shares = measures.to_vec();
    shares.push((Origin::Goniometer, turned(1.0) - turned(-1.0)));
    for it in &mut shares {
        it.1 = (it.1 / 0.02).abs();
    }
    shares.push((Origin::Tab, TAB_READING.to_mm()));
    shares
}

fn largest(shares: &[(Origin, f64)]) -> Origin {
    shares.iter().max_by(|a, b| a.1.total_cmp(&b.1)).unwrap().0
}

#[test]
fn an_outlier_is_named_with_what_to_take_again() {
    for bench in benches() {
        for (goniometer, off) in [(0.5, 2.1), (5.0, -2.1), (8.0, 2.1)] {
            let planned = bench.planned(goniometer);
            let mut points: Vec<Observation> = [0.5, 0.3, 0.6, 0.7, 0.45]
                .map(|it| seen(&bench.geometry, bench.line, bench.angle(it)))
                .to_vec();
            let shares = shares(&bench, points[2].angle, goniometer);
            let spread = shares.iter().map(|it| it.1 * it.1).sum::<f64>().sqrt();
            points[2].place = points[2].place + Length::mm(spread * off);
            let found = as_built(&planned, &points);
            let beyond: Vec<bool> = found.points.iter().map(Checked::is_beyond).collect();
            assert_eq!(beyond, [false, false, true, false, false], "{}", bench.name);
            let named = &found.points[2];
            near(named.planned_spread, Length::mm(spread), 1e-3, bench.name);
            near(named.off_plan, Length::mm(spread * off), 1e-6, bench.name);
            assert_eq!(named.again, largest(&shares), "{} {goniometer}", bench.name);
            assert_eq!(Origin::Measure(named.measure), largest(&shares[..9]), "{}", bench.name);
            // What was drawn toward the wrong point lies the other way now.
            assert!(
                named.residual.to_mm() * off > 0.0 && found.points[0].residual.to_mm() * off < 0.0
            );
            // Just within two standard deviations the plan does not name it; the other places may.
            points[2].place = points[2].place - Length::mm(spread * off * 0.1);
            let found = as_built(&planned, &points).points[2];
            assert_eq!(found.is_beyond(), found.is_odd(), "{}", bench.name);
        }
    }
}

/// The sum that the fit makes least, reckoned here from its definition.
fn weighted_sum(planned: &Planned, points: &[Observation], line: Length, by: Refit) -> f64 {
    let moved = planned.geometry.moved(by.measure, by.by);
    let at = |geometry: &Geometry, it: &Observation| {
        TautLine::at(geometry, it.angle, it.place - geometry.hole_to_pad)
    };
    let square = |it: &Observation| {
        let plan = at(planned.geometry, it);
        let turned = plan.moment_arm().to_mm() * planned.goniometer.to_radians();
        let read = plan.lengthening() * TAB_READING.to_mm();
        let off = (at(&moved, it).length() - line).to_mm();
        off * off / (turned * turned + read * read)
    };
    let prior = by.by / planned.geometry.error(by.measure);
    points.iter().map(square).sum::<f64>() + prior * prior
}

#[test]
fn the_fit_is_the_least_of_the_weighted_sum() {
    let mut draws = Draws(77);
    for bench in benches() {
        let planned = bench.planned(4.0);
        let points: Vec<Observation> = (0..6)
            .map(|it| seen(&bench.geometry, bench.line, bench.angle(share(it))))
            .map(|it| read(it, 4.0, &mut draws))
            .collect();
        let found = as_built(&planned, &points);
        let change = found.change.unwrap();
        let least = weighted_sum(&planned, &points, found.line, change);
        for step in [-0.02, 0.02].map(Length::mm) {
            let longer = weighted_sum(&planned, &points, found.line + step, change);
            let moved = Refit { by: change.by + step, ..change };
            let moved = weighted_sum(&planned, &points, found.line, moved);
            assert!(longer > least && moved > least, "{}: {least} {longer} {moved}", bench.name);
        }
    }
}

/// With a goniometer that is far surer than the tape it is a measure, with the usual one the angle.
#[test]
fn what_to_take_again_follows_the_errors() {
    let bench = Bench::of("quarry-bend-left-flexion", 0);
    let again = |planned: &Planned| {
        as_built(planned, &[seen(&bench.geometry, bench.line, bench.angle(0.5))]).points[0].again
    };
    assert_eq!(again(&bench.planned(5.0)), Origin::Goniometer);
    assert!(matches!(again(&bench.planned(1.0)), Origin::Measure(_)));
    let rough = Planned { line_error: Length::mm(9.0), ..bench.planned(5.0) };
    assert_eq!(again(&rough), Origin::Line);
}

/// All points at one angle tell the length alone; the measure stays where it was.
#[test]
fn points_at_one_angle_leave_the_measure_alone() {
    for bench in benches() {
        let line = bench.line + Length::mm(7.0);
        let point = seen(&bench.geometry, line, bench.angle(0.4));
        let found = as_built(&bench.planned(5.0), &[point; 4]);
        near(found.line, line, 1e-6, bench.name);
        near(found.change.unwrap().by, Length::ZERO, 1e-6, bench.name);
        near(found.place_at(point.angle), point.place, 1e-6, bench.name);
    }
}

/// Slips of the pen: places off the strip, angles that no wrist has, a goniometer without error.
#[test]
fn odd_points_still_give_finite_lengths() {
    for bench in benches() {
        for goniometer in [0.0, 5.0] {
            for (count, far) in [(1, 400.0), (2, -300.0), (3, 400.0), (5, -300.0), (6, 60.0)] {
                let points: Vec<Observation> = (0..count)
                    .map(|it| Observation {
                        angle: Angle::degrees(-80.0 + 230.0 * share(it)),
                        place: Length::mm(far * (0.5 + share(it + 3))),
                    })
                    .collect();
                let found = as_built(&bench.planned(goniometer), &points);
                let change = found.change.map_or(Length::ZERO, |it| it.by + it.error);
                let lengths = found.points.iter().map(|it| it.residual + it.planned_spread);
                for length in lengths.chain([found.line, found.line_error, change]) {
                    assert!(length.to_mm().is_finite(), "{} {count} {far}", bench.name);
                }
            }
        }
    }
}
