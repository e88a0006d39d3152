//! Help, manual pages, completions, the version; what is said to somebody who is stuck.

use std::fs;

use crate::cli::{Scene, run};
use crate::demo;

fn said(arguments: &[&str]) -> String {
    let done = run(&Scene::new(), arguments);
    assert_eq!((done.code, done.stderr.as_str()), (0, ""), "{arguments:?}");
    done.stdout
}

/// The commands, as the help lists them.
fn commands() -> Vec<String> {
    let help = said(&["--help"]);
    let (_, listed) = help.split_once("Commands:\n").unwrap();
    let (listed, _) = listed.split_once("\n\n").unwrap();
    let names: Vec<String> = listed
        .lines()
        .filter(|line| line.starts_with("  ") && !line.starts_with("   "))
        .map(|line| line.split_whitespace().next().unwrap().to_owned())
        .filter(|name| name != "help")
        .collect();
    assert!(names.len() >= 7, "{names:?}");
    names
}

#[test]
fn each_command_has_an_example_and_a_page() {
    let whole = said(&["man"]);
    assert!(whole.starts_with(".ie") || whole.starts_with(".TH"), "{whole}");
    for name in commands() {
        let help = said(&[&name, "--help"]);
        let example = format!("Example:  tautline {name}");
        assert!(help.contains(&example), "{name}: {help}");
        // The page's own form of a hyphen.
        let escaped = name.replace('-', "\\-");
        assert!(whole.contains(&format!("tautline\\-{escaped}(1)")), "{name}");
        let page = said(&["man", &name]);
        assert!(page.contains(&format!(".TH tautline-{name} 1")), "{page}");
        assert!(page.contains("Example:"), "{page}");
    }
}

#[test]
fn a_page_that_is_not_there_names_those_that_are() {
    let done = run(&Scene::new(), &["man", "pint"]);
    assert_eq!((done.code, done.stdout.as_str()), (3, ""));
    for name in commands() {
        assert!(done.stderr.contains(&name), "{}", done.stderr);
    }
}

#[test]
fn completions_know_each_command() {
    for shell in ["bash", "zsh", "fish", "elvish", "powershell"] {
        let text = said(&["completions", shell]);
        for name in commands() {
            assert!(text.contains(&name), "{shell} knows {name}");
        }
        assert!(text.contains("only-changed") || shell == "elvish", "{shell} knows options");
    }
}

/// The version tells the day on which the values were gone through.
#[test]
fn the_version_tells_the_edition_of_the_values() {
    let text = said(&["--version"]);
    let (program, day) = text.trim().split_once(", values of ").unwrap();
    assert_eq!(program, format!("tautline {}", env!("CARGO_PKG_VERSION")));
    assert!(day.parse::<jiff::civil::Date>().is_ok(), "{day}");
    assert_eq!(day, tautline::sources::EDITION);
}

/// What comes next is said where one would otherwise stop: by command line, the code it ends with, and what is said.
#[test]
fn errors_name_the_next_command() {
    let scene = Scene::new();
    fs::create_dir_all(scene.path("ward")).unwrap();
    fs::create_dir_all(scene.path("bare")).unwrap();
    scene.write("ward/case.yaml", demo::text("quarry-bend-left-flexion").as_bytes());
    scene.write("ward/my case.yaml", demo::text("quarry-bend-left-flexion").as_bytes());
    scene.write("ward/empty.yaml", b"");
    scene.write("ward/letter.pdf", b"%PDF-1.7\n%\xe2\xe3\xcf\xd3\n");
    scene.write("ward/clinic.yaml", b"clinic:\n  name: Weir Street\n");
    scene.write("ward/words.yaml", b"handout: {}\n");
    let print = "Example:  tautline print ward/QB-2207.yaml";
    let all: &[(&str, i32, &str)] = &[
        // Misspelt commands, switches and values.
        ("chek ward/case.yaml", 2, "'check'"),
        ("ward/case.yaml", 2, "tautline check ward/case.yaml, or  tautline print ward/case.yaml"),
        ("print", 2, print),
        ("print ward/case.yaml --onyl card", 2, "'--only'"),
        ("print ward/case.yaml --only handuot", 2, "'handout'"),
        ("print ward/case.yaml --page a5", 2, "letter, a4"),
        ("print ward/case.yaml --page a5", 2, print),
        ("print ward/case.yaml --jobs 0", 2, "a whole number from 1 on"),
        ("visit", 2, "Example:  tautline visit ward/QB-2207.yaml"),
        ("begin --blank", 2, "Example:  tautline begin ward/QB-2207.yaml"),
        ("measuring-sheet --page lettr", 2, "'letter'"),
        ("completions bsh", 2, "'bash'"),
        ("man prnt", 3, "print"),
        // Files that are not there, are folders, are empty or are something else.
        ("check new.yaml", 3, "`tautline begin new.yaml` begins it"),
        ("check ward/cse.yaml", 3, "did you mean ward/case.yaml?"),
        ("visit ward/cse.yaml", 3, "did you mean ward/case.yaml?"),
        ("measuring-sheet ward/cse.yaml", 3, "did you mean ward/case.yaml?"),
        ("figures ward", 3, "such as ward/case.yaml"),
        ("check ward", 3, "such as ward/case.yaml"),
        ("print bare", 3, "`tautline begin bare/case.yaml` begins one"),
        ("check ward/empty.yaml", 2, "Begin one with `tautline begin`"),
        ("check ward/letter.pdf", 2, "The file is no text but a PDF. To mend: Name the text file"),
        ("print ward/case.yaml --out ward/case.yaml", 3, "name another with `--out`"),
        ("print ward/case.yaml --seal", 3, "`--seal-from`"),
        ("print ward/case.yaml --clinic ward", 3, "such as ward/case.yaml"),
        ("begin bare", 3, "tautline begin bare/case.yaml"),
        ("begin new", 3, "tautline begin new.yaml"),
        ("begin ward/case.yaml", 3, "`tautline check ward/case.yaml` says what it lacks"),
        ("begin new.yaml", 3, "`tautline begin new.yaml --blank`"),
        // One kind of file taken for another.
        ("check ward/clinic.yaml", 2, "`--clinic ward/clinic.yaml`"),
        ("check ward/words.yaml", 2, "`--words ward/words.yaml`"),
        ("check --words ward/case.yaml", 2, "is a case file, not words of the clinic"),
        (
            "check ward/case.yaml --clinic ward/case.yaml",
            2,
            "is a case file, not a clinic's profile",
        ),
    ];
    for (line, code, said) in all {
        let done = run(&scene, &line.split(' ').collect::<Vec<_>>());
        assert_eq!(done.code, *code, "{line}: {}", done.stderr);
        assert!(done.stderr.contains(said), "{line}: {}", done.stderr);
    }
    // A name with a blank in it can be pasted as it is told.
    let done = run(&scene, &["check", "ward/my case.yaml"]);
    if cfg!(unix) {
        assert!(done.stdout.ends_with("tautline print 'ward/my case.yaml'\n"), "{}", done.stdout);
    }
}

/// Help is no fault.
#[test]
fn help_ends_well() {
    for arguments in [&["--help"][..], &["help", "print"], &["print", "--help"], &["--version"]] {
        let done = run(&Scene::new(), arguments);
        assert_eq!((done.code, done.stderr.as_str()), (0, ""), "{arguments:?}");
    }
}
