//! `check` in a real terminal: headings, colours, and none where `NO_COLOR` is set (no-color.org).

use std::fs;
use std::process::Command;

use rexpect::session::spawn_command;
use tautline_outside::{program, root};
use tempfile::TempDir;

fn said(no_color: bool, arguments: &[&str]) -> String {
    let folder = TempDir::new().unwrap();
    let text = fs::read_to_string(root().join("demo-cases/chalk-pit-stopped.yaml")).unwrap();
    fs::write(folder.path().join("case.yaml"), text).unwrap();
    let mut command = Command::new(program());
    command.arg("check").args(arguments).arg("case.yaml").current_dir(folder.path());
    command.env("TERM", "xterm-256color").env_remove("NO_COLOR").env_remove("CLICOLOR");
    if no_color {
        command.env("NO_COLOR", "1");
    }
    let mut session = spawn_command(command, Some(20_000)).unwrap();
    session.exp_eof().unwrap()
}

#[test]
fn a_terminal_gets_headings_and_each_finding_once() {
    let said = said(true, &[]);
    let headings = [
        "What stops handout, card, pattern and labels:",
        "What asks for care:",
        "Worth knowing:",
        "What is missing, and for which number:",
    ];
    let mut from = 0;
    for heading in headings {
        from += said[from..].find(heading).unwrap_or_else(|| panic!("{heading}: {said}"));
        assert_eq!(said.matches(heading).count(), 1);
    }
    for finding in ["`rest-pain-high`", "`skin-broken`", "`late-start`", "`measures-estimated`"] {
        assert_eq!(said.matches(finding).count(), 1, "{finding}: {said}");
    }
    // The file is named on top and in the verdict alone.
    assert_eq!(said.matches("case.yaml").count(), 2, "{said}");
}

#[test]
fn colours_only_where_they_are_wanted() {
    let escape = '\u{1b}';
    assert!(said(false, &[]).contains(escape));
    assert!(!said(true, &[]).contains(escape));
    assert!(!said(false, &["--plain"]).contains(escape));
}
