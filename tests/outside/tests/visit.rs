//! `visit` in a real terminal (a pseudo-terminal by the `rexpect` crate).

use std::fs;
use std::path::Path;
use std::process::Command;

use rexpect::process::Signal;
use rexpect::session::{PtySession, spawn_command};
use tautline_outside::{program, root};
use tempfile::TempDir;

/// A folder with a demo case that has six visits.
fn scene() -> (TempDir, String) {
    let folder = TempDir::new().unwrap();
    let text = fs::read_to_string(root().join("demo-cases/orchard-lane-new-loop.yaml")).unwrap();
    fs::write(folder.path().join("case.yaml"), &text).unwrap();
    (folder, text)
}

fn visit(folder: &Path) -> PtySession {
    let mut command = Command::new(program());
    command.args(["visit", "case.yaml"]).current_dir(folder).env("NO_COLOR", "1");
    spawn_command(command, Some(20_000)).unwrap()
}

fn read(folder: &Path, name: &str) -> String {
    fs::read_to_string(folder.join(name)).unwrap()
}

/// The next question's key, as its prompt names it, and the answer that is offered.
fn offered(session: &mut PtySession) -> (String, String) {
    let prompt = r"\n  [a-z_.\[\]0-9]+( \(optional\))?( \[[^\]]*\])?: ";
    let (_, prompt) = session.exp_regex(prompt).unwrap();
    let prompt = prompt.trim().trim_end_matches(':').replace(" (optional)", "");
    match prompt.split_once(" [") {
        Some((key, offered)) => (key.to_owned(), offered.trim_end_matches(']').to_owned()),
        None => (prompt, String::new()),
    }
}

fn key(session: &mut PtySession) -> String {
    offered(session).0
}

/// Answers question after question, an empty line where nothing is given; ends behind the one named.
fn answer(session: &mut PtySession, answers: &[(&str, &str)], last: &str) {
    let mut open = answers.to_vec();
    loop {
        let path = key(session);
        let at = open.iter().position(|(key, _)| path.ends_with(key));
        let typed = at.map_or("", |at| open.remove(at).1);
        session.send_line(typed).unwrap();
        if path.ends_with(last) {
            break;
        }
    }
    assert!(open.is_empty(), "not asked: {open:?}");
}

#[test]
fn a_visit_is_asked_for_and_added() {
    let (folder, old) = scene();
    let mut session = visit(folder.path());
    let answers = [
        (".date", "2026-07-06"),
        // The day of the re-check has passed: it cannot be left out.
        ("referral.recheck", ""),
        ("referral.recheck", "2026-08-03"),
        ("passive.flexion", "42"),
        // The reader refuses, and the question comes again.
        ("pain.rest", "12"),
        ("pain.rest", "1"),
        ("skin", "cl"),
        ("worn.sessions", "14"),
        ("worn.minutes", "700"),
        ("tab[1].pull", "flexion"),
        ("tab[1].angle", "42"),
        ("tab[1].place", "8 mm"),
    ];
    answer(&mut session, &answers, ".remark");
    session.exp_string("`referral.recheck` changes from 2026-07-02 to 2026-08-03.").unwrap();
    session.exp_string("Enter writes it, `<` goes back: ").unwrap();
    session.send_line("<").unwrap();
    answer(&mut session, &[("remark", "Sleeps well")], ".remark");
    session.exp_string("Enter writes it").unwrap();
    session.send_line("").unwrap();
    session.exp_string("kept beside it as case.yaml.before-2026-07-06.bak").unwrap();
    session.exp_string("tautline check case.yaml, then  tautline print case.yaml").unwrap();
    session.exp_eof().unwrap();
    assert_eq!(read(folder.path(), "case.yaml.before-2026-07-06.bak"), old);
    let added = "  - date: 2026-07-06\n    passive: { flexion: 42 }\n    pain: { rest: 1 }\n    skin: clear\n    \
                 worn: { sessions: 14, minutes: 700 }\n    tab:\n      - { pull: flexion, angle: 42, place: 8 mm }\n    \
                 remark: Sleeps well\n";
    let new = old
        .replace("prepared: 2026-06-22", "prepared: 2026-07-06")
        .replace("recheck: 2026-07-02", "recheck: 2026-08-03")
        .replace("plateau: {", &format!("{added}plateau: {{"));
    assert_eq!(read(folder.path(), "case.yaml"), new);
    assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 2, "nothing else is left");
}

#[test]
fn an_older_backup_is_never_overwritten() {
    let (folder, old) = scene();
    fs::write(folder.path().join("case.yaml.before-2026-06-29.bak"), "mine").unwrap();
    let mut session = visit(folder.path());
    answer(&mut session, &[(".date", "2026-06-29")], ".remark");
    session.exp_string("Enter writes it").unwrap();
    session.send_line("").unwrap();
    session.exp_string("case.yaml.before-2026-06-29-2.bak").unwrap();
    session.exp_eof().unwrap();
    assert_eq!(read(folder.path(), "case.yaml.before-2026-06-29.bak"), "mine");
    assert_eq!(read(folder.path(), "case.yaml.before-2026-06-29-2.bak"), old);
}

#[test]
fn a_visit_that_is_there_ends_the_questions() {
    let (folder, old) = scene();
    let mut session = visit(folder.path());
    assert_eq!(key(&mut session), "visits[7].date");
    session.send_line("2026-06-09").unwrap();
    session.exp_string("a visit of 2026-06-09 is in the file already").unwrap();
    session.exp_eof().unwrap();
    assert_eq!(read(folder.path(), "case.yaml"), old);
}

#[test]
fn an_interrupt_leaves_the_file_as_it_is() {
    let (folder, old) = scene();
    let mut session = visit(folder.path());
    answer(&mut session, &[(".date", "2026-06-29")], ".date");
    key(&mut session);
    session.send_control('c').unwrap();
    session.exp_string("Stopped; case.yaml is as it was.").unwrap();
    session.exp_eof().unwrap();
    assert_eq!(read(folder.path(), "case.yaml"), old);
    assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1);
}

#[test]
fn a_list_in_brackets_is_left_alone_and_the_lines_are_printed() {
    let (folder, _) = scene();
    let text = fs::read_to_string(root().join("demo-cases/quarry-bend-left-flexion.yaml")).unwrap();
    let old = text.replacen("limb:", "visits: []\nlimb:", 1);
    fs::write(folder.path().join("case.yaml"), &old).unwrap();
    let mut session = visit(folder.path());
    session.exp_string("Nothing can be added to `visits` of case.yaml safely").unwrap();
    answer(&mut session, &[(".date", "2026-05-04"), ("skin", "clear")], ".remark");
    session.exp_string("Enter").unwrap();
    session.send_line("").unwrap();
    session.exp_string("case.yaml stays as it is").unwrap();
    session.exp_string("also change `case.prepared` from 2026-04-13 to 2026-05-04").unwrap();
    session.exp_string("  - date: 2026-05-04\r\n    skin: clear\r\n").unwrap();
    session.exp_eof().unwrap();
    assert_eq!(read(folder.path(), "case.yaml"), old);
}

/// A case that names a profile, and one that is given its profile: both take a visit, and the next command is told whole.
#[test]
fn a_visit_reads_the_clinics_profile() {
    for is_given in [false, true] {
        let folder = TempDir::new().unwrap();
        let demo = |name: &str| {
            fs::read_to_string(root().join(format!("demo-cases/quarry-bend/{name}"))).unwrap()
        };
        let named = demo("stonemason.yaml");
        let case = if is_given { named.replace("  profile: quarry-bend.yaml", " ") } else { named };
        fs::write(folder.path().join("case.yaml"), &case).unwrap();
        let profile = demo("quarry-bend.yaml").replace("words: quarry-bend-words.yaml", "");
        let name = if is_given { "own.yaml" } else { "quarry-bend.yaml" };
        fs::write(folder.path().join(name), profile).unwrap();
        let more: &[&str] = if is_given { &["--clinic", "own.yaml"] } else { &[] };
        let mut command = Command::new(program());
        command.args(["visit", "case.yaml"]).args(more).current_dir(folder.path());
        command.env("NO_COLOR", "1");
        let mut session = spawn_command(command, Some(20_000)).unwrap();
        answer(&mut session, &[(".date", "2026-05-25"), ("passive.flexion", "35")], ".remark");
        session.exp_string("Enter writes it").unwrap();
        session.send_line("").unwrap();
        let flag = if is_given { " --clinic own.yaml" } else { "" };
        session.exp_string(&format!("tautline check case.yaml{flag}, then")).unwrap();
        session.exp_eof().unwrap();
        let text = read(folder.path(), "case.yaml");
        assert!(text.contains("visits:\n  - date: 2026-05-25\n    passive: { flexion: 35 }\n"));
        assert!(!text.contains("555-0142"), "nothing of the profile is written down");
    }
}

const KEPT: &str = "case.yaml.visit-2026-07-06.unfinished";

/// What was answered stands in a file of its own, and the case file is as it was.
fn is_kept(folder: &Path, old: &str) {
    assert_eq!(read(folder, "case.yaml"), old);
    let kept = read(folder, KEPT);
    let wanted = "referral: { recheck: 2026-08-03 }\ndate: 2026-07-06\npassive: { flexion: 42 }\n\
                  tab:\n  - { pull: flexion, angle: 42, place: 8 mm }\nremark: 'Says: it''s well'\n";
    assert_eq!(kept, wanted);
    assert_eq!(fs::read_dir(folder).unwrap().count(), 2, "nothing else is left");
}

const HALF: [(&str, &str); 7] = [
    (".date", "2026-07-06"),
    ("referral.recheck", "2026-08-03"),
    ("passive.flexion", "42"),
    ("tab[1].pull", "flexion"),
    ("tab[1].angle", "42"),
    ("tab[1].place", "8 mm"),
    ("remark", "Says: it's well"),
];

/// Ctrl-C, the end of the input, a closed terminal and a kill: the answers are kept, and the next visit offers them.
#[test]
fn answers_of_a_stopped_visit_are_kept_and_offered_again() {
    type End = fn(&mut PtySession);
    let ends: [(&str, End); 4] = [
        ("interrupt", |it| {
            it.send_control('c').unwrap();
            it.exp_string(
                "Stopped; case.yaml is as it was. The answers so far are kept beside it in",
            )
            .unwrap();
            it.exp_string(&format!("{KEPT}; `tautline visit case.yaml` offers them again."))
                .unwrap();
        }),
        ("end of the input", |it| {
            it.send_control('d').unwrap();
            it.exp_string("Stopped; case.yaml is as it was. The answers so far are kept").unwrap();
        }),
        ("closed terminal", |it| {
            it.process_mut().kill(Signal::SIGHUP).unwrap();
        }),
        ("kill", |it| {
            it.process_mut().kill(Signal::SIGKILL).unwrap();
        }),
    ];
    for (name, end) in ends {
        println!("{name}");
        let (folder, old) = scene();
        let mut session = visit(folder.path());
        answer(&mut session, &HALF, ".remark");
        session.exp_string("Enter writes it").unwrap();
        end(&mut session);
        drop(session);
        is_kept(folder.path(), &old);

        let mut session = visit(folder.path());
        session.exp_string("The visit of 2026-07-06 was stopped; its answers are kept").unwrap();
        let mut open = HALF.to_vec();
        loop {
            let (key, given) = offered(&mut session);
            if let Some(at) = open.iter().position(|(it, _)| key.ends_with(it)) {
                assert_eq!(given, open.remove(at).1, "{key}");
            } else {
                assert_eq!(given, "", "{key}");
            }
            // One answer is taken back, one is changed, the rest is taken as offered.
            let typed = if key.ends_with("passive.flexion") {
                "-"
            } else if key.ends_with("tab[1].place") {
                "9 mm"
            } else {
                ""
            };
            session.send_line(typed).unwrap();
            if key.ends_with(".remark") {
                break;
            }
        }
        assert!(open.is_empty(), "{open:?}");
        session.exp_string("Enter writes it").unwrap();
        session.send_line("").unwrap();
        session.exp_string("is added").unwrap();
        session.exp_eof().unwrap();
        let text = read(folder.path(), "case.yaml");
        let added = "  - date: 2026-07-06\n    tab:\n      - { pull: flexion, angle: 42, place: 9 mm }\n    \
                     remark: 'Says: it''s well'\n";
        assert!(text.contains(added) && text.contains("recheck: 2026-08-03"), "{text}");
        assert!(!folder.path().join(KEPT).exists(), "the answers stand in the case file");
    }
}

/// A visit that is stopped early in its second run keeps what the first one gave.
#[test]
fn a_second_stop_loses_nothing() {
    let (folder, old) = scene();
    let mut session = visit(folder.path());
    answer(&mut session, &HALF, ".remark");
    session.exp_string("Enter writes it").unwrap();
    session.send_control('c').unwrap();
    session.exp_eof().unwrap();
    let mut session = visit(folder.path());
    answer(&mut session, &[], ".date");
    key(&mut session);
    session.send_control('c').unwrap();
    session.exp_eof().unwrap();
    is_kept(folder.path(), &old);
}

/// A day that was mistaken leaves no file, another day is offered nothing, and a file that cannot be read stays.
#[test]
fn answers_belong_to_their_day() {
    let (folder, old) = scene();
    let mut session = visit(folder.path());
    answer(&mut session, &[(".date", "2026-07-01"), ("passive.flexion", "42")], "passive.flexion");
    key(&mut session);
    session.send_line("<").unwrap();
    key(&mut session);
    session.send_line("<").unwrap();
    assert!(key(&mut session).ends_with(".date"));
    session.send_line("2026-06-29").unwrap();
    key(&mut session);
    session.send_control('c').unwrap();
    session.exp_eof().unwrap();
    let kept = "case.yaml.visit-2026-06-29.unfinished";
    assert_eq!(read(folder.path(), kept), "date: 2026-06-29\npassive: { flexion: 42 }\n");
    assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 2);

    let mut session = visit(folder.path());
    assert_eq!(offered(&mut session).1, "2026-06-29");
    session.send_line("2026-06-30").unwrap();
    assert_eq!(offered(&mut session), ("visits[7].passive.flexion".into(), String::new()));
    session.send_control('c').unwrap();
    session.exp_eof().unwrap();
    assert_eq!(read(folder.path(), kept), "date: 2026-06-29\npassive: { flexion: 42 }\n");

    fs::write(folder.path().join(kept), "date: [\n").unwrap();
    let mut session = visit(folder.path());
    key(&mut session);
    session.send_line("").unwrap();
    session.exp_string("cannot be read as answers and stays as it is").unwrap();
    key(&mut session);
    session.send_line("40").unwrap();
    key(&mut session);
    session.send_control('c').unwrap();
    session.exp_eof().unwrap();
    assert_eq!(read(folder.path(), kept), "date: [\n");
    assert_eq!(read(folder.path(), "case.yaml"), old);
}
