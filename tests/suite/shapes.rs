//! Random limbs, and outlines in a second geometry crate.

use geo::{Coord, LineString, Polygon};
use kurbo::{PathEl, Point};
use proptest::prelude::*;
use tautline::calc::pattern::{Kind, Outline, Pattern, Piece, pattern};
use tautline::case::{Case, Girth, Side, Wrap};
use tautline::units::Length;

use crate::demo;

/// Chords that stand for a curve.
const CHORDS: u32 = 48;

/// An outline as a polygon of the second crate: each curve by its Bernstein form, cut into chords.
pub fn polygon(outline: &Outline) -> Polygon {
    Polygon::new(LineString(points(outline, CHORDS)), Vec::new())
}

/// An outline's corners, with so many chords to a curve.
pub fn points(outline: &Outline, chords: u32) -> Vec<Coord> {
    let mut points: Vec<Coord> = Vec::new();
    for element in outline.path().elements() {
        match *element {
            PathEl::MoveTo(to) | PathEl::LineTo(to) => points.push(coord(to)),
            PathEl::CurveTo(one, two, to) => {
                let from = *points.last().unwrap();
                let cubic = [from, coord(one), coord(two), coord(to)];
                points.extend((1..=chords).map(|it| {
                    let t = f64::from(it) / f64::from(chords);
                    let s = 1.0 - t;
                    let weights = [s * s * s, 3.0 * s * s * t, 3.0 * s * t * t, t * t * t];
                    cubic.into_iter().zip(weights).fold(Coord::zero(), |sum, (p, w)| sum + p * w)
                }));
            }
            PathEl::QuadTo(..) => panic!("no outline is drawn with one"),
            PathEl::ClosePath => {}
        }
    }
    points
}

fn coord(point: Point) -> Coord {
    Coord { x: point.x, y: point.y }
}

/// The same points, each to a nanometre.
pub fn same(ours: &[Coord], theirs: &[Coord]) -> bool {
    ours.len() == theirs.len()
        && ours
            .iter()
            .zip(theirs)
            .all(|(one, other)| (one.x - other.x).abs() < 1e-9 && (one.y - other.y).abs() < 1e-9)
}

/// Whether two numbers are alike but for a share.
pub fn near(one: f64, other: f64, share: f64) -> bool {
    (one - other).abs() <= share * other.abs().max(1.0)
}

/// How much of a straight cut lies inside a ring: across it at x, or along it at y.
pub fn cut(ring: &[Coord], at: f64, is_across: bool) -> f64 {
    let flip = |it: Coord| if is_across { it } else { Coord { x: it.y, y: it.x } };
    let mut crossings: Vec<f64> = Vec::new();
    for (index, &from) in ring.iter().enumerate() {
        let (from, to) = (flip(from), flip(ring[(index + 1) % ring.len()]));
        if (from.x <= at) != (to.x <= at) {
            crossings.push(from.y + (to.y - from.y) * (at - from.x) / (to.x - from.x));
        }
    }
    crossings.sort_by(f64::total_cmp);
    crossings.chunks_exact(2).map(|pair| pair[1] - pair[0]).sum()
}

/// The one piece of a kind that a case draws.
#[track_caller]
pub fn piece(case: &Case, kind: Kind) -> Piece {
    let drawn: Pattern = pattern(case);
    let found = drawn.pieces.into_iter().find(|it| it.kind == kind);
    found.unwrap_or_else(|| panic!("no {kind:?}; refused: {:?}", drawn.refused))
}

/// The girth at a place, straight between (place, girth) knots that rise, in mm.
pub fn between(knots: &[(f64, f64)], place: f64) -> f64 {
    let after = knots.iter().position(|it| it.0 >= place);
    match after {
        None => knots.last().unwrap().1,
        Some(0) => knots[0].1,
        Some(index) => {
            let (one, other) = (knots[index - 1], knots[index]);
            one.1 + (other.1 - one.1) * (place - one.0) / (other.0 - one.0)
        }
    }
}

/// The measured girths from crease to elbow as knots, in mm.
pub fn knots(case: &Case) -> Vec<(f64, f64)> {
    let limb = &case.limb;
    let mut knots = vec![(0.0, limb.wrist_circumference.unwrap().to_mm())];
    knots.extend(limb.forearm_girths.iter().map(|it| (it.from_crease.to_mm(), it.girth.to_mm())));
    knots.push((limb.forearm_length.to_mm(), limb.elbow_girth.unwrap().to_mm()));
    knots
}

/// A limb that somebody may have, child or adult, slim or swollen, with every measure taken, and a
/// device in proportion to it.
pub fn limbs() -> impl Strategy<Value = Case> {
    (
        (125.0..220.0_f64, 0.42..0.49_f64, 2.3..2.6_f64, 0.78..0.92_f64, 0.88..1.1_f64),
        (1.2..1.55_f64, 0.05..0.3_f64, 0.4..0.6_f64, 0.7..0.9_f64),
        (0.95..1.2_f64, 1.0..1.4_f64, 1.2..1.5_f64, 0.95..1.15_f64, 60.0..140.0_f64),
        (5.0..20.0_f64, 20.0..45.0_f64, 0.0..0.1_f64, 5.0..18.0_f64, 0.0..12.0_f64),
        (any::<bool>(), any::<bool>()),
    )
        .prop_map(|(hand, places, girths, cut, (is_left, is_thumb))| {
            let mut case = demo::case("quarry-bend-left-flexion");
            let scale = hand.0 / 184.0;
            let limb = &mut case.limb;
            let wrist = hand.0 * hand.1 * hand.2 * hand.3;
            limb.hand_length = Length::mm(hand.0);
            limb.hand_breadth = Length::mm(hand.0 * hand.1);
            limb.knuckle_girth = Some(Length::mm(hand.0 * hand.1 * hand.2));
            limb.finger_joint_girth = Some(Length::mm(hand.0 * hand.1 * hand.2 * hand.4));
            limb.wrist_circumference = Some(Length::mm(wrist));
            limb.forearm_length = Length::mm(hand.0 * places.0);
            limb.forearm_breadth = Length::mm(wrist * 0.42);
            limb.around_elbow = Some(limb.forearm_length * 2.0 + Length::mm(girths.4));
            let girth = |share: f64, times: f64| Girth {
                from_crease: Length::mm(hand.0 * places.0 * share),
                girth: Length::mm(wrist * times),
            };
            limb.forearm_girths = vec![
                girth(places.1, girths.0),
                girth(places.2, girths.1),
                girth(places.3, girths.2),
            ];
            limb.elbow_girth = Some(Length::mm(wrist * girths.2 * girths.3));
            scale_device(&mut case, scale);
            cut_as(&mut case, cut, is_left, is_thumb);
            case
        })
}

/// Whatever the bounds of a case file let through and the checks across its keys do not refuse.
pub fn anything() -> impl Strategy<Value = Case> {
    let part = || 0.0..=1.0_f64;
    (
        (90.0..300.0_f64, 40.0..135.0_f64, 90.0..280.0_f64, 100.0..320.0_f64, 100.0..320.0_f64),
        (110.0..390.0_f64, 25.0..170.0_f64, 20.0..220.0_f64, 130.0..560.0_f64),
        prop::collection::vec((part(), 90.0..520.0_f64), 1..5),
        (part(), part(), part(), part()),
        (3.0..60.0_f64, 10.0..120.0_f64, 0.0..0.2_f64, 3.0..40.0_f64, 0.0..30.0_f64),
        (any::<bool>(), any::<bool>()),
    )
        .prop_map(|(hand, arm, girths, device, cut, (is_left, is_thumb))| {
            let mut case = demo::case("quarry-bend-left-flexion");
            let limb = &mut case.limb;
            limb.hand_length = Length::mm(hand.0);
            limb.hand_breadth = Length::mm(hand.1);
            limb.wrist_circumference = Some(Length::mm(hand.2));
            limb.knuckle_girth = Some(Length::mm(hand.3));
            limb.finger_joint_girth = Some(Length::mm(hand.4));
            limb.forearm_length = Length::mm(arm.0);
            limb.forearm_breadth = Length::mm(arm.1);
            limb.around_elbow = Some(Length::mm(arm.0 * 2.0 + arm.2));
            limb.elbow_girth = Some(Length::mm(arm.3));
            let mut places: Vec<Girth> = girths
                .into_iter()
                .map(|(share, girth)| Girth {
                    from_crease: Length::mm(1.0 + share * (arm.0 - 2.0)),
                    girth: Length::mm(girth),
                })
                .collect();
            places.sort_by(|one, other| one.from_crease.total_cmp(&other.from_crease));
            places.dedup_by(|next, kept| next.from_crease - kept.from_crease < Length::mm(5.1));
            limb.forearm_girths = places;
            let pull = &mut case.orthosis.pulls[0];
            let edge = device.0 * 80.0_f64.min(arm.0 - 60.0);
            pull.tab.hole_to_pad = Length::mm(3.0);
            pull.tab.pad_length = Length::mm(10.0);
            pull.forearm_piece.edge_from_crease = Length::mm(edge);
            let start = edge + 4.0 + device.1 * (arm.0 - edge - 30.0).min(200.0);
            let room = (arm.0 - start).min(210.0);
            pull.strip.start_from_crease = Length::mm(start.max(10.0));
            pull.strip.length = Length::mm(20.0_f64.max(room * device.1).min(room - 6.0));
            let near = 3.0 + device.2 * 80.0;
            let end = near + 24.0 + device.3 * (hand.0.min(250.0) - near - 25.0).max(0.0);
            pull.cuff.edge_from_crease = Length::mm(near.min(hand.0 - 26.0));
            pull.cuff.end_from_crease = Length::mm(end.min(hand.0).min(250.0));
            pull.cuff.hole_from_crease = pull.cuff.end_from_crease - Length::mm(6.0);
            cut_as(&mut case, cut, is_left, is_thumb);
            case
        })
}

fn scale_device(case: &mut Case, scale: f64) {
    let pull = &mut case.orthosis.pulls[0];
    for length in [
        &mut pull.cuff.hole_from_crease,
        &mut pull.cuff.edge_from_crease,
        &mut pull.cuff.end_from_crease,
        &mut pull.forearm_piece.edge_from_crease,
        &mut pull.strip.start_from_crease,
        &mut pull.strip.length,
    ] {
        *length = *length * scale;
    }
}

fn cut_as(
    case: &mut Case,
    (gap, opening, stretch, corner, room): (f64, f64, f64, f64, f64),
    is_left: bool,
    is_thumb: bool,
) {
    let cut = &mut case.orthosis.cut;
    cut.gap = Length::mm(gap);
    cut.opening = Length::mm(opening);
    cut.draping_stretch = stretch;
    cut.corner = Length::mm(corner);
    cut.finger_room = Length::mm(room);
    cut.wrap = if is_thumb { Wrap::Thumb } else { Wrap::LittleFinger };
    case.patient.side = if is_left { Side::Left } else { Side::Right };
}
