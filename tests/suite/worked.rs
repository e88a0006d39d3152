//! Worked examples that can be redone by hand, each with where it stands.

use tautline::calc::bearing::Bearing;
use tautline::calc::geometry::Geometry;
use tautline::calc::line::TautLine;
use tautline::calc::load::{capstan, load};
use tautline::calc::progress::detectable_change;
use tautline::calc::stock::pad_length;
use tautline::case::Reading;
use tautline::units::{Angle, Area, Force, Length, Pressure, Torque};

use crate::demo;

#[track_caller]
fn near(got: f64, want: f64, tolerance: f64) {
    assert!((got - want).abs() <= tolerance, "expected {want}, got {got}");
}

/// Linder-Ganz E et al. J Biomech 2006;39:2725-32 (doi 10.1016/j.jbiomech.2005.08.010): the
/// abstract prints 9 kPa as 67 mmHg and 32 kPa as 240 mmHg.
#[test]
fn kilopascals_to_millimetres_of_mercury() {
    near(Pressure::kpa(9.0).to_mmhg(), 67.0, 0.6);
    near(Pressure::kpa(32.0).to_mmhg(), 240.0, 0.1);
    // 1 mmHg = 133.322387415 Pa, as conversion tables print it.
    near(Pressure::kpa(0.133_322_387_415).to_mmhg(), 1.0, 1e-12);
}

/// Punsola-Izard V et al. J Clin Med 2023;12:2855 (doi 10.3390/jcm12082855) prints 200 g as 1.96 N.
/// 1 kgf = 9.80665 N and 1 lbf = 4.4482216152605 N by definition (BIPM, NIST SP 811).
#[test]
fn forces_to_newtons() {
    near(Force::kgf(0.2).to_newtons(), 1.96, 0.005);
    near(Force::kgf(1.0).to_newtons(), 9.806_65, 1e-12);
    near(Force::lbf(1.0).to_newtons(), 4.448_221_615_260_5, 1e-12);
    near(Force::lbf(50.0).to_newtons(), 222.411, 0.001);
    near(Length::inches(2.0).to_mm(), 50.8, 1e-12);
}

/// Jongs RA et al. J Physiother 2012;58:173-180 hung weights of 250 g on a wheel of 9 cm; Leung J et
/// al. (J Physiother 2012, journal from memory) tested at 2 N·m. The products are plain arithmetic.
#[test]
fn torque_is_force_times_lever() {
    near((Force::kgf(0.25) * Length::cm(9.0)).to_newton_metres(), 0.2206, 0.0001);
    near((Torque::newton_metres(2.0) / Length::cm(9.0)).to_newtons(), 22.2, 0.05);
    let reading = Reading {
        pull: tautline::case::Direction::Flexion,
        angle: Angle::degrees(25.0),
        force: Force::newtons(11.0),
        lever: Length::mm(90.0),
    };
    near(reading.torque().to_newton_metres(), 0.99, 1e-12);
}

/// Pressure = force / area (Toderan D, Lunsford T. Orthot Prosthet 1978;32(3):37-43): a wider and
/// longer base lowers it. 10 N on 80 × 50 mm = 2.5 kPa = 18.752 mmHg; on 85 × 25 mm 4.7059 kPa.
#[test]
fn pressure_is_force_over_area() {
    let on = |length: f64, breadth: f64| {
        Force::newtons(10.0) / (Length::mm(length) * Length::mm(breadth))
    };
    near(on(80.0, 50.0).to_kpa(), 2.5, 1e-12);
    near(on(80.0, 50.0).to_mmhg(), 18.752, 0.001);
    near(on(85.0, 25.0).to_kpa(), 4.7059, 0.0001);
    near((Force::newtons(20.0) / Area::mm2(4000.0)).to_kpa(), 5.0, 1e-12);
}

/// Hand and forearm as a lever about the wrist, F d = W d (Toderan D, Lunsford T. Orthot Prosthet
/// 1978;32(3):37-43), with a hand of 0.006 of 70 kg at 0.506 of the wrist-to-knuckle length (Winter,
/// Biomechanics and Motor Control, 3rd ed. 2005) of 0.108 × 1.75 m (0.108 from memory): 0.3939 N·m, so
/// 4.924 N hold it at 80 mm.
#[test]
fn lever_of_a_level_hand() {
    let weight = Force::newtons(0.006 * 70.0 * 9.806_65);
    let arm = Length::mm(0.506 * 0.108 * 1750.0);
    let torque = weight * arm;
    near(torque.to_newton_metres(), 0.393_897, 1e-6);
    near((torque / Length::mm(80.0)).to_newtons(), 4.924, 5e-4);
}

/// σ = P/A ± M c/I of a b × d rectangle, I = b d³/12, as any strength-of-materials handbook has it:
/// a footing of 1.2 m × 2 m under 480 kN at 0.2 m off the middle bears 480/2.4 · (1 + 6·0.2/2) =
/// 320 kPa at its edge (plain arithmetic of the handbook formula).
#[test]
fn peak_pressure_is_direct_and_bending_stress() {
    let moment = Force::newtons(480_000.0) * Length::mm(200.0);
    let bearing =
        Bearing::under(Force::newtons(480_000.0), moment, Length::mm(1200.0), Length::mm(2000.0));
    near(bearing.peak.to_kpa(), 320.0, 1e-9);
    near(bearing.mean.to_kpa(), 200.0, 1e-9);
    near(bearing.ends().0.to_kpa(), 80.0, 1e-9);
}

/// `T_load` = `T_hold` · e^(μ β), Euler's belt equation: μ 0.2 over half a turn 1.874; μ 0.3 over one turn
/// 6.586 (a roping text gives about 6.6); μ 0.6 over five turns 153,552,935, as a published table of
/// the equation prints it.
#[test]
fn capstan_equation() {
    near(capstan(0.2, Angle::degrees(180.0)), 1.874_456, 1e-6);
    near(capstan(0.3, Angle::degrees(360.0)), 6.586, 5e-4);
    near(capstan(0.6, Angle::degrees(1800.0)), 153_552_935.0, 1.0);
    near(capstan(0.25, Angle::ZERO), 1.0, 0.0);
}

/// A worked example of the trade's arithmetic: 20 N at 3.5 N/cm² and factor 3 need 17 cm², which is
/// 69 mm of 25 mm tape (the shear strength is from memory; ASTM D5169 is the test).
#[test]
fn pad_of_a_tab() {
    let length = pad_length(Force::newtons(20.0), Pressure::kpa(35.0 / 3.0), Length::mm(25.0));
    near(length.to_mm(), 69.0, 0.0);
}

/// Hooke's law by hand: 10 N on a strand of 0.7 mm and 2 `GPa`, 200 mm long, stretch it by 2.6 mm:
/// A = 0.3848 mm², σ = 25.98 `MPa`, ε = 1.299 %.
#[test]
fn line_stretches_by_hooke() {
    let mut case = demo::case("quarry-bend-left-flexion");
    let pull = &mut case.orthosis.pulls[0];
    pull.line.diameter = Length::mm(0.7);
    let geometry = Geometry::of(&case, &case.orthosis.pulls[0]);
    let line = TautLine::at(&geometry, Angle::degrees(25.0), Length::ZERO);
    let torque = Force::newtons(20.0) * line.moment_arm();
    let load = load(&geometry, &line, torque).unwrap();
    near(load.strand.to_newtons(), 10.0, 1e-9);
    near(load.stretch / line.length(), 0.012_992, 1e-6);
}

/// A plain line between two points on two bones, as in facts of plane trigonometry:
/// L² = a² + b² − 2ab cos φ, r = a b sin φ / L, with a = 80 mm, b = 200 mm.
#[test]
fn moment_arm_of_a_plain_triangle() {
    let rows = [
        // φ, L, r, angle of the line to the hand
        (60.0, 174.3560, 79.4719, 96.587),
        (90.0, 215.4066, 74.2781, 68.199),
        (120.0, 249.7999, 55.4700, 43.898),
        (150.0, 272.2367, 29.3862, 21.551),
    ];
    let geometry = triangle(80.0, 200.0);
    for (phi, length, arm, to_hand) in rows {
        let line = TautLine::at(&geometry, Angle::degrees(180.0 - phi), Length::ZERO);
        near(line.length().to_mm(), length, 5e-5);
        near(line.moment_arm().to_mm(), arm, 5e-5);
        near(line.pull_angle().to_degrees(), to_hand, 5e-4);
    }
}

/// Resolution of 10 N: at 60° 8.6603 N turn and 5 N press; at 90° all of it turns; at 80° 9.8481 and
/// 1.7365 (Fess EE. J Hand Ther 1995;8:124-130 for the rule, the numbers are plain statics).
#[test]
fn pull_is_resolved_along_and_across_the_hand() {
    let geometry = triangle(80.0, 200.0);
    // The line stands square to the hand where cos φ = a/b.
    let square = TautLine::at(&geometry, Angle::degrees(180.0 - 66.4218), Length::ZERO);
    near(square.pull_angle().to_degrees(), 90.0, 1e-3);
    near(square.rotating_share(), 1.0, 1e-9);
    near(square.moment_arm().to_mm(), 80.0, 1e-6);
    for (angle, turning, pressing) in [(60.0, 8.6603, 5.0), (80.0, 9.8481, 1.7365)] {
        let line = at_pull_angle(&geometry, angle);
        near(10.0 * line.rotating_share(), turning, 5e-4);
        near(10.0 * line.axial_share(), pressing, 5e-4);
    }
}

/// The line at the wrist angle that gives a wanted pull angle, by halving.
fn at_pull_angle(geometry: &Geometry, degrees: f64) -> TautLine {
    let (mut low, mut high) = (0.0, 113.0);
    for _ in 0..60 {
        let middle = f64::midpoint(low, high);
        let line = TautLine::at(geometry, Angle::degrees(middle), Length::ZERO);
        if line.pull_angle().to_degrees() < degrees { low = middle } else { high = middle }
    }
    TautLine::at(geometry, Angle::degrees(low), Length::ZERO)
}

/// Hole `a` and tab `b` from the axis, both on the bones' midlines, contacts far out of the way.
fn triangle(a: f64, b: f64) -> Geometry {
    let mut case = demo::case("quarry-bend-left-flexion");
    case.limb.axis_past_crease = Some(Length::ZERO);
    let pull = &mut case.orthosis.pulls[0];
    pull.cuff.hole_from_crease = Length::mm(a);
    pull.cuff.hole_height = Some(Length::ZERO);
    pull.cuff.edge_from_crease = Length::mm(1.0);
    pull.cuff.edge_height = Some(Length::mm(-500.0));
    pull.forearm_piece.edge_from_crease = Length::mm(1.0);
    pull.forearm_piece.edge_height = Some(Length::mm(-500.0));
    pull.strip.start_from_crease = Length::mm(b);
    pull.strip.height = Some(Length::ZERO);
    Geometry::of(&case, &case.orthosis.pulls[0])
}

/// MDC95 = 2.77 · SEM: 2 → 5.5, 3 → 8.3, 4 → 11.1, 5 → 13.9, 6 → 16.6 degrees (1.96 · √2 · SEM).
#[test]
fn detectable_change_of_a_goniometer() {
    for (sem, change) in [(2.0, 5.5), (3.0, 8.3), (4.0, 11.1), (5.0, 13.9), (6.0, 16.6)] {
        near(detectable_change(Angle::degrees(sem)).to_degrees(), change, 0.06);
    }
}
