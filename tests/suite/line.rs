//! The taut line over random geometries: virtual work, convexity, marks.

use proptest::prelude::*;
use tautline::calc::geometry::{Geometry, Measure};
use tautline::calc::line::{Contact, TautLine, length_by, shortening};
use tautline::calc::{self};
use tautline::case::{Case, Pull};
use tautline::units::{Angle, Length};

use crate::demo;

/// A case whose first pull has random, plausible lengths.
pub fn cases() -> impl Strategy<Value = Case> {
    (
        (0.0..20.0, 60.0..180.0, 12.0..45.0),
        (5.0..40.0, 8.0..45.0),
        (2.0..30.0, 12.0..45.0),
        (5.0..60.0, 15.0..70.0, 70.0..140.0),
        (3.0..25.0, 15.0..45.0),
    )
        .prop_map(|(hand, edge, piece, strip, tab)| {
            let mut case = demo::case("quarry-bend-left-flexion");
            case.limb.axis_past_crease = Some(Length::mm(hand.0));
            let pull = &mut case.orthosis.pulls[0];
            pull.cuff.hole_from_crease = Length::mm(hand.1);
            pull.cuff.hole_height = Some(Length::mm(hand.2));
            pull.cuff.edge_from_crease = Length::mm(edge.0);
            pull.cuff.edge_height = Some(Length::mm(edge.1));
            pull.forearm_piece.edge_from_crease = Length::mm(piece.0);
            pull.forearm_piece.edge_height = Some(Length::mm(piece.1));
            // The tab's hole must not hang over the piece's edge: S − q > c.
            pull.strip.start_from_crease = Length::mm(piece.0 + tab.0 + strip.0);
            pull.strip.height = Some(Length::mm(strip.1));
            pull.strip.length = Length::mm(strip.2);
            pull.tab.hole_to_pad = Length::mm(tab.0);
            pull.tab.pad_length = Length::mm(tab.1);
            case
        })
}

fn geometry(case: &Case) -> Geometry {
    Geometry::of(case, first(case))
}

fn first(case: &Case) -> &Pull {
    &case.orthosis.pulls[0]
}

/// Sixth-order central difference of the line's length, per radian.
fn slope(geometry: &Geometry, theta: Angle, u: Length) -> f64 {
    const STEP: f64 = 1e-3;
    let length = |steps: f64| {
        TautLine::at(geometry, theta + Angle::radians(STEP * steps), u).length().to_mm()
    };
    let odd = |steps: f64| length(steps) - length(-steps);
    (45.0 * odd(1.0) - 9.0 * odd(2.0) + odd(3.0)) / (60.0 * STEP)
}

/// Whether the contacts stay the same over the difference's reach: at a change of contact the
/// length has a kink in its second derivative, and no high order holds.
fn is_smooth(geometry: &Geometry, theta: Angle, u: Length) -> bool {
    let touches =
        |step: f64| TautLine::at(geometry, theta + Angle::radians(step), u).touches().to_vec();
    touches(-3.5e-3) == touches(3.5e-3)
}

proptest! {
    #![proptest_config(demo::draws(2_000))]

    /// Principle of virtual work: r = −∂L/∂θ (Sherman, Seth, Delp 2013, PMC4404026), against
    /// differences of the length and against automatic differentiation, to 1e-6 mm.
    #[test]
    fn moment_arm_is_the_shortening_of_the_line(
        case in cases(), degrees in -40.0..85.0_f64, share in 0.0..1.0_f64,
    ) {
        let geometry = geometry(&case);
        let theta = Angle::degrees(degrees);
        let u = geometry.first_place() + (geometry.last_place() - geometry.first_place()) * share;
        prop_assume!(is_smooth(&geometry, theta, u));
        let arm = TautLine::at(&geometry, theta, u).moment_arm().to_mm();
        let by_difference = -slope(&geometry, theta, u);
        let by_dual = shortening(&geometry, theta, u).to_mm();
        prop_assert!((arm - by_difference).abs() < 1e-6, "{arm} and {by_difference}");
        prop_assert!((arm - by_dual).abs() < 1e-9, "{arm} and {by_dual}");
    }

    /// Of the four candidate paths the taut one is the shortest of those that stay on the pull
    /// side of both contact points: found here by trying all of them.
    #[test]
    fn the_path_is_the_shortest_that_clears_the_contacts(
        case in cases(), degrees in -40.0..60.0_f64, share in 0.0..1.0_f64,
    ) {
        let geometry = geometry(&case);
        let u = geometry.first_place() + (geometry.last_place() - geometry.first_place()) * share;
        let theta = Angle::degrees(degrees);
        let points = points(&geometry, theta, u);
        // The rule needs the points in their order from hand to forearm.
        prop_assume!(points.windows(2).all(|pair| pair[0].0 > pair[1].0));
        let shortest = candidates(&points).fold(f64::INFINITY, f64::min);
        let got = TautLine::at(&geometry, theta, u).length().to_mm();
        prop_assert!((got - shortest).abs() < 1e-9, "{got} and {shortest}");
    }

    /// Along a loop the marks rise, and each gives back the loop's length and its angle's place.
    #[test]
    fn marks_rise_and_keep_the_loops_length(case in cases(), goal in 26.0..95.0_f64) {
        let mut case = case;
        case.orthosis.pulls[0].goal = Angle::degrees(goal);
        let plan = calc::plan(&case);
        for made in &plan.pulls[0].loops {
            for mark in &made.marks {
                prop_assert!((mark.line.length() - made.line).abs() < Length::mm(1e-6));
                prop_assert!(mark.place > Length::mm(-1e-6));
                prop_assert!(mark.place <= first(&case).strip.length - first(&case).tab.pad_length + Length::mm(1e-6));
            }
            for pair in made.marks.windows(2) {
                prop_assert!(pair[0].place < pair[1].place);
                prop_assert!(pair[0].number < pair[1].number);
            }
            prop_assert!((made.flat.to_mm() * 2.0 - made.closed.to_mm()).abs() < 1e-9);
        }
    }

    /// mm per degree is the slope of the mark's place, by finite differences of the solution.
    #[test]
    fn travel_is_the_slope_of_the_place(case in cases()) {
        let plan = calc::plan(&case);
        let geometry = geometry(&case);
        for mark in plan.pulls[0].marks() {
            let per_radian = mark.line.travel_per_radian();
            let step = Angle::radians(1e-5);
            let moved = |sign: f64| {
                TautLine::at(&geometry, mark.angle + step * sign, mark.hole + per_radian * (1e-5 * sign)).length()
            };
            // Moving the tab by the travel keeps the length, to second order.
            prop_assert!((moved(1.0) - moved(-1.0)).abs() < Length::mm(1e-6));
        }
    }

    /// Derivatives by each measure agree with differences.
    #[test]
    fn length_by_each_measure(case in cases(), degrees in -40.0..85.0_f64) {
        let theta = Angle::degrees(degrees);
        let plain = geometry(&case);
        prop_assume!(is_smooth(&plain, theta, Length::ZERO));
        for measure in Measure::ALL {
            let moved = |by: f64| {
                let mut case = case.clone();
                move_measure(&mut case, measure, by);
                TautLine::at(&geometry(&case), theta, Length::ZERO).length().to_mm()
            };
            let by_difference = (moved(1e-4) - moved(-1e-4)) / 2e-4;
            let exact = length_by(&plain, theta, Length::ZERO, measure);
            // Loose enough for a contact that changes within the difference.
            prop_assert!((exact - by_difference).abs() < 1e-3, "{measure:?}: {exact} and {by_difference}");
        }
    }
}

fn move_measure(case: &mut Case, measure: Measure, by: f64) {
    let by = Length::mm(by);
    let pull = &mut case.orthosis.pulls[0];
    let height = |it: &mut Option<Length>| *it = it.map(|length| length + by);
    match measure {
        Measure::AxisPastCrease => height(&mut case.limb.axis_past_crease),
        Measure::HoleFromCrease => pull.cuff.hole_from_crease = pull.cuff.hole_from_crease + by,
        Measure::HoleHeight => height(&mut pull.cuff.hole_height),
        Measure::CuffEdgeFromCrease => pull.cuff.edge_from_crease = pull.cuff.edge_from_crease + by,
        Measure::CuffEdgeHeight => height(&mut pull.cuff.edge_height),
        Measure::PieceEdgeFromCrease => {
            pull.forearm_piece.edge_from_crease = pull.forearm_piece.edge_from_crease + by;
        }
        Measure::PieceEdgeHeight => height(&mut pull.forearm_piece.edge_height),
        Measure::StripStartFromCrease => {
            pull.strip.start_from_crease = pull.strip.start_from_crease + by;
        }
        Measure::StripHeight => height(&mut pull.strip.height),
    }
}

/// Hole, cuff edge, piece edge and tab, reckoned here from the contract's own formulas.
fn points(geometry: &Geometry, theta: Angle, u: Length) -> [(f64, f64); 4] {
    let of = |measure| geometry.length(measure).to_mm();
    let a = of(Measure::AxisPastCrease);
    let (sin, cos) = tautline::units::math::sin_cos(theta.to_radians());
    let turned = |x: f64, y: f64| (x * cos - y * sin, x * sin + y * cos);
    [
        turned(of(Measure::HoleFromCrease) - a, of(Measure::HoleHeight)),
        turned(of(Measure::CuffEdgeFromCrease) - a, of(Measure::CuffEdgeHeight)),
        (-(of(Measure::PieceEdgeFromCrease) + a), of(Measure::PieceEdgeHeight)),
        (-(of(Measure::StripStartFromCrease) + a + u.to_mm()), of(Measure::StripHeight)),
    ]
}

/// Lengths of the candidate paths that run over or above both contact points.
fn candidates(points: &[(f64, f64); 4]) -> impl Iterator<Item = f64> + '_ {
    let choices: [&[usize]; 4] = [&[0, 3], &[0, 1, 3], &[0, 2, 3], &[0, 1, 2, 3]];
    choices.into_iter().filter(|path| clears(points, path)).map(|path| {
        path.windows(2)
            .map(|pair| {
                let (from, to) = (points[pair[0]], points[pair[1]]);
                ((to.0 - from.0) * (to.0 - from.0) + (to.1 - from.1) * (to.1 - from.1)).sqrt()
            })
            .sum()
    })
}

/// Whether a path over some of the points runs at or above the others.
fn clears(points: &[(f64, f64); 4], path: &[usize]) -> bool {
    points.iter().all(|point| {
        path.windows(2).all(|pair| {
            let (from, to) = (points[pair[0]], points[pair[1]]);
            if point.0 > from.0 || point.0 < to.0 {
                return true;
            }
            let height = from.1 + (to.1 - from.1) * (from.0 - point.0) / (from.0 - to.0);
            height >= point.1 - 1e-9
        })
    })
}

#[test]
fn a_low_strip_makes_the_line_touch_the_edges() {
    let mut case = demo::case("quarry-bend-left-flexion");
    let pull = &mut case.orthosis.pulls[0];
    pull.strip.height = Some(Length::mm(10.0));
    pull.cuff.edge_height = Some(Length::mm(30.0));
    pull.cuff.hole_height = Some(Length::mm(10.0));
    let line = TautLine::at(&geometry(&case), Angle::degrees(0.0), Length::ZERO);
    assert_eq!(line.touches(), [Contact::CuffEdge, Contact::PieceEdge]);
    assert_eq!(line.clearance(), Length::ZERO);
    assert_eq!(line.corners().len(), 4);
}

#[test]
fn a_line_below_the_axis_pulls_the_wrong_way() {
    let mut case = demo::case("quarry-bend-left-flexion");
    let pull = &mut case.orthosis.pulls[0];
    for height in [&mut pull.cuff.hole_height, &mut pull.strip.height] {
        *height = Some(Length::mm(-80.0));
    }
    for height in [&mut pull.cuff.edge_height, &mut pull.forearm_piece.edge_height] {
        *height = Some(Length::mm(-120.0));
    }
    let line = TautLine::at(&geometry(&case), Angle::degrees(0.0), Length::ZERO);
    assert!(line.moment_arm() < Length::ZERO);
    let plan = calc::plan(&case);
    assert!(plan.is_withheld());
    assert!(plan.findings.iter().any(|it| it.id == "moment-arm-flexion"));
}
