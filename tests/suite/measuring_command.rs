//! `measuring-sheet` as a user runs it: empty, from a case whole or begun, with faults, with the clinic's words, and
//! what it replaces.

use std::fs;

use tautline::sheets::identifier;

use crate::cli::{Scene, run};
use crate::demo;
use crate::measuring_sheet::{BASE, empty};
use crate::pdf::Pdf;

#[test]
fn the_command_writes_an_empty_sheet_and_one_for_a_case() {
    let scene = Scene::new();
    let done = run(&scene, &["measuring-sheet"]);
    assert_eq!((done.code, done.stderr.as_str()), (0, ""));
    assert_eq!(done.stdout, "papers/measuring-sheet.pdf\n");
    scene.write("case.yaml", demo::text("saltmarsh-right-extension").as_bytes());
    let done = run(&scene, &["measuring-sheet", "case.yaml", "--out", "arm"]);
    assert_eq!((done.code, done.stderr.as_str()), (0, ""));
    assert_eq!(done.stdout, "arm/SM-0418-measuring-sheet.pdf\n");
    let bytes = fs::read(scene.path("arm/SM-0418-measuring-sheet.pdf")).unwrap();
    // The clinic's printer holds A4.
    assert!((Pdf::read(&bytes).page_size_mm(0).0 - 210.0).abs() < 0.1);
    let done = run(&scene, &["measuring-sheet", "case.yaml", "--out", "arm", "--page", "letter"]);
    assert_eq!((done.code, done.stderr.as_str()), (0, ""), "an older sheet gives way");
}

#[test]
fn a_file_that_is_begun_is_enough() {
    let scene = Scene::new();
    assert_eq!(run(&scene, &["begin", "case.yaml", "--blank"]).code, 0);
    let blank = fs::read_to_string(scene.path("case.yaml")).unwrap();
    let done = run(&scene, &["measuring-sheet", "case.yaml"]);
    assert_eq!((done.code, done.stdout.as_str()), (2, ""));
    assert!(done.stderr.contains("`case.id` is missing"), "{}", done.stderr);
    assert!(done.stderr.contains("1 fault;"), "{}", done.stderr);
    let begun = blank.replacen("  id:\n", "  id: LK-7\n", 1).replacen(
        "  hand_length:\n",
        "  hand_length: 7.2 in\n",
        1,
    );
    assert!(begun.contains("LK-7") && begun.contains("7.2 in"));
    scene.write("case.yaml", begun.as_bytes());
    let done = run(&scene, &["measuring-sheet", "case.yaml"]);
    assert_eq!(
        (done.code, done.stdout.as_str()),
        (0, "papers/LK-7-measuring-sheet.pdf\n"),
        "{}",
        done.stderr
    );
    let bytes = fs::read(scene.path("papers/LK-7-measuring-sheet.pdf")).unwrap();
    assert!(Pdf::read(&bytes).text().contains("7.2 in"));
}

/// What is wrong and not only missing is told, all at once, and nothing is printed.
#[test]
fn faults_of_a_file_are_told() {
    let scene = Scene::new();
    let text = demo::edited(
        BASE,
        &[("hand_breadth: 82 mm", "hand_breadth: 82"), ("bone: healed", "bone: heeled")],
    );
    scene.write("case.yaml", text.as_bytes());
    let done = run(&scene, &["measuring-sheet", "case.yaml"]);
    assert_eq!(done.code, 2);
    assert!(done.stderr.contains("82 mm") && done.stderr.contains("heeled"), "{}", done.stderr);
    assert!(!scene.path("papers").exists());
    let done = run(&scene, &["measuring-sheet", "nowhere.yaml"]);
    assert_eq!(done.code, 3);
    assert!(done.stderr.contains("there is no such file"), "{}", done.stderr);
}

/// A clinic's own words stand on it, as on the papers.
#[test]
fn own_words_stand_on_the_sheet() {
    let scene = Scene::new();
    scene.write("words.yaml", b"language: en\nmeasuring_sheet:\n  title: To the arm\n");
    let done = run(&scene, &["measuring-sheet", "--words", "words.yaml"]);
    assert_eq!((done.code, done.stderr.as_str()), (0, ""));
    let bytes = fs::read(scene.path("papers/measuring-sheet.pdf")).unwrap();
    assert!(Pdf::read(&bytes).text().contains("To the arm"));
    scene.write("words.yaml", b"language: en\nmeasuring_sheet:\n  titel: To the arm\n");
    let done = run(&scene, &["measuring-sheet", "--words", "words.yaml"]);
    assert_eq!((done.code, done.stdout.as_str()), (2, ""));
    assert!(done.stderr.contains("titel"), "{}", done.stderr);
}

/// A file that is no older sheet of the same case stays, unless it may go.
#[test]
fn only_an_older_sheet_is_replaced() {
    let scene = Scene::new();
    scene.write("case.yaml", demo::text(BASE).as_bytes());
    fs::create_dir(scene.path("papers")).unwrap();
    let place = "papers/QB-2207-measuring-sheet.pdf";
    for stranger in [b"a letter".to_vec(), empty()] {
        scene.write(place, &stranger);
        let done = run(&scene, &["measuring-sheet", "case.yaml"]);
        assert_eq!(done.code, 3);
        assert!(
            done.stderr.contains("not written by tautline") && done.stderr.contains("--replace"),
            "{}",
            done.stderr
        );
        assert_eq!(fs::read(scene.path(place)).unwrap(), stranger);
    }
    assert_eq!(run(&scene, &["measuring-sheet", "case.yaml", "--replace"]).code, 0);
    let own = fs::read(scene.path(place)).unwrap();
    assert!(identifier(&own).is_some());
    let left: Vec<_> = fs::read_dir(scene.path("papers")).unwrap().collect();
    assert_eq!(left.len(), 1, "nothing lies beside it");
}
