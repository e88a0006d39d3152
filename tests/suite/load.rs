//! Loads over random cases: equilibrium, and what must grow with what.

use proptest::prelude::*;
use tautline::calc::load::{TorqueCurve, load};
use tautline::calc::{self};
use tautline::case::{Direction, Reading};
use tautline::units::{Angle, Force, Length, Torque};

use crate::demo;

proptest! {
    #![proptest_config(demo::draws(500))]

    /// The pull's moment about the wrist balances the joint's torque: T · r = τ.
    #[test]
    fn tension_balances_the_torque(torque in 0.05..4.0_f64) {
        let plan = demo::plan("quarry-bend-left-flexion");
        let pull = &plan.pulls[0];
        for mark in pull.marks() {
            let load = load(&pull.geometry, &mark.line, Torque::newton_metres(torque)).unwrap();
            let back = load.tension * mark.line.moment_arm();
            prop_assert!((back.to_newton_metres() - torque).abs() < 1e-12);
            // Force along and across the hand make up the whole pull.
            let (turn, along) = (mark.line.rotating_share(), mark.line.axial_share());
            prop_assert!((turn * turn + along * along - 1.0).abs() < 1e-12);
        }
    }

    /// A broader cuff never presses harder; every load grows in step with the torque.
    #[test]
    fn loads_are_in_proportion(breadth in 60.0..120.0_f64, more in 1.0..3.0_f64) {
        let mut case = demo::case("quarry-bend-left-flexion");
        let at = |case: &tautline::case::Case, torque: f64| {
            let plan = calc::plan(case);
            let mark = plan.pulls[0].marks().next().unwrap().clone();
            load(&plan.pulls[0].geometry, &mark.line, Torque::newton_metres(torque)).unwrap()
        };
        case.orthosis.pulls[0].cuff.bearing_breadth = Some(Length::mm(breadth));
        let narrow = at(&case, 1.0);
        let harder = at(&case, more);
        prop_assert!((harder.cuff.to_kpa() - narrow.cuff.to_kpa() * more).abs() < 1e-9);
        prop_assert!((harder.elbow.to_kpa() - narrow.elbow.to_kpa() * more).abs() < 1e-9);
        case.orthosis.pulls[0].cuff.bearing_breadth = Some(Length::mm(breadth + 10.0));
        prop_assert!(at(&case, 1.0).cuff < narrow.cuff);
    }
}

fn reading(angle: f64, newtons: f64) -> Reading {
    Reading {
        pull: Direction::Flexion,
        angle: Angle::degrees(angle),
        force: Force::newtons(newtons),
        lever: Length::mm(100.0),
    }
}

/// The contract: interpolated between readings, held at today's end-range torque beyond it.
#[test]
fn torque_is_never_extrapolated() {
    let readings = [reading(10.0, 2.0), reading(20.0, 6.0), reading(30.0, 14.0)];
    let curve = TorqueCurve::of(&readings, Direction::Flexion, Angle::degrees(25.0));
    let at = |degrees: f64| curve.at(Angle::degrees(degrees)).unwrap().to_newton_metres();
    assert!((at(15.0) - 0.4).abs() < 1e-12);
    assert!((at(25.0) - 1.0).abs() < 1e-12);
    assert!((at(60.0) - 1.0).abs() < 1e-12, "beyond today's range the torque stays");
    assert!((at(0.0) - 0.2).abs() < 1e-12);
    let none = TorqueCurve::of(&readings, Direction::Extension, Angle::degrees(25.0));
    assert_eq!(none.at(Angle::degrees(25.0)), None);
}

/// Without a reading every load is null in the figures, and a finding names what is missing.
#[test]
fn loads_without_a_reading_are_null() {
    let figures = demo::figures("fell-farm-two-loops");
    let mark = &figures["pulls"][0]["loops"][0]["marks"][0];
    for key in ["torque_nm", "tension_n", "cuff_kpa", "forearm_kpa", "elbow_kpa"] {
        assert!(mark[key].is_null(), "{key}");
    }
    let findings = figures["findings"].as_array().unwrap();
    let note = findings.iter().find(|it| it["id"] == "no-torque-flexion").unwrap();
    assert!(note["text"].as_str().unwrap().contains("force gauge reading"));
}
