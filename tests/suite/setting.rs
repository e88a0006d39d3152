//! The close-up of the tab at a mark: in calc its named places, on paper what lies where.

use lopdf::decode_text_string;
use proptest::prelude::*;
use tautline::calc;
use tautline::calc::build::build;
use tautline::calc::figure::{Build, Drawing, Panel, Part, Shape, Step, tab_settings};
use tautline::case::Direction;
use tautline::sheets::Paper;
use tautline::units::Length;

use crate::boxes::papers;
use crate::demo;
use crate::ink::{Ink, Path};
use crate::papers::{Printed, squeezed};
use crate::pdf::Pdf;
use crate::words::words;

/// A thousandth of a millimetre.
const NEAR: f64 = 1e-3;

fn sizes() -> Build {
    let case = demo::case("quarry-bend-left-flexion");
    build(&case, &case.orthosis.pulls[0], &calc::plan(&case).pulls[0])
}

/// Where a label's leader ends (mm).
fn place(drawing: &Drawing, part: Part) -> (f64, f64) {
    let found: Vec<_> = drawing.labels.iter().filter(|it| it.part == part).collect();
    assert_eq!(found.len(), 1, "{part:?}");
    (found[0].to.x.to_mm(), found[0].to.y.to_mm())
}

fn shapes(drawing: &Drawing, part: Part) -> Vec<&Shape> {
    drawing.shapes.iter().filter(|it| it.part == part).collect()
}

/// The ends of a shape's strokes: (left, right, top, bottom).
fn extent(shape: &Shape) -> [f64; 4] {
    let ends = shape.path.iter().map(|step| match *step {
        Step::Move(to) | Step::Line(to) | Step::Curve(_, _, to) => (to.x.to_mm(), to.y.to_mm()),
    });
    ends.fold([f64::MAX, f64::MIN, f64::MAX, f64::MIN], |it, (x, y)| {
        [it[0].min(x), it[1].max(x), it[2].min(y), it[3].max(y)]
    })
}

/// The tab of a drawing in its own sizes, the mark, the hand to the left: the front edge of the wide part, and the tip.
fn is_true(build: &Build, panel: &Panel) -> (f64, f64) {
    let drawing = &panel.figure;
    let (mark, front, tip) =
        (place(drawing, Part::Today).0, place(drawing, Part::Tab).0, place(drawing, Part::Hole).0);
    let wide = extent(shapes(drawing, Part::Tab)[0]);
    assert!((wide[0] - front).abs() < NEAR, "{}", panel.key);
    assert!((wide[1] - wide[0] - build.tab_pad_length.to_mm()).abs() < NEAR, "{}", panel.key);
    assert!((wide[3] - wide[2] - build.tab_width.to_mm()).abs() < NEAR, "{}", panel.key);
    let hole = extent(shapes(drawing, Part::Hole)[0]);
    let hole = f64::midpoint(hole[0], hole[1]);
    assert!((front - hole - build.tab_hole_to_pad.to_mm()).abs() < NEAR, "{}", panel.key);
    let nose = extent(shapes(drawing, Part::Pad)[0]);
    assert!((nose[0] - tip).abs() < NEAR && tip < hole, "{}", panel.key);
    let line = extent(shapes(drawing, Part::Today)[0]);
    assert!((line[0] - mark).abs() < NEAR && (line[1] - mark).abs() < NEAR, "{}", panel.key);
    // The mark reaches past the tab and the strip on both sides, so that it is seen.
    let strip = extent(shapes(drawing, Part::Strip)[0]);
    assert!(line[2] < strip[2] && line[3] > strip[3] && strip[2] < wide[2] + NEAR, "{}", panel.key);
    assert!(strip[0] < tip && strip[1] > wide[1], "{}: the whole tab lies on it", panel.key);
    assert!((place(drawing, Part::Hand).0 - strip[0]).abs() < NEAR, "{}", panel.key);
    assert!((place(drawing, Part::Arm).0 - strip[1]).abs() < NEAR, "{}", panel.key);
    // The sign stands on the wide part.
    for sign in shapes(drawing, Part::Sign) {
        let sign = extent(sign);
        let inside =
            sign[0] > wide[0] && sign[1] < wide[1] && sign[2] > wide[2] && sign[3] < wide[3];
        assert!(inside && !shapes(drawing, Part::Sign)[0].closed, "{}: {sign:?}", panel.key);
    }
    (front - mark, tip - mark)
}

proptest! {
    /// Set right, the front edge of the wide part is at the mark and the tip past it toward the hand; set wrong, the tip is
    /// at the mark and the tab further toward the elbow by its whole length before the wide part.
    #[test]
    fn the_front_edge_is_at_the_mark(
        width in 8.0..60.0_f64,
        pad in 10.0..90.0_f64,
        ahead in 4.0..40.0_f64,
        strip in 8.0..80.0_f64,
    ) {
        let build = Build {
            tab_width: Length::mm(width),
            tab_pad_length: Length::mm(pad),
            tab_hole_to_pad: Length::mm(ahead),
            strip_width: Length::mm(strip),
            ..sizes()
        };
        let [right, wrong] = tab_settings(&build);
        prop_assert_eq!((right.key, wrong.key), ("right", "wrong"));
        let (front, tip) = is_true(&build, &right);
        prop_assert!(front.abs() < NEAR && tip < -ahead);
        let (far, at) = is_true(&build, &wrong);
        prop_assert!(at.abs() < NEAR && (far + tip).abs() < NEAR);
        // One check, two lines that cross.
        prop_assert_eq!(shapes(&right.figure, Part::Sign).len(), 1);
        prop_assert_eq!(shapes(&wrong.figure, Part::Sign).len(), 2);
        // Mark and strip lie alike in both, so that they may stand over one another.
        for part in [Part::Today, Part::Strip] {
            let of = |it: &Panel| extent(shapes(&it.figure, part)[0]);
            let (one, other) = (of(&right), of(&wrong));
            prop_assert!(one.iter().zip(other).all(|(a, b)| (a - b).abs() < NEAR));
        }
    }
}

fn hull(path: &Path) -> [f64; 4] {
    let points = path.chains.iter().flatten();
    points.fold([f64::MAX, f64::MIN, f64::MAX, f64::MIN], |it, (x, y)| {
        [it[0].min(*x), it[1].max(*x), it[2].min(*y), it[3].max(*y)]
    })
}

/// The grey of the wide part, and the thickness of the mark: see `layouts/drawings/style.typ`.
const WIDE: f64 = 0.25;
const MARK_PT: f64 = 2.2;

/// The wide parts on a page with the marks that cross them or their tips: (wide part, mark), from the top.
fn settings(page: &Ink) -> Vec<([f64; 4], f64)> {
    let paths: Vec<&Path> = page.items.iter().filter_map(|it| it.path()).collect();
    let is_wide = |it: &&&Path| it.fill.is_some_and(|grey| (grey - WIDE).abs() < 0.01);
    let is_mark = |it: &&&Path| {
        let [left, right, low, high] = hull(it);
        it.width_mm.is_some_and(|wide| (wide * 72.0 / 25.4 - MARK_PT).abs() < 0.01)
            && right - left < 0.01
            && high - low > 5.0
    };
    let mut wide: Vec<[f64; 4]> = paths.iter().filter(is_wide).map(|it| hull(it)).collect();
    wide.dedup_by(|one, other| one.iter().zip(*other).all(|(a, b)| (a - b).abs() < 0.01));
    let marks: Vec<[f64; 4]> = paths.iter().filter(is_mark).map(|it| hull(it)).collect();
    let of = |tab: &[f64; 4]| {
        let over = marks.iter().filter(|it| it[2] < tab[2] && it[3] > tab[3] && it[0] < tab[1]);
        over.map(|it| it[0]).fold(f64::MIN, f64::max)
    };
    wide.iter().map(|tab| (*tab, of(tab))).collect()
}

/// Whether a page asks how far to pull.
fn asks(printed: &Printed, text: &str) -> bool {
    let question = &words(printed.case.head.language)["handout"]["pulling"]["heading"];
    squeezed(text).contains(&squeezed(question.as_str().unwrap().trim_end_matches('?')))
}

/// Each answer to how far to pull shows the tab in its own proportions at 24 mm or more, right and wrong, and says so aloud.
#[test]
fn handouts_show_how_the_tab_is_set() {
    let mut count = 0;
    for (printed, pages) in papers().filter(|(it, _)| it.paper == Paper::Handout) {
        let pdf = Pdf::read(&printed.bytes);
        let told = &words(printed.case.head.language)["handout"]["pulling"]["setting"]["alt"];
        let tags = pdf.tags();
        let aloud = tags.iter().filter(|(kind, _)| kind == "Figure");
        let aloud = aloud.filter_map(|(_, it)| decode_text_string(pdf.get(it, "Alt")?).ok());
        let aloud = aloud.filter(|it| it == told.as_str().unwrap()).count();
        let asked: Vec<usize> =
            (0..pages.len()).filter(|it| asks(printed, &pdf.page_text(*it))).collect();
        assert!(!asked.is_empty() && aloud == asked.len(), "{}: {aloud}", printed.name);
        for index in asked {
            let shown = settings(&pages[index]);
            assert_eq!(shown.len(), 2, "{} page {}", printed.name, index + 1);
            let own = printed.case.orthosis.pulls.iter().map(|it| &it.tab);
            let shape = |it: &[f64; 4]| (it[1] - it[0]) / (it[3] - it[2]);
            let (right, wrong) = (shown[0], shown[1]);
            let tab = own.clone().find(|it| {
                (shape(&right.0) - it.pad_length.to_mm() / it.width.to_mm()).abs() < 0.01
            });
            let tab = tab.unwrap_or_else(|| panic!("{}: no tab of its shape", printed.name));
            let scale = (right.0[1] - right.0[0]) / tab.pad_length.to_mm();
            assert!((shape(&wrong.0) - shape(&right.0)).abs() < 0.01, "{}", printed.name);
            assert!(
                (right.0[0] - right.1).abs() < 0.01,
                "{}: front edge off the mark",
                printed.name
            );
            let past = wrong.0[0] - wrong.1;
            assert!(past > scale * tab.hole_to_pad.to_mm(), "{}: {past}", printed.name);
            let whole = right.0[1] - right.0[0] + past;
            assert!(whole > 24.0, "{}: a tab of {whole:.1} mm", printed.name);
            count += 1;
        }
    }
    assert!(count >= 60, "every demo case, page size and variant: {count}");
    let sides = papers().flat_map(|(it, _)| it.case.orthosis.pulls.iter().map(|it| it.direction));
    let sides: Vec<Direction> = sides.collect();
    assert!(sides.contains(&Direction::Flexion) && sides.contains(&Direction::Extension));
}
