//! The figures reckoned apart from the project, for the contract's case file.

use serde_json::Value;

use crate::demo;

/// The contract's figures hold to a tenth.
const TOLERANCE: f64 = 0.1 + 1e-9;

#[test]
fn flexion_figures_agree_with_the_contract() {
    let expected = include_str!("../data/contract/flexion.figures.json");
    let expected: Value = serde_json::from_str(expected).unwrap();
    let mut compared = 0;
    compare("", &expected, &demo::figures("quarry-bend-left-flexion"), &mut compared);
    assert!(compared > 90, "only {compared} figures compared");
}

/// Walks the expected tree; each number must be met to the tolerance, each word exactly.
fn compare(path: &str, expected: &Value, got: &Value, compared: &mut usize) {
    match expected {
        Value::Object(keys) => {
            for (key, value) in keys {
                compare(&format!("{path}.{key}"), value, &got[key], compared);
            }
        }
        Value::Array(items) => {
            assert_eq!(Some(items.len()), got.as_array().map(Vec::len), "{path}");
            for (index, item) in items.iter().enumerate() {
                compare(&format!("{path}[{index}]"), item, &got[index], compared);
            }
        }
        Value::Number(number) => {
            let (want, have) = (number.as_f64().unwrap(), got.as_f64());
            let near = have.is_some_and(|have| (want - have).abs() <= TOLERANCE);
            assert!(near, "{path}: expected {want}, got {got}");
            *compared += 1;
        }
        other => assert_eq!(other, got, "{path}"),
    }
}
