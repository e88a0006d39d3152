//! The trend of a range: certified data, published tables, coverage by simulation, breakdown.

use jiff::ToSpan;
use jiff::civil::{Date, date};
use tautline::calc::progress::detectable_change;
use tautline::calc::trend::fit::{Fit, Sample, student_t};
use tautline::calc::trend::robust::theil_sen;
use tautline::calc::trend::{change_over, plateau, trend};
use tautline::case::Raters;
use tautline::units::Angle;

use crate::demo;
use crate::spread::Draws;

const FIRST: Date = date(2026, 3, 16);

/// Readings in degrees so many days after the first.
fn readings(of: &[(i64, f64)]) -> Vec<(Date, Angle)> {
    of.iter().map(|&(day, range)| (FIRST + day.days(), Angle::degrees(range))).collect()
}

fn samples(of: &[(f64, f64)]) -> Vec<Sample> {
    of.iter().map(|&(x, y)| Sample { x, y }).collect()
}

#[track_caller]
fn agrees(got: f64, certified: f64, relative: f64) {
    assert!((got / certified - 1.0).abs() < relative, "{got} and {certified}");
}

/// NIST Statistical Reference Datasets, linear regression, `Norris`: (x, y).
///
/// J. Norris, calibration of ozone monitors; 36 observations, lower level of difficulty
/// (www.itl.nist.gov/div898/strd/lls/data/Norris.shtml). Data and certified values as the test suites
/// of several statistics libraries reproduce them, which agree.
const NORRIS: [(f64, f64); 36] = [
    (0.2, 0.1),
    (337.4, 338.8),
    (118.2, 118.1),
    (884.6, 888.0),
    (10.1, 9.2),
    (226.5, 228.1),
    (666.3, 668.5),
    (996.3, 998.5),
    (448.6, 449.1),
    (777.0, 778.9),
    (558.2, 559.2),
    (0.4, 0.3),
    (0.6, 0.1),
    (775.5, 778.1),
    (666.9, 668.8),
    (338.0, 339.3),
    (447.5, 448.9),
    (11.6, 10.8),
    (556.0, 557.7),
    (228.1, 228.3),
    (995.8, 998.0),
    (887.6, 888.8),
    (120.2, 119.6),
    (0.3, 0.3),
    (0.3, 0.6),
    (556.8, 557.6),
    (339.1, 339.3),
    (887.2, 888.0),
    (999.0, 998.5),
    (779.0, 778.9),
    (11.1, 10.2),
    (118.3, 117.6),
    (229.2, 228.9),
    (669.1, 668.4),
    (448.9, 449.2),
    (0.5, 0.2),
];

#[test]
fn the_line_agrees_with_certified_values() {
    let fit = Fit::of(&samples(&NORRIS)).unwrap();
    let scatter = fit.scatter.unwrap();
    assert_eq!(fit.points, 36);
    agrees(fit.intercept, -0.262_323_073_774_029, 1e-11);
    agrees(fit.slope, 1.002_116_818_020_45, 1e-13);
    agrees(scatter.intercept_error, 0.232_818_234_301_152, 1e-11);
    agrees(scatter.slope_error, 0.429_796_848_199_937e-3, 1e-11);
    agrees(scatter.residual, 0.884_796_396_144_373, 1e-11);
}

/// The two-sided 5 % points of the published t table.
#[test]
fn student_t_agrees_with_the_table() {
    let table = [(1, 12.706), (2, 4.303), (3, 3.182), (5, 2.571), (10, 2.228), (30, 2.042)];
    for (freedom, published) in table {
        let t = student_t(0.975, freedom).unwrap();
        assert!((t - published).abs() <= 0.000_5, "{freedom}: {t} and {published}");
        let lower = student_t(0.025, freedom).unwrap();
        assert!((t + lower).abs() < 1e-9, "{freedom}: {lower}");
    }
    // One degree of freedom is Cauchy's distribution, two has a closed form as well.
    agrees(student_t(0.975, 1).unwrap(), libm::tan(std::f64::consts::PI * 0.475), 1e-9);
    agrees(student_t(0.975, 2).unwrap(), 0.95 * (2.0_f64 / (1.0 - 0.95 * 0.95)).sqrt(), 1e-9);
    for nothing in [student_t(0.975, 0), student_t(1.0, 3), student_t(f64::NAN, 3)] {
        assert_eq!(nothing, None);
    }
}

/// By hand: weeks 0, 1, 2, 4 with 20, 23, 24, 29. Means 1.75 and 24; S = 8.75; products 19;
/// slope 76/35, intercept 20.2; residuals −0.2, 0.62857, −0.54286, 0.11429.
#[test]
fn dates_become_weeks_and_order_does_not_matter() {
    let points = readings(&[(14, 24.0), (0, 20.0), (28, 29.0), (7, 23.0)]);
    let found = trend(&points).unwrap();
    agrees(found.slope.to_degrees_per_week(), 76.0 / 35.0, 1e-12);
    agrees(found.start.to_degrees(), 20.2, 1e-12);
    let scatter = found.scatter.unwrap();
    let residual = ((0.04 + 0.44_f64 * 0.898 + 0.294_693_9 + 0.013_061_2) / 2.0).sqrt();
    agrees(scatter.residual.to_degrees(), residual, 1e-4);
    agrees(scatter.slope_error.to_degrees_per_week(), residual / 8.75_f64.sqrt(), 1e-4);
    let interval = found.interval.unwrap();
    let half = (interval.high - interval.low).to_degrees_per_week() / 2.0;
    agrees(half, 4.302_65 * scatter.slope_error.to_degrees_per_week(), 1e-5);
    assert_eq!((found.points, found.visits), (4, 4));
    assert_eq!((found.first, found.last), (FIRST, FIRST + 28.days()));
    agrees(found.at(found.last).to_degrees(), 20.2 + 4.0 * 76.0 / 35.0, 1e-12);
    // The goniometer's own share: 5 / √8.75.
    let by_sem = found.slope_error_by(Angle::degrees(5.0)).to_degrees_per_week();
    agrees(by_sem, 5.0 / 8.75_f64.sqrt(), 1e-12);
}

/// Three readings in one line have no scatter: the goniometer's error keeps the interval as wide as it must be,
/// 1.96 · 5° / √Σ(t − t̄)² with Σ = 2 in weeks; readings that scatter more than that keep their own.
#[test]
fn the_interval_is_never_surer_than_the_goniometer() {
    let sem = Angle::degrees(5.0);
    let line = trend(&readings(&[(0, 20.0), (7, 23.0), (14, 26.0)])).unwrap();
    let own = line.interval.unwrap();
    agrees(own.low.to_degrees_per_week(), 3.0, 1e-9);
    let wider = line.wider_interval(sem).unwrap();
    let half = 1.959_964 * 5.0 / 2.0_f64.sqrt();
    agrees(wider.low.to_degrees_per_week(), 3.0 - half, 1e-9);
    agrees(wider.high.to_degrees_per_week(), 3.0 + half, 1e-9);
    let wild = trend(&readings(&[(0, 20.0), (7, 40.0), (14, 20.0)])).unwrap();
    assert_eq!(wild.wider_interval(sem), wild.interval);
    assert_eq!(trend(&readings(&[(0, 20.0), (7, 24.0)])).unwrap().wider_interval(sem), None);
}

#[test]
fn too_little_gives_nothing_and_never_a_number_that_is_none() {
    for none in [vec![], readings(&[(0, 20.0)]), readings(&[(3, 20.0), (3, 26.0), (3, 22.0)])] {
        assert_eq!(trend(&none), None);
        assert_eq!(plateau(&none, 4, Angle::degrees(5.0)), None);
    }
    let two = trend(&readings(&[(0, 20.0), (7, 24.0)])).unwrap();
    agrees(two.slope.to_degrees_per_week(), 4.0, 1e-12);
    assert_eq!((two.scatter, two.interval, two.robust.interval), (None, None, None));
    // Three readings of two days leave one degree of freedom and still no third visit.
    let days = trend(&readings(&[(0, 20.0), (7, 24.0), (7, 26.0)])).unwrap();
    assert_eq!((days.points, days.visits, days.interval), (3, 2, None));
    assert!(days.scatter.is_some());
    let level = trend(&readings(&[(0, 20.0), (7, 20.0), (14, 20.0)])).unwrap();
    let interval = level.interval.unwrap();
    assert!(interval.low.to_degrees_per_week().abs() < 1e-9);
    assert!(interval.high.to_degrees_per_week().abs() < 1e-9);
    let broken = samples(&[(0.0, f64::NAN), (1.0, 2.0), (2.0, 3.0)]);
    assert_eq!((Fit::of(&broken), theil_sen(&broken, 0.95)), (None, None));
}

/// Seven points whose 21 slopes the tests of another statistics library carry as Sen's example:
/// slope 4, from 26/7 to 35/8, the 4th and the 18th. It asks for 93 % and takes those ranks by the
/// normal approximation; by Kendall's exact count (1, 6, 20, 49, 98 of 5 040 orders have 0 to 4
/// pairs out of order) they hold 97.0 %, and the 5th and 17th 93.1 %.
#[test]
fn theil_sen_agrees_with_the_worked_example() {
    let of = [
        (1.0, 9.0),
        (2.0, 15.0),
        (3.0, 19.0),
        (4.0, 20.0),
        (10.0, 45.0),
        (12.0, 55.0),
        (18.0, 78.0),
    ];
    for (confidence, ends) in [
        (0.95, (26.0 / 7.0, 35.0 / 8.0)),
        (0.969, (26.0 / 7.0, 35.0 / 8.0)),
        (0.93, (3.75, 46.0 / 11.0)),
    ] {
        let found = theil_sen(&samples(&of), confidence).unwrap();
        assert!((found.slope - 4.0).abs() < 1e-12);
        let (low, high) = found.interval.unwrap();
        assert!((low - ends.0).abs() < 1e-12 && (high - ends.1).abs() < 1e-12, "{low} {high}");
    }
}

/// By hand: weeks 0, 1, 2, 4 with 20, 23, 24, 29 have the slopes 3, 2, 9/4, 1, 2, 5/2; in order
/// 1, 2, 2, 9/4, 5/2, 3; the median is 17/8. The outermost two hold the true slope in 1 − 2/4! of
/// all courses, 91.7 %, so at 95 % there is no interval.
#[test]
fn theil_sen_by_hand() {
    let of = samples(&[(0.0, 20.0), (1.0, 23.0), (2.0, 24.0), (4.0, 29.0)]);
    let found = theil_sen(&of, 0.95).unwrap();
    assert!((found.slope - 17.0 / 8.0).abs() < 1e-12);
    assert_eq!(found.interval, None);
    assert_eq!(theil_sen(&of, 0.91).unwrap().interval, Some((1.0, 3.0)));
    assert_eq!(theil_sen(&of, 0.92).unwrap().interval, None);
    // Days 0, 0, 1, 1: four slopes; the outermost hold it in 1 − 2/6, for 6 = 4!/(2! 2!) orders.
    let paired = samples(&[(0.0, 1.0), (0.0, 2.0), (1.0, 4.0), (1.0, 6.0)]);
    assert_eq!(theil_sen(&paired, 0.66).unwrap().interval, Some((2.0, 5.0)));
    assert_eq!(theil_sen(&paired, 0.67).unwrap().interval, None);
    assert!((theil_sen(&paired, 0.95).unwrap().slope - 3.5).abs() < 1e-12);
}

/// One slip in seven readings turns the least-squares line; the median of the slopes stays.
#[test]
fn one_slip_does_not_turn_the_robust_slope() {
    let mut course: Vec<(i64, f64)> =
        (0..7).map(|week| (7 * week, 20.0 + 2.0 * week as f64)).collect();
    course[6].1 = 85.0;
    let found = trend(&readings(&course)).unwrap();
    agrees(found.robust.slope.to_degrees_per_week(), 2.0, 1e-9);
    assert!(found.slope.to_degrees_per_week() > 7.0);
    // Past its breakdown, at about 29 %, it goes too: three slips of seven.
    (course[4].1, course[5].1) = (85.0, 85.0);
    let broken = trend(&readings(&course)).unwrap();
    assert!(broken.robust.slope.to_degrees_per_week() > 4.0);
}

/// Runs of a coverage check: the share itself is known to a third of a percent.
const RUNS: usize = 4_000;

/// How often each interval holds the true slope, least squares first.
fn coverage(days: &[i64], seed: u64, error: impl Fn(&mut Draws) -> f64) -> (f64, f64) {
    let mut draws = Draws(seed);
    let (slope, mut student, mut ranks) = (1.7, 0, 0);
    for _ in 0..RUNS {
        let reading = |&day: &i64| (day, 25.0 + slope * day as f64 / 7.0 + error(&mut draws));
        let course: Vec<(i64, f64)> = days.iter().map(reading).collect();
        let found = trend(&readings(&course)).unwrap();
        let holds = |it: tautline::calc::trend::Interval| {
            (it.low.to_degrees_per_week()..=it.high.to_degrees_per_week()).contains(&slope)
        };
        student += usize::from(holds(found.interval.unwrap()));
        ranks += usize::from(found.robust.interval.is_some_and(holds));
    }
    (student as f64 / RUNS as f64, ranks as f64 / RUNS as f64)
}

#[test]
fn the_intervals_hold_the_true_slope_as_often_as_they_say() {
    for (days, seed) in [
        (&[0, 9, 20][..], 11),
        (&[0, 7, 14, 28, 35], 12),
        (&[0, 0, 7, 10, 21, 21, 40], 13),
        (&[0, 4, 7, 14, 21, 28, 35, 42, 49, 60], 14),
    ] {
        let (student, ranks) = coverage(days, seed, |draws| 4.0 * draws.standard());
        assert!((0.93..=0.97).contains(&student), "{days:?}: {student}");
        // By ranks it is at least 95 %, less three standard errors of the check itself.
        let least = if days.len() < 5 { 0.0 } else { 0.94 };
        assert!(ranks >= least, "{days:?}: {ranks}");
    }
}

/// Five days: the outermost slopes hold it in 1 − 2/5! = 98.3 %. Ten days without a tie: P(D ≤ 10) is
/// the largest tail below 2.5 %, 82 784 of 10! = 3 628 800 orders, so 95.4 %. For errors of any
/// shape: here with long tails.
#[test]
fn the_rank_interval_is_exact() {
    let heavy = |draws: &mut Draws| {
        let wild = if draws.uniform() < 0.1 { 8.0 } else { 1.0 };
        wild * draws.standard()
    };
    let (_, five) = coverage(&[0, 7, 14, 28, 35], 21, heavy);
    assert!((five - (1.0 - 2.0 / 120.0)).abs() < 0.006, "{five}");
    let (_, ten) = coverage(&[0, 4, 7, 14, 21, 28, 35, 42, 49, 60], 22, heavy);
    assert!((ten - 0.954_4).abs() < 0.01, "{ten}");
}

#[test]
fn a_plateau_needs_visits_that_span_the_weeks() {
    let course = readings(&[(0, 20.0), (14, 31.0), (21, 33.0), (42, 34.0)]);
    let five = Angle::degrees(5.0);
    // From day 14 to 42 it gained 3; from day 0, 14.
    assert_eq!(plateau(&course, 4, five), Some(true));
    assert_eq!(plateau(&course, 4, Angle::degrees(3.0)), Some(true));
    assert_eq!(plateau(&course, 4, Angle::degrees(2.9)), Some(false));
    assert_eq!(plateau(&course, 6, five), Some(false));
    assert_eq!(plateau(&course, 7, five), None);
    assert_eq!(plateau(&course, u32::MAX, five), None);
    let change = change_over(&course, 4).unwrap();
    assert_eq!((change.from, change.to), (FIRST + 14.days(), FIRST + 42.days()));
    assert!((change.by.to_degrees() - 3.0).abs() < 1e-9);
    // A range that falls grows no more; two readings of a day count by their mean.
    let fall = readings(&[(0, 40.0), (28, 30.0)]);
    assert_eq!(plateau(&fall, 4, five), Some(true));
    let paired = readings(&[(0, 20.0), (0, 30.0), (28, 26.0), (28, 32.0)]);
    assert_eq!(plateau(&paired, 4, Angle::degrees(4.0)), Some(true));
    assert_eq!(plateau(&paired, 4, Angle::degrees(3.9)), Some(false));
    // Against the goniometer's own error: MDC95 = 2.77 · SEM.
    let sem = detectable_change(Angle::degrees(2.0));
    assert!((sem.to_degrees() - 5.54).abs() < 1e-9);
    assert_eq!(plateau(&paired, 4, sem), Some(true));
}

/// Several raters: two observers agreed within 10 degrees in 76 of 100 readings (J Hand Surg Am
/// 2019;44:954-965); z = 1.175 leaves 12 in 100 above (standard normal table), so SEM = 10 / (√2 · z).
#[test]
fn several_raters_are_less_sure() {
    let derived = 10.0 / (std::f64::consts::SQRT_2 * 1.175);
    assert!((Raters::Several.goniometer().to_degrees() - derived).abs() < 0.1, "{derived}");
    let several = demo::text("fell-farm-two-loops");
    let text = several.replace("raters: several", "raters: same");
    let change = |text: &str| detectable_change(demo::read(text).measuring_error.goniometer);
    assert!((change(&text).to_degrees() - 13.85).abs() < 0.01);
    assert!((change(&several).to_degrees() - 16.62).abs() < 0.01);
    let given = several.replace("raters: several", "raters: several\n  goniometer: 4");
    assert!((change(&given).to_degrees() - 11.08).abs() < 0.01);
}
