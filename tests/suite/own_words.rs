//! A clinic's own words, laid over ours: what they change, what they leave, and what is refused.

use std::fs;
use std::path::PathBuf;

use tautline::calc;
use tautline::case::{Language, PageSize};
use tautline::sheets::{self, Edition, OwnWords, Paper};

use crate::cli::{Scene, run};
use crate::demo;
use crate::papers::squeezed;
use crate::pdf::Pdf;

const BASE: &str = "quarry-bend-left-flexion";

/// The handout's text with some words laid over ours.
fn handout(case: &str, words: &[&str]) -> String {
    let case = demo::read(case);
    let own: Vec<OwnWords> = words
        .iter()
        .map(|it| OwnWords::read(it.as_bytes()).unwrap_or_else(|faults| panic!("{faults:#?}")))
        .collect();
    let edition = Edition { words: &own, ..PageSize::Letter.into() };
    let set = sheets::typeset(&[Paper::Handout], &case, &calc::plan(&case), edition).unwrap();
    squeezed(&Pdf::read(&set[0]).text())
}

#[test]
fn own_words_stand_in_place_of_ours_and_the_rest_stays() {
    let words = "handout:\n  why: { heading: Why this splint? }\n  care:\n    points:\n      - Bring it to us if it rubs.\n";
    let shown = handout(&demo::text(BASE), &[words]);
    for wanted in
        ["Why this splint?", "Bring it to us if it rubs.", "When do I wear it?", "a car in the sun"]
    {
        assert!(shown.contains(&squeezed(wanted)), "{wanted}");
    }
    for gone in ["What is this for?", "Pick lint out of the hooks"] {
        assert!(!shown.contains(&squeezed(gone)), "{gone}");
    }
}

/// Steps are numbered as ours stand, in whatever order the clinic writes them.
#[test]
fn own_words_keep_our_order() {
    let words =
        "handout:\n  pulling:\n    session:\n      look: Look last.\n      sit: Sit first.\n";
    let shown = handout(&demo::text(BASE), &[words]);
    let at = |words: &str| shown.find(&squeezed(words)).unwrap_or_else(|| panic!("{words}"));
    assert!(
        at("1Sit first.") < at("Hold for 5 minutes")
            && at("Hold for 5 minutes") < at("9Look last.")
    );
}

/// Words serve the cases of their language alone.
#[test]
fn own_words_serve_their_language() {
    let spanish = crate::words::spoken(BASE, Language::Spanish);
    let own = ["language: es\nhandout: { name: Mi hoja }", "handout: { name: My sheet }"];
    let (es, en) = (handout(&spanish, &own), handout(&demo::text(BASE), &own));
    assert!(es.contains("Mihoja") && !es.contains("Mysheet"));
    assert!(en.contains("Mysheet") && !en.contains("Mihoja"));
    assert!(!handout(&spanish, &own[1..]).contains("Mysheet"));
}

/// Code in a words file prints as it stands; only asterisks set words in bold.
#[test]
fn own_words_stay_data() {
    let words = "handout: { why: { heading: '#read(\"/etc/passwd\") $x$ <l> @r = - \\ *so*' } }";
    let shown = handout(&demo::text(BASE), &[words]);
    assert!(shown.contains(&squeezed("#read(\"/etc/passwd\") $x$ <l> @r = - \\")), "{shown}");
}

/// Values are never searched for slots: a clinic named like one prints as it is named.
#[test]
fn a_name_like_a_slot_is_a_name() {
    let text =
        demo::edited(BASE, &[("name: Quarry Bend Hand Therapy", "name: \"{phone} Clinic\"")]);
    assert!(handout(&text, &[]).contains("Thencall{phone}Clinic"));
}

/// Each faulty words file stands before its whole report; `UPDATE=1` rewrites the reports.
#[test]
fn each_faulty_words_file_has_its_whole_report() {
    let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("tests/words");
    let mut kinds = Vec::new();
    let mut stale = Vec::new();
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        let text = fs::read_to_string(&path).unwrap();
        let (words, expected) = text.split_once("=== report\n").expect("a report");
        let scene = Scene::new();
        scene.write("words.yaml", words.as_bytes());
        scene.write("case.yaml", demo::text(BASE).as_bytes());
        let checked = run(&scene, &["check", "--words", "words.yaml"]);
        let printed = run(&scene, &["print", "case.yaml", "--words", "words.yaml"]);
        assert_eq!((checked.code, printed.code), (2, 2), "{}", path.display());
        assert_eq!(checked.stderr, printed.stderr);
        assert!(!scene.path("papers").exists(), "nothing is printed");
        let faults = OwnWords::read(words.as_bytes()).expect_err("faults");
        assert!(faults.is_sorted_by_key(|it| it.place));
        kinds.extend(faults.iter().map(|it| it.kind.name()));
        if checked.stderr != expected {
            if std::env::var_os("UPDATE").is_some() {
                fs::write(&path, format!("{words}=== report\n{}", checked.stderr)).unwrap();
            }
            stale.push(format!("{}:\n{}", path.display(), checked.stderr));
        }
    }
    assert!(stale.is_empty(), "reports differ:\n{}", stale.join("\n"));
    for kind in [
        "not-words",
        "unknown-words",
        "wrong-shape",
        "not-accepted",
        "unprintable",
        "twice",
        "not-yaml",
    ] {
        assert!(kinds.contains(&kind), "no file shows {kind}");
    }
}

/// Our own words are sound as a clinic's file: the rules ask nothing of a clinic that we do not keep.
#[test]
fn our_words_pass_their_own_rules() {
    for language in Language::ALL {
        let path = format!("{}/layouts/words/{}.yaml", env!("CARGO_MANIFEST_DIR"), language.word());
        let text = format!("language: {}\n{}", language.word(), fs::read_to_string(path).unwrap());
        if let Err(faults) = OwnWords::read(text.as_bytes()) {
            panic!("{faults:#?}");
        }
    }
}

#[test]
fn words_of_one_language_are_given_once() {
    let scene = Scene::new();
    scene.write("one.yaml", b"handout: { name: One }");
    scene.write("two.yaml", b"handout: { name: Two }");
    let done = run(&scene, &["check", "--words", "one.yaml", "--words", "two.yaml"]);
    assert_eq!(done.code, 2);
    assert!(done.stderr.contains("two.yaml: a second words file for `en`"), "{}", done.stderr);
    let done = run(&scene, &["check", "--words", "absent.yaml"]);
    assert_eq!(done.code, 3);
}

#[test]
fn a_case_of_another_language_is_told() {
    let scene = Scene::new();
    scene.write("es.yaml", b"language: es\nhandout: { name: Mi hoja }");
    scene.write("case.yaml", demo::text(BASE).as_bytes());
    let done = run(&scene, &["print", "case.yaml", "--only", "handout", "--words", "es.yaml"]);
    assert_eq!(done.code, 0);
    assert!(done.stderr.contains("the case's language is `en`"), "{}", done.stderr);
}
