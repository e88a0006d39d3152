//! The paper pattern at true size: tiles are laid on each other by their match marks, as hands do it,
//! and what then lies on the table is measured.

use lopdf::content::Content;
use tautline::calc::pattern::{Outline, Piece, Spot};
use tautline::sheets::Paper;
use tautline::units::{Length, math};

use crate::demo;
use crate::papers::{Printed, all, squeezed, typeset};
use crate::pdf::{Drawn, Pdf, Stroke};

/// How far a length across tiles may be off, in mm.
const TOLERANCE: f64 = 0.05;
/// Stroke widths in points, see `layouts/parts/system.typ` and `layouts/drawings/style.typ`.
const MATCH: f64 = 0.9;
const CROP: f64 = 0.3;
const CUT: f64 = 1.4;
const SQUARE: f64 = 0.8;
const HOLE: f64 = 0.85;

type Point = (f64, f64);

/// One tile's page in page space, y down from the top.
struct Tile {
    letter: char,
    /// Left, top, right, bottom of the window.
    window: [f64; 4],
    crosses: Vec<Point>,
    /// Everything the scissors follow, in short steps.
    cut: Vec<Vec<Point>>,
    holes: Vec<Vec<Point>>,
}

fn is(width: f64, wanted: f64) -> bool {
    (width - wanted).abs() < 1e-3
}

fn down((x, y): Point) -> Point {
    (x, -y)
}

/// Points along every stroke of one width.
fn traced(drawn: &Drawn, width: f64) -> Vec<Vec<Point>> {
    let lines = drawn.strokes.iter().filter(|it| is(it.width_pt, width)).map(|it| {
        let at = |share: f64| {
            let way = |from: f64, to: f64| from + (to - from) * share;
            down((way(it.from.0, it.to.0), way(it.from.1, it.to.1)))
        };
        (0..=64).map(|step| at(f64::from(step) / 64.0)).collect()
    });
    let curves = drawn.curves.iter().filter(|it| is(it.width_pt, width)).map(|it| {
        let at = |t: f64| {
            let weights = [
                (1.0 - t) * (1.0 - t) * (1.0 - t),
                3.0 * t * (1.0 - t) * (1.0 - t),
                3.0 * t * t * (1.0 - t),
                t * t * t,
            ];
            let sum = |of: fn(&Point) -> f64| {
                weights.iter().zip(&it.points).map(|(weight, point)| weight * of(point)).sum()
            };
            down((sum(|point| point.0), sum(|point| point.1)))
        };
        (0..=64).map(|step| at(f64::from(step) / 64.0)).collect()
    });
    lines.chain(curves).collect()
}

/// The match marks: a flat and an upright stroke of 12 mm that halve each other.
fn crosses(strokes: &[Stroke]) -> Vec<Point> {
    let marks: Vec<&Stroke> = strokes.iter().filter(|it| is(it.width_pt, MATCH)).collect();
    let flat = marks.iter().filter(|it| it.is_horizontal());
    let middle =
        |it: &Stroke| (f64::midpoint(it.from.0, it.to.0), f64::midpoint(it.from.1, it.to.1));
    let found: Vec<Point> = flat
        .map(|flat| {
            assert!((flat.length() - 12.0).abs() < 0.01, "{flat:?}");
            let here = middle(flat);
            let is_here = |it: &&&Stroke| it.is_vertical() && apart(middle(it), here) < 0.01;
            assert!(marks.iter().filter(is_here).count() == 1, "a match mark is a cross: {flat:?}");
            down(here)
        })
        .collect();
    assert_eq!(found.len() * 2, marks.len());
    found
}

fn apart(one: Point, other: Point) -> f64 {
    math::hypot(one.0 - other.0, one.1 - other.1)
}

/// The window from its crop marks, whose inner ends are its corners.
fn window(strokes: &[Stroke]) -> Option<[f64; 4]> {
    let crop =
        strokes.iter().filter(|it| is(it.width_pt, CROP) && (it.length() - 2.0).abs() < 0.01);
    let (flat, upright): (Vec<&Stroke>, Vec<&Stroke>) = crop.partition(|it| it.is_horizontal());
    if flat.len() != 4 || upright.len() != 4 {
        return None;
    }
    let least = |all: &[&Stroke], of: fn(&Stroke) -> f64| {
        all.iter().map(|it| of(it)).fold(f64::INFINITY, f64::min)
    };
    let most = |all: &[&Stroke], of: fn(&Stroke) -> f64| {
        all.iter().map(|it| of(it)).fold(f64::NEG_INFINITY, f64::max)
    };
    Some([
        least(&upright, |it| it.from.0),
        -most(&flat, |it| it.from.1),
        most(&upright, |it| it.from.0),
        -least(&flat, |it| it.from.1),
    ])
}

/// Every tile of a printed pattern, in page order; each page that is laid at true size has its square.
fn tiles(printed: &Printed) -> Vec<Tile> {
    let pdf = Pdf::read(&printed.bytes);
    let mut found = Vec::new();
    for index in 0..pdf.page_count() {
        let drawn = pdf.drawn(index);
        let Some(window) = window(&drawn.strokes) else { continue };
        square_holds(&drawn.strokes, &format!("{} page {}", printed.name, index + 1));
        let text = pdf.page_text(index);
        let is_name = |it: &&str| {
            let mut letters = it.chars();
            letters.next().is_some_and(|it| it.is_ascii_uppercase())
                && letters.clone().next().is_some()
                && letters.all(|it| it.is_ascii_digit())
        };
        let name = text.split_whitespace().find(is_name);
        let name = name.unwrap_or_else(|| panic!("{} page {}: no name", printed.name, index + 1));
        for word in ["This face up", printed.case.patient.side.word()] {
            assert!(text.to_lowercase().contains(&word.to_lowercase()), "{word}: {text}");
        }
        found.push(Tile {
            letter: name.chars().next().unwrap(),
            window,
            crosses: crosses(&drawn.strokes),
            cut: traced(&drawn, CUT),
            holes: traced(&drawn, HOLE),
        });
    }
    found
}

/// Four strokes of exactly 50 mm that make a square.
fn square_holds(strokes: &[Stroke], name: &str) {
    let sides: Vec<&Stroke> = strokes.iter().filter(|it| is(it.width_pt, SQUARE)).collect();
    let places = |is_flat: bool| {
        let of = sides.iter().filter(move |it| it.is_horizontal() == is_flat);
        let mut places: Vec<f64> =
            of.map(|it| if is_flat { it.from.1 } else { it.from.0 }).collect();
        places.sort_by(f64::total_cmp);
        places
    };
    for side in &sides {
        assert!((side.length() - 50.0).abs() < 0.01, "{name}: {side:?}");
    }
    for is_flat in [true, false] {
        let places = places(is_flat);
        assert_eq!(places.len(), 2, "{name}: {places:?}");
        assert!((places[1] - places[0] - 50.0).abs() < 0.01, "{name}: {places:?}");
    }
}

/// The marks of a tile that lie along one edge of its window, in order along it.
fn along(tile: &Tile, edge: usize) -> Vec<Point> {
    let is_upright = edge.is_multiple_of(2);
    let off = |it: &Point| {
        let across = if is_upright { it.0 } else { it.1 };
        (across - tile.window[edge]).abs()
    };
    let mut marks: Vec<Point> =
        tile.crosses.iter().copied().filter(|it| (off(it) - 5.0).abs() < 0.02).collect();
    marks.sort_by(
        |one, other| {
            if is_upright { one.1.total_cmp(&other.1) } else { one.0.total_cmp(&other.0) }
        },
    );
    marks
}

const LEFT: usize = 0;
const TOP: usize = 1;
const RIGHT: usize = 2;
const BOTTOM: usize = 3;

/// By how much a tile must be moved so that its marks lie on those of a neighbour that lies already.
fn onto(tile: &Tile, edge: usize, near: &Tile, near_edge: usize, moved: Point) -> Point {
    let (own, other) = (along(tile, edge), along(near, near_edge));
    assert_eq!(own.len(), 2);
    assert_eq!(other.len(), 2);
    let shifts: Vec<Point> = own
        .iter()
        .zip(&other)
        .map(|(own, other)| (other.0 + moved.0 - own.0, other.1 + moved.1 - own.1))
        .collect();
    // Both marks meet: nothing is turned or stretched.
    assert!(apart(shifts[0], shifts[1]) < TOLERANCE, "{shifts:?}");
    shifts[0]
}

/// How each tile of one piece is moved to lie where it belongs beside the first.
fn laid(tiles: &[&Tile]) -> Vec<Point> {
    let mut shifts: Vec<Point> = Vec::new();
    // The first tile of the row that is laid now, and of the row above.
    let mut row_start = 0;
    for (index, tile) in tiles.iter().enumerate() {
        let shift = if index == 0 {
            (0.0, 0.0)
        } else if along(tile, LEFT).is_empty() {
            let shift = onto(tile, TOP, tiles[row_start], BOTTOM, shifts[row_start]);
            row_start = index;
            shift
        } else {
            let shift = onto(tile, LEFT, tiles[index - 1], RIGHT, shifts[index - 1]);
            if !along(tile, TOP).is_empty() {
                // In a lower row the tile above agrees with the one before.
                let columns = row_start;
                let above = index - columns.max(1);
                if index >= columns && columns > 0 {
                    let other = onto(tile, TOP, tiles[above], BOTTOM, shifts[above]);
                    assert!(apart(shift, other) < TOLERANCE, "{shift:?}, {other:?}");
                }
            }
            shift
        };
        shifts.push(shift);
    }
    shifts
}

/// All strokes of one piece on the table, moved so that its corner lies where the outline's does.
struct Table {
    cut: Vec<Point>,
    holes: Vec<Point>,
}

fn table(tiles: &[&Tile], piece: &Piece) -> Table {
    let shifts = laid(tiles);
    let gather = |of: fn(&Tile) -> &Vec<Vec<Point>>| -> Vec<Point> {
        tiles
            .iter()
            .zip(&shifts)
            .flat_map(|(tile, shift)| {
                of(tile).iter().flatten().map(move |it| (it.0 + shift.0, it.1 + shift.1))
            })
            .collect()
    };
    let (mut cut, mut holes) = (gather(|it| &it.cut), gather(|it| &it.holes));
    let least = |of: fn(&Point) -> f64| cut.iter().map(of).fold(f64::INFINITY, f64::min);
    let low = piece.extent().low;
    let by = (low.x.to_mm() - least(|it| it.0), low.y.to_mm() - least(|it| it.1));
    for point in cut.iter_mut().chain(&mut holes) {
        *point = (point.0 + by.0, point.1 + by.1);
    }
    Table { cut, holes }
}

fn spot((x, y): Point) -> Spot {
    Spot { x: Length::mm(x), y: Length::mm(y) }
}

/// The piece on the table is the piece that was planned: its length and width across all tiles, every
/// point of every stroke, and no part of its edge missing.
fn is_true(printed: &Printed) {
    let tiles = tiles(printed);
    for (piece, letter) in printed.plan.pattern.pieces.iter().zip('A'..) {
        let own: Vec<&Tile> = tiles.iter().filter(|it| it.letter == letter).collect();
        assert!(!own.is_empty(), "{}: no tile of {letter}", printed.name);
        let table = table(&own, piece);
        let size = |of: fn(&Point) -> f64| {
            let all = table.cut.iter().map(of);
            all.clone().fold(f64::NEG_INFINITY, f64::max) - all.fold(f64::INFINITY, f64::min)
        };
        let extent = piece.extent();
        for (got, want) in
            [(size(|it| it.0), extent.width().to_mm()), (size(|it| it.1), extent.height().to_mm())]
        {
            assert!((got - want).abs() < TOLERANCE, "{} {letter}: {got}, not {want}", printed.name);
        }
        let edges: Vec<&Outline> = [&piece.outline].into_iter().chain(&piece.opening).collect();
        for point in table.cut.iter().step_by(7) {
            let off = edges.iter().map(|it| it.distance(spot(*point)).to_mm());
            let off = off.fold(f64::INFINITY, f64::min);
            assert!(off < TOLERANCE, "{} {letter}: {point:?} lies {off} mm off", printed.name);
        }
        for edge in edges {
            is_whole(edge, &table.cut, &printed.name);
        }
        holes_hold(piece, &table.holes, &printed.name);
    }
}

/// Every point of the planned edge has a printed point near it.
fn is_whole(outline: &Outline, printed: &[Point], name: &str) {
    for segment in outline.path().segments() {
        for step in 0..=16 {
            let at = kurbo::ParamCurve::eval(&segment, f64::from(step) / 16.0);
            let near = printed.iter().map(|it| apart(*it, (at.x, at.y)));
            let near = near.fold(f64::INFINITY, f64::min);
            // Printed points stand at most 4 mm apart: a 64th of the longest straight edge.
            assert!(near < 2.0, "{name}: nothing printed within {near} mm of {at:?}");
        }
    }
}

/// Each hole is a circle about the planned place.
fn holes_hold(piece: &Piece, printed: &[Point], name: &str) {
    for hole in &piece.holes {
        let middle = (hole.at.x.to_mm(), hole.at.y.to_mm());
        let radius = hole.diameter.to_mm() / 2.0;
        let round = printed.iter().filter(|it| (apart(**it, middle) - radius).abs() < TOLERANCE);
        assert!(round.count() > 100, "{name}: no hole at {middle:?}");
    }
}

fn patterns(printed: &[Printed]) -> impl Iterator<Item = &Printed> {
    printed.iter().filter(|it| it.paper == Paper::Pattern)
}

#[test]
fn the_demos_pieces_come_out_right_on_the_table() {
    let mut drawn = 0;
    for printed in patterns(all()) {
        is_true(printed);
        drawn += printed.plan.pattern.pieces.len();
    }
    assert!(drawn >= 12, "{drawn}");
}

/// The largest limb that a file may hold.
const LARGEST: [(&str, &str); 7] = [
    ("hand_length: 18.4 cm", "hand_length: 25 cm"),
    ("forearm_length: 24.5 cm", "forearm_length: 38 cm"),
    ("around_elbow: 58 cm", "around_elbow: 99 cm"),
    ("from_crease: 20 cm, girth: 26.0 cm", "from_crease: 30 cm, girth: 50.0 cm"),
    ("elbow_girth: 27 cm", "elbow_girth: 52 cm"),
    ("knuckle_girth: 19.8 cm", "knuckle_girth: 30 cm"),
    ("finger_joint_girth: 18.6 cm", "finger_joint_girth: 29 cm"),
];

/// The largest limb that a file may hold needs tiles in rows and columns.
#[test]
fn a_piece_of_many_tiles_comes_out_right_on_the_table() {
    let text = demo::edited("quarry-bend-left-flexion", &LARGEST);
    let printed = typeset("many tiles", &text);
    for printed in patterns(&printed) {
        let tiles = tiles(printed);
        assert!(tiles.iter().filter(|it| it.letter == 'A').count() >= 8, "{}", tiles.len());
        assert!(tiles.iter().any(|it| !along(it, BOTTOM).is_empty()));
        is_true(printed);
        // Seams or not, each word stands on some page.
        let text = squeezed(&Pdf::read(&printed.bytes).text());
        for word in [
            "wristend,palmside",
            "wristend,back",
            "thumbside",
            "little-fingerside",
            "roundtheelbow",
            "strip",
            "straprunsover",
            "fingerend",
        ] {
            assert!(text.contains(word), "{}: {word}", printed.name);
        }
    }
}

/// Both sides of a seam are printed twice: the overlap of one page repeats that of the next.
/// The arrow of the grain crosses the seams of a large piece; its head stands at its end and not at each seam.
#[test]
fn an_arrow_cut_by_a_seam_has_one_head() {
    let grain = ("thickness: 3.2 mm }", "thickness: 3.2 mm, grain: lengthwise }");
    let edits: Vec<(&str, &str)> = LARGEST.into_iter().chain([grain]).collect();
    let text = demo::edited("quarry-bend-left-flexion", &edits);
    for printed in patterns(&typeset("largest, with grain", &text)) {
        let pdf = Pdf::read(&printed.bytes);
        // The first page shows whole pieces; then each piece has its arrow on one page or in parts on several.
        let heads: usize = (1..pdf.page_count()).map(|page| arrow_heads(&pdf.content(page))).sum();
        assert_eq!(heads, printed.plan.pattern.pieces.len(), "{}", printed.name);
    }
}

/// How many triangles a page fills: a path of two lines, closed and filled.
fn arrow_heads(content: &[u8]) -> usize {
    let content = Content::decode(content).unwrap();
    let steps: Vec<&str> = content.operations.iter().map(|it| it.operator.as_str()).collect();
    steps.windows(5).filter(|it| **it == ["m", "l", "l", "h", "f"]).count()
}

#[test]
fn overlaps_repeat_each_other() {
    let printed = patterns(all()).next().unwrap();
    let tiles = tiles(printed);
    for pair in tiles.windows(2).filter(|it| it[0].letter == it[1].letter) {
        let shift = onto(&pair[1], LEFT, &pair[0], RIGHT, (0.0, 0.0));
        let seam = pair[0].window[RIGHT] - 10.0;
        let in_seam = |it: &&Point| it.0 > seam + 0.1 && it.0 < seam + 9.9;
        let one: Vec<&Point> = pair[0].cut.iter().flatten().filter(in_seam).collect();
        let other: Vec<Point> =
            pair[1].cut.iter().flatten().map(|it| (it.0 + shift.0, it.1 + shift.1)).collect();
        assert!(!one.is_empty());
        for point in one {
            let near = other.iter().map(|it| apart(*it, *point)).fold(f64::INFINITY, f64::min);
            assert!(near < 2.0, "{point:?}: {near}");
        }
    }
}
