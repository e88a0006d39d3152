//! A visit written into a case file's own text: every byte that is there stays as it is.
//!
//! Where the new lines go is told by the places of the tree. What comes out is read again and compared with what went in;
//! a list in a form of its own is refused rather than guessed at.

use jiff::civil::Date;

use super::fault::Place;
use super::node::{Entry, Node, Value, parse};

/// Why a visit is not written, in words that go on from "because".
pub(super) type Why = &'static str;

const BRACKETS: Why =
    "the list is written in brackets, on lines where nothing can be put in safely";
const ODD: Why = "the list is indented in a way of its own";

/// Where the lines go, and how far in.
struct Spot {
    /// Byte of the text.
    at: usize,
    /// Spaces before the dash.
    dash: usize,
    /// Columns from the dash to the first key.
    key: usize,
    /// Whether `visits:` must be written too, so far in.
    heads: Option<usize>,
}

/// The text with one more item at the end of `visits`.
pub(super) fn visit(text: &str, lines: &[String]) -> Result<String, Why> {
    let root = parse(text).map_err(|_| ODD)?;
    let spot = spot(text, &root)?;
    let end = line_end(text, spot.at);
    let mut added = String::new();
    if !text[..spot.at].is_empty() && !text[..spot.at].ends_with('\n') {
        added.push_str(end);
    }
    if let Some(indent) = spot.heads {
        added.push_str(&format!("{}visits:{end}", " ".repeat(indent)));
    }
    for (index, line) in lines.iter().enumerate() {
        let start = if index == 0 {
            format!("{}-{}", " ".repeat(spot.dash), " ".repeat(spot.key - 1))
        } else {
            " ".repeat(spot.dash + spot.key)
        };
        added.push_str(&format!("{start}{line}{end}"));
    }
    let grown = format!("{}{added}{}", &text[..spot.at], &text[spot.at..]);
    let item = parse(&(lines.join("\n") + "\n")).map_err(|_| ODD)?;
    match parse(&grown) {
        Ok(new) if is_grown(&root, &new, &item) => Ok(grown),
        _ => Err(ODD),
    }
}

fn spot(text: &str, root: &Node) -> Result<Spot, Why> {
    let Value::Group(entries) = &root.value else { return Err(ODD) };
    let margin = entries.first().map_or(0, |it| before(it.place));
    let Some(visits) = entries.iter().find(|it| it.key == "visits") else {
        return Ok(Spot { at: text.len(), dash: margin + 2, key: 2, heads: Some(margin) });
    };
    let items = match &visits.node.value {
        Value::Nothing => {
            let at = line_start(text, visits.place.line + 1);
            return Ok(Spot { at, dash: margin + 2, key: 2, heads: None });
        }
        Value::List(items) => items,
        _ => return Err(ODD),
    };
    let Some(Node { value: Value::Group(last), .. }) = items.last() else { return Err(BRACKETS) };
    let first = last.first().ok_or(BRACKETS)?.place;
    let line = &text[line_start(text, first.line)..];
    let lead: String = line.chars().take(before(first)).collect();
    // A visit in braces behind its dash has its key one sign further on.
    let (lead, key) = match lead.trim_end().strip_suffix('{') {
        Some(lead) => (lead.to_owned(), 2),
        None => (lead.clone(), lead.trim_start().len()),
    };
    let dash = lead.len() - lead.trim_start().len();
    if lead.trim() != "-" || !lead.ends_with(' ') || key < 2 {
        return Err(if lead.contains(['[', '{']) { BRACKETS } else { ODD });
    }
    let next = entries.iter().map(|it| it.place.line).filter(|it| *it > visits.place.line).min();
    let end = next.map_or(text.len(), |line| line_start(text, line));
    Ok(Spot { at: last_of(text, end, dash), dash, key, heads: None })
}

/// The end of the last line before `end` that belongs to the list: blank lines, and comments less far in
/// than its dashes, belong to what follows.
fn last_of(text: &str, end: usize, dash: usize) -> usize {
    let mut at = end;
    for line in text[..end].split_inclusive('\n').rev() {
        let bare = line.trim_start_matches(' ');
        let is_apart = bare.starts_with('#') && line.len() - bare.len() < dash.max(1);
        if !bare.trim().is_empty() && !is_apart {
            break;
        }
        at -= line.len();
    }
    at
}

/// Whether the new tree is the old one with `item` behind its visits.
fn is_grown(old: &Node, new: &Node, item: &Node) -> bool {
    let (Value::Group(old), Value::Group(new)) = (&old.value, &new.value) else { return false };
    let is_visits = |it: &&Entry| it.key == "visits";
    let rest = |all: &[Entry]| -> Vec<(String, String)> {
        let others = all.iter().filter(|it| !is_visits(it));
        others.map(|it| (it.key.clone(), values(&it.node))).collect()
    };
    let visits = |all: &[Entry]| -> Vec<String> {
        match all.iter().find(is_visits).map(|it| &it.node.value) {
            Some(Value::List(items)) => items.iter().map(values).collect(),
            _ => Vec::new(),
        }
    };
    let mut wanted = visits(old);
    wanted.push(values(item));
    rest(old) == rest(new) && wanted == visits(new)
}

/// All keys and values of a tree in one line, without their places.
fn values(node: &Node) -> String {
    match &node.value {
        Value::Nothing => "~".into(),
        Value::Scalar(text) => format!("{text:?}"),
        Value::List(items) => {
            format!("[{}]", items.iter().map(|it| values(it) + ",").collect::<String>())
        }
        Value::Group(entries) => {
            let pair = |it: &Entry| format!("{:?}:{},", it.key, values(&it.node));
            format!("{{{}}}", entries.iter().map(pair).collect::<String>())
        }
    }
}

/// The text with another day at a key of a group: as many signs in the same place.
pub(super) fn day(text: &str, path: &str, old: Date, new: Date) -> Result<String, Why> {
    const WHY: Why = "a day that must change stands there in a form of its own";
    let root = parse(text).map_err(|_| WHY)?;
    let mut node = &root;
    for name in path.split('.') {
        let Value::Group(entries) = &node.value else { return Err(WHY) };
        node = &entries.iter().find(|it| it.key == name).ok_or(WHY)?.node;
    }
    let start = line_start(text, node.place.line);
    let line = &text[start..];
    let column = line.char_indices().nth(before(node.place)).ok_or(WHY)?.0;
    let quote = usize::from(line[column..].starts_with(['"', '\'']));
    let (at, old) = (start + column + quote, old.to_string());
    if !text[at..].starts_with(&old) {
        return Err(WHY);
    }
    Ok(format!("{}{new}{}", &text[..at], &text[at + old.len()..]))
}

/// Signs before a place on its line.
fn before(place: Place) -> usize {
    usize::try_from(place.column.saturating_sub(1)).unwrap_or(0)
}

/// The byte at which a line begins, the end of the text for a line behind it.
fn line_start(text: &str, line: u64) -> usize {
    let lines = text.split_inclusive('\n').map(str::len);
    lines.take(usize::try_from(line.saturating_sub(1)).unwrap_or(usize::MAX)).sum()
}

/// How the line before a place ends, so that a file keeps its own line ends.
fn line_end(text: &str, at: usize) -> &'static str {
    let line = text[..at].trim_end_matches(['\r', '\n']).len();
    let behind = if text[line..].starts_with(['\r', '\n']) { &text[line..] } else { text };
    let end = behind.find('\n').map_or("", |it| &behind[..it]);
    if end.ends_with('\r') { "\r\n" } else { "\n" }
}
