//! The figures reckoned apart from the project, for the contract's case file.

use serde_json::Value;

use crate::demo;

/// Half of the last digit that the contract prints: shares have three places; pressures, torques and
/// tensions two; everything else one. The contract itself asks for a tenth only.
fn tolerance(key: &str) -> f64 {
    let half = if key.ends_with("_share") {
        5e-4
    } else if key.ends_with("_kpa") || ["torque_nm", "tension_n"].contains(&key) {
        5e-3
    } else {
        0.05
    };
    half + 1e-9
}

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
            let key = path.rsplit('.').next().unwrap_or_default();
            let near = have.is_some_and(|have| (want - have).abs() <= tolerance(key));
            assert!(near, "{path}: expected {want}, got {got}");
            *compared += 1;
        }
        other => assert_eq!(other, got, "{path}"),
    }
}
