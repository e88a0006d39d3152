//! Nothing lies on anything or outside its page: the boxes of glyphs, lines and areas of every paper.

use tautline::sheets::Paper;

use crate::ink::{Ink, Item, Mark, Path, Text, ink_of, pages};
use crate::papers::Printed;
use crate::pdf::Pdf;
use crate::quads::{Point, Quad, crossing, depth, hull, touch};
use crate::variants::variants;

/// How deep (mm) boxes of two glyphs of different strings may lie in each other: the corners of a box are empty.
const GLYPHS: f64 = 0.1;
/// The same for whole lines, from below the descenders to the capitals' height.
const LINES: f64 = 0.2;
/// How far a line may run inside the box round a glyph: less only touches its edge.
const STROKES: f64 = 0.3;
/// How far letters may reach out of the margins (mm): the margins hold base lines and capitals, and the foot of
/// a g or the ear of an f reaches further.
const OVERHANG: f64 = 1.0;

/// How much further (mm) header and footer may reach into the page where long names take another line or two.
const NAMES: f64 = 12.0;

/// The margins (mm) at the sides, above and below: 18 mm of white at least, and at the sides of a page on which a
/// tile lies at true size 10 mm, which every office printer leaves (common practice, no source). Longer names
/// make header and footer higher and the body smaller.
fn margins(paper: Paper) -> (f64, f64, f64) {
    (if paper == Paper::Pattern { 10.0 } else { 18.0 }, 23.5, 21.5)
}

/// What lies outside the margins; header and footer lie above and below them.
pub fn outside(page: &Ink, paper: Paper) -> Vec<String> {
    let (sides, above, below) = margins(paper);
    let (width, height) = page.size;
    let mut found = Vec::new();
    for item in &page.items {
        let (area, mark, name) = match item {
            Item::Text(it) if it.glyphs.is_empty() => continue,
            Item::Text(it) => {
                (hull(it.glyphs.iter().flatten().copied()), it.mark, it.string.as_str())
            }
            Item::Path(it) => (hull(it.chains.iter().flatten().copied()), it.mark, "a drawing"),
        };
        let (least, most) = area;
        let within = least.0 >= sides - OVERHANG && most.0 <= width - sides + OVERHANG;
        let in_body = least.1 >= below - OVERHANG && most.1 <= height - above + OVERHANG;
        let in_frame = most.1 < below + NAMES || least.1 > height - above - NAMES;
        if !within || !(if mark == Mark::Frame { in_frame } else { in_body }) {
            found.push(format!("`{name}` at {least:.1?} to {most:.1?} of {:.1?}", page.size));
        }
    }
    found
}

/// Texts that lie on each other.
pub fn collisions(page: &Ink) -> Vec<String> {
    let texts: Vec<&Text> = page.texts().filter(|it| !it.glyphs.is_empty()).collect();
    let areas: Vec<_> = texts
        .iter()
        .map(|it| hull(it.glyphs.iter().chain([&it.line]).flatten().copied()))
        .collect();
    let mut found = Vec::new();
    for (it, one) in texts.iter().enumerate() {
        for (that, other) in texts.iter().enumerate().skip(it + 1) {
            if !touch(areas[it], areas[that]) {
                continue;
            }
            let pairs = one.glyphs.iter().flat_map(|a| other.glyphs.iter().map(|b| depth(a, b)));
            let glyphs = pairs.fold(f64::MIN, f64::max);
            let lines = depth(&one.line, &other.line);
            if glyphs > GLYPHS || lines > LINES {
                found.push(format!(
                    "`{}` on `{}` at {:.1?}: glyphs {glyphs:.2}, lines {lines:.2} mm",
                    other.string, one.string, one.line[0]
                ));
            }
        }
    }
    found
}

/// Whether a point lies inside a chain that is closed (even-odd rule).
fn holds(chain: &[Point], (x, y): Point) -> bool {
    let sides = chain.iter().zip(chain.iter().cycle().skip(1));
    let crossed = sides
        .filter(|(a, b)| (a.1 > y) != (b.1 > y) && x < a.0 + (y - a.1) / (b.1 - a.1) * (b.0 - a.0));
    crossed.count() % 2 == 1
}

/// Whether an area covers a glyph, but for the curves that overshoot the height of its line.
fn covers(path: &Path, glyph: &Quad) -> bool {
    let middle = |pick: fn(&Point) -> f64| glyph.iter().map(pick).sum::<f64>() / 4.0;
    let (x, y) = (middle(|it| it.0), middle(|it| it.1));
    let pulled = glyph.map(|it| (it.0 + (x - it.0) * 0.2, it.1 + (y - it.1) * 0.2));
    path.fill.is_some()
        && path.chains.iter().any(|chain| pulled.iter().all(|corner| holds(chain, *corner)))
}

/// How deep the edges of a path lie in a glyph.
fn deepest(path: &Path, glyph: &Quad) -> f64 {
    let area = hull(*glyph);
    let sides = path.chains.iter().flat_map(|chain| chain.windows(2));
    let near = sides.filter(|ends| touch(area, hull(ends.iter().copied())));
    near.map(|ends| crossing(glyph, ends[0], ends[1])).fold(f64::MIN, f64::max)
}

/// Texts that a line runs through or an area hides. A line behind a text runs through it as well, unless an area
/// between the two covers it, as under the names in drawings; the edge of an area behind a text, such as the band
/// of a row, does not.
pub fn struck(page: &Ink) -> Vec<String> {
    let areas: Vec<_> = page.items.iter().map(Item::area).collect();
    let mut found = Vec::new();
    for (it, item) in page.items.iter().enumerate() {
        let Item::Text(text) = item else { continue };
        let near: Vec<(usize, &Path)> = page
            .items
            .iter()
            .enumerate()
            .filter(|(that, _)| touch(areas[it], areas[*that]))
            .filter_map(|(that, item)| Some((that, item.path()?)))
            .collect();
        for glyph in &text.glyphs {
            for (that, path) in &near {
                let is_above = *that > it;
                let ground = |(cover, area): &(usize, &Path)| {
                    cover > that && *cover < it && covers(area, glyph)
                };
                let is_struck = (is_above || path.width_mm.is_some())
                    && deepest(path, glyph) > STROKES
                    && !near.iter().any(ground);
                if is_struck || is_above && covers(path, glyph) {
                    found.push(format!(
                        "`{}` at {:.1?} by a path of {:.1?} mm, fill {:?}",
                        text.string, glyph[0], path.width_mm, path.fill
                    ));
                }
            }
        }
    }
    found.dedup();
    found
}

/// Texts that something cuts off.
pub fn clipped(page: &Ink) -> Vec<String> {
    let cut = page.texts().filter(|it| {
        let Some((least, most)) = it.clip else { return false };
        it.glyphs.iter().flatten().any(|(x, y)| {
            *x < least.0 - GLYPHS
                || *x > most.0 + GLYPHS
                || *y < least.1 - GLYPHS
                || *y > most.1 + GLYPHS
        })
    });
    cut.map(|it| format!("`{}` at {:.1?}", it.string, it.line[0])).collect()
}

/// Every demo paper and every variant.
pub fn papers() -> impl Iterator<Item = (&'static Printed, &'static [Ink])> {
    let demos = pages().iter().map(|(printed, pages)| (*printed, pages.as_slice()));
    demos.chain(variants().iter().map(|(printed, pages)| (printed, pages.as_slice())))
}

/// Holds a rule over all pages of them.
fn holds_on_all(rule: impl Fn(&Ink, &Printed) -> Vec<String>) {
    let mut faults = Vec::new();
    for (printed, pages) in papers() {
        for (index, page) in pages.iter().enumerate() {
            let found = rule(page, printed);
            faults.extend(
                found.iter().map(|it| format!("{} page {}: {it}", printed.name, index + 1)),
            );
        }
    }
    assert!(faults.is_empty(), "{} faults:\n{}", faults.len(), faults.join("\n"));
}

#[test]
fn nothing_lies_outside_the_margins() {
    holds_on_all(|page, printed| outside(page, printed.paper));
}

#[test]
fn no_text_lies_on_text() {
    holds_on_all(|page, _| collisions(page));
}

#[test]
fn no_line_runs_through_a_text() {
    holds_on_all(|page, _| struck(page));
}

#[test]
fn no_text_is_cut_off() {
    holds_on_all(|page, _| clipped(page));
}

/// One page with another content stream built from its own, and what the rules find on it.
fn faults_with(change: impl Fn(&[u8]) -> Vec<u8>) -> [usize; 4] {
    let pdf = Pdf::read(&pages()[0].0.bytes);
    let page = ink_of(&pdf, 0, &change(&pdf.content(0)));
    assert_eq!(pages()[0].0.paper, Paper::Handout);
    [outside(&page, Paper::Handout), collisions(&page), struck(&page), clipped(&page)]
        .map(|it| it.len())
}

/// A page's content between two pieces of content.
fn between(before: &str, content: &[u8], behind: &str) -> Vec<u8> {
    [before.as_bytes(), content, behind.as_bytes()].concat()
}

/// Each fault is found on a page that was sound before it.
#[test]
fn damaged_pages_are_found_out() {
    assert_eq!(faults_with(<[u8]>::to_vec), [0; 4], "the page is sound");
    // 30 pt to the left of its place; 3 pt higher on itself.
    let [out, _, _, _] = faults_with(|it| between("q 1 0 0 1 -30 0 cm ", it, " Q"));
    assert!(out > 20, "{out} outside");
    let twice = |it: &[u8]| [it, b" q 1 0 0 1 0 3 cm ".as_slice(), it, b" Q"].concat();
    let [_, on, _, _] = faults_with(twice);
    assert!(on > 20, "{on} on each other");
    // A line through the title, over it and under it; under it with white between.
    let line = " q 1 w 60 710 m 300 710 l S Q ";
    let [_, _, over, _] = faults_with(|it| between("", it, line));
    assert!(over > 5, "{over} struck");
    let [_, _, under, _] = faults_with(|it| between(line, it, ""));
    assert_eq!(over, under, "the title stands on nothing");
    let ground = format!("{line} q 1 g 51 690 500 40 re f Q ");
    let [_, _, grounded, _] = faults_with(|it| between(&ground, it, ""));
    assert_eq!(grounded, 0, "white hides the line");
    // An area over the title.
    let [_, _, hidden, _] = faults_with(|it| between("", it, &ground.replace(line, "")));
    assert!(hidden > 5, "{hidden} hidden");
    // A page cut off at its middle.
    let [_, _, _, cut] = faults_with(|it| between("q 0 0 300 800 re W n ", it, " Q"));
    assert!(cut > 5, "{cut} cut off");
}
