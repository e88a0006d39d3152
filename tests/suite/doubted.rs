//! Places of the tab that were read wrongly: named by the others, and kept from the marks.

use tautline::calc::as_built::{Basis, Checked, Observation, as_built};
use tautline::calc::geometry::Measure;
use tautline::units::Length;

use crate::as_built::{RUNS, benches, near, read, seen, share as spread_share};
use crate::spread::Draws;

/// Six noisy readings of a build whose every measure is off: how often one of them is called odd when none is
/// wrong, and when one place was read 10 mm off.
#[test]
fn a_place_that_the_others_deny_is_named() {
    for bench in benches() {
        let (mut alarms, mut found, mut misled) = (0, 0, 0);
        let mut draws = Draws(90_125);
        for _ in 0..RUNS {
            let truth = Measure::ALL.iter().fold(bench.geometry.clone(), |geometry, &measure| {
                let by = geometry.error(measure) * draws.standard();
                geometry.moved(measure, by)
            });
            let mut points: Vec<Observation> = (0..6)
                .map(|it| bench.angle(0.1 + 0.8 * spread_share(it)))
                .map(|it| read(seen(&truth, bench.line, it), 2.0, &mut draws))
                .collect();
            let odd = |points: &[Observation]| {
                let fitted = as_built(&bench.planned(2.0), points);
                fitted.points.iter().position(Checked::is_odd)
            };
            alarms += i32::from(odd(&points).is_some());
            points[3].place = points[3].place + Length::mm(10.0);
            found += i32::from(odd(&points) == Some(3));
            misled += i32::from(odd(&points).is_some_and(|it| it != 3));
        }
        let share = |count: i32| f64::from(count) / RUNS as f64;
        println!("{}: {} {} {}", bench.name, share(alarms), share(found), share(misled));
        assert!(share(alarms) < 0.12, "{}: {}", bench.name, share(alarms));
        assert!(share(found) > 0.9, "{}: {}", bench.name, share(found));
        assert!(share(misled) < 0.02, "{}: {}", bench.name, share(misled));
    }
}

/// A doubted place never makes the pull harder: the marks go by what puts today's the least far.
#[test]
fn a_doubted_place_does_not_push_the_marks() {
    for bench in benches() {
        let planned = bench.planned(2.0);
        let today = bench.angle(0.3);
        let exact: Vec<Observation> = [0.2, 0.3, 0.5, 0.7]
            .map(|it| seen(&bench.geometry, bench.line, bench.angle(it)))
            .to_vec();
        let by = |wrong: f64| {
            let mut points = exact.clone();
            points[1].place = points[1].place + Length::mm(wrong);
            let all = as_built(&planned, &points);
            (all.clone(), all.held_back(&planned, today))
        };
        let plan = seen(&bench.geometry, bench.line, today).place;
        // A place read too far along would push; without it, or by the length, the mark is where it was.
        let (all, held) = by(12.0);
        assert!(all.place_at(today) > plan + Length::mm(1.0), "{}", bench.name);
        assert_ne!(held.basis, Basis::All, "{}", bench.name);
        near(held.place_at(today), plan, 0.05, bench.name);
        assert_eq!(held.points, all.points);
        // One read too near eases: it stays in until it is read again.
        let (all, held) = by(-12.0);
        assert_eq!((held.basis, held.line), (Basis::All, all.line), "{}", bench.name);
        // Without a doubt nothing changes.
        let (all, held) = by(0.0);
        assert_eq!(all, held, "{}", bench.name);
    }
}
