//! No module uses a storey above its own.

use std::fs;
use std::path::{Path, PathBuf};

/// The storeys, lowest first. A module may use its own storey and those below.
const STOREYS: [&[&str]; 5] =
    [&["fonts", "sources", "units"], &["case"], &["calc"], &["sheets"], &["cli", "main"]];

/// Inside `calc` the arrows run one way too.
const CALC: [&[&str]; 12] = [
    &[
        "bearing", "dose", "figure", "geometry", "hold", "pattern", "progress", "sharing",
        "straps", "torque", "trend",
    ],
    &["line"],
    &["load", "loops"],
    &["alternatives", "as_built", "ceiling", "free_body"],
    &["stock"],
    &["pull"],
    &["course"],
    &["precautions"],
    &["advice"],
    &["build"],
    &["sharpen"],
    &["mod"],
];

#[test]
fn storeys_have_no_back_arrows() {
    let src = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let faults: Vec<String> = rust_files(&src)
        .iter()
        .flat_map(|file| {
            let path = file.strip_prefix(&src).unwrap();
            let module = top(path);
            if module == "lib" {
                return Vec::new();
            }
            let own =
                storey(&STOREYS, &module).unwrap_or_else(|| panic!("`{module}` has no storey"));
            let text = fs::read_to_string(file).unwrap();
            let mut names = used(&text, "crate::");
            names.extend(used(&text, "tautline::"));
            let above = names
                .into_iter()
                .filter(move |it| storey(&STOREYS, it).is_some_and(|other| own < other));
            above.map(|it| format!("{}: `{module}` uses `{it}`", path.display())).collect()
        })
        .collect();
    assert!(faults.is_empty(), "back arrows:\n{}", faults.join("\n"));
}

#[test]
fn calc_has_no_back_arrows() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/calc");
    let mut faults = Vec::new();
    for file in rust_files(&folder) {
        let path = file.strip_prefix(&folder).unwrap();
        let module = top(path);
        let own = storey(&CALC, &module).unwrap_or_else(|| panic!("`calc::{module}` has no place"));
        let text = fs::read_to_string(&file).unwrap();
        let mut names = used(&text, "crate::calc::");
        if path.components().count() == 1 {
            names.extend(used(&text, "super::"));
        }
        // A submodule's file names its siblings by `super::`, which stay inside the module;
        // `super::super::` is banned below. `PullPlan` is named by `mod`; the test sees modules, not types.
        names.retain(|it| storey(&CALC, it).is_some_and(|other| own < other));
        faults.extend(names.iter().map(|it| format!("`{module}` uses `{it}`")));
    }
    assert!(faults.is_empty(), "back arrows:\n{}", faults.join("\n"));
}

/// `super::super::` would reach past the module that a file belongs to, unseen by the tests above.
#[test]
fn nothing_reaches_two_storeys_up_by_super() {
    for file in rust_files(&Path::new(env!("CARGO_MANIFEST_DIR")).join("src")) {
        let text = fs::read_to_string(&file).unwrap();
        let code: String = text.split_whitespace().collect();
        assert!(!code.contains("super::super"), "{}", file.display());
        assert!(!code.contains("super::{super"), "{}", file.display());
        assert!(!code.contains("super::*"), "{}: name what is used", file.display());
    }
}

#[test]
fn used_sees_groups_and_leaves_comments_out() {
    let text = "use crate::{\n    calc::{dose, load},\n    case, // crate::sheets\n};\nlet x = crate::units::f();";
    assert_eq!(used(text, "crate::"), ["calc", "case", "units"]);
}

/// The name of a file's top module below a folder.
fn top(path: &Path) -> String {
    path.iter().next().unwrap().to_str().unwrap().trim_end_matches(".rs").to_owned()
}

fn storey(storeys: &[&[&str]], module: &str) -> Option<usize> {
    storeys.iter().position(|names| names.contains(&module))
}

/// The modules a file names right after a path's start, comments left out.
fn used(text: &str, start: &str) -> Vec<String> {
    let lines: Vec<&str> = text.lines().map(|line| line.split("//").next().unwrap()).collect();
    let code = lines.join(" ");
    let mut names = Vec::new();
    for rest in code.split(start).skip(1) {
        let Some(group) = rest.strip_prefix('{') else {
            names.push(head(rest));
            continue;
        };
        let mut depth = 0;
        let outer = group.split(|c: char| {
            depth += match c {
                '{' => 1,
                '}' => -1,
                _ => 0,
            };
            depth < 0 || (depth == 0 && c == ',')
        });
        names.extend(outer.map(head).take_while(|name| !name.is_empty()));
    }
    names
}

/// The leading identifier of a path.
fn head(path: &str) -> String {
    path.trim_start().chars().take_while(|c| c.is_alphanumeric() || *c == '_').collect()
}

/// Every Rust file below a folder.
pub fn rust_files(folder: &Path) -> Vec<PathBuf> {
    let mut files = Vec::new();
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            files.extend(rust_files(&path));
        } else if path.extension().is_some_and(|it| it == "rs") {
            files.push(path);
        }
    }
    files.sort();
    files
}
