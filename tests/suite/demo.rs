//! The demo cases, read and reckoned.

use std::fs;
use std::path::PathBuf;

use proptest::test_runner::{Config, RngSeed};
use serde_json::Value;
use tautline::calc::{self, Plan};
use tautline::case::{self, Case};
use tautline::sheets::figures::Figures;

/// So many random cases, the same in each run.
pub fn draws(cases: u32) -> Config {
    Config {
        cases,
        failure_persistence: None,
        rng_seed: RngSeed::Fixed(20_260_413),
        ..Config::default()
    }
}

/// Every demo case's file.
pub fn files() -> Vec<PathBuf> {
    let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("demo-cases");
    let mut files: Vec<PathBuf> = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|it| it == "yaml"))
        .collect();
    files.sort();
    assert!(files.len() >= 4, "at least four demo cases");
    files
}

/// A demo case by its file's name.
pub fn text(name: &str) -> String {
    let path = format!("{}/demo-cases/{name}.yaml", env!("CARGO_MANIFEST_DIR"));
    fs::read_to_string(path).unwrap()
}

/// A demo case's text with some of it replaced, each once.
#[track_caller]
pub fn edited(name: &str, changes: &[(&str, &str)]) -> String {
    changes.iter().fold(text(name), |text, (from, to)| {
        assert!(text.contains(from), "{name} holds `{from}`");
        text.replacen(from, to, 1)
    })
}

/// The base case with a step a day for eight weeks: more schedule rows than a page holds.
pub fn long_schedule() -> String {
    edited(
        "quarry-bend-left-flexion",
        &[
            ("start: { minutes: 30, times: 3 }", "start: { minutes: 5, times: 3 }\n  step: 1"),
            ("days_per_step: 4", "days_per_step: 1"),
            ("weeks: 6", "weeks: 8"),
        ],
    )
}

/// A demo case that reads without faults.
pub fn case(name: &str) -> Case {
    read(&text(name))
}

/// A case text that reads without faults.
pub fn read(text: &str) -> Case {
    match case::read(text.as_bytes()) {
        Ok(sound) => sound.case,
        Err(unsound) => panic!("{:#?}", unsound.faults),
    }
}

/// A demo case's plan.
pub fn plan(name: &str) -> Plan {
    calc::plan(&case(name))
}

/// A demo case's figures as the command line prints them.
pub fn figures(name: &str) -> Value {
    let case = case(name);
    let json = Figures::of(&case, &calc::plan(&case)).to_json();
    serde_json::from_str(&json).unwrap()
}
