//! Where the program and its files stand.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

/// The repository's root.
pub fn root() -> &'static Path {
    Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/../.."))
}

/// The program under test, built in the release profile.
pub fn program() -> PathBuf {
    let built = root().join("target/release/tautline").canonicalize();
    built.expect("the program is built: `cargo build --release`")
}

/// The program's schema.
pub fn schema() -> serde_json::Value {
    let done = Command::new(program()).arg("schema").output().unwrap();
    assert!(done.status.success() && done.stderr.is_empty());
    serde_json::from_slice(&done.stdout).unwrap()
}

/// The texts of all files of a folder with an ending, and their names.
pub fn texts(folder: &str, ending: &str) -> Vec<(String, String)> {
    let mut found: Vec<(String, String)> = fs::read_dir(root().join(folder))
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|it| it == ending))
        .map(|path| {
            let name = path.file_stem().unwrap().to_string_lossy().into_owned();
            (name, fs::read_to_string(path).unwrap())
        })
        .collect();
    found.sort();
    assert!(!found.is_empty(), "{folder} holds {ending}");
    found
}
