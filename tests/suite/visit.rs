//! Adding a visit to a case file: every byte outside the addition stays, in every form of file; what cannot be added to
//! safely is refused.
//!
//! `tests/outside` answers the questions in a real terminal.

use std::fs;

use serde_yaml::Value;
use tautline::case::{self, Answers, Question, Visiting};

use crate::cli::{Scene, run};
use crate::demo;

fn visiting(text: &str) -> Visiting {
    let sound = case::read(text.as_bytes()).unwrap_or_else(|it| panic!("{:#?}\n{text}", it.faults));
    Visiting::new(text, &sound.case, Box::new(case::read))
}

/// Answers by the end of their key's path.
fn answered(visiting: &Visiting, answers: &[(&str, &str)]) -> Answers {
    let questions = visiting.questions();
    let mut all = Answers::default();
    for (key, answer) in answers {
        let is_it = |it: &&Question| it.path.ends_with(&format!(".{key}")) || it.path == *key;
        let question = questions.iter().find(is_it).unwrap_or_else(|| panic!("{key} is asked"));
        all.put(question, answer);
    }
    all
}

/// The file with a visit in it; it reads well.
#[track_caller]
fn grown(text: &str, answers: &[(&str, &str)]) -> String {
    let visiting = visiting(text);
    assert_eq!(visiting.refused(), None);
    let answers = answered(&visiting, answers);
    assert_eq!(visiting.faults(&answers), []);
    let whole = visiting.whole(&answers).unwrap();
    let read =
        case::read(whole.as_bytes()).unwrap_or_else(|it| panic!("{:#?}\n{whole}", it.faults));
    let before = case::read(text.as_bytes()).unwrap().case;
    assert_eq!(read.case.visits.len(), before.visits.len() + 1);
    assert_eq!(read.case.visits[..before.visits.len()], before.visits);
    whole
}

/// The bytes that `new` has beside those of `old`, which must all be there around them but for the papers' day.
#[track_caller]
fn addition<'n>(old: &str, new: &'n str, prepared: (&str, &str)) -> &'n str {
    let moved =
        old.replacen(&format!("prepared: {}", prepared.0), &format!("prepared: {}", prepared.1), 1);
    let same = moved.bytes().zip(new.bytes()).take_while(|(one, other)| one == other).count();
    let added = new.len() - moved.len();
    // What is added may begin like what follows it: the end is counted from behind.
    let behind = &moved[same..];
    assert_eq!(&new[same + added..], behind, "bytes outside the addition differ");
    &new[same..same + added]
}

const DAY: (&str, &str) = ("date", "2026-05-04");
const MOVED: (&str, &str) = ("2026-04-13", "2026-05-04");

/// Without `visits` the key comes at the end of the file.
#[test]
fn a_file_without_visits_gets_them_at_its_end() {
    let old = demo::text("quarry-bend-left-flexion");
    let new = grown(
        &old,
        &[
            DAY,
            ("passive.flexion", "33"),
            ("pain.rest", "1"),
            ("skin", "clear"),
            ("torque[1].pull", "flexion"),
            ("torque[1].angle", "31"),
            ("torque[1].force", "9 N"),
            ("torque[1].lever", "85 mm"),
            ("worn.sessions", "30"),
            ("worn.minutes", "1150"),
            ("scores.quick_dash", "52.3"),
            ("changes", "new strap, soft; hole {2} moved"),
            ("remark", "Says: \"better\" # truly"),
        ],
    );
    assert_eq!(
        addition(&old, &new, MOVED),
        "visits:\n  - date: 2026-05-04\n    passive: { flexion: 33 }\n    torque:\n      - { pull: flexion, angle: 31, force: 9 N, lever: 85 mm }\n    \
         pain: { rest: 1 }\n    skin: clear\n    worn: { sessions: 30, minutes: 1150 }\n    scores: { quick_dash: 52.3 }\n    \
         changes: [\"new strap, soft\", \"hole {2} moved\"]\n    remark: 'Says: \"better\" # truly'\n"
    );
    // A second reader finds the same values: serde_yaml.
    let tree: Value = serde_yaml::from_str(&new).unwrap();
    let visit = &tree["visits"][0];
    assert_eq!(visit["changes"][1], "hole {2} moved");
    assert_eq!(visit["remark"], "Says: \"better\" # truly");
    assert_eq!(visit["torque"][0]["force"], "9 N");
}

#[test]
fn two_visits_follow_each_other() {
    let old = demo::text("quarry-bend-left-flexion");
    let one = grown(&old, &[DAY, ("skin", "clear")]);
    let two = grown(&one, &[("date", "2026-05-18"), ("passive.extension", "-5")]);
    let added = addition(&one, &two, ("2026-05-04", "2026-05-18"));
    assert_eq!(added, "  - date: 2026-05-18\n    passive: { extension: -5 }\n");
    let days: Vec<String> =
        demo::read(&two).visits.iter().map(|it| it.date().to_string()).collect();
    assert_eq!(days, ["2026-05-04", "2026-05-18"]);
}

#[test]
fn line_ends_stay_as_they_are() {
    let old = demo::text("quarry-bend-left-flexion").replace('\n', "\r\n");
    let new = grown(&old, &[DAY, ("skin", "clear")]);
    assert_eq!(
        addition(&old, &new, MOVED),
        "visits:\r\n  - date: 2026-05-04\r\n    skin: clear\r\n"
    );
    let again = grown(&new, &[("date", "2026-05-18")]);
    assert_eq!(addition(&new, &again, ("2026-05-04", "2026-05-18")), "  - date: 2026-05-18\r\n");
}

#[test]
fn a_last_line_may_lack_its_end() {
    let whole = demo::text("quarry-bend-left-flexion");
    let old = whole.trim_end();
    let new = grown(old, &[DAY]);
    assert_eq!(addition(old, &new, MOVED), "\nvisits:\n  - date: 2026-05-04\n");
    let cut = new.trim_end();
    let again = grown(cut, &[("date", "2026-05-18")]);
    assert_eq!(addition(cut, &again, ("2026-05-04", "2026-05-18")), "\n  - date: 2026-05-18\n");
}

/// Each way in which a list of visits may stand, what comes behind it, and what is added where.
#[test]
fn lists_keep_their_own_form() {
    let base = demo::text("quarry-bend-left-flexion");
    let with = |visits: &str| {
        base.replacen("limb:", &format!("{visits}limb:"), 1).replacen(MOVED.0, "2026-05-04", 1)
    };
    for (visits, before, added) in [
        ("visits:\n", "visits:\n", "  - date: 2026-05-18\n"),
        ("visits:   # none yet\n\n", "# none yet\n", "  - date: 2026-05-18\n"),
        ("visits:\n- date: 2026-05-04\n  skin: clear\n", "skin: clear\n", "- date: 2026-05-18\n"),
        (
            "visits:\n    -   date: 2026-05-04 # 1\n        skin: clear\n",
            "skin: clear\n",
            "    -   date: 2026-05-18\n",
        ),
        (
            "visits:\n  - { date: 2026-05-04, skin: clear }\n",
            "skin: clear }\n",
            "  - date: 2026-05-18\n",
        ),
        ("visits:\n  - # the first\n    date: 2026-05-04\n", "", ""),
        (
            "visits:\n  - date: 2026-05-04\n    remark: >-\n      Words on\n      two lines\n    # of this visit\n\n# The limb\n",
            "    # of this visit\n",
            "  - date: 2026-05-18\n",
        ),
        (
            "visits:\n  - date: 2026-05-04\n    remark: \"Words on\n      two lines\"\n",
            "two lines\"\n",
            "  - date: 2026-05-18\n",
        ),
        (
            "\"visits\":\n  - date: 2026-05-04\n  # next one here\n",
            "  # next one here\n",
            "  - date: 2026-05-18\n",
        ),
    ] {
        let old = with(visits);
        if added.is_empty() {
            assert!(visiting(&old).refused().is_some(), "{visits}");
            continue;
        }
        let new = grown(&old, &[("date", "2026-05-18")]);
        let found = addition(&old, &new, ("2026-05-04", "2026-05-18"));
        assert_eq!(found.len(), added.len(), "{visits}{found}");
        assert!(new.contains(&format!("{before}{added}")), "{visits}: {new}");
    }
}

/// Every demo case takes a visit; all its bytes are there again around the addition.
#[test]
fn every_demo_case_takes_a_visit() {
    for path in demo::files() {
        let text = fs::read_to_string(&path).unwrap();
        let own = demo::read(&text);
        let visiting = visiting(&text);
        let day = own.head.prepared.tomorrow().unwrap();
        let mut answers = vec![("date", day.to_string()), ("skin", "clear".to_owned())];
        let next = day.tomorrow().unwrap().to_string();
        answers.extend([("case.next_visit", next.clone()), ("referral.recheck", next)]);
        let probe = answered(&visiting, &[("date", &day.to_string())]);
        answers.retain(|(key, _)| {
            !key.contains('.')
                || visiting
                    .questions()
                    .iter()
                    .any(|it| it.path == *key && !visiting.is_idle(it, &probe))
        });
        let answers: Vec<(&str, &str)> =
            answers.iter().map(|(key, it)| (*key, it.as_str())).collect();
        let new = grown(&text, &answers);
        let old_lines: Vec<&str> = text.lines().collect();
        let mut from = 0;
        let mut changed = 0;
        for line in new.lines() {
            match old_lines[from..].first() {
                Some(old) if *old == line => from += 1,
                Some(old)
                    if old.len() == line.len() && old.contains("20") && line.contains("20") =>
                {
                    (from, changed) = (from + 1, changed + 1);
                }
                _ => {}
            }
        }
        assert_eq!(from, old_lines.len(), "{}", path.display());
        assert!((1..=3).contains(&changed), "{}: {changed} days moved", path.display());
    }
}

#[test]
fn lists_in_brackets_are_refused() {
    let base = demo::text("quarry-bend-left-flexion").replacen(MOVED.0, "2026-05-04", 1);
    for visits in [
        "visits: []\n",
        "visits: [ { date: 2026-05-04 } ]\n",
        "visits:\n  [\n    { date: 2026-05-04 }\n  ]\n",
        "visits: ~\n",
    ] {
        let text = base.replacen("limb:", &format!("{visits}limb:"), 1);
        let visiting = visiting(&text);
        assert!(visiting.refused().is_some(), "{visits}");
        // Answers are checked all the same.
        let answers = answered(&visiting, &[("date", "2026-05-18"), ("pain.rest", "11")]);
        assert_eq!(visiting.faults(&answers).len(), 1, "{visits}");
        assert!(visiting.whole(&answers).is_err());
        assert_eq!(visiting.lines(&answers)[0], "date: 2026-05-18");
    }
}

/// The day of the papers moves with the visit, and days that it passes are asked anew.
#[test]
fn days_that_have_passed_are_asked_anew() {
    let old = demo::text("quarry-bend-left-flexion").replacen(
        "prepared: 2026-04-13",
        "prepared: '2026-04-13'  # today\n  next_visit: 2026-05-04",
        1,
    );
    let visiting = visiting(&old);
    let answers = answered(&visiting, &[DAY]);
    let open = visiting.faults(&answers);
    assert!(open.iter().any(|it| it.kind.key() == Some("case.next_visit")), "{open:#?}");
    let new = grown(&old, &[DAY, ("case.next_visit", "2026-05-18")]);
    assert!(new.contains("prepared: '2026-05-04'  # today\n  next_visit: 2026-05-18\n"), "{new}");
    // A visit before the papers' day moves nothing.
    let early = grown(&old, &[("date", "2026-04-13")]);
    assert!(early.contains("prepared: '2026-04-13'  # today\n  next_visit: 2026-05-04\n"));
}

/// What is asked are the keys of the reader, but for marks of a pull that is not made.
#[test]
fn every_key_of_a_visit_is_asked() {
    let visiting = visiting(&demo::text("quarry-bend-left-flexion"));
    let asked: Vec<String> = visiting.questions().into_iter().map(|it| it.path).collect();
    let full = demo::text("orchard-lane-new-loop");
    let tree: Value = serde_yaml::from_str(&full).unwrap();
    for visit in tree["visits"].as_sequence().unwrap() {
        for key in visit.as_mapping().unwrap().keys() {
            let key = format!("visits[1].{}", key.as_str().unwrap());
            assert!(asked.iter().any(|it| it.starts_with(&key)), "{key}");
        }
    }
    assert!(asked.contains(&"visits[1].marks.flexion".to_owned()));
    assert!(!asked.contains(&"visits[1].marks.extension".to_owned()));
    for question in visiting.questions().iter().skip(3) {
        assert!(question.row.why.is_some(), "{} says why", question.path);
        let is_list = question.path.contains("torque") || question.path.contains("tab[");
        assert!(
            question.may_be_skipped() || is_list || question.path.contains("worn."),
            "{}",
            question.path
        );
    }
}

#[test]
fn a_file_with_faults_stays_as_it_is() {
    let scene = Scene::new();
    let bad =
        demo::text("quarry-bend-left-flexion").replace("hand_breadth: 82 mm", "hand_breadth: 82");
    scene.write("case.yaml", bad.as_bytes());
    let done = run(&scene, &["visit", "case.yaml"]);
    assert_eq!((done.code, done.stdout.as_str()), (2, ""));
    assert!(done.stderr.contains("`limb.hand_breadth` reads `82`"), "{}", done.stderr);
    assert!(done.stderr.contains("stays as it is"), "{}", done.stderr);
    assert_eq!(fs::read(scene.path("case.yaml")).unwrap(), bad.as_bytes());
}

#[test]
fn where_there_is_no_terminal_or_no_file_it_says_so() {
    let scene = Scene::new();
    let text = demo::text("quarry-bend-left-flexion");
    scene.write("case.yaml", text.as_bytes());
    let done = run(&scene, &["visit", "case.yaml"]);
    assert_eq!((done.code, done.stdout.as_str()), (3, ""));
    assert!(done.stderr.contains("there is no terminal to ask at"), "{}", done.stderr);
    assert!(done.stderr.contains("tautline check case.yaml"), "{}", done.stderr);
    assert_eq!(fs::read(scene.path("case.yaml")).unwrap(), text.as_bytes());
    let done = run(&scene, &["visit", "new.yaml"]);
    assert_eq!(done.code, 3);
    assert!(done.stderr.contains("`tautline begin new.yaml`"), "{}", done.stderr);
}

/// Answers that are kept come back as they were typed, in whatever form the case file is.
#[test]
fn kept_answers_come_back_as_typed() {
    let typed = [
        ("date", "2026-07-06"),
        ("case.next_visit", "2026-07-20"),
        ("passive.flexion", "-3"),
        ("torque[1].pull", "flexion"),
        ("torque[1].angle", "25"),
        ("torque[1].force", "11 N"),
        ("torque[1].lever", "9.0 cm"),
        ("worn.sessions", "14"),
        ("worn.minutes", "700"),
        ("tab[1].pull", "flexion"),
        ("tab[1].angle", "40"),
        ("tab[1].place", "8 mm"),
        ("tab[2].pull", "flexion"),
        ("remark", "She says: \"good\" # really, [yes] {no}: 'n'"),
    ];
    for name in ["orchard-lane-new-loop", "quarry-bend-left-flexion"] {
        let visiting = visiting(&demo::text(name));
        let questions = visiting.questions();
        let path = |key: &str| {
            let is_it = |it: &&Question| it.path.ends_with(&format!(".{key}")) || it.path == key;
            questions.iter().find(is_it).unwrap().path.clone()
        };
        let wanted: case::Typed =
            typed.iter().map(|(key, it)| (path(key), (*it).to_owned())).collect();
        let text = visiting.unfinished(&answered(&visiting, &typed), &case::Typed::new()).unwrap();
        assert_eq!(visiting.resumed(text.as_bytes()).as_ref(), Some(&wanted), "{text}");
        // What is still to be offered is kept with what is answered.
        let (day, rest) = typed.split_at(1);
        let rest = rest.iter().map(|(key, it)| (path(key), (*it).to_owned())).collect();
        assert_eq!(visiting.unfinished(&answered(&visiting, day), &rest), Some(text));
        assert_eq!(visiting.unfinished(&answered(&visiting, day), &case::Typed::new()), None);
    }
    let visiting = visiting(&demo::text("orchard-lane-new-loop"));
    assert_eq!(visiting.resumed(b"date: [\n"), None);
    assert_eq!(visiting.resumed(b"strange: 3\n"), Some(case::Typed::new()));
}
