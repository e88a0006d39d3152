//! The command line, run as a user runs it.

use std::fs;
use std::path::PathBuf;
use std::process::Command;

use tempfile::TempDir;

use crate::demo;

/// A folder to run in.
pub struct Scene {
    folder: TempDir,
}

/// How a run went.
pub struct Done {
    pub code: i32,
    pub stdout: String,
    pub stderr: String,
}

impl Scene {
    pub fn new() -> Self {
        Self { folder: TempDir::new().unwrap() }
    }

    pub fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    pub fn write(&self, name: &str, bytes: &[u8]) {
        fs::write(self.path(name), bytes).unwrap();
    }

    fn demo(&self, name: &str) {
        self.write("case.yaml", demo::text(name).as_bytes());
    }

    /// Names of the files in a folder below, sorted.
    fn names(&self, folder: &str) -> Vec<String> {
        let Ok(entries) = fs::read_dir(self.path(folder)) else { return Vec::new() };
        let mut names: Vec<String> =
            entries.map(|entry| entry.unwrap().file_name().into_string().unwrap()).collect();
        names.sort();
        names
    }
}

/// Runs the program in a scene.
pub fn run(scene: &Scene, arguments: &[&str]) -> Done {
    let output = Command::new(env!("CARGO_BIN_EXE_tautline"))
        .args(arguments)
        .current_dir(scene.folder.path())
        .output()
        .unwrap();
    Done {
        code: output.status.code().unwrap(),
        stdout: String::from_utf8(output.stdout).unwrap(),
        stderr: String::from_utf8(output.stderr).unwrap(),
    }
}

#[test]
fn print_writes_every_paper_and_names_them() {
    let scene = Scene::new();
    scene.demo("quarry-bend-left-flexion");
    let done = run(&scene, &["print", "case.yaml"]);
    assert_eq!((done.code, done.stderr.as_str()), (0, ""));
    assert_eq!(
        done.stdout,
        "papers/QB-2207-handout.pdf\npapers/QB-2207-card.pdf\npapers/QB-2207-summary.pdf\n\
         papers/QB-2207-brief.pdf\n\
         papers/QB-2207-workings.pdf\n\
         papers/QB-2207-pattern.pdf\n\
         papers/QB-2207-labels.pdf\n"
    );
    let names = ["brief", "card", "handout", "labels", "pattern", "summary", "workings"]
        .map(|it| format!("QB-2207-{it}.pdf"));
    assert_eq!(scene.names("papers"), names);
}

#[test]
fn two_runs_give_the_same_bytes() {
    let scene = Scene::new();
    scene.demo("kiln-both-ways");
    for folder in ["one", "two"] {
        assert_eq!(run(&scene, &["print", "case.yaml", "--out", folder]).code, 0);
    }
    assert_eq!(scene.names("one").len(), 7);
    assert_eq!(scene.names("one"), scene.names("two"));
    for name in scene.names("one") {
        let read = |folder: &str| fs::read(scene.path(folder).join(&name)).unwrap();
        assert!(read("one") == read("two"), "{name} differs");
    }
}

#[test]
fn only_prints_what_was_asked_for() {
    let scene = Scene::new();
    scene.demo("quarry-bend-left-flexion");
    let done = run(&scene, &["print", "case.yaml", "--only", "card", "--out", "out/deep"]);
    assert_eq!(done.code, 0);
    assert_eq!(scene.names("out/deep"), ["QB-2207-card.pdf"]);
}

#[test]
fn labels_are_printed_alone_and_withheld_alone() {
    let scene = Scene::new();
    scene.demo("quarry-bend-left-flexion");
    let done = run(&scene, &["print", "case.yaml", "--only", "labels"]);
    assert_eq!((done.code, done.stdout.as_str()), (0, "papers/QB-2207-labels.pdf\n"));
    scene.demo("lock-keeper-withheld");
    let done = run(&scene, &["print", "case.yaml", "--only", "labels"]);
    assert_eq!((done.code, done.stdout.as_str()), (1, ""));
    assert!(done.stderr.contains("labels withheld"), "{}", done.stderr);
    assert_eq!(scene.names("papers"), ["QB-2207-labels.pdf"]);
}

#[test]
fn a_withheld_case_is_checked_and_its_papers_named() {
    let scene = Scene::new();
    scene.demo("lock-keeper-withheld");
    let done = run(&scene, &["check", "case.yaml"]);
    assert_eq!(done.code, 1);
    let wanted = "case.yaml: reads well; handout, card, pattern and labels are withheld.\n";
    assert_eq!(done.stdout, wanted);
}

#[test]
fn a_stop_withholds_all_but_the_letter() {
    let scene = Scene::new();
    scene.demo("lock-keeper-withheld");
    let done = run(&scene, &["print", "case.yaml"]);
    assert_eq!(done.code, 1);
    assert_eq!(scene.names("papers"), ["LK-7-brief.pdf", "LK-7-summary.pdf", "LK-7-workings.pdf"]);
    for part in [
        "end-feel-hard",
        "bone-not-cleared",
        "handout, card, pattern and labels withheld",
        "overrides",
    ] {
        assert!(done.stderr.contains(part), "`{part}` in {}", done.stderr);
    }
}

#[test]
fn a_stop_points_at_papers_from_an_earlier_run() {
    let scene = Scene::new();
    scene.demo("quarry-bend-left-flexion");
    assert_eq!(run(&scene, &["print", "case.yaml"]).code, 0);
    let text = demo::text("quarry-bend-left-flexion").replace("skin: intact", "skin: open");
    scene.write("case.yaml", text.as_bytes());
    let done = run(&scene, &["print", "case.yaml"]);
    assert_eq!(done.code, 1);
    assert!(done.stderr.contains("QB-2207-handout.pdf is from an earlier run"), "{}", done.stderr);
}

#[test]
fn an_override_prints_all_papers() {
    let scene = Scene::new();
    scene.demo("kiln-both-ways");
    let done = run(&scene, &["print", "case.yaml"]);
    assert_eq!(done.code, 0);
    assert!(done.stderr.contains("Overridden by Dr. S. Quist, 2026-06-12"), "{}", done.stderr);
    assert_eq!(scene.names("papers").len(), 7);
}

#[test]
fn a_faulty_case_prints_nothing_and_does_not_stop_the_others() {
    let scene = Scene::new();
    scene.demo("quarry-bend-left-flexion");
    let bad =
        demo::text("saltmarsh-right-extension").replace("hand_breadth: 86 mm", "hand_breadth: 86");
    scene.write("bad.yaml", bad.as_bytes());
    let done = run(&scene, &["print", "bad.yaml", "case.yaml"]);
    assert_eq!(done.code, 2);
    assert_eq!(scene.names("papers").len(), 7);
    // Of many cases what is told of each stands with it.
    assert!(done.stdout.contains("bad.yaml:"), "{}", done.stdout);
}

#[test]
fn one_id_in_two_files_is_refused() {
    let scene = Scene::new();
    scene.demo("quarry-bend-left-flexion");
    scene.write("again.yaml", demo::text("quarry-bend-left-flexion").as_bytes());
    let done = run(&scene, &["print", "case.yaml", "again.yaml"]);
    assert_eq!(done.code, 2);
    assert!(done.stdout.contains("QB-2207 is that of case.yaml too"), "{}", done.stdout);
    // Some file systems do not tell the two names apart.
    let small = demo::text("quarry-bend-left-flexion").replace("QB-2207", "qb-2207");
    scene.write("again.yaml", small.as_bytes());
    let done = run(&scene, &["print", "case.yaml", "again.yaml"]);
    assert_eq!(done.code, 2);
    assert!(done.stdout.contains("qb-2207 is that of case.yaml too"), "{}", done.stdout);
}

#[test]
fn files_that_cannot_be_read_or_written_exit_with_three() {
    let scene = Scene::new();
    scene.demo("quarry-bend-left-flexion");
    fs::create_dir(scene.path("folder")).unwrap();
    scene.write("taken", b"");
    for (arguments, part) in [
        (&["print", "absent.yaml"][..], "cannot read absent.yaml: there is no such file"),
        (&["print", "folder"], "no case file was found; name one"),
        (&["check", "folder"], "it is a folder; name the file in it"),
        (&["print", "case.yaml", "--out", "taken"], "a file stands where a folder is wanted"),
    ] {
        let done = run(&scene, arguments);
        assert_eq!(done.code, 3, "{}", done.stderr);
        assert!(done.stderr.contains(part), "`{part}` in {}", done.stderr);
    }
}

/// Where one paper of a case cannot be put in its place, none is, and no scrap is left.
#[test]
fn a_case_is_written_whole_or_not_at_all() {
    let scene = Scene::new();
    scene.demo("quarry-bend-left-flexion");
    fs::create_dir_all(scene.path("papers/QB-2207-summary.pdf")).unwrap();
    let done = run(&scene, &["print", "case.yaml"]);
    assert_eq!(done.code, 3);
    assert_eq!(scene.names("papers"), ["QB-2207-summary.pdf"]);
    assert!(done.stderr.contains("its papers stay as they were"), "{}", done.stderr);
}

#[test]
fn page_size_comes_from_the_option_then_the_clinic() {
    let scene = Scene::new();
    scene.demo("saltmarsh-right-extension");
    run(&scene, &["print", "case.yaml", "--out", "clinic"]);
    run(&scene, &["print", "case.yaml", "--out", "option", "--page", "letter"]);
    let width = |folder: &str| {
        let pdf = fs::read(scene.path(folder).join("SM-0418-card.pdf")).unwrap();
        crate::pdf::Pdf::read(&pdf).page_size_mm(0).0
    };
    assert!((width("clinic") - 210.0).abs() < 0.01);
    assert!((width("option") - 215.9).abs() < 0.01);
}

#[test]
fn check_reports_and_writes_nothing() {
    let scene = Scene::new();
    scene.demo("quarry-bend-left-flexion");
    let done = run(&scene, &["check", "case.yaml"]);
    assert_eq!(done.code, 0);
    assert_eq!(
        done.stdout,
        "case.yaml: reads well; all papers can be printed. Next:  tautline print case.yaml\n"
    );
    assert!(done.stderr.contains("note `median-nerve-flexion`"), "{}", done.stderr);
    assert_eq!(scene.names("."), ["case.yaml"]);
}

#[test]
fn check_prints_the_normalised_case() {
    let scene = Scene::new();
    scene.demo("saltmarsh-right-extension");
    let done = run(&scene, &["check", "case.yaml", "--normalised"]);
    assert!(done.stdout.contains("forearm_length: 260 mm"), "{}", done.stdout);
    scene.write("again.yaml", done.stdout.as_bytes());
    assert_eq!(run(&scene, &["check", "again.yaml"]).code, 0);
}

#[test]
fn figures_print_one_json_object_a_line() {
    let scene = Scene::new();
    scene.demo("quarry-bend-left-flexion");
    scene.write("other.yaml", demo::text("fell-farm-two-loops").as_bytes());
    let done = run(&scene, &["figures", "case.yaml", "other.yaml", "--json"]);
    let ids: Vec<String> = done
        .stdout
        .lines()
        .map(|line| {
            serde_json::from_str::<serde_json::Value>(line).unwrap()["case"]
                .as_str()
                .unwrap()
                .into()
        })
        .collect();
    assert_eq!(ids, ["QB-2207", "FF-31"]);
}

#[test]
fn figures_print_a_table_for_people() {
    let scene = Scene::new();
    scene.demo("quarry-bend-left-flexion");
    let done = run(&scene, &["figures", "case.yaml"]);
    let row = done.stdout.lines().find(|line| line.trim_start().starts_with("0 ")).unwrap();
    let cells: Vec<&str> = row.split_whitespace().collect();
    assert_eq!(cells[..3], ["0", "25.0", "4.0"]);
}

/// Columns line up and nothing is wider than 80 columns, with the longest id and every demo's numbers.
#[test]
fn figures_fit_a_narrow_terminal() {
    let mut tables = 0;
    for path in demo::files() {
        let scene = Scene::new();
        let text = fs::read_to_string(&path).unwrap();
        let id = demo::read(&text).head.id.clone();
        let long = text.replacen(&format!("id: {id}"), &format!("id: {}", "W".repeat(40)), 1);
        scene.write("case.yaml", long.as_bytes());
        let done = run(&scene, &["figures", "case.yaml"]);
        assert!(done.stdout.starts_with(&format!("Case {}\n", "W".repeat(40))), "{}", done.stdout);
        let lines: Vec<Vec<char>> = done.stdout.lines().map(|it| it.chars().collect()).collect();
        for line in &lines {
            assert!(line.len() <= 80, "{}: {}", path.display(), line.iter().collect::<String>());
        }
        // Under each head every cell ends where its head ends.
        let is_head = |it: &Vec<char>| it.iter().collect::<String>().starts_with("mark angle");
        for at in (0..lines.len()).filter(|it| is_head(&lines[*it])) {
            let rows: Vec<&Vec<char>> =
                lines[at..].iter().take_while(|it| !it.is_empty()).collect();
            assert!(rows.len() > 3, "{}", path.display());
            for row in &rows[2..] {
                assert_eq!(row.len(), rows[0].len(), "{}", path.display());
                let cells = row.iter().collect::<String>().split_whitespace().count();
                assert_eq!(cells, 12, "{}", path.display());
                assert!(row[4] == ' ' && row[3] != ' ', "the mark ends under its head");
            }
            tables += 1;
        }
    }
    assert!(tables >= 12, "{tables}");
}

/// One sentence a line, nothing drawn, nothing coloured, under headings that say what each part is.
#[test]
fn plain_reports_are_sentences() {
    let scene = Scene::new();
    scene.demo("chalk-pit-stopped");
    let done = run(&scene, &["check", "case.yaml", "--plain"]);
    assert_eq!(done.code, 1);
    let all = done.stderr + &done.stdout;
    let headings = [
        "case.yaml:",
        "What stops handout, card, pattern and labels:",
        "What asks for care:",
        "Worth knowing:",
        "What is missing, and for which number:",
    ];
    let mut from = 0;
    for heading in headings {
        let at = all[from..].find(&format!("{heading}\n"));
        from += at.unwrap_or_else(|| panic!("{heading} in its order: {all}"));
        assert_eq!(all.matches(heading).count(), if heading == "case.yaml:" { 2 } else { 1 });
    }
    for line in all.lines() {
        assert!(line.ends_with(['.', ':', '?']), "a whole sentence: {line}");
        assert!(!line.contains(['`', '\x1b', '|', '\u{2014}']), "{line}");
        assert!(line.trim() == line && !line.contains(". The "), "one sentence: {line}");
    }
    assert!(all.contains("\nrest-pain-high: High pain at rest.\n"), "{all}");
    let bad =
        demo::text("quarry-bend-left-flexion").replace("hand_breadth: 82 mm", "hand_breadth: 82");
    scene.write("bad.yaml", bad.as_bytes());
    let done = run(&scene, &["check", "bad.yaml", "--plain"]);
    assert!(done.stderr.contains("What is wrong:\nLine "), "{}", done.stderr);
    assert!(
        done.stderr
            .contains("\nTo mend: Write the unit behind the number: 82 mm if that is meant.\n"),
        "{}",
        done.stderr
    );
    assert!(
        done.stderr.ends_with("\nMend it, then:  tautline check bad.yaml\n"),
        "{}",
        done.stderr
    );
}

/// Faults end in the command that reads the mended file, with `print` and `figures` too.
#[test]
fn faults_end_in_the_next_command() {
    let scene = Scene::new();
    scene.write("bad.yaml", b"case: 1\n");
    for command in ["print", "check", "figures", "visit"] {
        let done = run(&scene, &[command, "bad.yaml"]);
        assert_eq!(done.code, 2);
        assert!(done.stderr.contains("then:  tautline check bad.yaml\n"), "{}", done.stderr);
        // Where there is no terminal nothing is coloured.
        assert!(!done.stderr.contains('\x1b'));
    }
}

#[test]
fn help_shows_an_example_of_each_command() {
    let scene = Scene::new();
    for command in ["print", "check", "figures"] {
        let done = run(&scene, &[command, "--help"]);
        assert_eq!(done.code, 0);
        assert!(done.stdout.contains(&format!("tautline {command}")), "{}", done.stdout);
    }
}
