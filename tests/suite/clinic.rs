//! The clinic's profile: what it gives, what a case overrides, faults of both files.

use serde_yaml::{Mapping, Value};
use tautline::case::{self, Case, Key, Kind, Profile, Shape, Sound, Source, Unsound};

use crate::cli::{Scene, run};
use crate::demo;

const BASE: &str = "saltmarsh-right-extension";

/// A profile with a value for every key that it takes, but for the list of therapists and the words.
pub const WHOLE: &str = "\
clinic:
  name: Weir Street Hand Rooms
  phone: 555-0171
  therapist: Petra Lindqvist, OT
  page: a4
  logo: logo.png
language: es
print_size: large
teach_back: never
orthosis:
  sheet: { thickness: 2.4 mm, length: 800 mm, width: 500 mm, margin: 12 mm, grain: lengthwise }
measuring_error: { tape: 2 mm, depth: 3 mm, raters: several, goniometer: 4 }
limits:
  skin_plan: 4 kPa
  skin_warn: 12 kPa
  skin_stop: 25 kPa
  crimp_efficiency: 0.5
  wet_strength: 0.9
  line_safety: 6
  hook_shear: 3 N/cm2
  hook_safety: 4
  line_modulus: 3 GPa
  friction: 0.3
stock:
  lines: [ { diameter: 0.8 mm, strength: 140 N } ]
  hook_widths: [ 25 mm ]
";

/// Each of its keys with another value, and where the key stands in a case.
const OTHERS: [(&str, &str); 27] = [
    ("clinic.name", "Sluice Lane Clinic"),
    ("clinic.phone", "555-0199"),
    ("clinic.therapist", "Oda Brandt, OT"),
    ("clinic.page", "letter"),
    ("clinic.logo", "other.png"),
    ("case.language", "en"),
    ("case.print_size", "standard"),
    ("case.teach_back", "always"),
    ("orthosis.sheet.thickness", "3.2 mm"),
    ("orthosis.sheet.length", "700 mm"),
    ("orthosis.sheet.width", "450 mm"),
    ("orthosis.sheet.margin", "15 mm"),
    ("orthosis.sheet.grain", "none"),
    ("measuring_error.tape", "4 mm"),
    ("measuring_error.depth", "1 mm"),
    ("measuring_error.raters", "same"),
    ("measuring_error.goniometer", "6"),
    ("limits.skin_plan", "5 kPa"),
    ("limits.skin_warn", "13 kPa"),
    ("limits.skin_stop", "26 kPa"),
    ("limits.crimp_efficiency", "0.6"),
    ("limits.wet_strength", "0.8"),
    ("limits.line_safety", "7"),
    ("limits.hook_shear", "2 N/cm2"),
    ("limits.hook_safety", "5"),
    ("limits.line_modulus", "2 GPa"),
    ("limits.friction", "0.2"),
];
/// Lists stay whole: the case's own stands alone.
const LISTS: [(&str, &str); 2] = [
    (
        "stock.lines",
        "[ { diameter: 1 mm, strength: 200 N }, { diameter: 1.1 mm, strength: 210 N } ]",
    ),
    ("stock.hook_widths", "[ 30 mm, 40 mm ]"),
];

fn yaml(text: &str) -> Value {
    serde_yaml::from_str(text).unwrap()
}

/// The base case without anything that a profile gives.
pub fn bare() -> Value {
    let mut tree = yaml(&demo::text(BASE));
    let all = tree.as_mapping_mut().unwrap();
    for key in ["clinic", "measuring_error", "limits", "stock"] {
        all.remove(key);
    }
    for key in ["language", "print_size", "teach_back"] {
        all["case"].as_mapping_mut().unwrap().remove(key);
    }
    all["orthosis"].as_mapping_mut().unwrap().remove("sheet");
    tree
}

/// The same tree with a value at a path; groups on the way are made.
pub fn with(mut tree: Value, path: &str, value: Value) -> Value {
    let mut spot = &mut tree;
    for key in path.split('.') {
        if spot.is_null() {
            *spot = Value::Mapping(Mapping::new());
        }
        spot = spot.as_mapping_mut().unwrap().entry(key.into()).or_insert(Value::Null);
    }
    *spot = value;
    tree
}

/// The bare case with the whole profile written into it by hand.
pub fn inline() -> Value {
    let profile = yaml(WHOLE);
    let mut tree = bare();
    for key in ["language", "print_size", "teach_back"] {
        tree = with(tree, &format!("case.{key}"), profile[key].clone());
    }
    tree = with(tree, "orthosis.sheet", profile["orthosis"]["sheet"].clone());
    for key in ["clinic", "measuring_error", "limits", "stock"] {
        tree = with(tree, key, profile[key].clone());
    }
    tree
}

pub fn text(tree: &Value) -> String {
    serde_yaml::to_string(tree).unwrap()
}

/// A case that names its profile, read with these bytes for it.
fn joined(case: &str, profile: &str) -> Result<Sound, Unsound> {
    let mut fetch = |name: &str| {
        assert_eq!(name, "weir.yaml");
        Ok(profile.as_bytes().to_vec())
    };
    case::read_with(case.as_bytes(), Profile::Named(&mut fetch))
}

#[track_caller]
fn sound(case: &Value, profile: &str) -> Sound {
    joined(&text(case), profile).unwrap_or_else(|it| panic!("{:#?}\n{}", it.faults, text(case)))
}

fn read(tree: &Value) -> Case {
    demo::read(&text(tree))
}

/// The path of every single value and list of the profile's own telling, as it stands in a case.
fn leaves(keys: &[Key], path: &str, found: &mut Vec<String>) {
    for key in keys {
        let path =
            if path.is_empty() { key.name.to_owned() } else { format!("{path}.{}", key.name) };
        match &key.shape {
            Shape::Group(keys) => leaves(keys, &path, found),
            _ if ["language", "print_size", "teach_back"].contains(&path.as_str()) => {
                found.push(format!("case.{path}"));
            }
            _ => found.push(path),
        }
    }
}

/// The profile's name alone, and in the group; the whole of it is in the case, and the normalised file needs no other.
#[test]
fn a_profile_reads_as_if_its_values_stood_in_the_case() {
    let whole = read(&inline());
    for naming in ["clinic", "clinic.profile"] {
        let sound = sound(&with(bare(), naming, "weir.yaml".into()), WHOLE);
        assert_eq!(sound.case, whole, "{naming}");
        let normalised = case::normalised(&sound.case);
        assert_eq!(normalised, case::normalised(&whole));
        assert_eq!(case::normalised(&demo::read(&normalised)), normalised);
        let mut all = Vec::new();
        leaves(&case::profile_outline(), "", &mut all);
        all.retain(|it| it != "clinic.therapists" && it != "words");
        assert_eq!(sound.profile.unwrap().keys, all, "every key comes from the profile");
    }
}

/// Every key of the profile overridden by the case in turn: that one is the case's, all others stay.
#[test]
fn the_case_wins_key_by_key() {
    let mut all = Vec::new();
    leaves(&case::profile_outline(), "", &mut all);
    let listed: Vec<&str> = OTHERS.iter().chain(&LISTS).map(|it| it.0).collect();
    for key in all.iter().filter(|it| *it != "clinic.therapists" && *it != "words") {
        assert!(listed.contains(&key.as_str()), "{key} is not overridden");
    }
    let plain = read(&inline());
    for (key, other) in OTHERS.into_iter().chain(LISTS) {
        let named = with(bare(), "clinic.profile", "weir.yaml".into());
        let sound = sound(&with(named, key, yaml(other)), WHOLE);
        let wanted = read(&with(inline(), key, yaml(other)));
        assert_eq!(sound.case, wanted, "{key}");
        assert_ne!(sound.case, plain, "{key} changes something");
        let gave = sound.profile.unwrap();
        assert!(!gave.gave(key) && gave.keys.len() == listed.len() - 1, "{key}: {gave:?}");
    }
}

/// A key without a value is a key left out.
#[test]
fn an_empty_key_of_the_case_overrides_nothing() {
    let named = with(bare(), "clinic.profile", "weir.yaml".into());
    let empty = with(with(named, "limits", Value::Null), "clinic.phone", Value::Null);
    assert_eq!(sound(&empty, WHOLE).case, read(&inline()));
}

fn faults(case: &str, profile: &str) -> Vec<(Source, u64, u64, String)> {
    let told = joined(case, profile).expect_err("faults").faults;
    let row = |it: &case::Fault| {
        let key = it.kind.key().unwrap_or_default();
        (
            it.place.file,
            it.place.line,
            u64::from(it.place.column),
            format!("{} {key}", it.kind.name()),
        )
    };
    told.iter().map(row).collect()
}

/// All faults of both files in one report, each at its place in its own file, also where the case overrides the value.
#[test]
fn faults_of_both_files_come_at_once() {
    let scene = Scene::new();
    let case = demo::edited(
        BASE,
        &[
            ("page: a4", "profile: weir.yaml"),
            ("prepared: ", "prepared: x"),
            ("stock:", "limits: { friction: 7 }\nstock:"),
        ],
    );
    scene.write("case.yaml", case.as_bytes());
    scene.write(
        "weir.yaml",
        b"clinic:\n  name: 1\n  pager: 5\nlimits:\n  friction: 9\n  skin_plan: 20 kPa\npatient: {}\nstock:\n  lines:\n    - diameter: 1 mm\n",
    );
    let done = run(&scene, &["check", "case.yaml"]);
    assert_eq!(done.code, 2);
    let line = |text: &str| case.lines().position(|it| it.contains(text)).unwrap() + 1;
    let wanted = [
        format!("case.yaml:{}:13: `case.prepared` reads ", line("prepared:")),
        format!("case.yaml:{}:21: `limits.friction` reads `7`.", line("friction: 7")),
        "weir.yaml:3:3: `clinic.pager` is not a key of a clinic's profile. It takes name, phone, therapist, therapists, page, logo. To mend:".into(),
        "weir.yaml:5:13: `limits.friction` reads `9`.".into(),
        "weir.yaml:6:14: `limits.skin_plan` reads `20 kPa`, but `limits.skin_warn` is 15 kPa.".into(),
        "weir.yaml:7:1: `patient` is not a key of a clinic's profile.".into(),
        "weir.yaml:10:7: `stock.lines[1].strength` is missing.".into(),
        "case.yaml: 7 faults; nothing was printed. Mend them, then:  tautline check case.yaml".into(),
    ];
    let told: Vec<&str> = done.stderr.lines().collect();
    for wanted in &wanted[..6] {
        assert!(told.iter().any(|it| it.starts_with(wanted.as_str())), "{wanted}\n{}", done.stderr);
    }
}

#[test]
fn a_profile_that_is_none_is_told() {
    let case = text(&with(bare(), "clinic", "weir.yaml".into()));
    let told = |profile| faults(&case, profile);
    assert_eq!(told(""), [(Source::Profile, 1, 1, "not-a-profile ".into())]);
    assert_eq!(told("- a"), [(Source::Profile, 1, 1, "not-a-profile ".into())]);
    assert_eq!(told("clinic: [\n"), [(Source::Profile, 1, 9, "not-yaml ".into())]);
    // What neither file has is missing, once.
    let missing = told("clinic: { name: Weir, phone: 1 }\n");
    let keys: Vec<&str> = missing.iter().map(|it| it.3.as_str()).collect();
    assert_eq!(keys, ["missing orthosis.sheet", "missing clinic.therapist"]);
    // A case that names a profile and is read without one.
    let unsound = case::read(case.as_bytes()).expect_err("no profile");
    let [fault] = &unsound.faults[..] else { panic!("{:#?}", unsound.faults) };
    assert!(matches!(&fault.kind, Kind::NotAccepted { key, .. } if key == "clinic"), "{fault:?}");
}

/// Where the profile lists the therapists, a case names one of them.
#[test]
fn a_case_names_one_of_the_clinics_therapists() {
    let profile = |listed: &str| {
        WHOLE.replace("therapist: Petra Lindqvist, OT", &format!("therapists: [ {listed} ]"))
    };
    let two = profile("'Petra Lindqvist, OT', 'Oda Brandt, OTR/L, CHT'");
    let named = with(bare(), "clinic.profile", "weir.yaml".into());
    let with_name = |name: &str| with(named.clone(), "clinic.therapist", name.into());
    for name in ["Oda Brandt", "oda  brandt", " Oda Brandt, OTR/L, CHT", "ODA BRANDT"] {
        let read = sound(&with_name(name), &two);
        assert_eq!(read.case.clinic.therapist, "Oda Brandt, OTR/L, CHT", "{name}");
    }
    let cure = |name: &str| {
        let unsound = joined(&text(&with_name(name)), &two).expect_err(name);
        let [fault] = &unsound.faults[..] else { panic!("{:#?}", unsound.faults) };
        assert_eq!(fault.kind.key(), Some("clinic.therapist"));
        fault.kind.cure()
    };
    assert_eq!(cure("Oda Brant"), "did you mean `Oda Brandt, OTR/L, CHT`?");
    assert!(cure("Wenzel Abara, OT").contains("add the name to `clinic.therapists`"));
    let none = faults(&text(&named), &two);
    assert_eq!(none.len(), 1);
    assert_eq!(none[0].3, "missing clinic.therapist");
    let only = sound(&named, &profile("'Petra Lindqvist, OT'"));
    assert_eq!(only.case.clinic.therapist, "Petra Lindqvist, OT");
    // Two of one name are told apart by what stands behind it.
    let alike = profile("'Oda Brandt, OT', 'Oda Brandt, CHT'");
    assert!(joined(&text(&with_name("Oda Brandt")), &alike).is_err());
    let told = sound(&with_name("Oda Brandt, CHT"), &alike);
    assert_eq!(told.case.clinic.therapist, "Oda Brandt, CHT");
}
