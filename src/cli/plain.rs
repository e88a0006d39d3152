//! Plain sentences for a screen reader: one a line, no emphasis, no marks that are read aloud for nothing.

use anstream::adapter::strip_str;

/// Words whose point ends no sentence.
const SHORTENED: [&str; 5] = ["Dr", "Mr", "Mrs", "Ms", "Prof"];

/// Each sentence of a text on a line of its own.
pub(super) fn plain(text: &str) -> String {
    let bare = strip_str(text).to_string().replace('`', "");
    let mut lines = String::new();
    for line in bare.lines() {
        for sentence in sentences(line.trim()) {
            lines.push_str(sentence);
            lines.push('\n');
        }
    }
    lines
}

/// A line cut behind each full stop, question mark or exclamation mark that a new sentence follows.
fn sentences(line: &str) -> Vec<&str> {
    let mut found = Vec::new();
    let mut from = 0;
    for (at, mark) in line.char_indices() {
        let ends = matches!(mark, '.' | '?' | '!');
        let Some(rest) = line.get(at + mark.len_utf8()..).filter(|_| ends) else { continue };
        let begins = rest.strip_prefix(' ').map(str::trim_start);
        let is_next = begins
            .is_some_and(|it| it.starts_with(|c: char| c.is_uppercase() || c.is_ascii_digit()));
        let word = line[from..at].rsplit(' ').next().unwrap_or_default();
        // `S.` is a name's first letter, `Dr.` a title.
        let is_shortened = word.chars().count() < 2 || SHORTENED.contains(&word);
        if is_next && !(is_shortened && mark == '.') {
            found.push(line[from..=at].trim());
            from = at + 1;
        }
    }
    if !line[from..].trim().is_empty() {
        found.push(line[from..].trim());
    }
    found
}
