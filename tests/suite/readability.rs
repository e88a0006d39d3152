//! How hard the patient's paper reads, by published formulas over its running text.
//!
//! `tests/readability/run.sh` holds the same text against another program.

use std::fs;
use std::path::PathBuf;

use tautline::sheets::Paper;

use crate::boxes::papers;
use crate::ink::{Ink, pages};
use crate::papers::Printed;
use crate::pdf::Pdf;
use crate::prose::{Counts, sentences};
use crate::tree::{said, tree};

/// The language that a paper says it is in.
pub fn language(pdf: &Pdf) -> String {
    let language = pdf.get(pdf.catalog(), "Lang").unwrap().as_str().unwrap();
    String::from_utf8_lossy(language).into_owned()
}

/// The running text of a paper with the names of people and places taken out, and its language.
fn running_text(printed: &Printed, pages: &[Ink]) -> (Vec<String>, String) {
    let pdf = Pdf::read(&printed.bytes);
    let case = &printed.case;
    let names = [&case.patient.name, &case.clinic.therapist, &case.clinic.name, &case.clinic.phone];
    let bare = |it: &String| names.iter().fold(it.clone(), |text, name| text.replace(*name, ""));
    let found = sentences(&tree(&pdf), &said(pages));
    (found.iter().map(bare).collect(), language(&pdf))
}

/// The running text of each handout, in each language.
fn handouts() -> impl Iterator<Item = (&'static Printed, Vec<String>, String)> {
    let handouts = papers().filter(|(it, _)| it.paper == Paper::Handout);
    handouts.map(|(printed, pages)| {
        let (text, language) = running_text(printed, pages);
        (printed, text, language)
    })
}

/// What is too hard in an English text: Flesch-Kincaid grade 6, SMOG grade 8, 15 words a sentence. The limits
/// are this project's own: a text for the fifth or sixth grade is what guides to writing for patients ask for
/// (common practice, no source).
fn hard_english(counts: Counts) -> Option<String> {
    let (grade, smog, length) = (counts.flesch_kincaid(), counts.smog(), counts.length());
    (grade > 6.0 || smog > 8.0 || length > 15.0)
        .then(|| format!("grade {grade:.1}, SMOG {smog:.1}, {length:.1} words a sentence"))
}

/// What is too hard in a Spanish text: below 70, `fairly easy`; 15 words a sentence.
fn hard_spanish(counts: Counts) -> Option<String> {
    let (ease, length) = (counts.fernandez_huerta(), counts.length());
    (ease < 70.0 || length > 15.0)
        .then(|| format!("Fernández Huerta {ease:.1}, {length:.1} words a sentence"))
}

#[test]
fn handouts_read_easily() {
    let mut read = 0;
    for (printed, text, language) in handouts() {
        let counts = Counts::of(&text, &language);
        assert!(counts.sentences > 60 && counts.words > 500, "{}: {counts:?}", printed.name);
        let hard = match language.as_str() {
            "en" => hard_english(counts),
            "es" => hard_spanish(counts),
            other => panic!("{}: no formula for `{other}`", printed.name),
        };
        assert_eq!(hard, None, "{}", printed.name);
        read += 1;
    }
    assert!(read >= 16, "every demo case on both page sizes");
}

/// The text that is measured is the text that is read: steps and stop signs are in it, and what is no sentence
/// is not.
#[test]
fn running_text_holds_steps_and_no_tables() {
    for (printed, text, language) in handouts().filter(|it| it.2 == "en") {
        let all = text.join("\n");
        for wanted in ["Close the forearm straps.", "numbness", "Dry it well."] {
            assert!(all.contains(wanted), "{} ({language}): no `{wanted}`", printed.name);
        }
        for other in ["Times a day", "←", "•", "How do I", printed.case.clinic.phone.as_str()] {
            assert!(!all.contains(other), "{}: `{other}`", printed.name);
        }
    }
}

/// The summary is written for clinicians: by the same measure it is too hard for a patient.
#[test]
fn a_paper_for_clinicians_is_too_hard() {
    let summaries = pages().iter().filter(|(it, _)| it.paper == Paper::Summary);
    for (printed, pages) in summaries {
        let (text, language) = running_text(printed, pages);
        let counts = Counts::of(&text, &language);
        assert!(hard_english(counts).is_some(), "{}: {counts:?}", printed.name);
    }
}

fn lines(text: &[&str]) -> Vec<String> {
    text.iter().map(|it| (*it).to_owned()).collect()
}

/// The formulas worked by hand. 12 words in 2 sentences; syllables 1 1 1 1 1 1, 1 4 1 3 1 2.
#[test]
fn formulas_give_what_a_hand_reckons() {
    let text = lines(&["The cat sat on the mat.", "An operation on Saturday was simple."]);
    let counts = Counts::of(&text, "en");
    assert_eq!(counts, Counts { sentences: 2, words: 12, syllables: 18, long_words: 2 });
    let near = |one: f64, other: f64| assert!((one - other).abs() < 1e-9, "{one} {other}");
    // 0.39 × 6 + 11.8 × 1.5 − 15.59
    near(counts.flesch_kincaid(), 4.45);
    // 3.1291 + 1.043 × √(2 × 30 / 2)
    near(counts.smog(), 3.1291 + 1.043 * 30.0_f64.sqrt());
    // Syllables 1 2 3, 1 3 2 1: 206.84 − 60 × 13 / 7 − 1.02 × 3.5
    let text = lines(&["La férula ayuda.", "No apriete tanto más."]);
    let counts = Counts::of(&text, "es");
    assert_eq!(counts, Counts { sentences: 2, words: 7, syllables: 14, long_words: 3 });
    near(counts.fernandez_huerta(), 206.84 - 120.0 - 3.57);
}

/// Office prose in both languages is too hard, plain prose is not.
#[test]
fn hard_prose_is_found() {
    let plain = lines(&["Sit down.", "Rest your arm on a table.", "Set the tab at your mark."]);
    let hard = lines(&[
        "Utilization of this orthotic device necessitates periodic dermatological examination by the individual \
         concerned, preferably immediately subsequent to each application.",
    ]);
    assert_eq!(hard_english(Counts::of(&plain, "en")), None);
    assert!(hard_english(Counts::of(&hard, "en")).is_some());
    let plain = lines(&["Siéntese.", "Ponga el brazo en la mesa.", "Mire la piel de la mano."]);
    let hard = lines(&[
        "La utilización continuada del dispositivo ortopédico requiere inspecciones dermatológicas periódicas \
         inmediatamente posteriores a cada aplicación terapéutica.",
    ]);
    assert_eq!(hard_spanish(Counts::of(&plain, "es")), None);
    assert!(hard_spanish(Counts::of(&hard, "es")).is_some());
}

/// Writes each handout's running text with what was counted in it, where `READABILITY_OUT` names a folder for
/// it, so that another program can read the same.
#[test]
fn running_text_can_be_read_by_another_program() {
    let folder = std::env::var_os("READABILITY_OUT").map(PathBuf::from);
    let handouts = pages().iter().filter(|(it, _)| it.paper == Paper::Handout);
    for (printed, pages) in handouts.filter(|(it, _)| it.name.ends_with("a4")) {
        let (text, language) = running_text(printed, pages);
        let counts = Counts::of(&text, &language);
        let scores = match language.as_str() {
            "en" => format!("{}\t{}", counts.flesch_kincaid(), counts.smog()),
            _ => format!("{}\t", counts.fernandez_huerta()),
        };
        let head = format!("{language}\t{}\t{}\t{scores}", counts.sentences, counts.words);
        assert!(text.iter().all(|it| !it.contains(['\n', '\t'])), "{}", printed.name);
        if let Some(folder) = &folder {
            fs::create_dir_all(folder).unwrap();
            let file = folder.join(format!("{}.txt", printed.name.replace(' ', "-")));
            fs::write(file, format!("{head}\n{}\n", text.join("\n"))).unwrap();
        }
    }
}
