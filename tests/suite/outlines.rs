//! Outlines: by two geometry crates, by hand, and whether scissors can follow them.

use geo::{Area, BoundingRect, Euclidean, Length as _, LineString, Polygon, Validation};
use proptest::prelude::*;
use tautline::calc::pattern::{Kind, Outline, Piece, pattern};
use tautline::calc::straps::cuff_straps;
use tautline::case;
use tautline::units::Length;

use crate::demo;
use crate::shapes::{anything, between, cut, limbs, near, piece, points, polygon, same};

const BASE: &str = "quarry-bend-left-flexion";

fn mm(value: f64) -> Length {
    Length::mm(value)
}

/// Every closed outline of a piece.
pub fn outlines(piece: &Piece) -> Vec<&Outline> {
    let details = piece.details.iter().map(|it| &it.outline).filter(|it| it.is_closed());
    [&piece.outline].into_iter().chain(&piece.opening).chain(details).collect()
}

/// Area, perimeter and extent by the second crate, to 0.1 %.
fn agrees(outline: &Outline) -> bool {
    let theirs = polygon(outline);
    let bounds = theirs.bounding_rect().unwrap();
    let extent = outline.extent();
    near(outline.area().to_mm2(), theirs.unsigned_area(), 1e-3)
        && near(outline.perimeter().to_mm(), Euclidean.length(theirs.exterior()), 1e-3)
        && near(extent.width().to_mm(), bounds.width(), 1e-3)
        && near(extent.height().to_mm(), bounds.height(), 1e-3)
        && (extent.low.x.to_mm() - bounds.min().x).abs() < 0.05
        && (extent.low.y.to_mm() - bounds.min().y).abs() < 0.05
}

#[test]
fn both_geometry_crates_agree_on_the_demos() {
    let mut compared = 0;
    for path in demo::files() {
        let case = demo::read(&std::fs::read_to_string(&path).unwrap());
        for piece in &pattern(&case).pieces {
            for outline in outlines(piece) {
                assert!(agrees(outline), "{} {:?}", path.display(), piece.kind);
                compared += 1;
            }
        }
    }
    assert!(compared > 40, "only {compared} outlines");
}

/// A limb of one girth C all along: L·w − (4 − π)·r², with w = C/2 − g and L = (U − 2 c)(1 − p).
#[test]
fn a_level_forearm_has_the_area_by_hand() {
    for (girth, gap, corner, stretch) in
        [(240.0, 15.0, 15.0, 0.0), (240.0, 15.0, 15.0, 0.05), (310.0, 20.0, 10.0, 0.12)]
    {
        let mut case = demo::case(BASE);
        let limb = &mut case.limb;
        limb.wrist_circumference = Some(mm(girth));
        limb.forearm_girths.iter_mut().for_each(|it| it.girth = mm(girth));
        limb.elbow_girth = Some(mm(girth));
        case.orthosis.cut.gap = mm(gap);
        case.orthosis.cut.corner = mm(corner);
        case.orthosis.cut.draping_stretch = stretch;
        let piece = piece(&case, Kind::ForearmPiece);
        let long = (580.0 - 2.0 * 12.0) * (1.0 - stretch);
        let wide = girth / 2.0 - gap;
        let by_hand = long * wide - (4.0 - std::f64::consts::PI) * corner * corner;
        assert!(near(piece.area().to_mm2(), by_hand, 1e-3), "{:?} and {by_hand}", piece.area());
        // What the corners take off alone, so that their shape counts too.
        let corners = long * wide - piece.area().to_mm2();
        assert!(near(corners, long * wide - by_hand, 0.01), "{corners}");
        assert!((piece.extent().width().to_mm() - long).abs() < 1e-9);
        assert!((piece.extent().height().to_mm() - wide).abs() < 1e-9);
    }
}

/// The base case's cuff as a sum of trapezoids over the hand: both flaps' half girths less half the open
/// side, 8 mm of tongue beside each strap, and the thumb's root drawn back by 18 % of the hand's breadth on
/// the palm and by 10 % on the back, each step over 4 mm.
#[test]
fn the_cuff_has_the_area_by_hand() {
    let case = demo::case(BASE);
    let (edge, end, knuckles) = (20.0, 142.0, 0.446 * 184.0);
    let girth = |at: f64| {
        if at < knuckles {
            166.0 + (198.0 + 6.0 - 166.0) * at / knuckles
        } else {
            204.0 + (186.0 - 198.0) * (at - knuckles) / (end - knuckles)
        }
    };
    let straps = cuff_straps(mm(184.0), mm(edge), mm(end));
    let beside = straps.width.to_mm() / 2.0 + 3.0;
    let (wrist, web) = (straps.wrist.to_mm() + beside, straps.web.to_mm());
    let stands_out = |at: f64, back: f64| {
        let steps = [
            (edge, 8.0),
            (wrist, 8.0),
            (wrist + 4.0, -back),
            (web - beside - 4.0, -back),
            (web - beside, 8.0),
            (web + beside, 8.0),
            (web + beside + 4.0, 0.0),
            (end, 0.0),
        ];
        between(&steps, at)
    };
    let reach =
        |at: f64| girth(at) - 40.0 + stands_out(at, 0.18 * 82.0) + stands_out(at, 0.10 * 82.0);
    let step = 0.1;
    let count = ((end - edge) / step) as u32;
    let by_hand: f64 = (0..count)
        .map(|it| edge + f64::from(it) * step)
        .map(|at| f64::midpoint(reach(at), reach(at + step)) * step)
        .sum();
    let drawn = piece(&case, Kind::Cuff).area().to_mm2();
    assert!(near(drawn, by_hand, 0.01), "{drawn} and {by_hand}");
}

/// A corner of 15 mm takes r − √(r² − (r − 1)²) = 9.6 mm off each side at 1 mm from the end, also where a
/// girth was measured just behind the piece's edge.
#[test]
fn corners_are_round_beside_a_girth() {
    for place in ["5 cm", "1.5 cm"] {
        let change = format!("from_crease: {place}, girth: 17 cm");
        let text = demo::edited(BASE, &[("from_crease: 5 cm, girth: 18.2 cm", &change)]);
        let drawn = piece(&demo::read(&text), Kind::ForearmPiece);
        let at_the_edge = drawn.widths[0].width.to_mm();
        let wide = cut(&points(&drawn.outline, 48), 1.0, true);
        assert!((at_the_edge - 19.2 - wide).abs() < 2.0, "{place}: {at_the_edge} and {wide}");
    }
}

/// The widths that card and pattern name are those of the drawn piece, to half a millimetre.
#[test]
fn a_piece_is_as_wide_as_it_is_said_to_be() {
    for path in demo::files() {
        let case = demo::read(&std::fs::read_to_string(path).unwrap());
        let drawn = pattern(&case);
        for piece in drawn.pieces.iter().filter(|it| it.kind == Kind::ForearmPiece) {
            let (ring, edge) = (points(&piece.outline, 48), piece.widths[0].from_crease);
            let left = 1.0 - case.orthosis.cut.draping_stretch;
            // At the very edge the corners are rounded off.
            for told in &piece.widths[1..] {
                let place = (told.from_crease - edge).to_mm() * left;
                let wide = cut(&ring, place, true);
                assert!((wide - told.width.to_mm()).abs() < 0.5, "{wide} mm for {told:?}");
            }
        }
    }
}

/// Whether an outline crosses itself nowhere.
fn is_simple(outline: &Outline) -> bool {
    let mut ring = points(outline, 6);
    ring.dedup_by(|one, other| same(&[*one], &[*other]));
    Polygon::new(LineString(ring), Vec::new()).is_valid()
}

proptest! {
    #![proptest_config(demo::draws(200))]

    #[test]
    fn both_geometry_crates_agree(case in limbs()) {
        for piece in &pattern(&case).pieces {
            for outline in outlines(piece) {
                prop_assert!(agrees(outline), "{:?}", piece.kind);
            }
        }
    }
}

proptest! {
    #![proptest_config(demo::draws(3_000))]

    /// Whatever a case file lets through gives outlines that scissors can follow.
    #[test]
    fn no_outline_crosses_itself(case in anything()) {
        for piece in &pattern(&case).pieces {
            prop_assert!(is_simple(&piece.outline), "{:?}", piece.kind);
            prop_assert!(piece.outline.area().to_mm2() > 0.0);
        }
    }

    #[test]
    fn random_cases_are_ones_that_a_file_can_hold(case in prop_oneof![anything(), limbs()]) {
        let text = case::normalised(&case);
        let read = case::read(text.as_bytes());
        prop_assert!(read.is_ok(), "{:#?}", read.unwrap_err().faults);
    }
}
