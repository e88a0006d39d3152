//! The schema as the program prints it: every key of the reader with its words, beside the demo cases.
//!
//! `tests/outside` holds it in an independent validator.

use std::collections::BTreeSet;
use std::fs;
use std::path::PathBuf;

use serde_json::Value;
use tautline::case::{self, Key, Shape, guide};

use crate::cli::{Scene, run};
use crate::demo;

fn stored() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("demo-cases/case.schema.json")
}

/// `UPDATE=1` writes it anew.
#[test]
fn the_schema_beside_the_demo_cases_is_the_one_printed() {
    let done = run(&Scene::new(), &["schema"]);
    assert_eq!((done.code, done.stderr.as_str()), (0, ""));
    if std::env::var_os("UPDATE").is_some() {
        fs::write(stored(), &done.stdout).unwrap();
    }
    assert!(done.stdout == fs::read_to_string(stored()).unwrap(), "run `UPDATE=1 … schema`");
}

/// `UPDATE=1` writes it anew.
#[test]
fn the_profiles_schema_beside_its_demo_is_the_one_printed() {
    let stored =
        PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("demo-cases/quarry-bend/clinic.schema.json");
    let done = run(&Scene::new(), &["schema", "--clinic"]);
    assert_eq!((done.code, done.stderr.as_str()), (0, ""));
    if std::env::var_os("UPDATE").is_some() {
        fs::write(&stored, &done.stdout).unwrap();
    }
    assert!(done.stdout == fs::read_to_string(&stored).unwrap(), "run `UPDATE=1 … schema`");
    let schema: Value = serde_json::from_str(&done.stdout).unwrap();
    let keys: Vec<&String> = schema["properties"].as_object().unwrap().keys().collect();
    assert!(keys.iter().any(|it| *it == "stock") && keys.iter().all(|it| *it != "patient"));
    assert!(schema["required"].is_null(), "a profile may leave out anything");
    let mut found = BTreeSet::new();
    paths(&Shape::Group(case::profile_outline()), "", &mut found);
    for path in &found {
        assert!(guide::row(path).is_some(), "{path} has no words");
    }
    descriptions(&schema, "", &mut |path, words| {
        // Needed keys and what only a profile has are told as they are; else a case may give what is left out.
        let is_told = !words.contains("Left out: ") || words.contains("case");
        assert!(is_told || path == "words", "{path}: {words}");
        assert!(!words.contains("beside the case"), "{path}: {words}");
        assert!(!words.contains("or the file of the clinic's profile"), "{path}: {words}");
    });
    let own: Vec<&str> = guide::profile_rows().map(|it| it.path).collect();
    assert!(own.iter().all(|it| found.contains(*it)), "words without a key: {own:?}");
}

/// Shows each key's description.
fn descriptions(schema: &Value, path: &str, show: &mut dyn FnMut(&str, &str)) {
    for (key, value) in schema["properties"].as_object().into_iter().flatten() {
        let path = format!("{path}.{key}").trim_start_matches('.').to_owned();
        show(&path, value["description"].as_str().unwrap());
        descriptions(value, &path, show);
        descriptions(&value["items"], &path, show);
    }
}

/// A case may hold its clinic's data, name the profile alone, or name it among them.
#[test]
fn the_schema_takes_both_forms_of_the_clinic() {
    let schema: Value = serde_json::from_str(&fs::read_to_string(stored()).unwrap()).unwrap();
    let forms = schema["properties"]["clinic"]["anyOf"].as_array().unwrap();
    assert!(forms[0]["pattern"].as_str().unwrap().contains("[mM][lL]"));
    assert!(forms[1]["properties"]["profile"]["pattern"].is_string());
    assert!(forms[1]["properties"]["phone"]["maxLength"].is_number());
}

#[test]
fn demo_cases_name_the_schema_first() {
    for path in demo::files() {
        let text = fs::read_to_string(&path).unwrap();
        let first = "# yaml-language-server: $schema=case.schema.json\n";
        assert!(text.starts_with(first), "{}", path.display());
    }
}

/// The path of every key of the reader's groups and lists, the keys of lists below `[]`.
fn paths(shape: &Shape, path: &str, found: &mut BTreeSet<String>) {
    match shape {
        Shape::Group(keys) => {
            for Key { name, shape, .. } in keys {
                let path =
                    if path.is_empty() { (*name).to_owned() } else { format!("{path}.{name}") };
                paths(shape, &path, found);
                found.insert(path);
            }
        }
        Shape::List { item, .. } => paths(item, &format!("{path}[]"), found),
        Shape::Either(shapes) => shapes.iter().for_each(|it| paths(it, path, found)),
        _ => {}
    }
}

#[test]
fn every_key_has_its_words_and_every_words_their_key() {
    let mut keys = BTreeSet::new();
    paths(&Shape::Group(case::outline()), "", &mut keys);
    assert!(keys.len() > 150, "{}", keys.len());
    let rows: Vec<&str> = guide::rows().map(|it| it.path).collect();
    let words: BTreeSet<String> = rows.iter().map(|it| (*it).to_owned()).collect();
    assert_eq!(rows.len(), words.len(), "one row a key");
    assert_eq!(keys.difference(&words).collect::<Vec<_>>(), [""; 0], "keys without words");
    assert_eq!(words.difference(&keys).collect::<Vec<_>>(), [""; 0], "words without a key");
}

/// A key that must be there has no default, and each other key says what holds without it.
#[test]
fn only_keys_that_may_be_left_out_say_what_holds_then() {
    fn walk(keys: &[Key], path: &str) {
        for key in keys {
            let path =
                if path.is_empty() { key.name.to_owned() } else { format!("{path}.{}", key.name) };
            let row = guide::row(&path).unwrap();
            assert!(!(key.required && row.unset.is_some()), "{path}");
            match &key.shape {
                Shape::Group(keys) => walk(keys, &path),
                Shape::List { item, .. } => {
                    if let Shape::Group(keys) = &**item {
                        walk(keys, &format!("{path}[]"));
                    }
                }
                _ => assert!(key.required || row.unset.is_some(), "{path}"),
            }
        }
    }
    walk(&case::outline(), "");
}

/// Order, units and bounds reach the schema.
#[test]
fn the_schema_tells_units_and_bounds_in_the_files_order() {
    let text = fs::read_to_string(stored()).unwrap();
    let schema: Value = serde_json::from_str(&text).unwrap();
    let limb = &schema["properties"]["limb"];
    let hand = &limb["properties"]["hand_length"];
    let words = hand["description"].as_str().unwrap();
    assert!(words.ends_with("In mm, cm or in; 90 mm to 300 mm."), "{words}");
    assert_eq!(limb["required"][0], "hand_length");
    assert_eq!(limb["additionalProperties"], false);
    let at = |key: &str| text.find(&format!("\n    \"{key}\": {{")).unwrap();
    let order =
        ["case", "clinic", "patient", "referral", "history", "motion", "limb", "orthosis", "wear"];
    assert!(order.map(at).is_sorted());
    let bounds = &schema["properties"]["patient"]["properties"]["age"]["anyOf"][0];
    assert_eq!((&bounds["minimum"], &bounds["maximum"]), (&0.into(), &120.into()));
}
