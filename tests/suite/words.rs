//! The words files: every language says what English says, slot for slot, and papers speak it.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::PathBuf;

use lopdf::decode_text_string;
use serde_yaml::Value;
use tautline::case::Language;
use tautline::fonts;
use tautline::sheets::Paper;

use crate::demo;
use crate::handout::told_steps;
use crate::papers::{Printed, all, given_out, says, squeezed, typeset};
use crate::pdf::Pdf;

/// A language's words as the program embeds them.
pub fn words(language: Language) -> Value {
    let path = PathBuf::from(env!("CARGO_MANIFEST_DIR"));
    let path = path.join("layouts/words").join(format!("{}.yaml", language.word()));
    serde_yaml::from_str(&fs::read_to_string(path).unwrap()).unwrap()
}

/// Every text with its path; items of a list are numbered.
fn leaves(tree: &Value, path: &str, out: &mut BTreeMap<String, String>) {
    match tree {
        Value::String(text) => {
            out.insert(path.to_owned(), text.clone());
        }
        Value::Sequence(items) => {
            for (index, item) in items.iter().enumerate() {
                leaves(item, &format!("{path}[{index}]"), out);
            }
        }
        Value::Mapping(entries) => {
            for (key, value) in entries {
                let key = key.as_str().unwrap_or_else(|| panic!("{path}: a key is no text"));
                leaves(value, &format!("{path}.{key}"), out);
            }
        }
        other => panic!("{path} holds {other:?}"),
    }
}

fn texts(tree: &Value) -> BTreeMap<String, String> {
    let mut out = BTreeMap::new();
    leaves(tree, "", &mut out);
    out
}

/// The names in braces.
fn slots(text: &str) -> BTreeSet<&str> {
    text.split('{').skip(1).map(|it| it.split_once('}').expect("a closed brace").0).collect()
}

/// What the patient's papers read: a language has all of it or is no language.
const PATIENTS: [&str; 11] = [
    "dates", "numbers", "sides", "faces", "pulls", "parts", "frame", "checkbar", "ruler",
    "handout", "labels",
];

/// Key by key and in the same order, since steps are numbered as they stand.
fn same_keys(one: &Value, other: &Value, path: &str) {
    match (one, other) {
        (Value::Mapping(one), Value::Mapping(other)) => {
            let keys = |it: &serde_yaml::Mapping| -> Vec<Value> { it.keys().cloned().collect() };
            assert_eq!(keys(one), keys(other), "{path}");
            for (key, value) in one {
                same_keys(value, &other[key], &format!("{path}.{}", key.as_str().unwrap()));
            }
        }
        (Value::Sequence(one), Value::Sequence(other)) => {
            assert_eq!(one.len(), other.len(), "{path}");
        }
        (Value::String(one), Value::String(other)) => {
            assert_eq!(slots(one), slots(other), "{path}: {other}");
        }
        _ => panic!("{path}: one is a text, the other not"),
    }
}

#[test]
fn every_language_has_the_keys_and_slots_of_english() {
    let english = words(Language::English);
    for language in Language::ALL {
        let other = words(language);
        for section in PATIENTS {
            assert!(other.get(section).is_some(), "{language:?} lacks `{section}`");
        }
        for (section, value) in other.as_mapping().unwrap() {
            let section = section.as_str().unwrap();
            let ours = english.get(section).unwrap_or_else(|| panic!("English lacks `{section}`"));
            same_keys(ours, value, section);
        }
        // Lists keep their slots item by item.
        let (ours, theirs) = (texts(&english), texts(&other));
        for (path, text) in theirs {
            assert_eq!(slots(&text), slots(&ours[&path]), "{path}: {text}");
        }
    }
}

#[test]
fn words_print_and_their_emphasis_closes() {
    for language in Language::ALL {
        for (path, text) in texts(&words(language)) {
            assert!(!text.is_empty() && text.trim() == text, "{path}: `{text}`");
            let bad = text.chars().find(|it| !fonts::prints(*it));
            assert_eq!(bad, None, "{path}: {text}");
            assert_eq!(text.matches('*').count() % 2, 0, "{path}: {text}");
        }
    }
}

/// Texts that both languages write alike.
const ALIKE: [&str; 2] = [".handout.log.columns.planned", ".handout.log.short.minutes"];

/// No sentence of a translation was left in English.
#[test]
fn nothing_is_left_untranslated() {
    let english = texts(&words(Language::English));
    for (path, text) in texts(&words(Language::Spanish)) {
        // Slots are no words, nor are units.
        let bare: String =
            text.split('{').map(|it| it.split_once('}').map_or(it, |it| it.1)).collect();
        let has_words = bare.split(|it: char| !it.is_alphabetic()).any(|it| it.len() > 2);
        if has_words && !ALIKE.contains(&path.as_str()) {
            assert_ne!(text, english[&path], "{path}");
        }
    }
}

#[test]
fn slots_are_what_stands_in_braces() {
    assert_eq!(slots("a {b} c {d_e}"), BTreeSet::from(["b", "d_e"]));
    assert!(slots("plain").is_empty());
}

/// The language that a paper speaks: the clinic's own papers stay English.
pub fn language(printed: &Printed) -> Language {
    let is_patients = matches!(printed.paper, Paper::Handout | Paper::Labels);
    if is_patients { printed.case.head.language } else { Language::English }
}

/// A day as the footer of a paper gives it.
pub fn day(language: Language, date: jiff::civil::Date) -> String {
    let months = words(language)["dates"]["months"].clone();
    let month = months[usize::from(date.month().unsigned_abs()) - 1].as_str().unwrap().to_owned();
    match language {
        Language::English => format!("{} {month} {}", date.day(), date.year()),
        Language::Spanish => format!("{} de {month} de {}", date.day(), date.year()),
    }
}

/// A demo case in another language.
#[track_caller]
pub fn spoken(name: &str, language: Language) -> String {
    let text = demo::text(name);
    let line = text.lines().find(|it| it.starts_with("  prepared: ")).expect("a day");
    text.replacen(line, &format!("{line}\n  language: {}", language.word()), 1)
}

/// The patient's papers speak the case's language, in print and as files; the others stay English.
#[test]
fn the_patients_papers_speak_the_cases_language() {
    let text = spoken("quarry-bend-left-flexion", Language::Spanish);
    for printed in typeset("spanish", &text) {
        let pdf = Pdf::read(&printed.bytes);
        let is_patients = matches!(printed.paper, Paper::Handout | Paper::Labels);
        let language = if is_patients { Language::Spanish } else { Language::English };
        let tag = pdf.get(pdf.catalog(), "Lang").unwrap().as_str().unwrap();
        assert_eq!(tag, language.word().as_bytes(), "{}", printed.name);
        let shown = squeezed(&pdf.text());
        let own = words(language);
        for path in [["frame", "prepared"], ["frame", "phone"]] {
            let start = own[path[0]][path[1]].as_str().unwrap().split('{').next().unwrap();
            says(&printed, &shown, start);
        }
        let day = if is_patients { "13 de abril de 2026" } else { "13 April 2026" };
        says(&printed, &shown, day);
    }
}

/// A Spanish handout holds the Spanish sentences, and none of the English ones.
#[test]
fn a_spanish_handout_is_spanish_throughout() {
    let text = spoken("quarry-bend-left-flexion", Language::Spanish);
    let english = texts(&words(Language::English)["handout"]);
    for printed in typeset("spanish", &text) {
        if printed.paper != Paper::Handout {
            continue;
        }
        let shown = squeezed(&Pdf::read(&printed.bytes).text());
        says(&printed, &shown, "lunes 13 de abril de 2026");
        says(&printed, &shown, "lun 13 abr");
        says(&printed, &shown, "¿Cuándo paro y llamo?");
        for (path, sentence) in &english {
            let plain = squeezed(&sentence.replace('*', ""));
            let is_long = !plain.contains('{') && plain.len() > 8;
            assert!(!is_long || !shown.contains(&plain), "{}: {path}", printed.name);
        }
    }
}

/// The schedule, the rulers and the labels of the Spanish demos say in Spanish what the plan holds.
#[test]
fn spanish_demos_say_what_the_plan_holds() {
    let mut read = 0;
    for printed in all().iter().filter(|it| language(it) == Language::Spanish) {
        let pdf = Pdf::read(&printed.bytes);
        let shown = squeezed(&pdf.text());
        let own = words(Language::Spanish);
        let days = own["dates"]["week_days_short"].as_sequence().unwrap();
        let months = own["dates"]["months_short"].as_sequence().unwrap();
        let day = |it: jiff::civil::Date| {
            let week_day = days[usize::try_from(it.weekday().to_monday_zero_offset()).unwrap()]
                .as_str()
                .unwrap();
            let month = months[usize::from(it.month().unsigned_abs()) - 1].as_str().unwrap();
            format!("{week_day} {} {month}", it.day())
        };
        if printed.paper == Paper::Handout {
            for step in told_steps(printed) {
                let (from, to) = (day(step.from), day(step.to));
                says(printed, &shown, &format!("{from} al {to} {} {}", step.minutes, step.times));
            }
        } else {
            assert_eq!(
                shown.matches("Singrados.").count(),
                given_out(printed).len(),
                "{}",
                printed.name
            );
            assert_eq!(
                shown.matches("Congrados:").count(),
                given_out(printed).len(),
                "{}",
                printed.name
            );
        }
        for mark in given_out(printed).iter().flat_map(|it| &it.marks).filter(|it| it.number == 0) {
            let place = mark.place.to_mm().round();
            let alts = pdf
                .tags()
                .into_iter()
                .filter_map(|(_, it)| decode_text_string(pdf.get(it, "Alt")?).ok());
            let names = [format!("hoy: {place} mm"), format!("Hoy a {place} mm")];
            assert!(
                alts.into_iter().any(|it| names.iter().any(|name| it.contains(name))),
                "{}",
                printed.name
            );
        }
        read += 1;
    }
    assert_eq!(read, 8, "handout and labels of two demos on both page sizes");
}

/// Numbers on the labels carry the decimal comma.
#[test]
fn a_spanish_number_has_a_comma() {
    let text = spoken("quarry-bend-left-flexion", Language::Spanish).replacen(
        "length: 90 mm, width: 50 mm",
        "length: 88.9 mm, width: 50 mm",
        1,
    );
    for printed in typeset("comma", &text).iter().filter(|it| it.paper == Paper::Labels) {
        let shown = squeezed(&Pdf::read(&printed.bytes).text());
        says(printed, &shown, "tira de 88,9 mm");
        assert!(!shown.contains("88.9"), "{shown}");
    }
}
