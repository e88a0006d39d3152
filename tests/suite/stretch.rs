//! How the handout goes on: a session that moves on, stays, eases or waits; its log; its print size; the teach-back.

use lopdf::content::Content;
use lopdf::{Document, Object};
use tautline::calc;
use tautline::case::PageSize;
use tautline::sheets::{self, Edition, Paper};

use crate::cli::{Scene, run};
use crate::demo;
use crate::papers::{Printed, says, squeezed, typeset};
use crate::pdf::{Pdf, numbers};

fn handouts(name: &str, text: &str) -> Vec<(Printed, String)> {
    let papers = typeset(name, text).into_iter().filter(|it| it.paper == Paper::Handout);
    papers
        .map(|it| {
            let text = squeezed(&Pdf::read(&it.bytes).text());
            (it, text)
        })
        .collect()
}

/// Sentences that belong to one way of going on alone.
const ON: [&str; 3] =
    ["Move on if the pull", "Do not pass the next mark", "When is it time for the next mark?"];
const STAY: [&str; 3] =
    ["Stay at your mark, even", "use the same mark", "Stay at this mark until we tell you"];
const EASE: [&str; 5] = [
    "at your mark or lower",
    "Stop where the stretch is mild",
    "Do not add minutes or marks for now. Your therapist may write fewer minutes here:",
    "Today or nearer to your hand",
    "A light stretch is right",
];
const PAUSE: [&str; 2] = ["Do not wear the splint now. Call us first.", "Do not wear it now."];

/// Each way's sentences stand in it and in no other.
#[track_caller]
fn goes(name: &str, text: &str, own: &[&str]) {
    for (printed, shown) in handouts(name, text) {
        for sentence in own {
            says(&printed, &shown, sentence);
        }
        for other in
            ON.iter().chain(&STAY).chain(&EASE).chain(&PAUSE).filter(|it| !own.contains(it))
        {
            // A light stretch is right for whoever must go gently, on whatever way.
            assert!(
                *other == EASE[4] || !shown.contains(&squeezed(other)),
                "{}: {other}",
                printed.name
            );
        }
    }
}

#[test]
fn a_first_handout_moves_on() {
    goes("on", &demo::text("quarry-bend-left-flexion"), &ON);
}

/// Little was worn: the mark stays, and nothing tells the patient to go past it.
#[test]
fn a_hold_stays_at_the_mark() {
    goes("stay", &demo::text("ropewalk-plateau"), &STAY);
}

/// Pain rose: a gentler stretch, lower than the mark, with room for what the therapist writes.
#[test]
fn pain_eases_the_stretch() {
    let text = demo::edited(
        "orchard-lane-new-loop",
        &[(
            "pain: { rest: 0, worn: 2 }\n    skin: clear\n    worn: { sessions: 13",
            "pain: { rest: 0, worn: 6 }\n    skin: clear\n    worn: { sessions: 13",
        )],
    );
    goes("ease", &text, &EASE);
}

/// A stop that nobody answered: the program prints no handout, and what would be on it says to wait.
#[test]
fn a_stop_waits_for_the_clinic() {
    goes("pause", &demo::text("chalk-pit-stopped"), &PAUSE);
}

/// A stop that the doctor answered rests no more: the handout goes on as the rest of the numbers say.
#[test]
fn an_answered_stop_rests_no_more() {
    let lost = [(
        "date: 2026-06-01\n    passive: { flexion: 31",
        "date: 2026-06-01\n    passive: { flexion: 58",
    )];
    let text = demo::edited("orchard-lane-new-loop", &lost);
    assert!(calc::plan(&demo::read(&text)).is_withheld());
    goes("lost", &text, &PAUSE);
    let answer = "overrides:\n  - { finding: range-lost-flexion, by: Dr. S. Mbeki-Roux, date: 2026-06-22, why: misread }\n";
    let text = text + answer;
    let plan = calc::plan(&demo::read(&text));
    assert!(plan.findings.iter().any(|it| it.id == "range-lost-flexion"));
    assert!(!plan.is_withheld());
    for (printed, shown) in handouts("answered", &text) {
        assert!(PAUSE.iter().all(|it| !shown.contains(&squeezed(it))), "{}", printed.name);
    }
}

/// Whoever must go gently reads of a light stretch where the mark stays too.
#[test]
fn a_gentle_hold_stops_before_it_hurts() {
    let text =
        demo::edited("ropewalk-plateau", &[("conditions: []", "conditions: [ osteoporosis ]")]);
    for (printed, shown) in handouts("gentle stay", &text) {
        says(&printed, &shown, "light stretch, with no pain");
        says(&printed, &shown, "Stay at your mark, even");
        says(&printed, &shown, "Stop before it hurts.");
        for firm in ["firmstretch", "Stillfirm", "Afirm"] {
            assert!(!shown.contains(firm), "{}: {firm}", printed.name);
        }
    }
}

/// The limit is the last mark that is given out, whichever loop reaches it.
#[test]
fn the_last_mark_is_the_limit() {
    for (printed, shown) in handouts("limit", &demo::text("quarry-bend-left-flexion")) {
        let given = crate::papers::given_out(&printed);
        let last = given.iter().flat_map(|it| &it.marks).map(|it| it.number).max().unwrap();
        assert!(last > 0);
        says(&printed, &shown, &format!("Never go past mark {last}."));
    }
}

/// One row a day up to the next visit; a box for each planned session, one for the skin, one for pain.
#[test]
fn the_log_runs_to_the_next_visit() {
    for (visit, days) in [("2026-04-20", 7), ("2026-04-27", 14), ("2026-05-08", 25)] {
        let line = format!("prepared: 2026-04-13\n  next_visit: {visit}");
        let text = demo::edited("quarry-bend-left-flexion", &[("prepared: 2026-04-13", &line)]);
        for (printed, shown) in handouts("log", &text) {
            // Days side by side have room for short names; so few as seven make one table.
            let form = if days == 7 { "%A %-d" } else { "%a %-d" };
            let day = |index: i64| {
                let date = printed.case.head.prepared + jiff::Span::new().days(index);
                squeezed(&date.strftime(form).to_string())
            };
            let (_, log) = shown.split_once("Mywearlog").expect("a log");
            for index in 0..days {
                assert!(log.contains(&day(index)), "{}: {} of {days}", printed.name, day(index));
            }
            let wear = &printed.plan.wear.steps;
            let times: u32 = (0..days)
                .map(|index| {
                    let date = printed.case.head.prepared + jiff::Span::new().days(index);
                    wear.iter().find(|it| it.from <= date && date <= it.to).expect("a step").times
                })
                .sum();
            assert_eq!(
                boxes(&printed, 7.0),
                times as usize + 2 * days as usize,
                "{}",
                printed.name
            );
            let when = printed.case.head.next_visit.unwrap().strftime("%A %-d %B %Y").to_string();
            says(&printed, &shown, &when);
        }
    }
}

/// Squares of one side among all that is stroked, in millimetres.
fn boxes(printed: &Printed, side: f64) -> usize {
    let pdf = Pdf::read(&printed.bytes);
    let of = |index| {
        let strokes = pdf.strokes(index);
        let is_side = |it: &&crate::pdf::Stroke| {
            (it.width_pt - 0.7).abs() < 1e-3 && (it.length() - side).abs() < 0.01
        };
        strokes.iter().filter(is_side).count()
    };
    (0..pdf.page_count()).map(of).sum::<usize>() / 4
}

/// The type size of each shown string, in points, with the number of its bytes.
fn sizes(printed: &Printed) -> Vec<(f64, usize)> {
    let document = Document::load_mem(&printed.bytes).unwrap();
    let mut found = Vec::new();
    for page in document.get_pages().into_values() {
        let (mut size, mut scale) = (0.0, 1.0);
        for it in Content::decode(&document.get_page_content(page)).unwrap().operations {
            let n = numbers(&it.operands);
            match it.operator.as_str() {
                "Tf" => size = n[0],
                "Tm" => scale = (n[0] * n[0] + n[1] * n[1]).sqrt(),
                "Tj" | "TJ" => found.push((size * scale, bytes(&it.operands))),
                _ => {}
            }
        }
    }
    assert!(found.len() > 100, "{}: {} strings", printed.name, found.len());
    found
}

/// Bytes of all strings in an operand.
fn bytes(objects: &[Object]) -> usize {
    let of = |it: &Object| match it {
        Object::String(text, _) => text.len(),
        Object::Array(items) => bytes(items),
        _ => 0,
    };
    objects.iter().map(of).sum()
}

#[test]
fn nothing_that_a_patient_reads_is_below_twelve_points() {
    for (printed, _) in handouts("standard", &demo::text("quarry-bend-left-flexion")) {
        for (size, _) in sizes(&printed) {
            assert!(size >= 12.0 - 1e-3, "{}: {size} pt", printed.name);
        }
    }
}

#[test]
fn large_print_is_eighteen_points_and_says_the_same() {
    let large = "prepared: 2026-04-13\n  print_size: large";
    let text = demo::edited("quarry-bend-left-flexion", &[("prepared: 2026-04-13", large)]);
    let standard = handouts("standard", &demo::text("quarry-bend-left-flexion"));
    for ((printed, shown), (_, plain)) in handouts("large", &text).iter().zip(&standard) {
        let all = sizes(printed);
        let letters =
            |from: f64| all.iter().filter(|it| it.0 >= from - 1e-3).map(|it| it.1).sum::<usize>();
        assert!(all.iter().all(|it| it.0 >= 14.0 - 1e-3), "{}", printed.name);
        // The log, the names in drawings and the frame are set smaller.
        assert!(
            letters(18.0) * 10 > letters(0.0) * 6,
            "{}: {} of {}",
            printed.name,
            letters(18.0),
            letters(0.0)
        );
        for sentence in ON.iter().chain(&[
            "What is this for?",
            "20 minutes",
            "Keep it cool",
            "a car in the sun",
            "My questions:",
        ]) {
            says(printed, shown, sentence);
            assert!(plain.contains(&squeezed(sentence)));
        }
        assert!(boxes(printed, 8.0) >= 28, "boxes for a hand that shakes");
    }
}

#[test]
fn the_teach_back_ends_the_clinics_copy() {
    let case = demo::case("quarry-bend-left-flexion");
    let plan = calc::plan(&case);
    let set = |teach_back| {
        let edition = Edition { teach_back, ..PageSize::A4.into() };
        Pdf::read(&sheets::typeset(&[Paper::Handout], &case, &plan, edition).unwrap()[0])
    };
    let (without, with) = (set(false), set(true));
    assert_eq!(with.page_count(), without.page_count() + 1);
    let last = squeezed(&with.page_text(with.page_count() - 1));
    for words in [
        "Show me how you set the tab",
        "How long do you wear it, and how often?",
        "When do you stop and call?",
        "30 minutes, 3 times a day",
    ] {
        assert!(last.contains(&squeezed(words)), "{words}: {last}");
        assert!(!squeezed(&without.text()).contains(&squeezed(words)), "{words}");
    }
    assert_eq!(last.matches("Initials:").count(), 3);
}

/// With the other papers it is the clinic's copy, alone the patient's; the case says what that means.
#[test]
fn the_case_says_when_the_teach_back_prints() {
    for (word, packet, alone) in
        [("always", true, true), ("clinic_copy", true, false), ("never", false, false)]
    {
        let scene = Scene::new();
        let line = format!("prepared: 2026-04-13\n  teach_back: {word}");
        let text = demo::edited("quarry-bend-left-flexion", &[("prepared: 2026-04-13", &line)]);
        scene.write("case.yaml", text.as_bytes());
        for (folder, only, wanted) in [
            ("all", &[][..], packet),
            ("one", &["--only", "handout"], alone),
            ("twice", &["--only", "handout", "--only", "handout"], alone),
        ] {
            let arguments = [&["print", "case.yaml", "--out", folder], only].concat();
            assert_eq!(run(&scene, &arguments).code, 0);
            let pdf = std::fs::read(scene.path(folder).join("QB-2207-handout.pdf")).unwrap();
            let shown = squeezed(&Pdf::read(&pdf).text());
            assert_eq!(shown.contains("Teach-back"), wanted, "{word} {folder}");
        }
    }
}
