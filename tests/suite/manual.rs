//! Help, manual pages, completions, the version.

use crate::cli::{Scene, run};

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

/// What comes next is said where one would otherwise stop.
#[test]
fn errors_name_the_next_command() {
    let scene = Scene::new();
    let done = run(&scene, &["check", "new.yaml"]);
    assert!(done.stderr.contains("`tautline begin new.yaml`"), "{}", done.stderr);
    let done = run(&scene, &["chek", "new.yaml"]);
    assert_eq!(done.code, 2);
    assert!(done.stderr.contains("check"), "{}", done.stderr);
}
