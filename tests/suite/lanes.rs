//! The lane and the straps beside it, and how the pieces lie on the sheet.

use geo::{Area, BooleanOps, Coord, Distance as _, Euclidean, LineString, Polygon};
use proptest::prelude::*;
use tautline::calc::pattern::{Detail, Kind, Mark, Pattern, Piece, pattern};
use tautline::case::{Case, Direction, Grain, STRAP_WIDTH};
use tautline::units::{Length, math};

use crate::bench::{SHEET, drawn, found, turns};
use crate::demo;
use crate::shapes::{between, cut, knots, limbs, piece, points, polygon};

fn mm(value: f64) -> Length {
    Length::mm(value)
}

fn of(piece: &Piece, mark: Mark) -> impl Iterator<Item = &Detail> {
    piece.details.iter().filter(move |it| it.mark == mark)
}

/// No dot of hook lies on a lane, and none past the piece's edge.
fn dots_are_clear(drawn: &Pattern) -> Result<usize, String> {
    let mut dots = 0;
    for piece in &drawn.pieces {
        let sheet = polygon(&piece.outline);
        for dot in of(piece, Mark::Dot) {
            dots += 1;
            let dot = polygon(&dot.outline);
            for lane in of(piece, Mark::Lane) {
                let shared = dot.intersection(&polygon(&lane.outline)).unsigned_area();
                if shared > 1e-6 {
                    return Err(format!("a dot lies on the lane with {shared:.2} mm2"));
                }
            }
            let past = dot.difference(&sheet).unsigned_area();
            if past > 1e-6 {
                return Err(format!("a dot lies past the edge with {past:.2} mm2: {dot:?}"));
            }
        }
    }
    Ok(dots)
}

/// From the piece's edge at 12 mm the line needs 10 mm on each side of it; from 55 − 12 − 6 = 37 mm on, where the
/// tab's folded end can stand, the tab's 25 mm and 4 mm on each side; over the strip its own 50 mm.
#[test]
fn the_lane_is_as_wide_as_line_tab_and_strip_need() {
    let drawn = piece(&drawn("", &[]), Kind::ForearmPiece);
    let lane = of(&drawn, Mark::Lane).next().unwrap();
    let ring = points(&lane.outline, 1);
    let wide = |from_crease: f64| cut(&ring, from_crease - 12.0, true);
    for (place, width) in
        [(12.1, 20.0), (36.9, 20.0), (37.1, 33.0), (54.9, 33.0), (55.1, 50.0), (144.9, 50.0)]
    {
        assert!((wide(place) - width).abs() < 1e-9, "{place}: {}", wide(place));
    }
    assert!(wide(145.1).abs() < 1e-9);
    let strip = of(&drawn, Mark::Strip).next().unwrap().outline.extent();
    assert!(
        (strip.low.x - mm(43.0)).abs() < mm(1e-9) && (strip.height() - mm(50.0)).abs() < mm(1e-9)
    );
    assert!((strip.width() - mm(90.0)).abs() < mm(1e-9));
}

#[test]
fn the_demos_dots_are_clear() {
    let mut dots = 0;
    for path in demo::files() {
        let case = demo::read(&std::fs::read_to_string(&path).unwrap());
        dots += dots_are_clear(&pattern(&case)).unwrap_or_else(|it| panic!("{it}: {path:?}"));
    }
    assert!(dots >= 12, "{dots}");
}

/// A case with another strip, tab and straps; the straps by themselves where none are given.
pub fn strips() -> impl Strategy<Value = Case> {
    (
        prop::sample::select(vec!["quarry-bend-left-flexion", "kiln-both-ways"]),
        (3.0..25.0_f64, 0.0..1.0_f64, 25.0..90.0_f64, 10.0..60.0_f64, 0.0..1.0_f64),
        proptest::option::of((0.0..1.0_f64, 0.0..1.0_f64)),
        any::<bool>(),
    )
        .prop_map(|(name, (hole, start, width, tab, long), straps, is_back)| {
            let mut case = demo::case(name);
            let elbow = case.limb.forearm_length.to_mm();
            let edge = case.orthosis.pulls[0].forearm_piece.edge_from_crease.to_mm();
            let start = edge + hole + 0.1 + start * 100.0;
            for pull in &mut case.orthosis.pulls {
                pull.tab.hole_to_pad = mm(hole);
                pull.tab.width = mm(tab.min(width));
                pull.strip.start_from_crease = mm(start);
                pull.strip.length = mm(40.0 + long * (elbow - start - 40.0).min(170.0));
                pull.strip.width = mm(width);
            }
            if is_back && case.orthosis.pulls.len() == 1 {
                case.orthosis.pulls[0].direction = Direction::Extension;
            }
            let (low, room) = (edge + 12.5, elbow - edge - 50.0);
            case.orthosis.cut.forearm_straps = straps.map(|(near, far)| {
                let near = near * room;
                [mm(low + near), mm(low + near + 25.0 + far * (room - near))]
            });
            case
        })
}

/// Whether the pieces lie on their sheets as the sheet's margin asks, reckoned by the second crate.
fn lies_well(drawn: &Pattern) -> Result<(), String> {
    let used = &drawn.sheet;
    let margin = used.sheet.margin.to_mm();
    let mut laid: Vec<(usize, Polygon)> = Vec::new();
    for lie in &used.lies {
        let piece = &drawn.pieces[lie.piece];
        let extent = piece.extent();
        let middle = Coord {
            x: (extent.low.x + extent.high.x).to_mm() / 2.0,
            y: (extent.low.y + extent.high.y).to_mm() / 2.0,
        };
        let (sin, cos) = math::sin_cos(lie.turned.to_radians());
        let place = |it: Coord| {
            let it = it - middle;
            let turned = Coord { x: cos * it.x - sin * it.y, y: sin * it.x + cos * it.y };
            turned + Coord { x: lie.x.to_mm(), y: lie.y.to_mm() }
        };
        let ring: Vec<Coord> = points(&piece.outline, 8).into_iter().map(place).collect();
        let (long, wide) = (used.sheet.length.to_mm(), used.sheet.width.to_mm());
        for it in &ring {
            let room = it.x.min(it.y).min(long - it.x).min(wide - it.y);
            if room < margin - 1e-6 {
                return Err(format!("{:?} comes within {room} mm of the sheet's edge", piece.kind));
            }
        }
        let ring = Polygon::new(LineString(ring), Vec::new());
        for (_, other) in laid.iter().filter(|it| it.0 == lie.sheet) {
            let apart = Euclidean.distance(&ring, other);
            if apart < margin - 1e-6 {
                return Err(format!("two pieces lie {apart} mm apart"));
            }
        }
        if used.sheet.grain == Grain::Lengthwise && lie.turned.to_radians() != 0.0 {
            return Err("turned off the grain".into());
        }
        laid.push((lie.sheet, ring));
    }
    let sheets = used.lies.iter().map(|it| it.sheet + 1).max().unwrap_or(0);
    let area: f64 = used.lies.iter().map(|it| drawn.pieces[it.piece].area().to_mm2()).sum();
    let whole = used.sheet.length.to_mm() * used.sheet.width.to_mm() * sheets.max(1) as f64;
    if sheets != used.sheets || (used.share - area / whole).abs() > 1e-12 {
        return Err(format!("{} sheets, share {}", used.sheets, used.share));
    }
    let all = used.lies.len() + used.too_big.len();
    if all == drawn.pieces.len() { Ok(()) } else { Err("a piece is lost".into()) }
}

#[test]
fn a_long_piece_lies_askew_unless_the_grain_forbids() {
    // 650 mm long and (270 − 90)/2 = 90 mm wide: too long for 590 mm, not for their diagonal.
    let slim = |sheet: &str| {
        let sheet = format!("sheet: {{ thickness: 3.2 mm{sheet} }}\n  pattern: {{ gap: 45 mm }}");
        drawn("", &[("around_elbow: 58 cm", "around_elbow: 67.4 cm"), (SHEET, &sheet)])
    };
    let free = pattern(&slim(""));
    lies_well(&free).unwrap();
    assert!((free.pieces[0].extent().width().to_mm() - 650.0).abs() < 1e-9);
    assert!(free.sheet.too_big.is_empty());
    let turned = free.sheet.lies[0].turned.to_degrees();
    assert!((10.0..80.0).contains(&turned), "{turned}");
    assert_eq!(pattern(&slim(", grain: lengthwise")).sheet.too_big, [0]);
    turns("sheet-too-small", &slim(", grain: lengthwise"), &slim(""));
}

#[test]
fn a_small_sheet_is_found() {
    let sheet =
        |size: &str| drawn("", &[(SHEET, &format!("sheet: {{ thickness: 3.2 mm, {size} }}"))]);
    // 120 mm wide round the elbow and 556 mm long: 576 × 140 mm with the margin.
    let [big, small] =
        ["length: 577 mm, width: 150 mm", "length: 575 mm, width: 130 mm"].map(sheet);
    turns("sheet-too-small", &small, &big);
    assert_eq!(pattern(&big).sheet.sheets, 2);
    assert_eq!(pattern(&drawn("", &[])).sheet.sheets, 1);
}

proptest! {
    #![proptest_config(demo::draws(300))]

    #[test]
    fn random_strips_leave_the_lane_clear(case in strips()) {
        let clear = dots_are_clear(&pattern(&case));
        prop_assert!(clear.is_ok(), "{}", clear.unwrap_err());
    }

    /// A strap that finds no place by itself between strip and elbow is not drawn round the elbow in silence.
    #[test]
    fn straps_by_themselves_stay_on_the_forearm(case in strips()) {
        let mut case = case;
        case.orthosis.cut.forearm_straps = None;
        let elbow = case.limb.forearm_length;
        let drawn = piece(&case, Kind::ForearmPiece);
        let is_past = drawn.straps.iter().any(|it| it.from_crease + it.width / 2.0 > elbow);
        prop_assert!(!is_past || found(&case, "strap-over-lane").is_some(), "{:?}", drawn.straps);
    }

    /// A strap reaches from dot to dot round the limb: both together with what stays free are the girth over
    /// the sheet, C + 2 π t.
    #[test]
    fn straps_reach_round_the_limb(case in strips()) {
        let drawn = piece(&case, Kind::ForearmPiece);
        let known: Vec<(f64, f64)> = {
            let mut case = case.clone();
            let limb = &mut case.limb;
            let widest = limb.forearm_girths.iter().map(|it| it.girth).reduce(Length::max);
            limb.elbow_girth = limb.elbow_girth.or(widest);
            knots(&case)
        };
        for strap in &drawn.straps {
            let inner: f64 = of(&drawn, Mark::Dot)
                .map(|it| it.outline.extent())
                .filter(|it| it.low.y > Length::ZERO)
                .filter(|it| {
                    let edge = case.orthosis.pulls[0].forearm_piece.edge_from_crease;
                    let at = strap.from_crease - edge;
                    let back = drawn.extent().high.x - at;
                    let middle = (it.low.x + it.high.x) / 2.0;
                    (middle - at).to_mm().abs() < 0.01 || (middle - back).to_mm().abs() < 0.01
                })
                .map(|it| it.low.y.to_mm() * 2.0)
                .sum();
            if strap.dots.unwrap().breadth <= Length::ZERO {
                continue;
            }
            let round = strap.length.to_mm() * f64::from(strap.quantity) + inner;
            let sheet = std::f64::consts::TAU * case.orthosis.sheet.thickness.to_mm();
            let girth = between(&known, strap.from_crease.to_mm()) + sheet;
            prop_assert!((round - girth).abs() < 0.01, "{round} and {girth}: {strap:?}");
            prop_assert_eq!(strap.width, STRAP_WIDTH);
        }
    }

    #[test]
    fn pieces_lie_well_on_any_sheet(
        case in limbs(), size in (150.0..900.0_f64, 100.0..900.0_f64), margin in 0.0..50.0_f64,
        is_grained in any::<bool>(),
    ) {
        let mut case = case;
        let sheet = &mut case.orthosis.sheet;
        sheet.length = mm(size.0.max(size.1));
        sheet.width = mm(size.0.min(size.1));
        sheet.margin = mm(margin);
        sheet.grain = if is_grained { Grain::Lengthwise } else { Grain::None };
        let drawn = pattern(&case);
        let well = lies_well(&drawn);
        prop_assert!(well.is_ok(), "{}", well.unwrap_err());
        prop_assert_eq!(found(&case, "sheet-too-small").is_some(), !drawn.sheet.too_big.is_empty());
    }
}
