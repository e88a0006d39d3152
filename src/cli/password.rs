//! The password of a seal: asked for at the terminal, or from a file; never from the command line, where the
//! whole machine can read it.

use std::fs;
use std::io::{IsTerminal, stdin};
use std::path::Path;

use dialoguer::Password;

use super::input::plain;
use crate::sheets::{LONGEST_PASSWORD, SHORTEST_PASSWORD};

/// A password typed twice at the terminal.
///
/// # Errors
///
/// In words, when there is no terminal or the two differ in the end.
pub(super) fn asked() -> Result<String, String> {
    if !stdin().is_terminal() {
        return Err(
            "there is no terminal to ask for the password; give a file with `--seal-from`".into()
        );
    }
    let given = Password::new()
        .with_prompt(format!("Password for the papers, at least {SHORTEST_PASSWORD} characters"))
        .with_confirmation("The same once more", "The two differ; both again")
        .interact()
        .map_err(|_| "no password was given".to_owned())?;
    checked(given)
}

/// The first line of a file.
///
/// # Errors
///
/// In words, when the file cannot be read or its first line is no password.
pub(super) fn from(path: &Path) -> Result<String, String> {
    let text = fs::read_to_string(path)
        .map_err(|error| format!("cannot read {}: {}", path.display(), plain(&error)))?;
    let line = text.lines().next().unwrap_or_default();
    checked(line.trim_start_matches('\u{feff}').to_owned())
        .map_err(|why| format!("{}: {why}", path.display()))
}

fn checked(password: String) -> Result<String, String> {
    if password.chars().count() < SHORTEST_PASSWORD {
        return Err(format!("the password needs at least {SHORTEST_PASSWORD} characters"));
    }
    if password.len() > LONGEST_PASSWORD {
        return Err(format!("the password may have at most {LONGEST_PASSWORD} bytes"));
    }
    if password.chars().any(char::is_control) {
        return Err("the password holds a tab or another control character".into());
    }
    Ok(password)
}
