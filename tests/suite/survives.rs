//! Every value of every demo case replaced by others: a fault, or a plan that is right in itself.

use std::sync::LazyLock;

use serde_json::Value as Json;
use serde_yaml::Value;
use tautline::calc::{self, Plan};
use tautline::case::{self, Case, PageSize};
use tautline::sheets::figures::Figures;
use tautline::sheets::{self, Paper};
use tautline::units::Length;

use crate::demo;

/// What is put in place of each value, in YAML: odd shapes, no numbers, and numbers that some key takes.
const OTHERS: [&str; 26] = [
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
    "0 mm",
    "3 mm",
    "12 mm",
    "60 mm",
    "150 mm",
    "300 mm",
    "0.1 N",
    "400 N",
    "5 kPa",
];

/// One step down a YAML tree.
#[derive(Clone)]
enum Step {
    Key(String),
    Item(usize),
}

/// The place of every value of a tree, groups and lists included.
fn places(value: &Value, at: &[Step], found: &mut Vec<Vec<Step>>) {
    let steps: Vec<(Step, &Value)> = match value {
        Value::Mapping(keys) => keys
            .iter()
            .map(|(key, value)| (Step::Key(key.as_str().unwrap().into()), value))
            .collect(),
        Value::Sequence(items) => {
            items.iter().enumerate().map(|(index, value)| (Step::Item(index), value)).collect()
        }
        _ => Vec::new(),
    };
    for (step, below) in steps {
        let path = [at, &[step]].concat();
        places(below, &path, found);
        found.push(path);
    }
}

fn replaced(mut tree: Value, path: &[Step], other: &Value) -> String {
    let spot = path.iter().fold(&mut tree, |value, step| match step {
        Step::Key(key) => value.get_mut(key.as_str()).unwrap(),
        Step::Item(index) => value.get_mut(*index).unwrap(),
    });
    *spot = other.clone();
    serde_yaml::to_string(&tree).unwrap()
}

fn words(path: &[Step]) -> String {
    let step = |it: &Step| match it {
        Step::Key(key) => format!(".{key}"),
        Step::Item(index) => format!("[{}]", index + 1),
    };
    path.iter().map(step).collect()
}

/// A changed case that still reads, and what was changed.
struct Read {
    what: String,
    case: Case,
    plan: Plan,
}

/// Every changed case that still reads.
fn all() -> &'static [Read] {
    static ALL: LazyLock<Vec<Read>> = LazyLock::new(read_all);
    &ALL
}

fn read_all() -> Vec<Read> {
    let others: Vec<Value> = OTHERS.iter().map(|it| serde_yaml::from_str(it).unwrap()).collect();
    let mut all = Vec::new();
    for file in demo::files() {
        let tree: Value = serde_yaml::from_str(&std::fs::read_to_string(&file).unwrap()).unwrap();
        let mut found = Vec::new();
        places(&tree, &[], &mut found);
        // The short case has few.
        assert!(found.len() > 50, "{}: {} values", file.display(), found.len());
        for path in found {
            for (other, name) in others.iter().zip(OTHERS) {
                let text = replaced(tree.clone(), &path, other);
                match case::read(text.as_bytes()) {
                    Ok(sound) => {
                        let stem = file.file_stem().unwrap().to_string_lossy().into_owned();
                        let what = format!("{stem} {} = {name}", words(&path));
                        let plan = calc::plan(&sound.case);
                        all.push(Read { what, case: sound.case, plan });
                    }
                    Err(unsound) => assert!(!unsound.faults.is_empty()),
                }
            }
        }
    }
    all
}

/// Keys of the figures that may be null: what needs a force gauge reading, a breaking strength, a
/// goal within reach, the other hand, a shelf, a decision or a
/// hold.
const MAY_BE_NULL: [&str; 17] = [
    "ceiling_nm",
    "ceiling_n",
    "ceiling_limit",
    "stock",
    "strand_n",
    "goal",
    "by_mm",
    "room_mm",
    "line_diameter_mm",
    "line_strength_needed_n",
    "pad_width_mm",
    "pad_length_mm",
    "override",
    "hold_deg",
    "shared",
    "other_side_deg",
    "deficit_deg",
];
/// A mark's loads: all there, or none for want of a reading.
const LOADS: [&str; 14] = [
    "torque_nm",
    "tension_n",
    "across_n",
    "joint_n",
    "cuff_kpa",
    "cuff_mean_kpa",
    "forearm_kpa",
    "forearm_mean_kpa",
    "elbow_kpa",
    "strand_n",
    "tab_n",
    "tab_n_per_cm2",
    "stretch_mm",
    "lost_deg",
];

/// Paths of the nulls that should be numbers. JSON has no NaN and no infinity: they are written as null.
fn holes(at: &str, value: &Json, found: &mut Vec<String>) {
    match value {
        Json::Object(keys) => {
            let is_mark = keys.contains_key("torque_nm");
            let unread = is_mark && keys["torque_nm"].is_null();
            for (key, value) in keys {
                let path = format!("{at}.{key}");
                let may_be_null = if is_mark && LOADS.contains(&key.as_str()) {
                    unread
                } else {
                    MAY_BE_NULL.contains(&key.as_str())
                };
                if !(value.is_null() && may_be_null) {
                    holes(&path, value, found);
                }
            }
        }
        Json::Array(items) => {
            for (index, item) in items.iter().enumerate() {
                holes(&format!("{at}[{index}]"), item, found);
            }
        }
        Json::Null => found.push(at.into()),
        _ => {}
    }
}

/// What is wrong with a plan in itself.
pub fn wrongs(case: &Case, plan: &Plan) -> Vec<String> {
    let mut wrongs = Vec::new();
    let json = Figures::of(case, plan).to_json();
    holes("", &serde_json::from_str(&json).unwrap(), &mut wrongs);
    // A millionth of a millimetre for the last bits of the marks' search.
    let slack = Length::mm(1e-6);
    for (pull, reckoned) in case.orthosis.pulls.iter().zip(&plan.pulls) {
        let furthest = pull.strip.length - pull.tab.pad_length;
        for made in &reckoned.loops {
            let places: Vec<Length> = made.marks.iter().map(|it| it.place).collect();
            if !places.windows(2).all(|pair| pair[0] < pair[1]) {
                wrongs.push(format!("marks do not rise: {places:?}"));
            }
            // Written so that a NaN counts as outside.
            let inside = |it: &Length| *it >= -slack && *it <= furthest + slack;
            if !places.iter().all(inside) {
                wrongs.push(format!("marks off the strip, 0 to {furthest:?}: {places:?}"));
            }
        }
    }
    wrongs
}

#[test]
fn every_value_may_be_another() {
    assert!(all().len() > 1000, "only {} changed cases read", all().len());
    let wrong: Vec<String> = all()
        .iter()
        .flat_map(|it| wrongs(&it.case, &it.plan).into_iter().map(|wrong| (&it.what, wrong)))
        .map(|(what, wrong)| format!("{what}: {wrong}"))
        .collect();
    assert!(wrong.is_empty(), "{} wrong:\n{}", wrong.len(), wrong.join("\n"));
}

/// So many of the cases that read are typeset; all of them would take minutes. `SAMPLE` sets more.
const SAMPLE: usize = 20;

/// What reads can be printed: each paper of a fixed sample, spread evenly over all that read.
#[test]
fn a_sample_of_changed_cases_is_typeset() {
    let sample = std::env::var("SAMPLE").ok().and_then(|it| it.parse().ok()).unwrap_or(SAMPLE);
    let step = (all().len() / sample).max(1);
    // A start off the beat, so that it is not each file's first value that is drawn.
    let drawn = all().iter().skip(step / 3).step_by(step);
    let faults = drawn.flat_map(|read| {
        let sizes = [PageSize::Letter, PageSize::A4].into_iter();
        sizes.filter_map(move |page| {
            let set = sheets::typeset(&Paper::ALL, &read.case, &read.plan, page);
            set.err().map(|fault| format!("{} {page:?}: {fault}", read.what))
        })
    });
    let faults: Vec<String> = faults.collect();
    assert!(faults.is_empty(), "{} faults:\n{}", faults.len(), faults.join("\n"));
}

/// Every key and every item of every demo case left out in turn, with all that stands below it: a fault that names a
/// place, or a plan that is right in itself.
#[test]
fn every_key_may_be_missing() {
    let (mut sound, mut faulty) = (0, 0);
    for file in demo::files() {
        let tree: Value = serde_yaml::from_str(&std::fs::read_to_string(&file).unwrap()).unwrap();
        let mut found = Vec::new();
        places(&tree, &[], &mut found);
        for path in found {
            let text = without(tree.clone(), &path);
            match case::read(text.as_bytes()) {
                Ok(read) => {
                    sound += 1;
                    let wrong = wrongs(&read.case, &calc::plan(&read.case));
                    assert!(wrong.is_empty(), "without {}: {wrong:?}", words(&path));
                }
                Err(unsound) => {
                    faulty += 1;
                    assert!(!unsound.faults.is_empty(), "without {}", words(&path));
                    assert!(unsound.faults.iter().all(|it| it.place.line > 0), "{}", words(&path));
                }
            }
        }
    }
    assert!(sound > 200 && faulty > 200, "{sound} sound, {faulty} faulty");
}

fn without(mut tree: Value, path: &[Step]) -> String {
    let (last, above) = path.split_last().unwrap();
    let spot = above.iter().fold(&mut tree, |value, step| match step {
        Step::Key(key) => value.get_mut(key.as_str()).unwrap(),
        Step::Item(index) => value.get_mut(*index).unwrap(),
    });
    match (last, spot) {
        (Step::Key(key), Value::Mapping(keys)) => {
            keys.remove(key.as_str()).unwrap();
        }
        (Step::Item(index), Value::Sequence(items)) => {
            items.remove(*index);
        }
        _ => unreachable!("a path that was found"),
    }
    serde_yaml::to_string(&tree).unwrap()
}

/// Every line of every demo case left out in turn: a fault, or a plan that is right in itself.
#[test]
fn every_line_may_be_missing() {
    let mut sound = 0;
    for file in demo::files() {
        let text = std::fs::read_to_string(file).unwrap();
        let lines: Vec<&str> = text.lines().collect();
        for index in 0..lines.len() {
            let mut changed = lines.clone();
            let left_out = changed.remove(index);
            if let Ok(read) = case::read(changed.join("\n").as_bytes()) {
                sound += 1;
                let wrong = wrongs(&read.case, &calc::plan(&read.case));
                assert!(wrong.is_empty(), "without `{left_out}`: {wrong:?}");
            }
        }
    }
    assert!(sound > 20, "only {sound} shortened cases read");
}

#[test]
fn a_hole_in_the_figures_is_seen() {
    let case = demo::case("quarry-bend-left-flexion");
    let whole: Json = demo::figures("quarry-bend-left-flexion");
    let mut found = Vec::new();
    holes("", &whole, &mut found);
    assert_eq!(found, [""; 0]);
    let mut holed = whole;
    holed["pulls"][0]["loops"][0]["flat_mm"] = Json::Null;
    holed["pulls"][0]["loops"][0]["marks"][1]["cuff_kpa"] = Json::Null;
    holes("", &holed, &mut found);
    assert_eq!(found, [".pulls[0].loops[0].flat_mm", ".pulls[0].loops[0].marks[1].cuff_kpa"]);
    let mut plan = calc::plan(&case);
    plan.pulls[0].loops[0].marks.swap(0, 1);
    plan.pulls[0].loops[0].marks[3].place = Length::mm(61.0);
    assert_eq!(wrongs(&case, &plan).len(), 2, "W − p is 60 mm");
}
