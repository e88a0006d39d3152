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

/// No line is wider than the terminal, and what goes on stands further in; the words stay as they are.
#[test]
fn lines_are_folded_with_a_hanging_indent() {
    let wide = said(true, &[]);
    let folder = TempDir::new().unwrap();
    let text = fs::read_to_string(root().join("demo-cases/chalk-pit-stopped.yaml")).unwrap();
    fs::write(folder.path().join("case.yaml"), text).unwrap();
    let mut command = Command::new("sh");
    let script = format!("stty rows 24 cols 64; exec {} check case.yaml", program().display());
    command.args(["-c", &script]).current_dir(folder.path()).env("NO_COLOR", "1");
    let mut session = spawn_command(command, Some(20_000)).unwrap();
    // The session shows each byte as a letter.
    let as_text = |shown: &str| -> String {
        String::from_utf8(shown.chars().map(|it| u8::try_from(it).unwrap()).collect()).unwrap()
    };
    let said = as_text(&session.exp_eof().unwrap());
    let (report, _) = said.split_once("case.yaml: reads well").unwrap();
    let lines: Vec<&str> = report.lines().collect();
    assert!(lines.iter().all(|it| it.chars().count() <= 64), "{said}");
    assert!(lines.iter().filter(|it| it.starts_with("  ")).count() > 10, "{said}");
    // A finding begins with its id at the margin.
    for line in lines.iter().filter(|it| it.starts_with('`')) {
        assert!(line[1..].contains("`: ") || line.ends_with("`:"), "{line}");
    }
    let words = |text: &str| text.split_whitespace().map(str::to_owned).collect::<Vec<_>>();
    assert_eq!(words(&said), words(&as_text(&wide)));
}

#[test]
fn colours_only_where_they_are_wanted() {
    let escape = '\u{1b}';
    assert!(said(false, &[]).contains(escape));
    assert!(!said(true, &[]).contains(escape));
    assert!(!said(false, &["--plain"]).contains(escape));
}
