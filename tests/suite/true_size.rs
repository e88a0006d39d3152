//! True size on paper: ruler, gauge and check bar read back from the PDF, to a hundredth of a mm.

use tautline::calc::loops::Loop;
use tautline::sheets::Paper;

use crate::papers::{Printed, all};
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

fn loops(printed: &Printed) -> impl Iterator<Item = &Loop> {
    printed.plan.pulls.iter().flat_map(|it| &it.loops)
}

/// Each ruler has a tick for each millimetre, and each mark lies at its place from the ruler's zero.
#[test]
fn rulers_are_true() {
    for printed in all().iter().filter(|it| it.paper == Paper::Handout) {
        let pdf = Pdf::read(&printed.bytes);
        let mut seen = Vec::new();
        for index in 0..pdf.page_count() {
            seen.extend(rulers(&pdf.strokes(index)));
        }
        let wanted: Vec<&Loop> = loops(printed).collect();
        assert_eq!(seen.len(), wanted.len(), "{}: rulers", printed.name);
        for (ruler, made) in seen.iter().zip(wanted) {
            assert!(ruler.ticks.len() > 10, "{}", printed.name);
            for (millimetre, tick) in ruler.ticks.iter().enumerate() {
                assert!(
                    (tick - millimetre as f64).abs() < TOLERANCE,
                    "{}: tick {millimetre} at {tick}",
                    printed.name
                );
            }
            let marks: Vec<f64> = made.marks.iter().map(|it| it.place.to_mm()).collect();
            assert_eq!(ruler.marks.len(), marks.len(), "{}", printed.name);
            for (got, want) in ruler.marks.iter().zip(marks) {
                assert!(
                    (got - want).abs() < TOLERANCE,
                    "{}: mark at {got}, not {want}",
                    printed.name
                );
            }
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

/// The two end lines of each gauge lie exactly the loop's flat length apart, or half of it where the
/// loop is folded once.
#[test]
fn gauges_are_true() {
    for printed in all().iter().filter(|it| it.paper == Paper::Card) {
        let pdf = Pdf::read(&printed.bytes);
        let mut gauges: Vec<f64> = Vec::new();
        for index in 0..pdf.page_count() {
            let strokes = pdf.strokes(index);
            for vertical in [true, false] {
                let ends = places(&strokes, GAUGE_END, vertical);
                gauges.extend(ends.chunks_exact(2).map(|pair| pair[1] - pair[0]));
            }
        }
        let wanted: Vec<f64> = loops(printed).map(|it| it.flat.to_mm()).collect();
        assert_eq!(gauges.len(), wanted.len(), "{}: {gauges:?}", printed.name);
        for want in wanted {
            let fits = |got: &&f64| {
                (**got - want).abs() < TOLERANCE || (**got - want / 2.0).abs() < TOLERANCE
            };
            assert!(gauges.iter().any(|got| fits(&got)), "{}: {want} in {gauges:?}", printed.name);
        }
    }
}

/// Every page with a ruler or a gauge carries a bar of exactly 50 mm and says what it is for.
#[test]
fn check_bars_are_true() {
    for printed in all() {
        let pdf = Pdf::read(&printed.bytes);
        let mut bars = 0;
        for index in 0..pdf.page_count() {
            let strokes = pdf.strokes(index);
            let ends = places(&strokes, BAR_END, true);
            let has_ruler = !rulers(&strokes).is_empty();
            let has_gauge =
                [true, false].iter().any(|way| places(&strokes, GAUGE_END, *way).len() >= 2);
            if has_ruler || has_gauge {
                assert!(ends.len() >= 2, "{} page {}: no check bar", printed.name, index + 1);
            }
            for pair in ends.chunks_exact(2) {
                assert!((pair[1] - pair[0] - 50.0).abs() < TOLERANCE, "{}: {pair:?}", printed.name);
                let text = pdf.page_text(index);
                assert!(text.contains("50"), "{}", printed.name);
                bars += 1;
            }
        }
        assert_eq!(bars > 0, printed.paper != Paper::Summary, "{}", printed.name);
    }
}
