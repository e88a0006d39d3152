//! Text that tries to be code, characters that mislead, bytes that are no text.

use tautline::case::{self, Kind, PageSize};
use tautline::sheets::{self, Paper};
use tautline::{calc, fonts};

use crate::demo;
use crate::papers::squeezed;
use crate::pdf::Pdf;

const BASE: &str = "quarry-bend-left-flexion";

fn with_name(name: &str) -> String {
    let quoted = serde_json::to_string(name).unwrap();
    demo::text(BASE).replace("name: T. Marlow", &format!("name: {quoted}"))
}

/// The text of a paper for a patient of this name.
fn printed(name: &str, paper: Paper) -> String {
    let case = demo::read(&with_name(name));
    let plan = calc::plan(&case);
    let pdf = sheets::typeset(&[paper], &case, &plan, PageSize::Letter).unwrap();
    Pdf::read(&pdf[0]).text()
}

/// Text that is code to the typesetter, a terminal or a reader of YAML.
const CODE: &str = r#"#read("/etc/passwd") $x^2$ *b* _i_ = h <l> @r `c` \u{41} [z] // "#;

/// The papers for clinician and payer.
const LETTERS: [Paper; 2] = [Paper::Summary, Paper::Brief];

/// Each free text field, what it holds in the base case, and the papers that show it.
const FIELDS: [(&str, &str, &[Paper]); 11] = [
    ("N", "name: T. Marlow", &Paper::ALL),
    ("C", "name: Quarry Bend Hand Therapy", &Paper::ALL),
    ("P", "phone: 555-0142", &Paper::ALL),
    ("T", "therapist: Ines Okoye, OTR/L, CHT", &[Paper::Handout, Paper::Summary, Paper::Brief]),
    ("R", "by: Dr. P. Anand\n  date", &LETTERS),
    ("D", "diagnosis: Healed left distal radius fracture with wrist stiffness", &LETTERS),
    ("K", "code: S52.502D", &LETTERS),
    ("A", "what: night tray", &LETTERS),
    ("G", "result: no gain", &LETTERS),
    ("O", "other: gout", &[Paper::Card, Paper::Summary]),
    ("W", "why: films seen", &[Paper::Card, Paper::Summary, Paper::Brief]),
];

/// Every free text field holds code at once, each ended by its own letter.
#[test]
fn markup_in_any_field_prints_as_it_stands() {
    let mut text = demo::text(BASE)
        .replace("conditions: []", "conditions: [ { other: gout } ]")
        .replace("end_feel: firm", "end_feel: hard")
        .replace("  code:", "  tried: [ { what: night tray, result: no gain } ]\n  code:");
    text.push_str(
        "overrides:\n  - { finding: end-feel-hard, by: Dr. P. Anand, date: 2026-04-10, why: films seen }\n",
    );
    let code = |letter: &str| match letter {
        // A telephone number and a code take 30 characters.
        "P" | "K" => format!("#a(1) $x$ *b* <l> `c` @r {letter}"),
        _ => format!("{CODE}{letter}"),
    };
    for (letter, field, _) in FIELDS {
        assert!(text.contains(field), "{field}");
        let (key, rest) = field.split_once(": ").unwrap();
        let behind = rest.split_once('\n').map_or(String::new(), |(_, it)| format!("\n{it}"));
        let quoted = serde_json::to_string(&code(letter)).unwrap();
        text = text.replacen(field, &format!("{key}: {quoted}{behind}"), 1);
    }
    let case = demo::read(&text);
    let plan = calc::plan(&case);
    assert!(!plan.is_withheld(), "the override holds");
    let set = sheets::typeset(&Paper::ALL, &case, &plan, PageSize::Letter).unwrap();
    for (paper, pdf) in Paper::ALL.into_iter().zip(set) {
        let text = Pdf::read(&pdf).text();
        let text = squeezed(&text);
        for (letter, field, papers) in FIELDS {
            let shown = text.contains(&squeezed(&code(letter)));
            assert_eq!(shown, papers.contains(&paper), "{paper:?} and `{field}`: {text}");
        }
        assert!(!text.contains("root:"), "no file is read");
    }
}

/// Free text of visits, and what it holds in the rising course; the summary alone shows it.
const OF_VISITS: [(&str, &str); 2] = [
    ("K", "- second loop made and fitted"),
    ("M", "remark: Wears it at the kitchen table, arm on a cushion"),
];

/// The rising course with other words in its visits.
fn visits_with(words: impl Fn(&str) -> String) -> String {
    let text = demo::text("orchard-lane-new-loop");
    OF_VISITS.iter().fold(text, |text, (letter, field)| {
        assert!(text.contains(field), "{field}");
        let (key, _) = field.split_once(' ').unwrap();
        let quoted = serde_json::to_string(&words(letter)).unwrap();
        text.replacen(field, &format!("{key} {quoted}"), 1)
    })
}

#[test]
fn markup_in_a_visit_prints_as_it_stands() {
    let case = demo::read(&visits_with(|letter| format!("{CODE}{letter}")));
    let plan = calc::plan(&case);
    let set = sheets::typeset(&Paper::ALL, &case, &plan, PageSize::Letter).unwrap();
    for (paper, pdf) in Paper::ALL.into_iter().zip(set) {
        let text = squeezed(&Pdf::read(&pdf).text());
        for (letter, field) in OF_VISITS {
            let shown = text.contains(&squeezed(&format!("{CODE}{letter}")));
            assert_eq!(shown, paper == Paper::Summary, "{paper:?} and `{field}`: {text}");
        }
    }
}

#[test]
fn characters_in_a_visit_that_cannot_be_printed_are_named() {
    let text = visits_with(|letter| format!("{letter} \u{1f600}"));
    let faults = case::read(text.as_bytes()).expect_err("faults").faults;
    let character = "`\u{1f600}` (U+1F600)";
    let named = ["visits[2].remark", "visits[5].changes[1]"]
        .map(|key| Kind::Unprintable { key: key.into(), character: character.into() });
    assert_eq!(faults.into_iter().map(|it| it.kind).collect::<Vec<_>>(), named);
}

#[test]
fn a_very_long_name_is_refused_and_a_long_one_prints() {
    let long = "Maria-Theodora Wolkenstein-Fitzgerald von und zu Ober- und Niederachern am See XY";
    assert_eq!(long.chars().count(), 81);
    assert!(matches!(first_fault(&with_name(long)), Kind::NotAccepted { .. }));
    let name = &long[..80];
    let text = printed(name, Paper::Handout);
    let squeezed: String = text.split_whitespace().collect();
    assert!(squeezed.contains(&name.split_whitespace().collect::<String>()), "{text}");
}

fn first_fault(text: &str) -> Kind {
    case::read(text.as_bytes()).expect_err("a fault").faults[0].kind.clone()
}

#[test]
fn characters_that_cannot_be_printed_are_named() {
    for (name, character) in [
        ("Ann \u{1f600}", "`\u{1f600}` (U+1F600)"),
        ("\u{5d3}\u{5d5}\u{5d3}", "`\u{5d3}` (U+05D3)"),
        ("\u{645}\u{631}", "`\u{645}` (U+0645)"),
        ("\u{738b}", "`\u{738b}` (U+738B)"),
        ("Ann\u{202e}nnA", "U+202E"),
        ("Ann\u{200b}a", "U+200B"),
        ("Ann\u{ad}a", "U+00AD"),
        ("Ann\u{7}a", "U+0007"),
        ("two\nlines", "U+000A"),
    ] {
        let fault = first_fault(&with_name(name));
        let wanted = Kind::Unprintable { key: "patient.name".into(), character: character.into() };
        assert_eq!(fault, wanted);
    }
}

/// Names of many tongues print, and read back as they were written.
#[test]
fn names_extract_as_written() {
    for name in ["Nguyễn Thị Hạnh", "Łukasz Żółć", "Ångström Ñandú", "Ștefan Țepeș", "Анна Щукина"]
    {
        let text = printed(name, Paper::Summary);
        let squeezed: String = text.split_whitespace().collect();
        assert!(squeezed.contains(&name.split_whitespace().collect::<String>()), "{name}: {text}");
    }
}

#[test]
fn bytes_that_are_no_text_are_said_to_be_so() {
    for bytes in [&b"\xff\xfec\0a\0"[..], b"case:\n  id: \xc3(\n", b"\xfe\xff\0c"] {
        let unsound = case::read(bytes).expect_err("a fault");
        assert_eq!(unsound.faults[0].kind.name(), "not-text");
    }
    let unsound = case::read(b"case:\n  id: \xc3(\n").expect_err("a fault");
    assert_eq!((unsound.faults[0].place.line, unsound.faults[0].place.column), (2, 7));
}

#[test]
fn odd_files_are_faults_not_crashes() {
    let deep = "[".repeat(10_000);
    let bomb = "a: &a [x]\nb: [*a, *a]\n";
    for text in
        ["", "just words", "- a\n- b\n", &deep, bomb, "a: 1\n---\nb: 2\n", "<<: {a: 1}\n", "\0"]
    {
        let unsound = case::read(text.as_bytes()).expect_err("a fault");
        assert!(!unsound.faults.is_empty());
    }
}

#[test]
fn fonts_cover_the_characters_of_the_papers() {
    for character in "aZ09 .,;:°±×–−·’“”…áéíñ¿¡".chars() {
        assert!(fonts::prints(character), "{character:?}");
    }
}
