//! Estimates against the survey's summary.

use proptest::prelude::*;
use tautline::calc::pattern::{Basis, Measure, StandIn, pattern};
use tautline::case::Case;
use tautline::units::{Length, math};

use crate::anthropometry::cell;
use crate::demo;

const BASE: &str = "quarry-bend-left-flexion";

fn mm(value: f64) -> Length {
    Length::mm(value)
}

/// Number, mean and standard deviation of both sexes together, from each one's: squares within by n − 1, and
/// between by n.
fn pooled(measure: &str) -> (f64, f64, f64) {
    let of = |sex: &str, column| cell(&format!("summary,{sex},{measure},"), column);
    let sexes = ["female", "male"].map(|sex| (of(sex, 3), of(sex, 4), of(sex, 5)));
    let all: f64 = sexes.iter().map(|it| it.0).sum();
    let middle = sexes.iter().map(|(n, mean, _)| n * mean).sum::<f64>() / all;
    let squares = sexes
        .iter()
        .map(|(n, mean, sd)| (n - 1.0) * sd * sd + n * (mean - middle) * (mean - middle))
        .sum::<f64>();
    (all, middle, (squares / (all - 1.0)).sqrt())
}

/// The order of the correlation columns in the survey's summary.
pub const COLUMNS: [&str; 14] = [
    "stature",
    "weightkg",
    "handlength",
    "palmlength",
    "handbreadth",
    "handcircumference",
    "wristcircumference",
    "radialestylionlength",
    "forearmhandlength",
    "forearmcenterofgriplength",
    "forearmcircumferenceflexed",
    "bicepscircumferenceflexed",
    "shoulderelbowlength",
    "acromionradialelength",
];

/// The correlation of two measures over both sexes.
fn correlation(one: &str, other: &str) -> f64 {
    let column = COLUMNS.iter().position(|it| *it == other).unwrap();
    cell(&format!("correlation,all,{one},"), column + 3)
}

/// Intercept, slope and standard error of a line by least squares, from means, deviations and r.
fn line(n: f64, (x, sx): (f64, f64), (y, sy): (f64, f64), r: f64) -> [f64; 3] {
    let slope = r * sy / sx;
    let error = sy * ((1.0 - r * r) * (n - 1.0) / (n - 2.0)).sqrt();
    [y - slope * x, slope, error]
}

fn surveyed(y: &str, x: &str) -> [f64; 3] {
    let ((n, mx, sx), (_, my, sy)) = (pooled(x), pooled(y));
    line(n, (mx, sx), (my, sy), correlation(y, x))
}

fn stand_in(case: &Case, measure: Measure) -> StandIn {
    let found = pattern(case).stand_ins.into_iter().find(|it| it.measure == measure);
    found.unwrap_or_else(|| panic!("nothing stands in for {measure:?}"))
}

/// The line that stands behind an estimate, read back from two limbs.
fn read_back(measure: Measure, of: impl Fn(f64) -> Case) -> [f64; 3] {
    let at = |x: f64| stand_in(&of(x), measure);
    let (low, high) = (at(200.0), at(250.0));
    assert_eq!(low.spread, high.spread);
    let slope = (high.value - low.value).to_mm() / 50.0;
    [low.value.to_mm() - slope * 200.0, slope, low.spread.unwrap().to_mm()]
}

/// Intercept to 0.001 mm, slope to 0.00001, standard error to 0.01 mm.
#[track_caller]
fn same_digits(ours: [f64; 3], theirs: [f64; 3]) {
    let off = [0.000_5, 0.000_005, 0.005];
    for (index, off) in off.into_iter().enumerate() {
        assert!((ours[index] - theirs[index]).abs() <= off + 1e-6, "{ours:?} and {theirs:?}");
    }
}

fn without(change: impl Fn(&mut Case)) -> Case {
    let mut case = demo::case(BASE);
    change(&mut case);
    case
}

/// The summary prints the lines of two of the estimates itself, from the records.
fn printed(y: &str, x: &str) -> [f64; 3] {
    [4, 5, 7].map(|column| cell(&format!("regression,all,{y},{x},"), column))
}

#[test]
fn wrist_and_forearm_follow_the_surveys_printed_lines() {
    let wrist = read_back(Measure::Wrist, |knuckles| {
        without(|it| {
            it.limb.wrist_circumference = None;
            it.limb.knuckle_girth = Some(mm(knuckles));
        })
    });
    same_digits(wrist, printed("wristcircumference", "handcircumference"));
    let forearm = read_back(Measure::Forearm, |wrist| {
        without(|it| {
            it.limb.forearm_girths.clear();
            it.limb.wrist_circumference = Some(mm(wrist));
        })
    });
    same_digits(forearm, printed("forearmcircumferenceflexed", "wristcircumference"));
    // The means and deviations give the same lines, as far as three digits of r carry.
    let again = surveyed("wristcircumference", "handcircumference");
    assert!((again[1] - wrist[1]).abs() < 0.001 && (again[2] - wrist[2]).abs() < 0.03, "{again:?}");
}

#[test]
fn knuckles_follow_the_surveys_means_and_deviations() {
    let knuckles = read_back(Measure::Knuckles, |breadth| {
        without(|it| {
            it.limb.knuckle_girth = None;
            it.limb.hand_breadth = mm(breadth);
        })
    });
    same_digits(knuckles, surveyed("handcircumference", "handbreadth"));
}

/// Ramanujan's first approximation of half an ellipse's perimeter.
fn half_ellipse(reach: f64, half: f64) -> f64 {
    let root = ((3.0 * reach + half) * (reach + 3.0 * half)).sqrt();
    std::f64::consts::FRAC_PI_2 * (3.0 * (reach + half) - root)
}

/// The reach whose half ellipse is so long.
fn reach_of(path: f64, half: f64) -> f64 {
    let (mut low, mut high) = (0.0, 400.0);
    for _ in 0..80 {
        let middle = f64::midpoint(low, high);
        if half_ellipse(middle, half) < path { low = middle } else { high = middle }
    }
    low
}

fn bent(long: f64, broad: f64, tape: f64) -> Case {
    without(|it| {
        it.limb.around_elbow = None;
        it.limb.forearm_length = mm(long);
        it.limb.forearm_breadth = mm(broad);
        it.measuring_error.tape = mm(tape);
    })
}

/// Forearm-hand length F less hand length H, on radiale-stylion length R: cov(F − H, R) = r(FR) s(F) s(R) −
/// r(HR) s(H) s(R); var(F − H) = s(F)² + s(H)² − 2 r(FH) s(F) s(H).
#[test]
fn the_back_of_the_elbow_follows_the_surveys_variances() {
    let [f, h, r] = ["forearmhandlength", "handlength", "radialestylionlength"];
    let ((n, mf, sf), (_, mh, sh), (_, mr, sr)) = (pooled(f), pooled(h), pooled(r));
    let covariance = correlation(f, r) * sf * sr - correlation(h, r) * sh * sr;
    let s = (sf * sf + sh * sh - 2.0 * correlation(f, h) * sf * sh).sqrt();
    let theirs = line(n, (mr, sr), (mf - mh, s), covariance / (s * sr));
    let back = |long: f64| {
        let stand_in = stand_in(&bent(long, 70.0, 3.0), Measure::ElbowPath);
        let path = stand_in.value.to_mm() - 2.0 * long;
        let by_tape = 6.0;
        let spread = stand_in.spread.unwrap().to_mm();
        let by_reach = (spread * spread - by_tape * by_tape).sqrt();
        let reach = reach_of(path, 35.0);
        (long + reach, reach_of(path + by_reach, 35.0) - reach)
    };
    let ((low, error), (high, _)) = (back(220.0), back(280.0));
    let slope = (high - low) / 60.0;
    same_digits([low - slope * 220.0, slope, error], theirs);
}

proptest! {
    #![proptest_config(demo::draws(200))]

    /// Twice the forearm and half an ellipse, by an integral of 20 000 chords, to 0.1 % of the ellipse.
    #[test]
    fn the_path_round_the_elbow_is_half_an_ellipse(
        long in 130.0..390.0_f64, broad in 25.0..170.0_f64,
    ) {
        let mut case = bent(long, broad, 3.0);
        case.limb.forearm_girths.retain(|it| it.from_crease.to_mm() < long);
        let path = stand_in(&case, Measure::ElbowPath).value.to_mm() - 2.0 * long;
        // The line itself stands in another test.
        let reach = 24.234 + 0.977_98 * long - long;
        let spot = |step: u32| {
            let (sin, cos) = math::sin_cos(std::f64::consts::PI * f64::from(step) / 20_000.0);
            (reach * sin, broad / 2.0 * cos)
        };
        let chord = |step: u32| {
            let (one, other) = (spot(step), spot(step + 1));
            math::hypot(one.0 - other.0, one.1 - other.1)
        };
        let integral: f64 = (0..20_000).map(chord).sum();
        prop_assert!((path / integral - 1.0).abs() < 1e-3, "{path} and {integral}");
    }
}

/// The contract's case has the tape round its elbow: 580 mm.
#[test]
fn the_estimated_path_is_near_the_measured_one() {
    let stand_in = stand_in(&bent(245.0, 70.0, 3.0), Measure::ElbowPath);
    let spread = stand_in.spread.unwrap();
    assert!((stand_in.value - mm(580.0)).abs() < spread * 2.0, "{stand_in:?}");
    assert!(mm(6.0) < spread && spread < mm(30.0), "{stand_in:?}");
    assert_eq!(stand_in.basis, Basis::ForearmLength);
}
