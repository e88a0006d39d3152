//! What the labels for the strip say: degrees on one of two alone, no mark that waits, no name.

use lopdf::decode_text_string;
use tautline::calc::loops::Loop;
use tautline::case::Language;
use tautline::sheets::Paper;

use crate::demo;
use crate::ink::{self, Item};
use crate::papers::{Printed, all, given_out, says, squeezed, typeset};
use crate::pdf::{Pdf, Stroke};
use crate::quads::Point;

const BASE: &str = "quarry-bend-left-flexion";

fn labels(papers: &[Printed]) -> impl Iterator<Item = &Printed> {
    papers.iter().filter(|it| it.paper == Paper::Labels)
}

/// The demos' in English; `words` holds that the other languages say the same.
fn english() -> impl Iterator<Item = &'static Printed> {
    labels(all()).filter(|it| it.case.head.language == Language::English)
}

/// What the labels say to who cannot see them: two for each loop, the one without degrees first.
fn spoken(printed: &Printed) -> Vec<String> {
    let pdf = Pdf::read(&printed.bytes);
    let tags = pdf.tags();
    let alts = tags.iter().filter_map(|(_, it)| decode_text_string(pdf.get(it, "Alt")?).ok());
    alts.filter(|it| it.starts_with("Label at true size")).collect()
}

/// A wrist angle as it is printed: whole degrees, or one place, with a true minus.
fn in_degrees(degrees: f64) -> String {
    format!("{}°", (degrees * 10.0).round() / 10.0).replace('-', "\u{2212}")
}

/// The labels of each loop as printed, in order: (without degrees, with them).
fn printed_pairs(text: &str) -> Vec<(&str, &str)> {
    let parts: Vec<&str> = text.split("Withoutdegrees").skip(1).collect();
    parts.into_iter().map(|it| it.split_once("Withdegrees:").expect("two labels")).collect()
}

/// Each mark that is given out stands on both labels, its degrees on the second alone.
fn degrees_stand_where_they_are_chosen(printed: &Printed) {
    let given = given_out(printed);
    let text = squeezed(&Pdf::read(&printed.bytes).text());
    let pairs = printed_pairs(&text);
    let spoken = spoken(printed);
    assert_eq!((pairs.len(), spoken.len()), (given.len(), 2 * given.len()), "{}", printed.name);
    for (((plain, with), alts), made) in pairs.iter().zip(spoken.chunks_exact(2)).zip(&given) {
        assert!(!plain.contains('°') && !alts[0].contains('°'), "{}: {plain}", printed.name);
        assert_eq!(with.matches('°').count(), made.marks.len(), "{}: {with}", printed.name);
        assert_eq!(alts[1].matches('°').count(), made.marks.len(), "{}", printed.name);
        says(printed, with, "Degrees are no promise");
        for mark in &made.marks {
            let angle = in_degrees(mark.angle.to_degrees());
            let name = if mark.number == 0 { "Today".into() } else { mark.number.to_string() };
            let place = format!("{name} at {:.0} mm", mark.place.to_mm());
            says(printed, with, &angle);
            assert!(alts[0].contains(&place), "{}: {}", printed.name, alts[0]);
            assert!(alts[1].contains(&format!("{place}, {angle}")), "{}", printed.name);
        }
        let has_today = made.marks.iter().any(|it| it.number == 0);
        assert_eq!(plain.contains("Today"), has_today, "{}: {plain}", printed.name);
    }
}

#[test]
fn degrees_stand_on_one_label_of_two() {
    english().for_each(degrees_stand_where_they_are_chosen);
}

/// Each label says whose loop it belongs to by case, pull and number, and which end is the hand; the
/// patient's name stands in the page's header alone.
#[test]
fn labels_name_case_pull_and_loop_but_no_patient() {
    for printed in english() {
        let pdf = Pdf::read(&printed.bytes);
        let text = squeezed(&pdf.text());
        let name = squeezed(&printed.case.patient.name);
        assert_eq!(text.matches(&name).count(), pdf.page_count(), "{}", printed.name);
        let pairs = printed_pairs(&text);
        let loops = printed.plan.pulls.iter().flat_map(|pull| {
            let given = |it: &&Loop| it.marks.iter().any(|mark| pull.is_given_out(mark));
            pull.loops.iter().filter(given).map(move |it| (pull.direction.word(), it.number))
        });
        for ((direction, number), (plain, with)) in loops.zip(pairs) {
            let toward = if direction == "flexion" { "palm" } else { "back" };
            let foot = format!("Case {} toward the {toward}, loop {number}", printed.case.head.id);
            for label in [plain, with] {
                says(printed, label, &foot);
                says(printed, label, "← hand");
            }
        }
    }
}

/// Stroke widths of cut line, tick and mark, in points: see `layouts/parts/system.typ`.
const CUT: f64 = 0.5;
const TICK: f64 = 0.4;
const MARK: f64 = 1.2;
/// From a mark to its sign.
const LEADER: f64 = 0.7;

/// Each label has a cut line round it, low enough to lie beside a strip; its scale lies along the
/// upper edge and keeps off both ends, so that a cut that goes astray leaves it whole.
#[test]
fn a_cut_line_goes_round_each_scale() {
    for printed in labels(all()) {
        let pdf = Pdf::read(&printed.bytes);
        let mut seen = 0;
        for index in 0..pdf.page_count() {
            let strokes = pdf.strokes(index);
            let of = |width: f64| {
                let is_it = move |it: &&Stroke| (it.width_pt - width).abs() < 1e-3;
                strokes.iter().filter(is_it)
            };
            let lines: Vec<&Stroke> = of(CUT).collect();
            let mut inside = 0;
            for edges in lines.chunks(4) {
                let [upper, end, lower, start] = edges else { panic!("{}", printed.name) };
                let (top, foot) = (upper.from.1, lower.from.1);
                assert!((10.0..15.0).contains(&(top - foot)), "{}: {}", printed.name, top - foot);
                let is_here = |it: &&Stroke| (foot..top + 0.01).contains(&it.from.1.max(it.to.1));
                let within = |it: &&Stroke| (start.from.0..end.from.0).contains(&it.from.0);
                let drawn: Vec<&Stroke> =
                    of(TICK).chain(of(MARK)).filter(is_here).filter(within).collect();
                for it in &drawn {
                    let room = (it.from.0 - start.from.0).min(end.from.0 - it.from.0);
                    assert!(it.is_vertical() && room > 3.5, "{}: {room} mm", printed.name);
                    assert!((it.from.1.max(it.to.1) - top).abs() < 0.01, "{}", printed.name);
                }
                assert!(drawn.len() > 20, "{}: {} lines", printed.name, drawn.len());
                inside += drawn.len();
                seen += 1;
            }
            assert_eq!(
                inside,
                of(TICK).chain(of(MARK)).count(),
                "{}: one lies outside",
                printed.name
            );
        }
        assert_eq!(seen, 2 * given_out(printed).len(), "{}", printed.name);
    }
}

/// The words that say how a label is used stand on the first page.
#[test]
fn labels_say_how_they_are_used() {
    for printed in english() {
        let text = squeezed(&Pdf::read(&printed.bytes).page_text(0));
        for words in
            ["dashed line", "Check the length", "clear tape", "0 at the strip’s end", "new loop"]
        {
            says(printed, &text, words);
        }
    }
}

/// Marks past the hold wait for the doctor's word: they stand on no label, and the sheet says so.
#[test]
fn a_mark_that_waits_stands_on_no_label() {
    let papers = typeset("held", &demo::edited(BASE, &[("goal: 60", "goal: 60\n      hold: 42")]));
    for printed in labels(&papers) {
        let pull = &printed.plan.pulls[0];
        let waits: Vec<_> = pull.marks().filter(|it| !pull.is_given_out(it)).collect();
        assert!(waits.len() >= 3, "{} marks wait", waits.len());
        degrees_stand_where_they_are_chosen(printed);
        let text = squeezed(&Pdf::read(&printed.bytes).text());
        says(printed, &text, "wait for the doctor’s word");
        for mark in waits {
            let angle = in_degrees(mark.angle.to_degrees());
            assert!(!text.contains(&angle), "{}: {angle}", printed.name);
            let name = format!("{} at ", mark.number);
            assert!(spoken(printed).iter().all(|it| !it.contains(&name)), "{}", printed.name);
        }
    }
    for printed in labels(all()).filter(|it| it.name.starts_with("QB-2207")) {
        let text = squeezed(&Pdf::read(&printed.bytes).text());
        assert!(!text.contains("doctor’sword"), "{}: nothing waits", printed.name);
    }
}

/// A loop whose marks all wait has no label; a case without a mark to give out says so and prints none.
#[test]
fn a_case_without_a_mark_prints_no_label() {
    let papers =
        typeset("all held", &demo::edited(BASE, &[("goal: 60", "goal: 60\n      hold: 20")]));
    for printed in labels(&papers) {
        assert!(spoken(printed).is_empty(), "{}", printed.name);
        let text = squeezed(&Pdf::read(&printed.bytes).text());
        says(printed, &text, "No mark is given out yet");
    }
}

/// A label of a page between its cut lines: left and right, foot and top.
struct Label {
    across: (f64, f64),
    down: (f64, f64),
}

impl Label {
    fn holds(&self, (low, high): (Point, Point)) -> bool {
        let x = f64::midpoint(low.0, high.0);
        let y = f64::midpoint(low.1, high.1);
        (self.across.0..self.across.1).contains(&x) && (self.down.0..self.down.1).contains(&y)
    }
}

/// The labels of a page in their order, by their dashed cut lines.
fn cut_labels(strokes: &[Stroke]) -> Vec<Label> {
    let lines: Vec<&Stroke> =
        strokes.iter().filter(|it| (it.width_pt - CUT).abs() < 1e-3).collect();
    let label = |edges: &[&Stroke]| Label {
        across: (edges[3].from.0, edges[1].from.0),
        down: (edges[2].from.1, edges[0].from.1),
    };
    lines.chunks_exact(4).map(label).collect()
}

/// The strokes of a width within a label, from left to right.
fn within<'s>(label: &Label, strokes: &'s [Stroke], width: f64) -> Vec<&'s Stroke> {
    let is_it = |it: &&Stroke| (it.width_pt - width).abs() < 1e-3 && label.holds((it.from, it.to));
    let mut found: Vec<&Stroke> = strokes.iter().filter(is_it).collect();
    found.sort_by(|one, other| one.from.0.total_cmp(&other.from.0));
    found
}

/// Whether a box lies round another on all sides.
fn encloses(outer: (Point, Point), inner: (Point, Point)) -> bool {
    let (low, high) = outer;
    low.0 < inner.0.0 && low.1 < inner.0.1 && high.0 > inner.1.0 && high.1 > inner.1.1
}

/// Whoever sets the tab by a sign sets it at the mark: each black sign stands across its own mark's line, which runs
/// straight down to it and through no other sign.
fn signs_stand_at_their_marks(printed: &Printed) -> usize {
    let pdf = Pdf::read(&printed.bytes);
    let given = given_out(printed);
    let mut seen = 0;
    for (index, ink) in ink::read(&printed.bytes).iter().enumerate() {
        let strokes = pdf.strokes(index);
        for label in cut_labels(&strokes) {
            let names = &given[seen / 2].marks;
            seen += 1;
            let ticks = within(&label, &strokes, MARK);
            let leaders = within(&label, &strokes, LEADER);
            assert_eq!(
                (ticks.len(), leaders.len()),
                (names.len(), names.len()),
                "{}",
                printed.name
            );
            let is_sign =
                |it: &&ink::Path| it.fill.is_some_and(|it| it < 0.01) && it.width_mm.is_none();
            let boxes: Vec<(Point, Point)> = ink
                .items
                .iter()
                .filter(|it| it.path().as_ref().is_some_and(is_sign) && label.holds(it.area()))
                .map(Item::area)
                .collect();
            let words: Vec<(String, (Point, Point))> = ink
                .texts()
                .filter(|it| it.size_pt > 11.9)
                .map(|it| (it.string.trim().to_owned(), Item::Text(it.clone()).area()))
                .filter(|(_, area)| label.holds(*area))
                .collect();
            for ((tick, leader), mark) in ticks.iter().zip(&leaders).zip(names) {
                let at = tick.from.0;
                let is_own = |it: &&(String, _)| match mark.number {
                    0 => it.0.parse::<usize>().is_err(),
                    number => it.0 == number.to_string(),
                };
                let (name, area) = words.iter().find(is_own).expect("a sign for each mark");
                let sign = boxes.iter().find(|it| encloses(**it, *area));
                let (low, high) = sign.expect("a sign is white on black");
                let off = (f64::midpoint(low.0, high.0) - at).abs();
                let half = (high.0 - low.0) / 2.0;
                assert!(off < half, "{}: `{name}` stands {off:.1} mm off its mark", printed.name);
                assert!(
                    leader.is_vertical() && (leader.from.0 - at).abs() < 0.01,
                    "{}: {name}",
                    printed.name
                );
                let foot = leader.from.1.min(leader.to.1);
                assert!(
                    (low.1..high.1 + 0.01).contains(&foot),
                    "{}: {name} is not reached",
                    printed.name
                );
                let others = boxes.iter().filter(|it| *it != &(*low, *high) && it.0.1 > foot);
                for (left, right) in others {
                    let is_struck = (left.0 - 0.1..right.0 + 0.1).contains(&at);
                    assert!(!is_struck, "{}: the line to {name} runs through a sign", printed.name);
                }
            }
        }
    }
    seen
}

#[test]
fn each_sign_stands_at_its_mark() {
    for printed in labels(all()) {
        let seen = signs_stand_at_their_marks(printed);
        assert_eq!(seen, 2 * given_out(printed).len(), "{}", printed.name);
    }
}

/// A wrist so far from its goal that its marks are many, today's range at `start`.
fn many_marks(start: i32) -> String {
    let motion = |date: &str, degrees: i32| format!("{date}, extension: {degrees} }}");
    let edit = |flexion: &str, was: i32, is: i32| (motion(flexion, was), motion(flexion, is));
    let edits = [
        edit("passive: { flexion: 48", -18, start - 8),
        edit("active: { flexion: 44", -24, start - 14),
        edit("passive: { flexion: 50", -10, start),
        edit("active: { flexion: 46", -16, start - 6),
        ("preconditioning:\n  extension: { cold: -14, warm: -10 }\n".into(), String::new()),
        ("angle: -10, force".into(), format!("angle: {start}, force")),
    ];
    let edits: Vec<(&str, &str)> =
        edits.iter().map(|(was, is)| (was.as_str(), is.as_str())).collect();
    demo::edited("saltmarsh-right-extension", &edits)
}

/// Seventeen marks, the nearest 1.7 mm apart; a last mark hard behind the one before it.
#[test]
fn each_of_many_signs_stands_at_its_mark() {
    let near = demo::edited("saltmarsh-right-extension", &[("goal: 32", "goal: 37")]);
    for (name, text) in [("many", many_marks(-35)), ("near", near)] {
        for printed in labels(&typeset(name, &text)) {
            assert!(signs_stand_at_their_marks(printed) > 0, "{}", printed.name);
        }
    }
}

/// Marks too near for their signs have no label, and the sheet sends to the ruler.
#[test]
fn signs_without_room_leave_the_label_out() {
    for printed in labels(&typeset("too near", &many_marks(-55))) {
        assert!(spoken(printed).is_empty(), "{}", printed.name);
        let text = squeezed(&Pdf::read(&printed.bytes).text());
        let left_out =
            "Left out: the marks lie too close for their numbers. Use the handout\u{2019}s ruler.";
        says(printed, &text, left_out);
    }
}
