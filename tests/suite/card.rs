//! The fabrication card's pages: what the steps of the gauge say, dimensions, filling, and a return visit; the paper
//! pattern and the chart of the dose as far as their lines are concerned.

use tautline::sheets::Paper;

use crate::ink::{self, Item, Mark, Path};
use crate::papers::{Printed, all, squeezed};
use crate::pdf::Pdf;
use crate::quads::Point;

fn of(paper: Paper) -> impl Iterator<Item = &'static Printed> {
    all().iter().filter(move |it| it.paper == paper)
}

fn text(printed: &Printed) -> String {
    squeezed(&Pdf::read(&printed.bytes).text())
}

fn is_made(printed: &Printed) -> bool {
    printed.case.orthosis.pulls.iter().any(|it| it.in_use().is_some())
}

/// A gauge of half the flat length is folded over once more: the drawn step says so, and the step for a gauge of the whole
/// length, which would make such a loop half as long, stands only where there is one.
#[test]
fn the_drawn_step_folds_as_its_gauge_asks() {
    let mut folded = 0;
    for printed in of(Paper::Card) {
        let text = text(printed);
        let count = |words: &str| text.matches(&squeezed(words)).count();
        let (half, quarter) =
            (count("it is half the flat length"), count("it is a quarter of the flat length"));
        let whole = count("serves from") - half - quarter;
        let plain = count("fold the line over the gauge. Mark both strands at its end");
        let twice = count("fold over one end, doubled round the other; mark at the first");
        assert_eq!((plain, twice), (whole.min(1), half.min(1)), "{}", printed.name);
        folded += half;
    }
    assert!(folded > 0, "no demo has a folded gauge");
}

/// Whether a box lies within another.
fn is_within(inner: (Point, Point), outer: (Point, Point)) -> bool {
    inner.0.0 >= outer.0.0
        && inner.0.1 >= outer.0.1
        && inner.1.0 <= outer.1.0
        && inner.1.1 <= outer.1.1
}

fn is_white(path: &Path) -> bool {
    path.width_mm.is_none() && path.fill.is_some_and(|it| it > 0.99)
}

/// The lines of a page of a width in points, and all that is painted after each.
fn lines(items: &[Item], width_pt: f64) -> impl Iterator<Item = (&Item, &[Item])> {
    let is_it = move |it: &Item| {
        let width = it.path().and_then(|it| it.width_mm);
        width.is_some_and(|it| (it - width_pt * 25.4 / 72.0).abs() < 1e-3)
    };
    items.iter().enumerate().filter(move |(_, it)| is_it(it)).map(|(at, it)| (it, &items[at + 1..]))
}

/// A dimension is read by its ticks: no number's white ground hides one, however short the dimension is.
#[test]
fn no_number_hides_its_dimension() {
    let mut seen = 0;
    for printed in of(Paper::Card) {
        for page in ink::read(&printed.bytes) {
            for (line, after) in lines(&page.items, 0.5) {
                let hides = |it: &&Item| {
                    it.path().is_some_and(is_white) && is_within(line.area(), it.area())
                };
                assert!(!after.iter().any(|it| hides(&it)), "{}: {:?}", printed.name, line.area());
                seen += 1;
            }
        }
    }
    assert!(seen > 500, "{seen} lines");
}

/// Whether the one pull of a case is made now. Behind the longer first page of a stopped case less room is left.
fn is_first(printed: &Printed) -> bool {
    printed.plan.pulls.len() == 1 && !is_made(printed) && !printed.plan.is_withheld()
}

/// The flat pieces and all that is told of them take one page where there is one pull: nothing is left for a page of its own.
#[test]
fn the_flat_pieces_of_a_single_pull_take_a_page() {
    let mut seen = 0;
    for printed in of(Paper::Card).filter(|it| is_first(it)) {
        let pdf = Pdf::read(&printed.bytes);
        let page = squeezed(&pdf.page_text(1));
        seen += 1;
        for heading in ["Flat pieces", "Where the parts lie", "Measures", "On the sheet"] {
            assert!(page.contains(&squeezed(heading)), "{}: {heading}", printed.name);
        }
    }
    assert!(seen >= 12, "{seen} cards");
}

/// Once the pieces are worn the pattern is for a remake alone, and the card says whether tab and strip are replaced.
#[test]
fn a_return_visit_cuts_no_sheet() {
    for printed in of(Paper::Pattern) {
        let text = text(printed);
        assert_eq!(text.contains("foraremakeonly"), is_made(printed), "{}", printed.name);
        assert_eq!(
            text.contains("Nothingiscutfromthispatterntoday"),
            is_made(printed),
            "{}",
            printed.name
        );
    }
    let mut idle = 0;
    for printed in of(Paper::Card) {
        let text = text(printed);
        assert_ne!(
            text.contains("sideandpullbeforethesheetiscut"),
            is_made(printed),
            "{}",
            printed.name
        );
        assert_eq!(
            text.matches("nolooptomaketoday").count(),
            text.matches("Tabandstriparenotreplacedtoday").count(),
            "{}",
            printed.name
        );
        let asks = printed.plan.findings.iter().any(|it| it.id.starts_with("tab-"));
        if text.contains("nolooptomaketoday") && printed.plan.pulls.len() == 1 {
            assert_eq!(text.contains("unlessthetherapistordersit"), asks, "{}", printed.name);
            idle += 1;
        }
    }
    assert!(idle > 0, "no demo has nothing to make");
}

/// No line of the field runs into a bar's number: half a millimetre of white at least parts them.
#[test]
fn no_line_strikes_a_number_of_the_dose() {
    let mut seen = 0;
    for printed in of(Paper::Summary) {
        for page in ink::read(&printed.bytes) {
            let numbers: Vec<(Point, Point)> = page
                .texts()
                .filter(|it| {
                    (it.size_pt - 7.65).abs() < 0.01 && it.string.trim().parse::<u32>().is_ok()
                })
                .map(|it| Item::Text(it.clone()).area())
                .collect();
            for (line, after) in lines(&page.items, 0.3).filter(|(it, _)| it.mark() != Mark::Frame)
            {
                let (from, to) = line.area();
                if to.1 - from.1 > 0.01 {
                    continue;
                }
                for (low, high) in &numbers {
                    let (left, right) = (low.0 - 0.5, high.0 + 0.5);
                    if from.1 < low.1 || from.1 > high.1 || to.0 < left || from.0 > right {
                        continue;
                    }
                    let clears = |it: &&Item| {
                        it.path().is_some_and(is_white)
                            && is_within(((left, from.1), (right, from.1)), it.area())
                    };
                    assert!(after.iter().any(|it| clears(&it)), "{}: {from:?}", printed.name);
                    seen += 1;
                }
            }
        }
    }
    assert!(seen > 0, "no gridline passes a number");
}
