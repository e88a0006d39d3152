//! Many cases in one call: none stops another, they come out in order, and an interrupt leaves whole packets.

use std::collections::BTreeMap;
use std::fs;
use std::io::Write;
use std::path::Path;
use std::process::{Command, Stdio};

use serde_json::Value;
use tautline::sheets::identifier;

use crate::cli::{Done, Scene, run};
use crate::demo;
#[cfg(unix)]
use crate::running::Running;

/// Two papers that are typeset fast.
const QUICK: [&str; 4] = ["--only", "labels", "--only", "pattern"];

/// A demo case under another id.
fn case(id: &str) -> String {
    demo::text("quarry-bend-left-flexion").replace("QB-2207", id)
}

/// A scene with cases of these ids in a folder.
fn ward(ids: &[&str]) -> Scene {
    let scene = Scene::new();
    fs::create_dir(scene.path("ward")).unwrap();
    for id in ids {
        scene.write(&format!("ward/{id}.yaml"), case(id).as_bytes());
    }
    scene
}

fn print(scene: &Scene, arguments: &[&str]) -> Done {
    run(scene, &[&["print"], arguments, &QUICK].concat())
}

/// The lines of standard output as JSON.
fn lines(done: &Done) -> Vec<Value> {
    done.stdout.lines().map(|it| serde_json::from_str(it).unwrap()).collect()
}

fn outcomes(done: &Done) -> Vec<(String, String)> {
    let text = |line: &Value, key: &str| line[key].as_str().unwrap_or("none").to_owned();
    lines(done).iter().map(|it| (text(it, "case"), text(it, "outcome"))).collect()
}

fn pairs(wanted: &[(&str, &str)]) -> Vec<(String, String)> {
    wanted.iter().map(|(id, end)| ((*id).to_owned(), (*end).to_owned())).collect()
}

/// Every paper with its bytes.
fn papers(folder: &Path) -> BTreeMap<String, Vec<u8>> {
    let Ok(entries) = fs::read_dir(folder) else { return BTreeMap::new() };
    let one =
        |it: fs::DirEntry| (it.file_name().into_string().unwrap(), fs::read(it.path()).unwrap());
    entries.map(|it| one(it.unwrap())).collect()
}

#[test]
fn no_case_stops_another_and_the_worst_gives_the_exit_code() {
    let scene = ward(&["A-1", "A-3", "A-5"]);
    scene.write("ward/A-2.yaml", case("A-2").replace("side: left", "side: lfet").as_bytes());
    scene.write("ward/A-4.yaml", demo::text("lock-keeper-withheld").as_bytes());
    let done = print(&scene, &["ward"]);
    let wanted = [
        ("A-1", "printed"),
        ("none", "faulty"),
        ("A-3", "printed"),
        ("LK-7", "withheld"),
        ("A-5", "printed"),
    ];
    assert_eq!(outcomes(&done), pairs(&wanted));
    assert_eq!(done.code, 2);
    assert_eq!(done.stderr, "5 cases: 3 printed, 1 withheld, 1 faulty.\n");
    let lines = lines(&done);
    assert_eq!(lines[0]["papers"][0], "papers/A-1-pattern.pdf");
    assert_eq!(lines[0]["told"], Value::Array(Vec::new()));
    let fault = lines[1]["told"][0].as_str().unwrap();
    assert!(fault.starts_with("ward/A-2.yaml:") && fault.contains("lfet"), "{fault}");
    assert_eq!(lines[3]["withheld"], serde_json::json!(["pattern", "labels"]));
    assert_eq!(papers(&scene.path("papers")).len(), 6);
}

#[test]
fn a_missing_file_stops_no_other_and_is_the_worst() {
    let scene = ward(&["A-1"]);
    let done = print(&scene, &["ward/gone.yaml", "ward/A-1.yaml"]);
    assert_eq!(outcomes(&done), pairs(&[("none", "not printed"), ("A-1", "printed")]));
    assert_eq!(done.code, 3);
    assert_eq!(done.stderr, "2 cases: 1 printed, 1 not printed.\n");
}

#[test]
fn folders_give_their_cases_sorted_and_pass_over_what_is_none() {
    let scene = ward(&["B-2", "B-1"]);
    fs::create_dir(scene.path("ward/deep")).unwrap();
    fs::create_dir(scene.path("ward/.old")).unwrap();
    scene.write("ward/deep/B-3.yml", case("B-3").as_bytes());
    scene.write("ward/.old/B-4.yaml", case("B-4").as_bytes());
    scene.write("ward/words.yaml", b"language: en\n");
    scene.write("ward/notes.txt", b"case: none\n");
    // As some editors on Windows save it.
    let marked = [
        &b"\xef\xbb\xbf"[..],
        case("B-5").trim_start_matches(|it| it != '\n').trim_start().as_bytes(),
    ]
    .concat();
    scene.write("ward/high.YAML", &marked);
    let done = print(&scene, &["ward", "ward/B-1.yaml"]);
    let wanted = [("B-1", "printed"), ("B-2", "printed"), ("B-3", "printed"), ("B-5", "printed")];
    assert_eq!(outcomes(&done), pairs(&wanted));
    assert!(done.stderr.contains("ward/words.yaml: no `case:` in it"), "{}", done.stderr);
    fs::create_dir(scene.path("empty")).unwrap();
    let done = print(&scene, &["empty"]);
    assert_eq!(done.code, 3);
    assert!(done.stderr.contains("no case file was found"), "{}", done.stderr);
}

/// A list, from a file or from standard input, as Unix and Windows write it.
#[test]
fn a_list_names_cases_too() {
    let scene = ward(&["C-1", "C-2", "C-3"]);
    let list = "ward/C-2.yaml\r\n\r\nward/C-1.yaml\n";
    scene.write("list.txt", list.as_bytes());
    let wanted = pairs(&[("C-3", "printed"), ("C-2", "printed"), ("C-1", "printed")]);
    let done = print(&scene, &["ward/C-3.yaml", "--from", "list.txt"]);
    assert_eq!(outcomes(&done), wanted);
    let mut child = Command::new(env!("CARGO_BIN_EXE_tautline"))
        .args(["print", "ward/C-3.yaml", "--from", "-"])
        .args(QUICK)
        .current_dir(scene.path(""))
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()
        .unwrap();
    child.stdin.take().unwrap().write_all(list.as_bytes()).unwrap();
    let stdout = String::from_utf8(child.wait_with_output().unwrap().stdout).unwrap();
    assert_eq!(stdout, done.stdout);
    let done = print(&scene, &["--from", "gone.txt"]);
    assert_eq!(done.code, 3);
    assert!(done.stderr.contains("cannot read the list gone.txt"), "{}", done.stderr);
}

#[test]
fn as_many_workers_as_you_like_give_the_same_bytes_in_the_same_order() {
    let ids = ["D-1", "D-2", "D-3", "D-4", "D-5", "D-6", "D-7"];
    let scene = ward(&ids);
    let one = print(&scene, &["ward", "--jobs", "1"]);
    let bytes = papers(&scene.path("papers"));
    assert_eq!(bytes.len(), 14);
    for jobs in ["2", "3", "16"] {
        let many = print(&scene, &["ward", "--jobs", jobs]);
        assert_eq!((many.code, &many.stdout), (0, &one.stdout), "{jobs} jobs");
        assert!(papers(&scene.path("papers")) == bytes, "{jobs} jobs");
    }
    let alone = Scene::new();
    alone.write("case.yaml", case("D-4").as_bytes());
    assert_eq!(
        print(&alone, &["case.yaml"]).stdout,
        "papers/D-4-pattern.pdf\npapers/D-4-labels.pdf\n"
    );
    for (name, paper) in papers(&alone.path("papers")) {
        assert!(paper == bytes[&name], "{name} differs from the one printed among others");
    }
    assert_eq!(run(&scene, &["print", "ward", "--jobs", "0"]).code, 2);
}

/// What papers share is laid out once for all: what is a patient's own must not go along.
#[test]
fn papers_printed_among_others_are_those_printed_alone() {
    let people = [
        ("P-1", "Ada Brook", "Upper Weir Hand Rooms", "24.5 cm"),
        ("P-2", "Bo Tarn", "Upper Weir Hand Rooms", "24.5 cm"),
        // Words like those of the data border.
        ("P-3", "Cy Fell", "'Tanyard \"shapes\":\"Lane\"'", "26.0 cm"),
        ("P-4", "Di Scree", "Beacon Steps Therapy", "23.5 cm"),
        ("P-5", "Ada Brook", "Beacon Steps Therapy", "26.0 cm"),
    ];
    let scene = ward(&[]);
    let kinds = ["handout", "card", "summary", "pattern"];
    let wanted: Vec<&str> = kinds.iter().flat_map(|it| ["--only", it]).collect();
    for (id, name, clinic, forearm) in people {
        let text = case(id)
            .replace("T. Marlow", name)
            .replace("Quarry Bend Hand Therapy", clinic)
            .replace("forearm_length: 24.5 cm", &format!("forearm_length: {forearm}"));
        scene.write(&format!("ward/{id}.yaml"), text.as_bytes());
    }
    let many = run(&scene, &[&["print", "ward", "--out", "many"][..], &wanted].concat());
    assert_eq!(many.code, 0, "{}", many.stderr);
    for (id, ..) in people {
        let file = format!("ward/{id}.yaml");
        let alone =
            run(&scene, &[&["print", file.as_str(), "--out", "alone"][..], &wanted].concat());
        assert_eq!(alone.code, 0, "{}", alone.stderr);
    }
    let (many, alone) = (papers(&scene.path("many")), papers(&scene.path("alone")));
    assert_eq!(many.len(), kinds.len() * people.len());
    assert!(many.keys().eq(alone.keys()));
    for (name, paper) in &alone {
        assert!(*paper == many[name], "{name} differs from the one printed among others");
    }
}

/// Of two files with one id the first named gets the papers, however many work.
#[test]
fn an_id_belongs_to_the_first_file_that_has_it() {
    let scene = ward(&["E-1"]);
    scene.write("ward/E-2.yaml", case("E-1").as_bytes());
    for jobs in ["1", "4"] {
        let done = print(&scene, &["ward", "--jobs", jobs]);
        assert_eq!(outcomes(&done), pairs(&[("E-1", "printed"), ("E-1", "faulty")]));
        let told = lines(&done)[1]["told"][0].as_str().unwrap().to_owned();
        assert!(told.contains("the case id E-1 is that of ward/E-1.yaml too"), "{told}");
    }
}

/// What is printed from the same case, words and switches by the same program is left alone, and nothing else is.
#[test]
fn only_what_changed_is_printed_again() {
    let scene = ward(&["F-1", "F-2"]);
    let ends = |arguments: &[&str]| {
        let done = print(&scene, &[&["ward", "--only-changed"], arguments].concat());
        assert_eq!(done.code, 0, "{}", done.stdout);
        outcomes(&done).into_iter().map(|it| it.1).collect::<Vec<_>>()
    };
    let (new, same) = ("printed", "up to date");
    assert_eq!(ends(&[]), [new, new]);
    let old = fs::metadata(scene.path("papers/F-1-labels.pdf")).unwrap().modified().unwrap();
    assert_eq!(ends(&[]), [same, same]);
    // A comment in a file changes no paper; a measure does.
    scene.write("ward/F-1.yaml", format!("# seen\n{}", case("F-1")).as_bytes());
    scene.write("ward/F-2.yaml", case("F-2").replace("T. Marlow", "T. Marlo").as_bytes());
    assert_eq!(ends(&[]), [same, new]);
    let now = fs::metadata(scene.path("papers/F-1-labels.pdf")).unwrap().modified().unwrap();
    assert_eq!(old, now);
    assert_eq!(ends(&["--page", "a4"]), [new, new]);
    assert_eq!(ends(&["--page", "a4"]), [same, same]);
    fs::remove_file(scene.path("papers/F-1-labels.pdf")).unwrap();
    assert_eq!(ends(&["--page", "a4"]), [new, same]);
    // A paper cut short is no paper.
    let whole = fs::read(scene.path("papers/F-2-pattern.pdf")).unwrap();
    fs::write(scene.path("papers/F-2-pattern.pdf"), &whole[..whole.len() - 40]).unwrap();
    assert_eq!(ends(&["--page", "a4", "--replace"]), [same, new]);
    scene.write("word.txt", b"grauer Kiesel 7\n");
    let sealed = ["--page", "a4", "--seal-from", "word.txt"];
    assert_eq!(ends(&sealed), [new, new]);
    assert_eq!(ends(&sealed), [same, same]);
    assert_eq!(ends(&["--page", "a4"]), [new, new]);
}

/// Words, pictures and the teach-back settle a paper too.
#[test]
fn words_of_the_clinic_make_a_handout_new() {
    let scene = ward(&["G-1"]);
    let end = |arguments: &[&str]| {
        let all = [&["print", "ward/G-1.yaml", "--only-changed", "--json"], arguments].concat();
        outcomes(&run(&scene, &all))[0].1.clone()
    };
    let alone = ["--only", "handout"];
    assert_eq!(end(&alone), "printed");
    assert_eq!(end(&alone), "up to date");
    scene.write("words.yaml", b"language: en\nhandout:\n  title: Your {side} wrist helper\n");
    let own = ["--only", "handout", "--words", "words.yaml"];
    assert_eq!(end(&own), "printed");
    assert_eq!(end(&own), "up to date");
    assert_eq!(end(&alone), "printed");
    // The clinic's copy ends in the teach-back.
    assert_eq!(end(&["--only", "handout", "--only", "labels"]), "printed");
}

/// A run that goes on while it is looked at.
#[cfg(unix)]
fn started(scene: &Scene, arguments: &[&str]) -> Running {
    Running::start(
        Command::new(env!("CARGO_BIN_EXE_tautline"))
            .arg("print")
            .args(arguments)
            .args(QUICK)
            .current_dir(scene.path("")),
    )
}

/// Interrupted, the program finishes what is under way: the two papers of a case are both old or both new.
#[cfg(unix)]
#[test]
fn an_interrupt_leaves_whole_packets() {
    let ids: Vec<String> = (10..50).map(|it| format!("H-{it}")).collect();
    let scene = ward(&ids.iter().map(String::as_str).collect::<Vec<_>>());
    let stamps = || -> BTreeMap<String, Vec<u8>> {
        let stamp = |(name, pdf): (String, Vec<u8>)| (name, identifier(&pdf).unwrap().stamp);
        papers(&scene.path("papers")).into_iter().map(stamp).collect()
    };
    assert_eq!(print(&scene, &["ward"]).code, 0);
    let old = stamps();
    assert_eq!(old.len(), 80);
    for id in &ids {
        let other = case(id).replace("T. Marlow", "U. Marlow");
        scene.write(&format!("ward/{id}.yaml"), other.as_bytes());
    }
    let mut child = started(&scene, &["ward"]);
    let first = child.line();
    assert!(first.contains("H-10"), "{first}");
    child.interrupt();
    let (others, code, stderr) = child.end();
    assert_eq!(code, Some(130));
    let told = 1 + others.len();
    assert!(stderr.contains("the papers under way are finished first"), "{stderr}");
    assert!(
        stderr.contains(&format!("40 cases: {told} printed, {} not begun.", 40 - told)),
        "{stderr}"
    );
    let new = stamps();
    let is_new = |id: &str, paper: &str| {
        let name = format!("{id}-{paper}.pdf");
        old[&name] != new[&name]
    };
    let mut renewed = 0;
    for id in &ids {
        assert_eq!(is_new(id, "pattern"), is_new(id, "labels"), "{id}");
        renewed += usize::from(is_new(id, "labels"));
    }
    assert_eq!(renewed, told);
    assert!(told < 40, "the interrupt came in time");
    assert!(papers(&scene.path("papers")).keys().all(|it| !it.starts_with('.')));
}

/// Watching prints again after each save, and a half-saved file leaves the last good papers where they are.
#[cfg(unix)]
#[test]
fn watching_prints_after_each_save_and_keeps_the_last_good_papers() {
    let scene = Scene::new();
    let save = |text: &str| scene.write("case.yaml", text.as_bytes());
    save(&case("W-1"));
    let mut child = started(&scene, &["case.yaml", "--json", "--watch"]);
    assert_eq!(child.json()["outcome"], "printed");
    let first = papers(&scene.path("papers"));
    save(&case("W-1")[..900]);
    let half = child.json();
    assert_eq!(half["outcome"], "faulty");
    assert!(half["told"].as_array().unwrap().len() > 1, "{half}");
    assert!(papers(&scene.path("papers")) == first);
    save(&case("W-1"));
    assert_eq!(child.json()["outcome"], "up to date");
    save(&case("W-1").replace("T. Marlow", "U. Marlow"));
    assert_eq!(child.json()["outcome"], "printed");
    assert!(papers(&scene.path("papers")) != first);
    // Away for a moment, as some editors save.
    fs::rename(scene.path("case.yaml"), scene.path("case.old")).unwrap();
    let away = child.json();
    assert!(away["told"][0].as_str().unwrap().contains("there is no such file"), "{away}");
    save(&case("W-1"));
    assert_eq!(child.json()["outcome"], "printed");
    assert!(papers(&scene.path("papers")) == first);
    child.interrupt();
    assert_eq!(child.end().1, Some(0));
}
