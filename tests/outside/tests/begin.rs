//! `begin` in a real terminal (a pseudo-terminal by the `rexpect` crate).

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;
use std::process::Command;

use rexpect::session::{PtySession, spawn_command};
use serde_yaml::Value;
use tautline_outside::{program, root};
use tempfile::TempDir;

fn begin(folder: &Path) -> PtySession {
    let mut command = Command::new(program());
    command.args(["begin", "case.yaml"]).current_dir(folder).env("NO_COLOR", "1");
    spawn_command(command, Some(20_000)).unwrap()
}

fn check(folder: &Path) -> (i32, String) {
    let done =
        Command::new(program()).args(["check", "case.yaml"]).current_dir(folder).output().unwrap();
    (
        done.status.code().unwrap(),
        String::from_utf8(done.stdout).unwrap() + &String::from_utf8(done.stderr).unwrap(),
    )
}

/// The next question's key, as its prompt names it, whatever is offered.
fn key(session: &mut PtySession) -> String {
    let prompt = r"\n  [a-z_.\[\]0-9]+( \(optional\))?( \[[^\]]*\])?: ";
    let (_, prompt) = session.exp_regex(prompt).unwrap();
    let words = prompt.trim().trim_end_matches(':').split(' ');
    words.into_iter().next().unwrap().to_owned()
}

/// The demo's answer to a question, as a therapist would type it.
fn answer(demo: &Value, path: &str) -> String {
    let mut value = demo;
    for step in path.split('.') {
        let (name, item) = step.trim_end_matches(']').split_once('[').unwrap_or((step, ""));
        let Some(mut below) = value.get(name) else { return String::new() };
        if let Ok(number) = item.parse::<usize>() {
            let items = below.as_sequence().unwrap();
            // The newest day of ranges is the one that is asked for.
            let at = if name == "motion" { items.len() - 1 } else { number - 1 };
            let Some(item) = items.get(at) else { return String::new() };
            below = item;
        }
        value = below;
    }
    match value {
        Value::String(text) => text.clone(),
        Value::Number(number) => number.to_string(),
        Value::Sequence(items) => {
            items.iter().map(|it| it.as_str().unwrap()).collect::<Vec<_>>().join(", ")
        }
        Value::Null => String::new(),
        other => panic!("{path}: {other:?}"),
    }
}

fn demo(name: &str) -> Value {
    let path = root().join(format!("demo-cases/{name}.yaml"));
    serde_yaml::from_str(&fs::read_to_string(path).unwrap()).unwrap()
}

#[test]
fn every_question_answered_gives_a_case_that_reads_well() {
    let folder = TempDir::new().unwrap();
    let demo = demo("quarry-bend-left-flexion");
    let mut session = begin(folder.path());
    let mut asked: BTreeMap<String, String> = BTreeMap::new();
    loop {
        let path = key(&mut session);
        let typed = answer(&demo, &path);
        session.send_line(&typed).unwrap();
        let is_last = path == "wear.from";
        asked.insert(path, typed);
        if is_last {
            break;
        }
    }
    session
        .exp_string("case.yaml is written and reads well. Next:  tautline check case.yaml")
        .unwrap();
    session.exp_eof().unwrap();
    assert!(asked.len() > 50, "{}", asked.len());
    assert_eq!(asked["limb.forearm_girths[3].girth"], "26.0 cm");
    let (code, said) = check(folder.path());
    assert_eq!(code, 0, "{said}");
    let written: Value =
        serde_yaml::from_str(&fs::read_to_string(folder.path().join("case.yaml")).unwrap())
            .unwrap();
    for (path, typed) in asked {
        let path = path.replace("motion[2]", "motion[1]");
        let own =
            if path == "history.conditions" { String::new() } else { answer(&written, &path) };
        assert_eq!(own, typed, "{path}");
    }
}

#[test]
fn answers_are_checked_at_once_and_can_be_taken_back() {
    let folder = TempDir::new().unwrap();
    let mut session = begin(folder.path());
    let say = |session: &mut PtySession, path: &str, typed: &str| {
        assert_eq!(key(session), path);
        session.send_line(typed).unwrap();
    };
    // The reader's own words: what is accepted, how to mend it.
    say(&mut session, "case.id", "T. Marlow");
    session.exp_string("It takes 1 to 40 letters").unwrap();
    say(&mut session, "case.id", "");
    session.exp_string("This one is needed").unwrap();
    say(&mut session, "case.id", "TM-1");
    say(&mut session, "case.prepared", "2026-04-31");
    session.exp_string("there is no such day in the calendar").unwrap();
    say(&mut session, "case.prepared", "2026-04-13");
    // Optional ones can be skipped, words begun, and `<` goes back.
    say(&mut session, "case.language", "");
    say(&mut session, "case.print_size", "<");
    say(&mut session, "case.language", "e");
    session.exp_string("did you mean").unwrap();
    say(&mut session, "case.language", "en");
    say(&mut session, "case.print_size", "la");
    // What does not go with an earlier answer is told too.
    say(&mut session, "case.next_visit", "2026-04-12");
    session.exp_string("that is not after `case.prepared`").unwrap();
    say(&mut session, "case.next_visit", "2026-04-27");
    // Text that would be more than text in YAML.
    say(&mut session, "clinic.name", "Kiln Lane: hands # and \"wrists\"");
    assert_eq!(key(&mut session), "clinic.phone");
    session.send_control('c').unwrap();
    session.exp_string("holds the answers so far").unwrap();
    session.exp_eof().unwrap();
    let text = fs::read_to_string(folder.path().join("case.yaml")).unwrap();
    let tree: Value = serde_yaml::from_str(&text).unwrap();
    assert_eq!(tree["case"]["id"], "TM-1");
    assert_eq!(tree["case"]["print_size"], "large");
    assert_eq!(tree["clinic"]["name"], "Kiln Lane: hands # and \"wrists\"");
    assert!(text.ends_with("from:\n"), "the file is whole");
    assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1, "nothing else is left");
    let (code, said) = check(folder.path());
    assert_eq!(code, 2);
    assert!(said.contains("`clinic.phone` is missing") && !said.contains("clinic.name"), "{said}");
}

#[test]
fn nothing_is_written_before_the_first_answer() {
    let folder = TempDir::new().unwrap();
    let mut session = begin(folder.path());
    assert_eq!(key(&mut session), "case.id");
    session.send_control('c').unwrap();
    session.exp_string("Stopped; nothing was written.").unwrap();
    session.exp_eof().unwrap();
    assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 0);
}

/// What the clinic's profile gives is not asked for; a therapist is chosen from its list by name.
#[test]
fn a_profile_spares_its_questions() {
    let folder = TempDir::new().unwrap();
    let profile = root().join("demo-cases/quarry-bend/quarry-bend.yaml");
    let profile = fs::read_to_string(profile).unwrap().replace("words: quarry-bend-words.yaml", "");
    fs::write(folder.path().join("clinic.yaml"), profile).unwrap();
    let mut command = Command::new(program());
    command.args(["begin", "case.yaml", "--clinic", "clinic.yaml"]);
    command.current_dir(folder.path()).env("NO_COLOR", "1");
    let mut session = spawn_command(command, Some(20_000)).unwrap();
    let demo = demo("quarry-bend-left-flexion");
    let mut asked = Vec::new();
    loop {
        let path = key(&mut session);
        if path == "clinic.therapist" && !asked.contains(&path) {
            session.send_line("Somebody Else").unwrap();
            session.exp_string("one of the clinic's therapists").unwrap();
            asked.push(path);
            continue;
        }
        let typed = if path == "clinic.therapist" {
            "jonah brandvold".into()
        } else {
            answer(&demo, &path)
        };
        session.send_line(&typed).unwrap();
        let is_last = path == "wear.from";
        asked.push(path);
        if is_last {
            break;
        }
    }
    session.exp_string("case.yaml is written and reads well.").unwrap();
    session.exp_eof().unwrap();
    for given in ["clinic.name", "clinic.phone", "clinic.page", "orthosis.sheet.thickness"] {
        assert!(!asked.iter().any(|it| it == given), "{given}");
    }
    let (code, said) = check(folder.path());
    assert_eq!(code, 0, "{said}");
    assert!(said.contains("from the clinic's profile clinic.yaml: clinic.name"), "{said}");
    let text = fs::read_to_string(folder.path().join("case.yaml")).unwrap();
    assert!(text.contains("  profile: clinic.yaml\n") && !text.contains("555-0142"), "{text}");
}

/// Stopped again and again, `begin` goes on behind the last answer, and the file is the one of a single run.
#[test]
fn questions_go_on_where_they_were_stopped() {
    let demo = demo("quarry-bend-left-flexion");
    let typed = |path: &str| match path {
        "history.conditions" => {
            "diabetes, tendon_repair flexor 2025-01-31, other: hands [often] cold".to_owned()
        }
        _ => answer(&demo, path),
    };
    let stops = ["case.prepared", "history.conditions", "limb.hand_length", ""];
    let run = |stops: &[&str]| {
        let folder = TempDir::new().unwrap();
        let mut asked = Vec::new();
        for (run, stop) in stops.iter().enumerate() {
            let mut session = begin(folder.path());
            if run > 0 {
                session.exp_string("the questions go on behind its last answer").unwrap();
            }
            loop {
                let path = key(&mut session);
                if asked.last().map(String::as_str) == Some(*stop) {
                    session.send_control('c').unwrap();
                    let on = "`tautline begin case.yaml` goes on with the questions.";
                    session.exp_string(on).unwrap();
                    break;
                }
                session.send_line(&typed(&path)).unwrap();
                let is_last = path == "wear.from";
                asked.push(path);
                if is_last {
                    session.exp_string("is written and reads well").unwrap();
                    break;
                }
            }
            session.exp_eof().unwrap();
        }
        (asked, fs::read_to_string(folder.path().join("case.yaml")).unwrap())
    };
    let (at_once, wanted) = run(&[""]);
    let (in_parts, text) = run(&stops);
    assert_eq!(text, wanted);
    assert_eq!(in_parts, at_once, "no question twice, none left out");
}

/// A file that somebody wrote in, or that is whole, stays as it is.
#[test]
fn only_an_untouched_begun_file_is_gone_on_with() {
    let folder = TempDir::new().unwrap();
    let mut session = begin(folder.path());
    for typed in ["TM-1", "2026-04-13", ""] {
        key(&mut session);
        session.send_line(typed).unwrap();
    }
    key(&mut session);
    session.send_control('c').unwrap();
    session.exp_eof().unwrap();
    let path = folder.path().join("case.yaml");
    let begun = fs::read_to_string(&path).unwrap();
    let touched = [
        format!("{begun}# mine\n"),
        begun.replace("  id: TM-1", "  id: TM-1 # mine"),
        begun.replace("  language:", "  teach_back: never\n  language:"),
        fs::read_to_string(root().join("demo-cases/rope-loft-short.yaml")).unwrap(),
    ];
    for text in touched {
        assert_ne!(text, begun);
        fs::write(&path, &text).unwrap();
        let mut session = begin(folder.path());
        session.exp_string("is there already and stays as it is").unwrap();
        session.exp_eof().unwrap();
        assert_eq!(fs::read_to_string(&path).unwrap(), text);
    }
    fs::write(&path, &begun).unwrap();
    let mut session = begin(folder.path());
    // `<` goes back to what was answered.
    assert_eq!(key(&mut session), "case.language");
    session.send_line("<").unwrap();
    session.exp_string("case.prepared [2026-04-13]: ").unwrap();
    session.send_line("2026-04-14").unwrap();
    key(&mut session);
    session.send_control('c').unwrap();
    session.exp_eof().unwrap();
    let text = fs::read_to_string(&path).unwrap();
    assert_eq!(text, begun.replace("2026-04-13\n", "2026-04-14\n"));
}
