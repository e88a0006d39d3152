//! What the papers say: every paper of every demo case, on both page sizes.

use std::sync::LazyLock;

use tautline::calc::course::due_loops;
use tautline::calc::loops::{Loop, Mark};
use tautline::calc::{self, Plan, PullPlan};
use tautline::case::{Case, Language, PageSize, Side};
use tautline::sheets::{self, Paper};

use crate::demo;
use crate::pdf::Pdf;

/// One typeset paper.
pub struct Printed {
    pub name: String,
    pub paper: Paper,
    pub case: Case,
    pub plan: Plan,
    pub bytes: Vec<u8>,
}

/// Every paper of every demo case on both page sizes, those that a stop withholds included: they
/// too must be right once somebody overrides the stop.
pub fn all() -> &'static [Printed] {
    static ALL: LazyLock<Vec<Printed>> = LazyLock::new(typeset_all);
    &ALL
}

fn typeset_all() -> Vec<Printed> {
    let texts = demo::files().into_iter().map(|path| std::fs::read_to_string(path).unwrap());
    texts.flat_map(|text| typeset(&demo::read(&text).head.id, &text)).collect()
}

/// Every paper of a case text on both page sizes.
pub fn typeset(name: &str, text: &str) -> Vec<Printed> {
    let case = demo::read(text);
    let plan = calc::plan(&case);
    let mut set = Vec::new();
    for (page, size) in [(PageSize::Letter, "letter"), (PageSize::A4, "a4")] {
        let papers = sheets::typeset(&Paper::ALL, &case, &plan, page)
            .unwrap_or_else(|fault| panic!("{name} {size}: {fault}"));
        for (paper, bytes) in Paper::ALL.into_iter().zip(papers) {
            let name = format!("{name} {} {size}", paper.name());
            set.push(Printed { name, paper, case: case.clone(), plan: plan.clone(), bytes });
        }
    }
    set
}

/// The loops that the handout gives out, each with the marks that wait for no doctor's word.
pub fn given_out(printed: &Printed) -> Vec<Loop> {
    let mut given = Vec::new();
    for pull in &printed.plan.pulls {
        let stays = printed.plan.stays(pull.direction);
        let due: Vec<usize> = due_loops(pull).iter().map(|it| it.number).collect();
        let own = given.len();
        for made in pull.loops.iter().filter(|it| it.is_in_use || due.contains(&it.number)) {
            let mut made = made.clone();
            made.marks.retain(|it| pull.is_given_out(it) && (!stays || it.number == 0));
            given.extend((!made.marks.is_empty()).then_some(made));
        }
        if stays {
            given.truncate(own + 1);
        }
    }
    assert!(!given.is_empty(), "{}", printed.name);
    given
}

/// The loops that a card makes: all before the first fit; later the one that is due, unless the patient stays.
pub fn made_now<'p>(printed: &Printed, pull: &'p PullPlan) -> Vec<&'p Loop> {
    let stays = pull.in_use.is_some() && printed.plan.stays(pull.direction);
    if stays { Vec::new() } else { due_loops(pull) }
}

/// Text with all space taken out, since a line may break anywhere.
pub fn squeezed(text: &str) -> String {
    text.split_whitespace().collect()
}

/// Where a row of words begins behind a place; `*` stands for any one word.
pub fn find(words: &[String], row: &[String], from: usize) -> Option<usize> {
    let fits = |at: &[String]| at.iter().zip(row).all(|(word, want)| want == "*" || word == want);
    let rest = words.get(from..)?;
    rest.windows(row.len()).position(fits).map(|at| from + at)
}

/// A page's words; a minus may come from another font than its number and is put back to it.
pub fn words_of(text: &str) -> Vec<String> {
    let mut words: Vec<String> = Vec::new();
    for word in text.split_whitespace() {
        match words.last_mut() {
            Some(last) if last == "\u{2212}" => last.push_str(word),
            _ => words.push(word.to_owned()),
        }
    }
    words
}

/// The words of a row, for `find`.
pub fn row(words: &str) -> Vec<String> {
    words.split_whitespace().map(str::to_owned).collect()
}

/// Holds that a squeezed text holds some words.
#[track_caller]
pub fn says(printed: &Printed, text: &str, wanted: &str) {
    assert!(text.contains(&squeezed(wanted)), "{}: no `{wanted}` in {text}", printed.name);
}

/// Header: whose page, of how many, which wrist, which case. Footer: clinic, phone, day.
#[test]
fn every_page_carries_the_frame() {
    for printed in all() {
        let pdf = Pdf::read(&printed.bytes);
        let count = pdf.page_count();
        let case = &printed.case;
        for index in 0..count {
            let text = squeezed(&pdf.page_text(index));
            let language = crate::words::language(printed);
            let is_left = case.patient.side == Side::Left;
            let (case_of, page, wrist) = match language {
                Language::English => (
                    "Case",
                    format!("Page {} of {count}", index + 1),
                    if is_left { "Left wrist" } else { "Right wrist" },
                ),
                Language::Spanish => (
                    "Caso",
                    format!("Página {} de {count}", index + 1),
                    if is_left { "Muñeca izquierda" } else { "Muñeca derecha" },
                ),
            };
            let id = squeezed(&format!("{case_of} {}", case.head.id));
            let (header, rest) = text.split_once(&id).expect("the case in the header");
            says(printed, header, &case.patient.name);
            says(printed, header, &page);
            says(printed, header, wrist);
            let footer = rest.rfind(&squeezed(&case.clinic.name)).map(|at| &rest[at..]);
            let footer = footer.unwrap_or_else(|| panic!("{}: no footer", printed.name));
            says(printed, footer, &case.clinic.phone);
            let prepared = crate::words::day(language, case.head.prepared);
            assert!(footer.ends_with(&squeezed(&prepared)), "{}: {footer}", printed.name);
        }
    }
}

/// A mark's wrist angle as it is printed: whole degrees, or one place, with a true minus.
pub fn in_degrees(mark: &Mark) -> String {
    let tenths = (mark.angle.to_degrees() * 10.0).round() / 10.0;
    format!("{tenths}°").replace('-', "\u{2212}")
}

/// The loops that are still to be made, with the pull of each.
pub fn to_make(printed: &Printed) -> impl Iterator<Item = (&PullPlan, &Loop)> {
    let pulls = printed.plan.pulls.iter();
    pulls.flat_map(|pull| made_now(printed, pull).into_iter().map(move |it| (pull, it)))
}

/// Whether the pieces are made and no loop is due.
pub fn is_done(printed: &Printed) -> bool {
    to_make(printed).next().is_none()
}

/// Where nothing is to be made the card says so, and how far the loop in use reaches.
#[test]
fn cards_say_that_nothing_is_to_be_made() {
    let mut done = 0;
    for printed in all().iter().filter(|it| it.paper == Paper::Card && is_done(it)) {
        let text = squeezed(&Pdf::read(&printed.bytes).text());
        for pull in &printed.plan.pulls {
            let in_use = pull.in_use.expect("a loop in use");
            let reach = format!("Loop {} reaches {:.1}°", in_use.number, in_use.to.to_degrees());
            says(printed, &text, &format!("no loop to make today. {reach}"));
        }
        assert!(!text.to_lowercase().contains("stockinette"), "{}", printed.name);
        done += 1;
    }
    assert_eq!(done, 8, "four courses on both page sizes");
}

/// A week before the second loop is made: the card makes that one and leaves the one in use alone.
#[test]
fn a_card_in_mid_course_makes_the_next_loop_only() {
    for printed in typeset("mid course", &mid_course()).iter().filter(|it| it.paper == Paper::Card)
    {
        let [(_, next)] = to_make(printed).collect::<Vec<_>>()[..] else { panic!("one loop") };
        let in_use = &printed.plan.pulls[0].loops[0];
        assert!((next.number, in_use.number, in_use.is_in_use) == (2, 1, true));
        let text = squeezed(&Pdf::read(&printed.bytes).text());
        for length in [next.cut, next.flat, next.closed] {
            says(printed, &text, &format!("{:.0} mm", length.to_mm()));
        }
        let before = squeezed(&format!("{:.0} mm", in_use.cut.to_mm()));
        assert!(!text.contains(&before), "{}: {text}", printed.name);
    }
}

/// The rising course as it stood when its second loop was due.
pub fn mid_course() -> String {
    let text = demo::edited(
        "orchard-lane-new-loop",
        &[
            ("prepared: 2026-06-22", "prepared: 2026-06-09"),
            // Within 5° of the first loop's end at 41°.
            ("passive: { flexion: 33, extension: 52 }", "passive: { flexion: 37, extension: 52 }"),
            (
                "      - { pull: flexion, angle: 33, place: 16 mm }\n",
                "      - { pull: flexion, angle: 33, place: 16 mm }\n<cut>",
            ),
        ],
    );
    let (before, later) = text.split_once("<cut>").unwrap();
    let (_, rest) = later.split_once("\nplateau:").unwrap();
    let text = format!("{before}plateau:{rest}");
    let is_second = |line: &&str| line.contains("{ loop: 2,");
    assert_eq!(text.lines().filter(is_second).count(), 1);
    text.lines().filter(|it| !is_second(it)).map(|it| format!("{it}\n")).collect()
}

#[test]
fn cards_say_what_to_cut_and_where() {
    for printed in all().iter().filter(|it| it.paper == Paper::Card && !is_done(it)) {
        let whole = Pdf::read(&printed.bytes).text();
        let words = words_of(&whole);
        let text = squeezed(&whole);
        for (pull, reckoned) in printed.case.orthosis.pulls.iter().zip(&printed.plan.pulls) {
            for made in &reckoned.loops {
                for length in [made.cut, made.flat, made.closed] {
                    says(printed, &text, &format!("{:.0} mm", length.to_mm()));
                }
                for mark in &made.marks {
                    let number =
                        if mark.number == 0 { "0, *".into() } else { mark.number.to_string() };
                    let (place, angle) = (mark.place.to_mm(), in_degrees(mark));
                    // A mark that waits for the doctor's word says so behind its angle.
                    let end = if reckoned.is_given_out(mark) {
                        format!("± {:.0}", mark.spread.to_mm())
                    } else {
                        ", *".into()
                    };
                    let wanted =
                        row(&format!("{place:.1} {number} {angle} {end}").replace(" ,", ","));
                    assert!(find(&words, &wanted, 0).is_some(), "{}: {wanted:?}", printed.name);
                }
            }
            // The pieces are worn already: only the loop is made.
            if pull.in_use().is_some() {
                continue;
            }
            let hole = pull.cuff.hole_from_crease.to_mm();
            says(printed, &text, &format!("{hole} mm past the crease"));
            let strip = pull.strip.start_from_crease.to_mm();
            says(printed, &text, &format!("{strip} mm before the crease"));
        }
        let is_worn = printed.case.orthosis.pulls.iter().any(|it| it.in_use().is_some());
        let words: &[&str] =
            if is_worn { &["fold"] } else { &["stockinette", "90°", "fold", "cool", "60 °C"] };
        for words in words {
            assert!(
                text.to_lowercase().contains(&squeezed(words).to_lowercase()),
                "{}: {words}",
                printed.name
            );
        }
    }
}

/// A loop each: with two pulls the cut list counts as many tabs and crimp sleeves as lines.
#[test]
fn every_line_has_its_tab_and_its_sleeve() {
    for printed in all().iter().filter(|it| it.paper == Paper::Card) {
        let text = Pdf::read(&printed.bytes).text();
        let words = words_of(&text);
        // Rows of the cut list begin with a number; steps of the work and captions read on otherwise.
        let count = |name: &str, next: fn(&str) -> bool| -> usize {
            let rows =
                words.windows(3).filter(|it| it[1].trim_end_matches(',') == name && next(&it[2]));
            rows.filter_map(|it| it[0].parse::<usize>().ok()).filter(|it| *it < 6).sum()
        };
        let to_make = |it: &PullPlan| made_now(printed, it).len();
        let loops: usize = printed.plan.pulls.iter().map(to_make).sum();
        // Before the first loop a pull has its tab even where no loop reaches today's range.
        let is_worn = printed.case.orthosis.pulls.iter().any(|it| it.in_use().is_some());
        let loops = if is_worn { loops } else { loops.max(1) };
        let counts = [
            count("Tab", |it| it != "and"),
            count("Crimp", |it| it.trim_end_matches(',') == "sleeve"),
            count("Line", |_| true),
        ];
        assert_eq!(counts, [loops; 3], "{}", printed.name);
    }
}
