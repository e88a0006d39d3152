//! Lines for a terminal: broken between words, what goes on stands further in.

use std::io::{IsTerminal, stderr};

use anstream::adapter::strip_str;
use console::Term;

/// How much further in than its first line a text goes on.
const HANG: usize = 2;
/// Longer lines are hard to read, however wide the terminal is.
const WIDEST: usize = 100;
/// Narrower terminals break lines themselves.
const NARROWEST: usize = 30;

/// A text for standard error, broken in the terminal's width where that is known.
pub(super) fn to_terminal(text: &str) -> String {
    let size = Term::stderr().size_checked().filter(|_| stderr().is_terminal());
    size.map_or_else(|| text.to_owned(), |(_, columns)| folded(text, columns.into()))
}

/// Says something on standard error, in the terminal's width.
macro_rules! tell {
    ($($words:tt)*) => {
        anstream::eprintln!("{}", $crate::cli::fold::to_terminal(&format!($($words)*)))
    };
}
pub(super) use tell;

/// Each line of a text broken before `columns`; emphasis takes no room.
fn folded(text: &str, columns: usize) -> String {
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
    for (index, word) in unbroken(words, columns - indent.min(columns) - HANG).iter().enumerate() {
        let wide = width(word);
        if index > 0 && at + 1 + wide > columns {
            out.push('\n');
            out.push_str(&" ".repeat(indent + HANG));
            out.push_str(word.trim_start());
            at = indent + HANG + wide;
            continue;
        }
        if index > 0 {
            out.push(' ');
            at += 1;
        }
        out.push_str(word);
        at += wide;
    }
    out
}

/// Words between which a line may break: what stands in backticks keeps together where it fits, and so does a command behind two
/// spaces, so that it can be copied.
fn unbroken(words: &str, room: usize) -> Vec<String> {
    let (text, command) = match words.find("  tautline ") {
        Some(at) => (&words[..at], Some(words[at + 1..].to_owned())),
        None => (words, None),
    };
    let mut all: Vec<String> = Vec::new();
    for word in text.split(' ') {
        match all.last_mut() {
            Some(last)
                if last.matches('`').count() % 2 == 1 && width(last) + 1 + width(word) <= room =>
            {
                last.push(' ');
                last.push_str(word);
            }
            _ => all.push(word.to_owned()),
        }
    }
    all.extend(command);
    all
}

/// How many columns it takes.
fn width(word: &str) -> usize {
    strip_str(word).to_string().chars().count()
}
