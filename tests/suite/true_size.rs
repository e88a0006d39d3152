//! True size on paper: ruler, gauge and check bar read back from the PDF, to a hundredth of a mm.

use lopdf::decode_text_string;
use tautline::calc::loops::Loop;
use tautline::sheets::Paper;

use crate::demo;
use crate::papers::{Printed, all, given_out, is_done, mid_course, squeezed, to_make, typeset};
use crate::pdf::{Pdf, Stroke};

/// A hundredth of a millimetre.
const TOLERANCE: f64 = 0.01;
/// Stroke widths that tell the drawings apart, in points: see `layouts/parts`.
const TICK: f64 = 0.4;
const MARK: f64 = 1.2;
const GAUGE_END: f64 = 1.0;
const BAR_END: f64 = 0.8;

fn is_width(stroke: &Stroke, width: f64) -> bool {
    (stroke.width_pt - width).abs() < 1e-3
}

/// Strokes of one width, one way, on one page, as places across that way, ascending.
fn places(strokes: &[Stroke], width: f64, vertical: bool) -> Vec<f64> {
    let mut places: Vec<f64> = strokes
        .iter()
        .filter(|it| is_width(it, width))
        .filter(|it| if vertical { it.is_vertical() } else { it.is_horizontal() })
        .map(|it| if vertical { it.from.0 } else { it.from.1 })
        .collect();
    places.sort_by(f64::total_cmp);
    places.dedup_by(|next, kept| (*next - *kept).abs() < 1e-4);
    places
}

const BASE: &str = "quarry-bend-left-flexion";

/// Made to stretch the drawings: (what it shows, changes of the base case).
const STRETCHED: [(&str, &[(&str, &str)]); 6] = [
    ("gauge over 215 mm", &[("cuff_path: 60 mm", "cuff_path: 120 mm")]),
    (
        "ruler down the page",
        &[
            ("passive: { flexion: 25", "passive: { flexion: 0"),
            ("goal: 60", "goal: 90"),
            ("hole_from_crease: 135 mm", "hole_from_crease: 175 mm"),
            ("end_from_crease: 142 mm", "end_from_crease: 182 mm"),
            ("length: 90 mm, width", "length: 190 mm, width"),
            ("pad_length: 30 mm", "pad_length: 15 mm"),
        ],
    ),
    ("three loops", &[("goal: 60", "goal: 80"), ("length: 90 mm, width", "length: 64 mm, width")]),
    ("mark 0 at the strip's end", &[("goal: 60", "goal: 60\n      reserve: 0")]),
    (
        "gauge folded twice",
        &[
            ("forearm_length: 24.5 cm", "forearm_length: 39 cm"),
            ("around_elbow: 58 cm", "around_elbow: 90 cm"),
            ("start_from_crease: 55 mm", "start_from_crease: 290 mm"),
            ("cuff_path: 60 mm", "cuff_path: 300 mm"),
            ("goal: 60", "goal: 30"),
        ],
    ),
    (
        "ruler as long as a page",
        &[
            ("forearm_length: 24.5 cm", "forearm_length: 38 cm"),
            ("around_elbow: 58 cm", "around_elbow: 90 cm"),
            ("hand_length: 18.4 cm", "hand_length: 25 cm"),
            ("passive: { flexion: 25", "passive: { flexion: -30"),
            ("goal: 60", "goal: 90"),
            ("hole_from_crease: 135 mm", "hole_from_crease: 248 mm"),
            ("end_from_crease: 142 mm", "end_from_crease: 250 mm"),
            ("length: 90 mm, width", "length: 210 mm, width"),
            ("pad_length: 30 mm", "pad_length: 10 mm"),
        ],
    ),
];

/// The papers of a stretched case on both page sizes.
fn stretched(name: &str) -> Vec<Printed> {
    let (_, changes) = STRETCHED.iter().find(|(it, _)| *it == name).unwrap();
    typeset(name, &demo::edited(BASE, changes))
}

fn loops(printed: &Printed) -> impl Iterator<Item = &Loop> {
    printed.plan.pulls.iter().flat_map(|it| &it.loops)
}

/// The rulers of all pages, in reading order.
fn rulers_of(printed: &Printed) -> Vec<Ruler> {
    let pdf = Pdf::read(&printed.bytes);
    (0..pdf.page_count()).flat_map(|index| rulers(&pdf.strokes(index))).collect()
}

/// Each label's scale is true and as long as its strip, to the millimetre; each loop has two.
fn labels_hold(printed: &Printed) {
    let seen = rulers_of(printed);
    let twice = given_out(printed).into_iter().flat_map(|made| [made.clone(), made]).collect();
    are_true(printed, &seen, twice);
    let strips = printed.plan.pulls.iter().flat_map(|pull| {
        let given = |it: &&Loop| it.marks.iter().any(|mark| pull.is_given_out(mark));
        let strip = pull.geometry.strip_length.to_mm();
        pull.loops.iter().filter(given).flat_map(move |_| [strip, strip])
    });
    for (ruler, strip) in seen.iter().zip(strips) {
        let last = ruler.ticks.last().unwrap();
        assert!((last - strip.floor()).abs() < TOLERANCE, "{}: {last}, {strip}", printed.name);
    }
}

/// The handout's rulers: one for each loop that gives out a mark.
fn rulers_hold(printed: &Printed) {
    are_true(printed, &rulers_of(printed), given_out(printed));
}

/// Each ruler has a tick for each millimetre, and each mark lies at its place from the ruler's zero.
fn are_true(printed: &Printed, seen: &[Ruler], wanted: Vec<Loop>) {
    assert_eq!(seen.len(), wanted.len(), "{}: rulers", printed.name);
    for (ruler, made) in seen.iter().zip(wanted) {
        assert!(ruler.ticks.len() > 10, "{}", printed.name);
        for (millimetre, tick) in ruler.ticks.iter().enumerate() {
            let off = (tick - millimetre as f64).abs();
            assert!(off < TOLERANCE, "{}: tick {millimetre} at {tick}", printed.name);
        }
        let marks: Vec<f64> = made.marks.iter().map(|it| it.place.to_mm()).collect();
        assert_eq!(ruler.marks.len(), marks.len(), "{}", printed.name);
        for (got, want) in ruler.marks.iter().zip(marks) {
            let off = (got - want).abs();
            assert!(off < TOLERANCE, "{}: mark at {got}, not {want}", printed.name);
        }
    }
}

/// Ticks and marks of a ruler, from its zero.
struct Ruler {
    ticks: Vec<f64>,
    marks: Vec<f64>,
}

/// The rulers of a page: rows of tick strokes, all of whose places lie 1 mm apart.
fn rulers(strokes: &[Stroke]) -> Vec<Ruler> {
    let mut rulers = Vec::new();
    for vertical in [true, false] {
        let across = |it: &Stroke| if vertical { it.from.0 } else { it.from.1 };
        let along =
            |it: &Stroke| if vertical { it.from.1.max(it.to.1) } else { it.from.0.min(it.to.0) };
        let lies = |it: &&Stroke| if vertical { it.is_vertical() } else { it.is_horizontal() };
        let of = |width: f64| strokes.iter().filter(move |it| is_width(it, width)).filter(lies);
        let ticks: Vec<&Stroke> = of(TICK).filter(|it| it.length() < 12.0).collect();
        // Rows stand apart from each other; gather ticks by where they stand.
        let mut rows: Vec<Vec<&Stroke>> = Vec::new();
        for tick in &ticks {
            match rows.iter_mut().find(|row| (along(row[0]) - along(tick)).abs() < 12.0) {
                Some(row) => row.push(tick),
                None => rows.push(vec![tick]),
            }
        }
        rows.retain(|row| row.len() > 10);
        // Down the page, rows come in reading order: highest first.
        rows.sort_by(|one, other| along(other[0]).total_cmp(&along(one[0])));
        for row in rows {
            let mut ticks: Vec<f64> = row.iter().map(|it| across(it)).collect();
            ticks.sort_by(f64::total_cmp);
            ticks.dedup_by(|next, kept| (*next - *kept).abs() < 1e-4);
            // Rulers beside each other in one row: a gap parts them. Read from the left, or the top.
            let mut parts: Vec<&[f64]> =
                ticks.chunk_by(|one, next| next - one < 2.0).filter(|it| it.len() > 10).collect();
            if !vertical {
                parts.reverse();
            }
            for part in parts {
                let (start, end) = (part[0], part[part.len() - 1]);
                let mut marks: Vec<f64> = of(MARK)
                    .filter(|it| (along(it) - along(row[0])).abs() < 25.0)
                    .map(across)
                    .filter(|it| (start - 0.5..=end + 0.5).contains(it))
                    .collect();
                marks.sort_by(f64::total_cmp);
                marks.dedup_by(|next, kept| (*next - *kept).abs() < 1e-4);
                // Zero is on the left, or at the top.
                let from_zero = |it: f64| if vertical { it - start } else { end - it };
                let mut ruler = Ruler {
                    ticks: part.iter().copied().map(from_zero).collect(),
                    marks: marks.into_iter().map(from_zero).collect(),
                };
                ruler.ticks.sort_by(f64::total_cmp);
                ruler.marks.sort_by(f64::total_cmp);
                rulers.push(ruler);
            }
        }
    }
    rulers
}

/// The longest gauge that a page holds between header and footer: a longer loop is folded in half,
/// and again until it fits.
const LONGEST_GAUGE: f64 = 215.0;

/// Where the gauges of a page end: pairs of end lines, from end to end.
fn gauges(strokes: &[Stroke]) -> Vec<f64> {
    let ways = [true, false].into_iter();
    ways.flat_map(|vertical| {
        let ends = places(strokes, GAUGE_END, vertical);
        assert!(ends.len().is_multiple_of(2), "{ends:?}");
        ends.chunks_exact(2).map(|pair| pair[1] - pair[0]).collect::<Vec<f64>>()
    })
    .collect()
}

/// The end lines of each gauge lie the flat length of a loop that is to be made apart, folded exactly where it is longer
/// than a page, and the label says whether it is.
fn gauges_hold(printed: &Printed) {
    let pdf = Pdf::read(&printed.bytes);
    let pages = 0..pdf.page_count();
    let mut seen: Vec<f64> = pages.flat_map(|index| gauges(&pdf.strokes(index))).collect();
    let mut wanted = Vec::new();
    let mut folded = 0;
    for (_, made) in to_make(printed) {
        let mut flat = made.flat.to_mm();
        folded += usize::from(flat > LONGEST_GAUGE);
        while flat > LONGEST_GAUGE {
            flat /= 2.0;
        }
        wanted.push(flat);
    }
    seen.sort_by(f64::total_cmp);
    wanted.sort_by(f64::total_cmp);
    assert_eq!(seen.len(), wanted.len(), "{}: {seen:?}", printed.name);
    for (got, want) in seen.iter().zip(&wanted) {
        assert!((got - want).abs() < TOLERANCE, "{}: {got}, not {want}", printed.name);
    }
    let tags = pdf.tags();
    let spoken = tags.iter().filter_map(|(_, element)| pdf.get(element, "Alt"));
    let spoken = spoken.filter_map(|it| decode_text_string(it).ok());
    let said =
        spoken.filter(|it| it.starts_with("Gauge at true size") && it.contains("folded")).count();
    assert_eq!(said, folded, "{}: gauges said to be folded", printed.name);
}

/// Every page with a ruler, a label or a gauge carries a bar of exactly 50 mm and says what it is for.
fn bars_hold(printed: &Printed) {
    let pdf = Pdf::read(&printed.bytes);
    let mut bars = 0;
    for index in 0..pdf.page_count() {
        let strokes = pdf.strokes(index);
        let ends = places(&strokes, BAR_END, true);
        let is_measured = !rulers(&strokes).is_empty() || !gauges(&strokes).is_empty();
        assert!(ends.len().is_multiple_of(2), "{}: {ends:?}", printed.name);
        assert!(!is_measured || ends.len() >= 2, "{} page {}: no bar", printed.name, index + 1);
        for pair in ends.chunks_exact(2) {
            assert!((pair[1] - pair[0] - 50.0).abs() < TOLERANCE, "{}: {pair:?}", printed.name);
            assert!(squeezed(&pdf.page_text(index)).contains("50mm"), "{}", printed.name);
            bars += 1;
        }
    }
    assert!(bars > 0, "{}", printed.name);
}

/// Ruler, gauge, labels and bar of one paper, whichever it has; the summary has none to measure by, nor has
/// the card where no loop is due.
fn is_true(printed: &Printed) {
    match printed.paper {
        Paper::Handout => rulers_hold(printed),
        Paper::Card => gauges_hold(printed),
        Paper::Labels => labels_hold(printed),
        Paper::Pattern | Paper::Summary | Paper::Brief | Paper::Workings => return,
    }
    if printed.paper == Paper::Card && is_done(printed) {
        return;
    }
    bars_hold(printed);
}

#[test]
fn the_demos_are_true() {
    all().iter().for_each(is_true);
}

/// A course that goes on: rulers and labels of the loop in use and the next, a gauge of the next alone.
#[test]
fn a_course_in_its_middle_is_true() {
    let papers = typeset("mid course", &mid_course());
    assert_eq!(loops(&papers[0]).count(), 2);
    assert_eq!(to_make(&papers[0]).count(), 1);
    papers.iter().for_each(is_true);
}

#[test]
fn a_folded_gauge_is_true() {
    let papers = stretched("gauge over 215 mm");
    assert!(loops(&papers[0]).all(|it| it.flat.to_mm() > LONGEST_GAUGE));
    papers.iter().for_each(is_true);
}

#[test]
fn a_gauge_folded_twice_is_true() {
    let papers = stretched("gauge folded twice");
    assert!(loops(&papers[0]).all(|it| it.flat.to_mm() > 2.0 * LONGEST_GAUGE));
    papers.iter().for_each(is_true);
}

/// Across the page 150 mm of ruler have room; a longer one runs down it.
#[test]
fn a_ruler_down_the_page_is_true() {
    let papers = stretched("ruler down the page");
    let furthest = loops(&papers[0]).flat_map(|it| &it.marks).map(|it| it.place.to_mm());
    assert!(furthest.fold(0.0, f64::max) > 142.0);
    papers.iter().for_each(is_true);
    for printed in papers.iter().filter(|it| it.paper == Paper::Handout) {
        let pdf = Pdf::read(&printed.bytes);
        let is_tick = |it: &Stroke| is_width(it, TICK) && it.is_horizontal();
        let ticks = (0..pdf.page_count()).flat_map(|index| pdf.strokes(index));
        assert!(ticks.filter(is_tick).count() > 150, "{}", printed.name);
    }
}

/// A ruler with its rest behind the last mark would be longer than the 200 mm that a page has room for:
/// it is cut there, and every mark still lies on it.
#[test]
fn a_ruler_longer_than_a_page_is_true() {
    let papers = stretched("ruler as long as a page");
    let furthest = loops(&papers[0]).flat_map(|it| &it.marks).map(|it| it.place.to_mm());
    assert!(furthest.fold(0.0, f64::max) > 192.0);
    papers.iter().for_each(is_true);
}

#[test]
fn three_loops_are_true() {
    let papers = stretched("three loops");
    assert_eq!(loops(&papers[0]).count(), 3);
    papers.iter().for_each(is_true);
}

/// With no reserve the first mark lies at the strip's very end.
#[test]
fn a_mark_at_the_strips_end_is_true() {
    let papers = stretched("mark 0 at the strip's end");
    let first = loops(&papers[0]).next().unwrap().marks[0].place.to_mm();
    assert!(first.abs() < 1e-6, "{first}");
    papers.iter().for_each(is_true);
}
