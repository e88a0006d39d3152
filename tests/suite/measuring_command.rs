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

/// The demo with a profile, and words on the sheet that the profile names.
fn scene_with_profile() -> Scene {
    let scene = Scene::new();
    fs::create_dir_all(scene.path("ward")).unwrap();
    let demo = |name: &str| {
        let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/demo-cases/quarry-bend");
        fs::read_to_string(format!("{folder}/{name}")).unwrap()
    };
    scene.write("ward/stonemason.yaml", demo("stonemason.yaml").as_bytes());
    let profile = demo("quarry-bend.yaml").replace("page: letter", "page: a4\n  logo: logo.png");
    scene.write("ward/quarry-bend.yaml", profile.as_bytes());
    scene.write(
        "ward/quarry-bend-words.yaml",
        b"language: en\nmeasuring_sheet:\n  title_side: To the arm, {side}\n  title: To the arm\n",
    );
    let mut logo = std::io::Cursor::new(Vec::new());
    image::RgbImage::from_pixel(60, 20, image::Rgb([40, 90, 90]))
        .write_to(&mut logo, image::ImageFormat::Png)
        .unwrap();
    scene.write("ward/logo.png", &logo.into_inner());
    scene
}

/// Name, phone, logo, page and words of the profile stand on the sheet of a case that names it.
#[test]
fn a_case_that_names_a_profile_gets_what_the_profile_says() {
    let scene = scene_with_profile();
    let done = run(&scene, &["measuring-sheet", "ward/stonemason.yaml"]);
    assert_eq!((done.code, done.stderr.as_str()), (0, ""));
    assert_eq!(done.stdout, "papers/QB-2311-measuring-sheet.pdf\n");
    let bytes = fs::read(scene.path("papers/QB-2311-measuring-sheet.pdf")).unwrap();
    let pdf = Pdf::read(&bytes);
    assert_eq!(pdf.page_count(), 2);
    assert!((pdf.page_size_mm(0).0 - 210.0).abs() < 0.1, "the profile's printer holds A4");
    let text = pdf.text();
    for wanted in [
        "Quarry Bend Hand Therapy",
        "555-0142",
        "Jonah Brandvold, OTR/L",
        "R. Castellane",
        "19.1 cm",
        "To the arm, right",
    ] {
        assert!(text.contains(wanted), "{wanted}: {text}");
    }
    assert!(has_picture(&bytes));
    // Words that the profile names and words that are given make the same sheet.
    let profile = fs::read_to_string(scene.path("ward/quarry-bend.yaml")).unwrap();
    let bare: Vec<&str> = profile.lines().filter(|it| !it.starts_with("words:")).collect();
    scene.write("ward/quarry-bend.yaml", bare.join("\n").as_bytes());
    let given = ["--words", "ward/quarry-bend-words.yaml", "--out", "given"];
    let done = run(&scene, &[&["measuring-sheet", "ward/stonemason.yaml"][..], &given].concat());
    assert_eq!((done.code, done.stderr.as_str()), (0, ""));
    assert!(fs::read(scene.path("given/QB-2311-measuring-sheet.pdf")).unwrap() == bytes);
}

fn has_picture(bytes: &[u8]) -> bool {
    bytes.windows(14).any(|it| it == b"/Subtype/Image") || {
        bytes.windows(15).any(|it| it == b"/Subtype /Image")
    }
}

/// `--clinic` stands in place of the profile that a case names, and serves a sheet of no case.
#[test]
fn the_profile_can_be_given() {
    let scene = scene_with_profile();
    let profile = fs::read_to_string(scene.path("ward/quarry-bend.yaml")).unwrap();
    let other = profile.replace("555-0142", "555-0177").replace("  logo: logo.png\n", "");
    scene.write("other.yaml", other.replace("words: quarry-bend-words.yaml", "").as_bytes());
    let print = |arguments: &[&str]| {
        let done = run(&scene, &[&["measuring-sheet", "--clinic"], arguments].concat());
        assert_eq!((done.code, done.stderr.as_str()), (0, ""));
        fs::read(scene.path(done.stdout.trim())).unwrap()
    };
    let bytes = print(&["other.yaml", "ward/stonemason.yaml"]);
    let text = Pdf::read(&bytes).text();
    assert!(text.contains("555-0177") && !text.contains("To the arm"), "{text}");
    assert!(text.contains("Jonah Brandvold, OTR/L") && !has_picture(&bytes));
    let bytes = print(&["ward/quarry-bend.yaml"]);
    let text = Pdf::read(&bytes).text();
    assert!(text.contains("555-0142") && text.contains("To the arm") && has_picture(&bytes));
    assert!(!text.contains("Case") && !text.contains("Brandvold"), "nobody is chosen: {text}");
    scene.write("other.yaml", other.replace("phone:", "fone:").as_bytes());
    let done = run(&scene, &["measuring-sheet", "--clinic", "other.yaml"]);
    assert_eq!((done.code, done.stdout.as_str()), (2, ""));
    assert!(done.stderr.contains("`clinic.fone` is not a key"), "{}", done.stderr);
    let next = "then:  tautline measuring-sheet --clinic other.yaml\n";
    assert!(done.stderr.ends_with(next), "{}", done.stderr);
    let done = run(&scene, &["measuring-sheet", "--clinic", "absent.yaml"]);
    assert!(done.code == 3 && done.stderr.contains("cannot read absent.yaml"), "{}", done.stderr);
}

/// The sheet is in English: words for another language change nothing, and that is said.
#[test]
fn words_of_another_language_are_told() {
    let scene = Scene::new();
    scene.write("es.yaml", b"language: es\n");
    let done = run(&scene, &["measuring-sheet", "--words", "es.yaml"]);
    assert_eq!(done.code, 0);
    assert!(done.stderr.contains("the sheet is for the clinic and in English"), "{}", done.stderr);
}
