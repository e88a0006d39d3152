//! Rules over the source text that no compiler holds.

use std::fs;
use std::path::{Path, PathBuf};

use tautline::sheets::{MEASURING_SHEET, Paper};

use crate::storeys::rust_files;

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

fn read(path: impl AsRef<Path>) -> String {
    let path = root().join(path);
    fs::read_to_string(&path).unwrap_or_else(|error| panic!("{}: {error}", path.display()))
}

fn files(folder: &str, ending: &str) -> Vec<PathBuf> {
    let mut found = Vec::new();
    let mut below = vec![root().join(folder)];
    while let Some(folder) = below.pop() {
        for entry in fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                below.push(path);
            } else if path.extension().is_some_and(|it| it == ending) {
                found.push(path);
            }
        }
    }
    found.sort();
    found
}

/// A second copy of the typesetter's memory would make clearing it a silent no-op.
#[test]
fn there_is_one_comemo() {
    let lock = read("Cargo.lock");
    assert_eq!(lock.matches("\nname = \"comemo\"\n").count(), 1);
}

#[test]
fn no_crate_speaks_to_a_network() {
    let lock = read("Cargo.lock");
    for name in
        ["ureq", "reqwest", "hyper", "native-tls", "openssl", "rustls", "tokio", "curl", "h2"]
    {
        assert!(!lock.contains(&format!("\nname = \"{name}\"\n")), "{name}");
    }
}

#[test]
fn files_stay_within_the_wall() {
    let mut sources = rust_files(&root().join("src"));
    sources.extend(rust_files(&root().join("tests")));
    sources.extend(files("layouts", "typ"));
    for path in sources {
        let lines = fs::read_to_string(&path).unwrap().lines().count();
        assert!(lines <= 500, "{} has {lines} lines", path.display());
    }
}

/// Case text reaches a layout as data only; nothing evaluates it.
#[test]
fn layouts_evaluate_nothing_and_fetch_nothing() {
    for path in files("layouts", "typ") {
        let text = fs::read_to_string(&path).unwrap();
        for banned in ["eval(", "@preview", "@local", "plugin(", "datetime.today"] {
            assert!(!text.contains(banned), "{}: {banned}", path.display());
        }
    }
}

#[test]
fn every_layout_is_used_and_says_what_it_defines() {
    let layouts = files("layouts", "typ");
    let all: String = layouts.iter().map(|path| fs::read_to_string(path).unwrap()).collect();
    for path in &layouts {
        let text = fs::read_to_string(path).unwrap();
        assert!(text.starts_with("// Defines "), "{}", path.display());
        let name = path.file_name().unwrap().to_str().unwrap();
        let mut papers = Paper::ALL.iter().map(|it| it.name()).chain([MEASURING_SHEET]);
        let is_paper = papers.any(|it| format!("{it}.typ") == name);
        assert!(
            is_paper || all.contains(&format!("/{name}\"")) || all.contains(&format!("\"{name}\"")),
            "{name} is unused"
        );
    }
}

#[test]
fn tables_in_layouts_have_headers() {
    let mut all = 0;
    for path in files("layouts", "typ") {
        let text = fs::read_to_string(&path).unwrap();
        let calls = |what: &str| text.split(what).skip(1).count();
        let tables: usize =
            [" table(", "#table(", "(table(", "\ntable("].into_iter().map(calls).sum();
        let headers = calls("table.header(");
        assert!(headers >= tables, "{}: {tables} tables, {headers} headers", path.display());
        all += tables;
    }
    assert!(all > 0, "there are tables");
}

#[test]
fn each_font_has_its_licence() {
    let fonts = files("fonts", "ttf");
    assert!(!fonts.is_empty());
    for path in fonts {
        let licence = path.parent().unwrap().join("OFL.txt");
        assert!(fs::read_to_string(licence).unwrap().contains("SIL OPEN FONT LICENSE"));
    }
}

/// Every folder below one, by its path from the root, hidden ones left out.
fn folders(folder: &str) -> Vec<String> {
    let mut found = Vec::new();
    for entry in fs::read_dir(root().join(folder)).unwrap() {
        let entry = entry.unwrap();
        let name = entry.file_name().into_string().unwrap();
        if entry.path().is_dir() && !name.starts_with('.') {
            let path = format!("{folder}/{name}");
            found.extend(folders(&path));
            found.push(path);
        }
    }
    found.sort();
    found
}

/// What stands in backticks in a text, code blocks left out.
fn names(text: &str) -> Vec<&str> {
    let blocks = text.split("```").step_by(2);
    blocks.flat_map(|block| block.split('`').skip(1).step_by(2)).collect()
}

/// The contributor's map names every folder of sources, layouts and tests: the uppermost by their whole
/// path, those inside by their name or the end of their path. It names every module of `calc` too.
#[test]
fn the_map_is_complete() {
    let map = read("DEVELOPERS.md");
    let names: Vec<&str> = names(&map).into_iter().map(|it| it.trim_end_matches('/')).collect();
    let mut missing = Vec::new();
    for folder in ["src", "layouts", "tests"].iter().flat_map(|it| folders(it)) {
        let inside = folder.matches('/').count() > 1;
        let is_it = |name: &str| inside && folder.ends_with(&format!("/{name}"));
        if !names.iter().any(|name| *name == folder || is_it(name)) {
            missing.push(folder);
        }
    }
    for entry in fs::read_dir(root().join("src/calc")).unwrap() {
        let name = entry.unwrap().file_name().into_string().unwrap();
        let module = name.trim_end_matches(".rs");
        if module != "mod" && !names.contains(&module) {
            missing.push(format!("calc::{module}"));
        }
    }
    for folder in ["fonts", "demo-cases"] {
        assert!(names.iter().any(|it| it.starts_with(folder)), "{folder}");
    }
    assert!(missing.is_empty(), "the map does not name {missing:?}");
}

/// Every answer to a hazard names tests, and each of them is there.
#[test]
fn hazards_are_held_by_tests_that_exist() {
    let map = read("DEVELOPERS.md");
    let (_, rest) = map.split_once("## Hazards").expect("a section on hazards");
    let table = rest.split("\n## ").next().unwrap();
    let rows = table.lines().filter(|it| it.starts_with("| ") && !it.starts_with("| hazard"));
    let mut count = 0;
    for row in rows {
        let held_by = row.trim_end_matches(" |").rsplit(" | ").next().unwrap();
        let tests = names(held_by);
        assert!(!tests.is_empty(), "no test holds {row}");
        for test in tests {
            let (module, name) = test.split_once("::").unwrap_or_else(|| panic!("{test}"));
            let text = read(format!("tests/suite/{module}.rs"));
            let at = text.find(&format!("fn {name}("));
            let before = at.map(|it| text[..it].trim_end());
            assert!(before.is_some_and(|it| it.ends_with("#[test]")), "{test} is no test");
            count += 1;
        }
    }
    assert!(count > 20, "{count}");
}

#[test]
fn names_are_what_stands_in_backticks() {
    assert_eq!(
        names("a line\n```text\n`no`\n```\n`load`, `src/case` and prose"),
        ["load", "src/case"]
    );
}

#[test]
fn no_loose_ends_stand_in_the_sources() {
    for path in rust_files(&root().join("src")) {
        let text = fs::read_to_string(&path).unwrap();
        for banned in ["todo!", "unimplemented!", "dbg!", "FIXME", "XXX"] {
            assert!(!text.contains(banned), "{}: {banned}", path.display());
        }
    }
}

/// Every cited work is cited somewhere, and its key is its own.
#[test]
fn every_source_is_cited() {
    let all: String = rust_files(&root().join("src"))
        .iter()
        .filter(|path| !path.ends_with("sources.rs"))
        .map(|path| fs::read_to_string(path).unwrap())
        .collect();
    for source in tautline::sources::ALL {
        assert!(all.contains(source.key), "{} is not cited", source.key);
    }
}
