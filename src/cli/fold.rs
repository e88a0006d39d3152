//! Lines for a terminal: broken between words, what goes on stands further in.

use anstream::adapter::strip_str;

/// How much further in than its first line a text goes on.
const HANG: usize = 2;
/// Longer lines are hard to read, however wide the terminal is.
const WIDEST: usize = 100;
/// Narrower terminals break lines themselves.
const NARROWEST: usize = 30;

/// Each line of a text broken before `columns`; emphasis takes no room.
pub(super) fn folded(text: &str, columns: usize) -> String {
    let columns = columns.min(WIDEST);
    if columns < NARROWEST {
        return text.to_owned();
    }
    let lines: Vec<String> = text.split('\n').map(|it| folded_line(it, columns)).collect();
    lines.join("\n")
}

fn folded_line(line: &str, columns: usize) -> String {
    let words = line.trim_start_matches(' ');
    let indent = line.len() - words.len();
    let mut out = " ".repeat(indent);
    let mut at = indent;
    for (index, word) in words.split(' ').enumerate() {
        let wide = strip_str(word).to_string().chars().count();
        if index > 0 && at + 1 + wide > columns {
            out.push('\n');
            out.push_str(&" ".repeat(indent + HANG));
            at = indent + HANG;
        } else if index > 0 {
            out.push(' ');
            at += 1;
        }
        out.push_str(word);
        at += wide;
    }
    out
}
