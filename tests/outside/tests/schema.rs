//! The printed schema in an independent validator (the `jsonschema` crate, JSON Schema draft 2020-12).
//!
//! What the schema refuses the reader must refuse; where the reader knows more, the reason stands in `KNOWS`.

use std::collections::BTreeMap;
use std::fs;
use std::process::Command;

use serde_json::{Value as Json, json};
use serde_yaml::Value;
use tautline_outside::{program, schema, texts};
use tempfile::TempDir;

/// YAML as an editor's schema check sees it.
fn json(value: &Value) -> Json {
    match value {
        Value::Null => Json::Null,
        Value::Bool(it) => json!(it),
        // JSON has no number for `.nan` and `.inf`.
        Value::Number(it) => serde_json::to_value(it)
            .ok()
            .filter(|it| !it.is_null())
            .unwrap_or_else(|| json!(it.to_string())),
        Value::String(it) => json!(it),
        Value::Sequence(items) => items.iter().map(json).collect(),
        Value::Mapping(keys) => Json::Object(
            keys.iter()
                .map(|(key, value)| (key.as_str().unwrap().to_owned(), json(value)))
                .collect(),
        ),
        Value::Tagged(it) => json(&it.value),
    }
}

fn validator() -> jsonschema::Validator {
    let schema = schema();
    assert_eq!(schema["$schema"], "https://json-schema.org/draft/2020-12/schema");
    jsonschema::draft202012::meta::validate(&schema).expect("it keeps to the dialect's own schema");
    jsonschema::draft202012::new(&schema).unwrap()
}

#[test]
fn every_demo_case_holds() {
    let validator = validator();
    for (name, text) in texts("demo-cases", "yaml") {
        let tree: Value = serde_yaml::from_str(&text).unwrap();
        let faults: Vec<String> = validator
            .iter_errors(&json(&tree))
            .map(|it| format!("{}: {it}", it.instance_path()))
            .collect();
        assert!(faults.is_empty(), "{name}: {faults:#?}");
    }
}

/// Bounds are held in every unit, widened to whole units: each whole number just within passes, just outside fails.
#[test]
fn bounds_are_held_in_each_unit() {
    let schema = schema();
    let hand = &schema["properties"]["limb"]["properties"]["hand_length"];
    let validator = jsonschema::draft202012::new(hand).unwrap();
    // 90 mm to 300 mm; an inch is 25.4 mm.
    for (unit, least, most) in [("mm", 90, 300), ("cm", 9, 30), ("in", 3, 11)] {
        for whole in 0..=1000 {
            let within = (least..=most).contains(&whole);
            for text in
                [format!("{whole} {unit}"), format!("{whole}.9{unit}"), format!("0{whole} {unit}")]
            {
                assert_eq!(validator.is_valid(&json!(text)), within, "{text}");
            }
        }
    }
    for text in ["", "184", "184 m", "18,4 cm", "-184 mm", "1e2 mm", "184mm cm"] {
        assert!(!validator.is_valid(&json!(text)), "{text}");
    }
}

/// Where the reader knows more than a schema can say: a name, and how its report reads.
const KNOWS: [(&str, fn(&str) -> bool); 12] = [
    ("two values that cannot both be true", |it| {
        it.contains("`, but ") || it.contains("nothing, but ")
    }),
    ("a depth, unless its height is given", |it| {
        it.starts_with("`limb.") && it.contains("_depth` is missing")
    }),
    ("today's range toward the pull", |it| it.contains(".passive.") && it.contains(" is missing")),
    ("bounds between whole units", |it| {
        it.contains(" mm to ") || it.contains("kPa to ") || it.contains("more than 0")
    }),
    ("numbers with an exponent, a bare point, or beyond their bounds in quotes", |it| {
        it.contains("It takes degrees")
            || it.contains("It takes a plain number")
            || it.contains("It takes a whole number")
            || it.contains("It takes a total")
    }),
    ("shares in percent beyond their bounds", |it| it.contains("It takes a share in percent")),
    ("days that no calendar has", |it| {
        it.contains("there is no such day") || it.contains("There is no such day")
    }),
    ("characters that cannot be printed", |it| it.contains("cannot be printed")),
    ("one condition in each item", |it| it.contains("none or more than one condition")),
    ("what a clinic's profile may give", |it| {
        ["clinic", "orthosis.sheet"].iter().any(|key| it.starts_with(&format!("`{key}")))
            && it.contains(" is missing")
    }),
    ("a profile's path", |it| it.contains("It takes the name of a YAML file")),
    ("pictures' paths, places of straps in order", |it| {
        it.contains("It takes the name of a PNG") || it.contains("It takes a list of two lengths")
    }),
];

/// What is put in place of each value.
const OTHERS: [&str; 34] = [
    "~",
    "[]",
    "{}",
    "''",
    "true",
    "x",
    ".nan",
    "1e308 mm",
    "999999 mm",
    "-5 N",
    "2199-12-31",
    "2026-02-29",
    "-1",
    "0",
    "1",
    "20",
    "90",
    "'20'",
    "2.5e1",
    "0 mm",
    "-0 mm",
    "3 mm",
    "12 mm",
    "60 mm",
    "150 mm",
    "300 mm",
    "300.5 mm",
    "0.1 N",
    "400 N",
    "5 kPa",
    "0.5 N/cm2",
    "'12 %'",
    "'99 %'",
    "\"a\\u200bb\"",
];

/// The path of every value of a tree; a number stands for an item.
fn paths(value: &Value, at: &[Value], found: &mut Vec<Vec<Value>>) {
    let steps: Vec<(Value, &Value)> = match value {
        Value::Mapping(keys) => keys.iter().map(|(key, value)| (key.clone(), value)).collect(),
        Value::Sequence(items) => {
            items.iter().enumerate().map(|(at, it)| (Value::from(at), it)).collect()
        }
        _ => Vec::new(),
    };
    for (step, below) in steps {
        let path = [at, &[step]].concat();
        paths(below, &path, found);
        found.push(path);
    }
}

fn spot<'t>(tree: &'t mut Value, path: &[Value]) -> &'t mut Value {
    path.iter().fold(tree, |value, step| match step {
        Value::Number(at) => value.get_mut(at.as_u64().unwrap() as usize).unwrap(),
        key => value.get_mut(key).unwrap(),
    })
}

/// The demo cases that together hold every key.
const DEMOS: [&str; 5] = [
    "quarry-bend-left-flexion",
    "saltmarsh-right-extension",
    "kiln-both-ways",
    "orchard-lane-new-loop",
    "lock-keeper-withheld",
];

/// Demo cases with each value replaced, each key taken out and a strange key in each group.
fn corpus() -> Vec<Value> {
    let others: Vec<Value> = OTHERS.iter().map(|it| serde_yaml::from_str(it).unwrap()).collect();
    let mut all = Vec::new();
    for (_, text) in
        texts("demo-cases", "yaml").iter().filter(|(name, _)| DEMOS.contains(&name.as_str()))
    {
        let tree: Value = serde_yaml::from_str(text).unwrap();
        let mut found = Vec::new();
        paths(&tree, &[], &mut found);
        for path in &found {
            for other in &others {
                let mut changed = tree.clone();
                *spot(&mut changed, path) = other.clone();
                all.push(changed);
            }
            let (last, group) = path.split_last().unwrap();
            if let Value::String(key) = last {
                let mut changed = tree.clone();
                spot(&mut changed, group).as_mapping_mut().unwrap().remove(key.as_str());
                all.push(changed);
            }
            let mut changed = tree.clone();
            if let Value::Mapping(keys) = spot(&mut changed, path) {
                keys.insert("strange".into(), 1.into());
                all.push(changed);
            }
        }
        all.push(tree);
    }
    all
}

/// The reader's faults on each file, none where it reads well.
fn reports(files: &[String]) -> Vec<Vec<String>> {
    let folder = TempDir::new().unwrap();
    let mut faults: BTreeMap<usize, Vec<String>> = BTreeMap::new();
    let mut sound = 0;
    for (index, text) in files.iter().enumerate() {
        fs::write(folder.path().join(format!("{index}.yaml")), text).unwrap();
    }
    let names: Vec<String> = (0..files.len()).map(|it| format!("{it}.yaml")).collect();
    for some in names.chunks(2000) {
        let done = Command::new(program())
            .arg("check")
            .args(some)
            .current_dir(folder.path())
            .output()
            .unwrap();
        sound += String::from_utf8(done.stdout).unwrap().matches(": reads well;").count();
        for line in String::from_utf8(done.stderr).unwrap().lines() {
            // `12.yaml:3:7: sentences`; findings have no line and column, remarks say so.
            let Some((index, rest)) = line.split_once(".yaml:") else { continue };
            let mut parts = rest.splitn(3, ':');
            let (Some(row), Some(_), Some(report)) = (parts.next(), parts.next(), parts.next())
            else {
                continue;
            };
            if row.parse::<u32>().is_ok() && !report.trim().starts_with("Remark") {
                faults.entry(index.parse().unwrap()).or_default().push(report.trim().to_owned());
            }
        }
    }
    assert_eq!(sound, files.len() - faults.len(), "each file reads well or has faults");
    (0..files.len()).map(|it| faults.remove(&it).unwrap_or_default()).collect()
}

#[test]
fn schema_and_reader_agree() {
    let validator = validator();
    let trees = corpus();
    assert!(trees.len() > 10_000, "{}", trees.len());
    let files: Vec<String> = trees.iter().map(|it| serde_yaml::to_string(it).unwrap()).collect();
    let reports = reports(&files);
    let mut both = 0;
    let mut known = [0_usize; KNOWS.len()];
    let mut strange: Vec<String> = Vec::new();
    for ((tree, faults), text) in trees.iter().zip(&reports).zip(&files) {
        let instance = json(tree);
        if let Err(error) = validator.validate(&instance) {
            assert!(
                !faults.is_empty(),
                "the schema refuses what reads well: {}: {error}\n{text}",
                error.instance_path()
            );
            both += 1;
            continue;
        }
        for fault in faults {
            match KNOWS.iter().position(|(_, is_it)| is_it(fault)) {
                Some(at) => known[at] += 1,
                None => strange.push(fault.clone()),
            }
        }
    }
    strange.sort();
    strange.dedup();
    assert!(strange.is_empty(), "the reader alone refuses, for no named reason: {strange:#?}");
    assert!(both > 5_000, "{both} refused by both");
    for ((name, _), count) in KNOWS.iter().zip(known) {
        assert!(count > 0, "nothing shows: {name}");
    }
    println!("{} files, {both} refused by both; the reader alone: {known:?}", files.len());
}
