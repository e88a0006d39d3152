//! Text that tries to be code, characters that mislead, bytes that are no text.

use tautline::case::{self, Kind, PageSize};
use tautline::sheets::{self, Paper};
use tautline::{calc, fonts};

use crate::demo;
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

#[test]
fn markup_prints_as_it_stands() {
    let name = r#"#read("/etc/passwd") $x$ *b* = h <l> `c` \u{41} //"#;
    for paper in Paper::ALL {
        let text = printed(name, paper);
        let squeezed: String = text.split_whitespace().collect();
        let wanted: String = name.split_whitespace().collect();
        assert!(squeezed.contains(&wanted), "{paper:?}: {text}");
        assert!(!text.contains("root:"), "no file is read");
    }
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

/// Every value of the base case replaced by each of these: a fault or a right result, never a panic.
#[test]
fn every_value_survives_bad_neighbours() {
    let text = demo::text(BASE);
    let lines: Vec<&str> = text.lines().collect();
    for (index, line) in lines.iter().enumerate() {
        let Some((key, value)) = line.split_once(": ") else { continue };
        if value.is_empty() || line.trim_start().starts_with('#') {
            continue;
        }
        for bad in [
            "",
            "~",
            "[]",
            "{}",
            "-1",
            "0 mm",
            "1e308 mm",
            ".nan",
            "true",
            "x",
            "999999 mm",
            "-5 N",
        ] {
            let mut changed = lines.clone();
            let replaced = format!("{key}: {bad}");
            changed[index] = &replaced;
            if let Ok(sound) = case::read(changed.join("\n").as_bytes()) {
                let plan = calc::plan(&sound.case);
                for mark in plan.pulls.iter().flat_map(calc::PullPlan::marks) {
                    assert!(mark.place.to_mm().is_finite(), "{replaced}");
                }
            }
        }
    }
}

/// Every line left out in turn: a fault or a right result.
#[test]
fn every_line_may_be_missing() {
    let text = demo::text(BASE);
    let lines: Vec<&str> = text.lines().collect();
    for index in 0..lines.len() {
        let mut changed = lines.clone();
        changed.remove(index);
        if let Ok(sound) = case::read(changed.join("\n").as_bytes()) {
            let _ = calc::plan(&sound.case);
        }
    }
}

#[test]
fn fonts_cover_the_characters_of_the_papers() {
    for character in "aZ09 .,;:°±×–−·’“”…áéíñ¿¡".chars() {
        assert!(fonts::prints(character), "{character:?}");
    }
}
