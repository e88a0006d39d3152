//! Beginning a case file: the blank, filled with the values of the demo cases, and what is never overwritten.
//!
//! `tests/outside` answers the questions in a real terminal.

use std::fs;

use serde_yaml::Value;
use tautline::case::{self, Kind, questions};

use crate::cli::{Scene, run};
use crate::demo;

fn blank() -> String {
    let scene = Scene::new();
    let done = run(&scene, &["begin", "new.yaml", "--blank"]);
    assert_eq!((done.code, done.stderr.as_str()), (0, ""));
    assert!(done.stdout.contains("tautline check new.yaml"), "{}", done.stdout);
    fs::read_to_string(scene.path("new.yaml")).unwrap()
}

/// A value behind a colon: JSON is YAML.
fn behind_a_colon(value: &Value) -> String {
    serde_json::to_string(value).unwrap()
}

/// Fills each line that ends in a colon with the demo's value at that place, as a therapist would by hand: the newest day, the
/// first pull.
fn filled(blank: &str, demo: &Value) -> String {
    let mut text = String::new();
    let mut at: Vec<(usize, &Value)> = vec![(0, demo)];
    let nothing = Value::Null;
    for line in blank.lines() {
        let bare = line.trim_start();
        if bare.is_empty() || bare.starts_with('#') {
            text.push_str(&format!("{line}\n"));
            continue;
        }
        let (key, indent) = match bare.strip_prefix("- ") {
            Some(rest) => (rest, line.len() - rest.len()),
            None => (bare, line.len() - bare.len()),
        };
        let key = key.strip_suffix(':').unwrap_or_else(|| panic!("nothing stands behind {key}"));
        while at.last().unwrap().0 > indent {
            at.pop();
        }
        let around = at.last().unwrap().1;
        let value = around.get(key).unwrap_or(&nothing);
        let has_lines_below = blank
            .lines()
            .skip_while(|it| *it != line)
            .skip(1)
            .find(|it| !it.trim_start().starts_with('#') && !it.is_empty());
        let is_opened = has_lines_below
            .is_some_and(|it| it.len() - it.trim_start_matches([' ', '-']).len() > indent);
        let below = match (value, key) {
            (Value::Sequence(items), "motion") => items.last(),
            (Value::Sequence(items), "pulls") => items.first(),
            _ => Some(value),
        };
        if is_opened {
            at.push((indent + 1, below.unwrap_or(&nothing)));
            text.push_str(&format!("{line}\n"));
        } else if value.is_null() {
            text.push_str(&format!("{line}\n"));
        } else {
            text.push_str(&format!("{line} {}\n", behind_a_colon(value)));
        }
    }
    text
}

#[test]
fn the_blank_filled_with_a_demos_values_reads_well() {
    let blank = blank();
    let mut sound = 0;
    for path in demo::files() {
        let text = fs::read_to_string(&path).unwrap();
        let own = demo::read(&text);
        let filled = filled(&blank, &serde_yaml::from_str(&text).unwrap());
        let case = match case::read(filled.as_bytes()) {
            Ok(it) => it.case,
            Err(unsound) => panic!("{}: {:#?}\n{filled}", path.display(), unsound.faults),
        };
        assert_eq!(case.head.id, own.head.id);
        assert_eq!(case.patient, own.patient);
        assert_eq!(case.history, own.history, "{}", path.display());
        assert_eq!(case.limb.forearm_girths, own.limb.forearm_girths);
        assert_eq!(case.limb.hand_depth, own.limb.hand_depth);
        assert_eq!(case.orthosis.pulls[0].tab, own.orthosis.pulls[0].tab);
        assert_eq!(case.orthosis.pulls[0].goal, own.orthosis.pulls[0].goal);
        assert_eq!(case.motion.last(), own.motion.last());
        assert_eq!(case.wear.weeks, own.wear.weeks);
        sound += 1;
    }
    assert!(sound >= 4);
}

/// The blank holds no fault but missing values, and each of them is asked for.
#[test]
fn what_the_blank_lacks_is_what_is_asked() {
    let unsound = case::read(blank().as_bytes()).expect_err("a blank is no case");
    let asked: Vec<String> = questions().into_iter().map(|it| it.path).collect();
    assert!(unsound.faults.len() > 20);
    for fault in &unsound.faults {
        let Kind::Missing { key, .. } = &fault.kind else { panic!("{fault:?}") };
        assert!(asked.contains(key), "{key} is not asked for");
    }
    for question in questions() {
        assert!(question.row.why.is_some(), "{} says why it is asked", question.path);
    }
}

/// The order of measuring is the order of the file.
#[test]
fn questions_follow_the_file() {
    let blank = blank();
    let mut from = 0;
    for question in questions() {
        let key = question.path.rsplit('.').next().unwrap();
        let is_inside = question.within.iter().any(|(group, _)| *group != question.path);
        if is_inside && question.row.unset.is_none() {
            continue; // Groups that may be left out whole stand as one line.
        }
        let line = format!("{key}:\n");
        let at = blank[from..].find(&line).unwrap_or_else(|| panic!("{} in order", question.path));
        from += at + line.len();
    }
}

#[test]
fn a_file_that_is_there_is_never_overwritten() {
    let scene = Scene::new();
    scene.write("case.yaml", b"mine");
    for arguments in [&["begin", "case.yaml"][..], &["begin", "case.yaml", "--blank"]] {
        let done = run(&scene, arguments);
        assert_eq!((done.code, done.stdout.as_str()), (3, ""));
        assert!(done.stderr.contains("tautline check case.yaml"), "{}", done.stderr);
        assert_eq!(fs::read(scene.path("case.yaml")).unwrap(), b"mine");
    }
}

#[test]
fn where_there_is_no_terminal_the_blank_is_named() {
    let scene = Scene::new();
    let done = run(&scene, &["begin", "case.yaml"]);
    assert_eq!((done.code, done.stdout.as_str()), (3, ""));
    assert!(done.stderr.contains("tautline begin case.yaml --blank"), "{}", done.stderr);
    assert!(!scene.path("case.yaml").exists());
    let done = run(&scene, &["begin", "no/folder/case.yaml", "--blank"]);
    assert_eq!(done.code, 3);
    assert!(done.stderr.contains("there is no folder no/folder to begin"), "{}", done.stderr);
}

#[cfg(unix)]
#[test]
fn a_begun_file_is_for_its_owners_eyes() {
    use std::os::unix::fs::PermissionsExt;
    let scene = Scene::new();
    assert_eq!(run(&scene, &["begin", "case.yaml", "--blank"]).code, 0);
    let mode = fs::metadata(scene.path("case.yaml")).unwrap().permissions().mode();
    assert_eq!(mode & 0o777, 0o600);
}

/// What the profile gives is neither asked for nor written, and the file names the profile as the reader takes it.
#[test]
fn a_profile_is_named_and_what_it_gives_is_left_out() {
    for (case, profile, named) in [
        ("ward/new.yaml", "ward/weir.yaml", "weir.yaml"),
        ("ward/new.yaml", "ward/below/weir.yaml", "below/weir.yaml"),
        ("ward/new.yaml", "weir.yaml", "../weir.yaml"),
        ("ward/new.yaml", "beside/weir.yaml", "../beside/weir.yaml"),
    ] {
        let scene = Scene::new();
        for folder in ["ward/below", "beside"] {
            fs::create_dir_all(scene.path(folder)).unwrap();
        }
        scene.write(profile, WEIR.as_bytes());
        let done = run(&scene, &["begin", case, "--blank", "--clinic", profile]);
        assert_eq!((done.code, done.stderr.as_str()), (0, ""));
        assert!(done.stdout.contains("`tautline check ward/new.yaml` then"), "{}", done.stdout);
        let text = fs::read_to_string(scene.path(case)).unwrap();
        let tree: Value = serde_yaml::from_str(&text).unwrap();
        let clinic = tree["clinic"].as_mapping().unwrap();
        assert_eq!(clinic["profile"], named);
        let keys: Vec<&str> = clinic.keys().map(|it| it.as_str().unwrap()).collect();
        assert_eq!(keys, ["profile", "therapist"]);
        assert!(text.contains("Ada Brook, OT; Jo Ferry, OTR/L"), "{text}");
        let keys = |group: &Value| -> Vec<String> {
            group.as_mapping().unwrap().keys().map(|it| it.as_str().unwrap().into()).collect()
        };
        assert!(!keys(&tree["case"]).contains(&"language".to_owned()));
        assert!(!keys(&tree["orthosis"]).contains(&"sheet".to_owned()), "{:?}", tree["orthosis"]);
        // What is missing then is told without the profile's keys.
        let done = run(&scene, &["check", case]);
        assert!(done.stderr.contains("`clinic.therapist` is missing"), "{}", done.stderr);
        for given in ["clinic.name", "clinic.phone", "clinic.profile", "sheet"] {
            assert!(!done.stderr.contains(&format!("`{given}`")), "{given}: {}", done.stderr);
        }
    }
}

/// A profile with several therapists.
const WEIR: &str = "clinic:\n  name: Weir Street\n  phone: 555-0171\n  page: a4\n  therapists: [\"Ada Brook, OT\", \"Jo Ferry, OTR/L\"]\n\
                    language: es\northosis:\n  sheet: { thickness: 2.4 mm }\n";

/// A profile that the reader would not find from there is not named, and what to do instead is told.
#[test]
fn a_profile_that_cannot_be_named_is_given_again() {
    let scene = Scene::new();
    fs::create_dir_all(scene.path("deep/ward")).unwrap();
    scene.write("weir.yaml", WEIR.as_bytes());
    let done = run(&scene, &["begin", "deep/ward/new.yaml", "--blank", "--clinic", "weir.yaml"]);
    assert_eq!(done.code, 0);
    assert!(done.stderr.contains("does not name the clinic's profile"), "{}", done.stderr);
    assert!(done.stderr.contains("Give `--clinic weir.yaml` with each"), "{}", done.stderr);
    let next = "`tautline check deep/ward/new.yaml --clinic weir.yaml` then";
    assert!(done.stdout.contains(next), "{}", done.stdout);
    let text = fs::read_to_string(scene.path("deep/ward/new.yaml")).unwrap();
    assert!(!text.contains("weir") && !text.contains("  phone:"), "{text}");
    let done = run(&scene, &["check", "deep/ward/new.yaml", "--clinic", "weir.yaml"]);
    assert!(!done.stderr.contains("clinic.phone"), "{}", done.stderr);
    let next = "then:  tautline check deep/ward/new.yaml --clinic weir.yaml\n";
    assert!(done.stderr.ends_with(next), "{}", done.stderr);
    // A fault in the profile is told before anything is begun.
    scene.write("weir.yaml", WEIR.replace("phone", "fone").as_bytes());
    let done = run(&scene, &["begin", "new.yaml", "--blank", "--clinic", "weir.yaml"]);
    assert_eq!(done.code, 2);
    assert!(done.stderr.contains("weir.yaml:3:3: `clinic.fone` is not a key"), "{}", done.stderr);
    let next = "then:  tautline begin new.yaml --clinic weir.yaml\n";
    assert!(done.stderr.ends_with(next), "{}", done.stderr);
    assert!(!scene.path("new.yaml").exists());
}

/// Where nothing can be begun the reason and a way on are told.
#[test]
fn what_stands_in_the_way_is_told_at_once() {
    let scene = Scene::new();
    fs::create_dir(scene.path("ward")).unwrap();
    let done = run(&scene, &["begin", "ward"]);
    assert_eq!(done.code, 3);
    assert!(done.stderr.contains("tautline begin ward/case.yaml"), "{}", done.stderr);
    let done = run(&scene, &["begin", "nowhere/case.yaml"]);
    assert_eq!(done.code, 3);
    assert!(done.stderr.contains("there is no folder nowhere"), "{}", done.stderr);
}
