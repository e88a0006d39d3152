//! Loads over random cases: equilibrium, and what must grow with what.

use proptest::prelude::*;
use proptest::test_runner::TestCaseError;
use tautline::calc::bearing::Bearing;
use tautline::calc::ceiling::Limit;
use tautline::calc::geometry::{Geometry, Measure};
use tautline::calc::line::{Contact, TautLine};
use tautline::calc::load::load;
use tautline::calc::torque::TorqueCurve;
use tautline::calc::{self};
use tautline::case::{Direction, Reading};
use tautline::units::{Angle, Force, Length, Torque};

use crate::demo;
use crate::line::cases;

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

    /// Each free body is in balance: the line's force about the wrist makes the torque; across and
    /// along the hand it is what cuff and joint take; the cuff's linear pressure, integrated over its
    /// bed, gives back the force and its moment; the same for the forearm piece with the force turned
    /// round. All reckoned here from the line's corners alone, to 1e-9.
    #[test]
    fn free_bodies_balance(
        case in cases(), torque in 0.05..4.0_f64, degrees in -20.0..60.0_f64, share in 0.0..1.0_f64,
    ) {
        let geometry = Geometry::of(&case, &case.orthosis.pulls[0]);
        let u = geometry.first_place() + (geometry.last_place() - geometry.first_place()) * share;
        let theta = Angle::degrees(degrees);
        let line = TautLine::at(&geometry, theta, u);
        prop_assume!(line.moment_arm() > Length::mm(1.0));
        let load = load(&geometry, &line, Torque::newton_metres(torque)).unwrap();
        let (grip, force) = hand_force(&line, load.tension.to_newtons());
        // About the wrist's axis, in N·mm.
        let about_axis = grip.0 * force.1 - grip.1 * force.0;
        prop_assert!((about_axis / 1000.0 - torque).abs() < 1e-9);
        // On the hand, across and along its midline.
        let (sin, cos) = tautline::units::math::sin_cos(theta.to_radians());
        let across = force.1 * cos - force.0 * sin;
        let along = force.0 * cos + force.1 * sin;
        prop_assert!((load.cuff.across.to_newtons() - across).abs() < 1e-9);
        prop_assert!((load.joint.to_newtons() + along).abs() < 1e-9);
        prop_assert!((load.across.to_newtons() - across).abs() < 1e-9);
        let a = geometry.length(Measure::AxisPastCrease);
        let near = (geometry.length(Measure::CuffEdgeFromCrease) - a).to_mm();
        let far = (geometry.cuff_end - a).to_mm();
        let middle = (cos * (near + far) / 2.0, sin * (near + far) / 2.0);
        let moment = (grip.0 - middle.0) * force.1 - (grip.1 - middle.1) * force.0;
        prop_assert!((load.cuff.moment.to_newton_metres() * 1000.0 - moment).abs() < 1e-7);
        bed_balances(&load.cuff)?;
        bed_balances(&load.forearm)?;
        // On the forearm the same force turned round.
        prop_assert!((load.forearm.across.to_newtons() + force.1).abs() < 1e-9);
        let push = load.elbow.to_kpa() * geometry.elbow_area.to_mm2() / 1000.0;
        prop_assert!((push - force.0.abs()).abs() < 1e-9);
    }

    /// A longer cuff never raises the mean pressure; a broader one lowers every pressure.
    #[test]
    fn larger_beds_press_less(longer in 1.0..30.0_f64, broader in 1.0..30.0_f64) {
        let plan = |case: &tautline::case::Case| calc::plan(case).pulls[0].loads().next().unwrap();
        let base = demo::case("quarry-bend-left-flexion");
        let before = plan(&base);
        let mut case = base.clone();
        let cuff = &mut case.orthosis.pulls[0].cuff;
        cuff.end_from_crease = cuff.end_from_crease + Length::mm(longer);
        prop_assert!(plan(&case).cuff.mean < before.cuff.mean);
        let mut case = base;
        case.orthosis.pulls[0].cuff.bearing_breadth = Some(Length::mm(82.0 + broader));
        prop_assert!(plan(&case).cuff.mean < before.cuff.mean);
        prop_assert!(plan(&case).cuff.peak < before.cuff.peak);
    }

    /// At the ceiling the limit that is named is used up and no other is passed.
    #[test]
    fn the_ceiling_uses_up_one_limit(case in cases()) {
        let plan = calc::plan(&case);
        let pull = &plan.pulls[0];
        for mark in pull.marks() {
            let Some(ceiling) = pull.ceiling(mark) else { continue };
            let load = load(&pull.geometry, &mark.line, ceiling.torque).unwrap();
            for limit in Limit::ALL {
                let used = pull.allowed.use_of(limit, &load).unwrap_or(0.0);
                prop_assert!(used <= 1.0 + 1e-9, "{limit:?}: {used}");
                if limit == ceiling.limit {
                    prop_assert!((used - 1.0).abs() < 1e-9);
                }
            }
            prop_assert!((ceiling.tension - load.tension).abs() < Force::newtons(1e-9));
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
        prop_assert!((harder.cuff.peak.to_kpa() - narrow.cuff.peak.to_kpa() * more).abs() < 1e-9);
        prop_assert!((harder.elbow.to_kpa() - narrow.elbow.to_kpa() * more).abs() < 1e-9);
        case.orthosis.pulls[0].cuff.bearing_breadth = Some(Length::mm(breadth + 10.0));
        prop_assert!(at(&case, 1.0).cuff.peak < narrow.cuff.peak);
    }
}

/// Where the line grips the hand and with what force, from its corners: (mm, mm), (N, N).
fn hand_force(line: &TautLine, tension: f64) -> ((f64, f64), (f64, f64)) {
    let corners: Vec<(f64, f64)> =
        line.corners().iter().map(|it| (it.x.to_mm(), it.y.to_mm())).collect();
    let on_hand = usize::from(line.touches().contains(&Contact::CuffEdge));
    let (grip, next) = (corners[on_hand], corners[on_hand + 1]);
    let (x, y) = (next.0 - grip.0, next.1 - grip.1);
    let size = (x * x + y * y).sqrt();
    (grip, (tension * x / size, tension * y / size))
}

/// Integrates the linear pressure over the bed: ∫ p b dx = N, ∫ p b x dx = M.
fn bed_balances(bearing: &Bearing) -> Result<(), TestCaseError> {
    let (near, far) = bearing.ends();
    let (breadth, span) = bearing.bed();
    let (near, far) = (near.to_kpa() / 1000.0, far.to_kpa() / 1000.0);
    let (b, l) = (breadth.to_mm(), span.to_mm());
    let force = b * l * (near + far) / 2.0;
    let moment = b * l * l * (far - near) / 12.0;
    prop_assert!((force - bearing.across.to_newtons()).abs() < 1e-9);
    prop_assert!((moment - bearing.moment.to_newton_metres() * 1000.0).abs() < 1e-6);
    let peak = near.abs().max(far.abs()) * 1000.0;
    prop_assert!((peak - bearing.peak.to_kpa()).abs() < 1e-9);
    Ok(())
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
