//! Remarks on unusual limbs, held against the survey's summary.
//!
//! ANSUR II (2012 US Army Anthropometric Survey), public release; the summary beside this suite was
//! computed from its records.

use tautline::case::{self, Remark};

use crate::demo;

const SUMMARY: &str = include_str!("../data/ansur2_summary.csv");

/// Case-file key, survey measure.
const MEASURES: [(&str, &str); 5] = [
    ("hand_length", "handlength"),
    ("hand_breadth", "handbreadth"),
    ("knuckle_girth", "handcircumference"),
    ("wrist_circumference", "wristcircumference"),
    ("forearm_length", "radialestylionlength"),
];

/// A field of the summary row that starts with these cells.
pub fn cell(start: &str, column: usize) -> f64 {
    let row = SUMMARY.lines().find(|line| line.starts_with(start)).expect(start);
    row.split(',').nth(column).unwrap().parse().unwrap()
}

/// The remarks on the demo case with some lengths replaced, in mm.
fn remarks(lengths: &[(&str, f64)]) -> Vec<Remark> {
    let mut text = String::new();
    for line in demo::text("quarry-bend-left-flexion").lines() {
        let key = line.trim().split(':').next().unwrap_or_default();
        match lengths.iter().find(|(it, _)| *it == key) {
            Some((_, value)) => text.push_str(&format!("  {key}: {value:.3} mm\n")),
            None => text.push_str(&format!("{line}\n")),
        }
    }
    match case::read(text.as_bytes()) {
        Ok(sound) => sound.remarks,
        Err(unsound) => unsound.remarks,
    }
}

fn range_remark(key: &str, value: f64) -> bool {
    let path = format!("limb.{key}");
    remarks(&[(key, value)]).iter().any(|it| it.key == path && it.text.contains("98 of 100"))
}

#[test]
fn a_measure_outside_the_survey_gets_a_remark() {
    for (key, measure) in MEASURES {
        let low = cell(&format!("summary,female,{measure},"), 7);
        let high = cell(&format!("summary,male,{measure},"), 13);
        assert!(!range_remark(key, low), "{key} at {low}");
        assert!(range_remark(key, low - 0.2), "{key} below {low}");
        assert!(!range_remark(key, high), "{key} at {high}");
        assert!(range_remark(key, high + 0.2), "{key} above {high}");
    }
}

#[test]
fn a_measure_far_off_both_regressions_gets_a_remark() {
    let pairs = [
        ("hand_breadth", "handbreadth", "hand_length", "handlength", 180.0),
        ("wrist_circumference", "wristcircumference", "knuckle_girth", "handcircumference", 200.0),
        ("wrist_circumference", "wristcircumference", "hand_length", "handlength", 180.0),
        ("forearm_length", "radialestylionlength", "hand_length", "handlength", 180.0),
    ];
    for (y_key, y, x_key, x, at) in pairs {
        let line = |sex: &str| {
            let start = format!("regression,{sex},{y},{x},");
            let middle = cell(&start, 4) + cell(&start, 5) * at;
            (middle - 3.0 * cell(&start, 7), middle + 3.0 * cell(&start, 7))
        };
        let (women, men) = (line("female"), line("male"));
        let (low, high) = (women.0.min(men.0), women.1.max(men.1));
        let odd = |value: f64| {
            let beside = format!(
                "beside {}",
                x_key.replace("knuckle_girth", "the girth of the knuckles").replace('_', " ")
            );
            remarks(&[(x_key, at), (y_key, value)]).iter().any(|it| it.text.contains(&beside))
        };
        assert!(odd(low - 0.5), "{y_key} below {low}");
        assert!(!odd(low + 0.5), "{y_key} within from {low}");
        assert!(!odd(high - 0.5), "{y_key} within to {high}");
        assert!(odd(high + 0.5), "{y_key} above {high}");
    }
}

/// A hand of 144 mm draws a remark on an adult and none on a child.
#[test]
fn a_child_is_not_measured_against_adults() {
    let shorter = [
        ("hand_length: 18.4 cm", "hand_length: 14.4 cm"),
        ("hole_from_crease: 135 mm", "hole_from_crease: 105 mm"),
        ("end_from_crease: 142 mm", "end_from_crease: 112 mm"),
    ];
    let adult = demo::edited("quarry-bend-left-flexion", &shorter);
    let child = adult.replacen("age: 57", "age: 9", 1);
    let about_hand = |text: &str| {
        case::read(text.as_bytes()).unwrap().remarks.iter().any(|it| it.key == "limb.hand_length")
    };
    assert!(about_hand(&adult));
    assert_eq!(case::read(child.as_bytes()).unwrap().remarks, []);
}

/// Every demo limb that is meant to be usual reads without a remark.
#[test]
fn demo_limbs_are_usual() {
    for path in demo::files() {
        let sound = case::read(&std::fs::read(&path).unwrap()).unwrap();
        assert_eq!(sound.remarks, [], "{}", path.display());
    }
}
