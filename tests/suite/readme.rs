//! What the README shows is what the program reads and offers.

use std::fs;

use tautline::case::{self, Profile, normalised};

use crate::cli::{Scene, run};
use crate::demo;

/// Small enough to load at once.
const PICTURE: u64 = 100_000;

fn readme() -> String {
    fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/README.md")).unwrap()
}

/// The block of YAML that opens with this.
fn block(opening: &str) -> String {
    let readme = readme();
    let blocks = readme.split("```yaml\n").skip(1).map(|it| it.split("```").next().unwrap());
    blocks.into_iter().find(|it| it.starts_with(opening)).expect("the block").to_owned()
}

#[test]
fn the_example_is_the_short_case() {
    let example = demo::read(&block("case:\n  id:"));
    assert_eq!(normalised(&example), normalised(&demo::case("rope-loft-short")));
}

#[test]
fn the_profile_is_read() {
    let profile = block("# quarry-bend.yaml:");
    let case = demo::text("quarry-bend/stonemason").into_bytes();
    let sound = case::read_with(&case, Profile::Given(profile.as_bytes())).expect("a sound case");
    assert!(sound.profile.expect("a profile").gave("clinic.logo"));
}

#[test]
fn the_pictures_are_there_and_small() {
    let readme = readme();
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/demo-cases/shown");
    let mut shown = 0;
    for entry in fs::read_dir(folder).unwrap().map(Result::unwrap) {
        let name = entry.file_name().into_string().unwrap();
        if entry.path().extension().is_some_and(|it| it == "png") {
            assert!(entry.metadata().unwrap().len() < PICTURE, "{name}");
            assert!(readme.contains(&format!("demo-cases/shown/{name}\"")), "{name} is not shown");
            shown += 1;
        }
    }
    assert!(shown > 0);
    assert_eq!(readme.matches("<img src=\"demo-cases/shown/").count(), shown);
    assert_eq!(readme.matches(" alt=\"").count(), shown);
}

/// Each command has its row, and each of its switches stands there.
#[test]
fn the_table_of_commands_is_whole() {
    let scene = Scene::new();
    let help = |arguments: &[&str]| run(&scene, arguments).stdout;
    let top = help(&["help"]);
    let (_, listed) = top.split_once("\nCommands:\n").unwrap();
    let commands = listed.lines().take_while(|it| !it.is_empty());
    let commands: Vec<&str> = commands.filter_map(|it| it.split_whitespace().next()).collect();
    assert!(commands.len() > 5);
    let readme = readme();
    for command in commands.into_iter().filter(|it| *it != "help") {
        let opening = format!("`tautline {command}");
        let row = readme.lines().find(|it| it.starts_with('|') && it.contains(&opening));
        let row = row.unwrap_or_else(|| panic!("no row for {command}"));
        for line in help(&["help", command]).lines().map(str::trim_start) {
            let Some(switch) = line.split([' ', ',']).find(|it| it.starts_with("--")) else {
                continue;
            };
            if line.starts_with('-') && switch != "--help" {
                assert!(row.contains(switch), "{command} {switch} is not in the table");
            }
        }
    }
}
