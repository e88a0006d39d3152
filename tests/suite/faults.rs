//! Faulty case files, each beside the whole report that a therapist gets.
//!
//! A file in `tests/faults` says what it shows, changes lines of the base case (`-` old, `+` new, in
//! which `\n` begins another line), and after a line `=== report` holds the expected report. `UPDATE=1`
//! rewrites the reports; read them then.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use tautline::case;

use crate::cli::{Scene, run};
use crate::demo;

const BASE: &str = "quarry-bend-left-flexion";
const SPLIT: &str = "=== report\n";

/// The name of every kind of fault, read from the source that gives them, so that a new kind fails
/// here until it has a file.
fn kinds() -> BTreeSet<&'static str> {
    let source = include_str!("../../src/case/fault.rs");
    let (_, names) = source.split_once("pub fn name(&self)").expect("the names");
    let (names, _) = names.split_once("pub fn sentence(&self)").expect("what follows them");
    let arms = names.lines().filter_map(|line| line.split_once("=> \"")?.1.split_once('"'));
    let kinds: BTreeSet<&str> = arms.map(|(name, _)| name).collect();
    let (_, variants) = source.split_once("pub enum Kind {").expect("the kinds");
    let (variants, _) = variants.split_once("\n}").expect("their end");
    let is_variant =
        |line: &&str| line.starts_with("    ") && line[4..].starts_with(char::is_uppercase);
    assert_eq!(kinds.len(), variants.lines().filter(is_variant).count(), "one name each");
    kinds
}

#[test]
fn each_fault_has_its_whole_report() {
    let mut stale = Vec::new();
    for path in files() {
        let text = fs::read_to_string(&path).unwrap();
        let (changes, expected) = text.split_once(SPLIT).expect("a report");
        let got = report(changed(changes, &path).as_bytes());
        if got == expected {
            continue;
        }
        if std::env::var_os("UPDATE").is_some() {
            fs::write(&path, format!("{changes}{SPLIT}{got}")).unwrap();
        }
        stale.push(format!("{}:\n{got}", path.display()));
    }
    assert!(stale.is_empty(), "reports differ:\n{}", stale.join("\n"));
}

#[test]
fn each_kind_of_fault_has_a_file() {
    // Bytes that are no text stand in no text file; see `bytes_that_are_no_text_have_their_report`.
    // A words file's own kinds stand in `tests/words`, a profile's in `clinic`.
    let mut shown = BTreeSet::from([
        "not-text",
        "not-words",
        "unknown-words",
        "not-a-profile",
        "unknown-profile",
    ]);
    for path in files() {
        let text = fs::read_to_string(&path).unwrap();
        let changes = text.split_once(SPLIT).unwrap().0;
        let unsound = case::read(changed(changes, &path).as_bytes()).expect_err("faults");
        shown.extend(unsound.faults.iter().map(|it| it.kind.name()));
    }
    assert_eq!(shown, kinds());
}

#[test]
fn bytes_that_are_no_text_have_their_report() {
    assert_eq!(
        report(b"case:\n  id: \xc3(\n"),
        "case.yaml:2:7: The file is not plain text: a byte here is not UTF-8 text. To mend: Save it \
         as plain text in UTF-8.\ncase.yaml: 1 fault; nothing was printed. Mend it, then:  tautline check case.yaml\n"
    );
    assert_eq!(
        report(b"\xff\xfec\0a\0"),
        "case.yaml:1:1: The file is not plain text: it is saved as UTF-16. To mend: Save it as plain \
         text in UTF-8.\ncase.yaml: 1 fault; nothing was printed. Mend it, then:  tautline check case.yaml\n"
    );
}

/// Many faults at once come in one report, in file order.
#[test]
fn faults_come_in_file_order() {
    let path = folder().join("many-at-once.txt");
    let text = fs::read_to_string(&path).unwrap();
    let unsound = case::read(changed(&text, &path).as_bytes()).expect_err("faults");
    assert!(unsound.faults.len() >= 8, "{:#?}", unsound.faults);
    assert!(unsound.faults.is_sorted_by_key(|it| it.place));
}

/// A report shows nothing of the file but the value at fault.
#[test]
fn reports_hold_no_neighbouring_values() {
    for path in files() {
        let text = fs::read_to_string(&path).unwrap();
        let (changes, report) = text.split_once(SPLIT).unwrap();
        for private in ["Marlow", "S52.502D", "Anand", "Okoye", "radius"] {
            assert!(!report.contains(private) || changes.contains(private), "{}", path.display());
        }
    }
}

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/faults")
}

fn files() -> Vec<PathBuf> {
    let mut files: Vec<PathBuf> =
        fs::read_dir(folder()).unwrap().map(|entry| entry.unwrap().path()).collect();
    files.sort();
    files
}

/// The base case with the file's changes.
fn changed(changes: &str, path: &Path) -> String {
    let mut text = demo::text(BASE);
    let mut old = None;
    for line in changes.lines() {
        if let Some(rest) = line.strip_prefix("- ") {
            assert!(text.contains(rest), "{}: the base case has no `{rest}`", path.display());
            text = text.replacen(rest, "\u{1a}", 1);
            old = Some(());
        } else if let Some(rest) = line.strip_prefix("+ ").or((line == "+").then_some("")) {
            if old.take().is_some() {
                text = text.replacen('\u{1a}', &rest.replace("\\n", "\n"), 1);
            } else {
                text.push_str(rest);
                text.push('\n');
            }
        } else if line == "= only" {
            text.clear();
        }
    }
    text
}

/// The report on a case as the command line writes it where there is no terminal.
fn report(bytes: &[u8]) -> String {
    let scene = Scene::new();
    scene.write("case.yaml", bytes);
    let done = run(&scene, &["check", "case.yaml"]);
    assert_eq!(done.code, 2, "{}", done.stderr);
    done.stderr
}
