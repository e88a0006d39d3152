//! A case file that is begun: what is asked first, and the commented file that holds the answers so far.
//!
//! Keys and order come from the reader, words from [`super::guide`]. A key without an answer keeps its line with
//! nothing behind the colon: the reader then says that it is missing, or takes it as left out.

use std::collections::BTreeMap;

use serde_yaml::Value;

use super::guide::{self, Row, below};
use super::shape::{Key, Shape};

/// The widest comment, in characters.
const WIDTH: usize = 100;
/// So many places of a list are asked for where the list may be left out.
const PLACES: usize = 3;

/// Asked for at each visit, not when a file is begun.
const VISITS: &str = "visits";

/// A question, in the order of the file.
#[derive(Debug, Clone)]
pub struct Question {
    /// The key's path in the file.
    pub path: String,
    /// The key.
    pub key: Key,
    /// Its words.
    pub row: &'static Row,
    /// The groups and lists around it that may be left out whole, each with whether this is its first key.
    pub within: Vec<(String, bool)>,
}

impl Question {
    /// Whether nothing may be answered: the key may be left out, or it opens a group that may.
    #[must_use]
    pub fn may_be_skipped(&self) -> bool {
        (!self.key.required && !self.row.is_needed())
            || self.within.iter().any(|(_, is_first)| *is_first)
    }
}

/// What is asked for when a file is begun, in the order of the file.
#[must_use]
pub fn questions() -> Vec<Question> {
    let mut all = Vec::new();
    gather(&super::outline(), "", &[], &mut all);
    all
}

/// The questions for the keys of a group that stands at `path`.
pub(super) fn asked(keys: &[Key], path: &str) -> Vec<Question> {
    let mut all = Vec::new();
    gather(keys, path, &[], &mut all);
    all
}

/// The question of one key, whether it is asked when a file is begun or not.
pub(super) fn question(path: &str) -> Option<Question> {
    let mut keys = super::outline();
    let mut names = path.split('.').peekable();
    while let Some(name) = names.next() {
        let key = keys.into_iter().find(|it| it.name == name)?;
        if names.peek().is_none() {
            let row = guide::row(path)?;
            return Some(Question { path: path.into(), key, row, within: Vec::new() });
        }
        let Shape::Group(inner) = key.shape else { return None };
        keys = inner;
    }
    None
}

fn gather(keys: &[Key], path: &str, within: &[String], all: &mut Vec<Question>) {
    for key in keys.iter().filter(|it| is_asked(it, path)) {
        let path = below(path, key.name);
        let mut within = within.to_vec();
        if is_left_out_whole(key) {
            within.push(path.clone());
        }
        match key.shape.written_out() {
            Shape::Group(keys) => gather(keys, &path, &within, all),
            Shape::List { item, .. } if matches!(**item, Shape::Group(_)) => {
                let Shape::Group(keys) = &**item else { continue };
                let places = if key.required { 1 } else { PLACES };
                for place in 1..=places {
                    gather(keys, &format!("{path}[{place}]"), &within, all);
                }
            }
            _ => {
                let Some(row) = guide::row(&path) else { continue };
                let within = within.iter().map(|it| (it.clone(), opens(it, &path, all))).collect();
                all.push(Question { path, key: key.clone(), row, within });
            }
        }
    }
}

/// Whether a key is the first one asked for in a group, or in an item of a list.
fn opens(group: &str, path: &str, asked: &[Question]) -> bool {
    let inner = &path[group.len()..];
    let item = if inner.starts_with('[') { inner.find(']').map_or(0, |it| it + 1) } else { 0 };
    let own = &path[..group.len() + item];
    !asked.iter().any(|it| it.path.starts_with(own))
}

/// Whether a key, or one below it, is asked for when a file is begun.
fn is_asked(key: &Key, path: &str) -> bool {
    let path = below(path, key.name);
    if path == VISITS {
        return false;
    }
    if guide::row(&path).is_some_and(|it| it.why.is_some()) {
        return true;
    }
    match key.shape.written_out() {
        Shape::Group(keys) => keys.iter().any(|it| is_asked(it, &path)),
        Shape::List { item, .. } => match &**item {
            Shape::Group(keys) => keys.iter().any(|it| is_asked(it, &format!("{path}[]"))),
            _ => false,
        },
        _ => false,
    }
}

/// A group or list that may be left out, though not in part.
fn is_left_out_whole(key: &Key) -> bool {
    let has_needs = |keys: &[Key]| keys.iter().any(|it| it.required);
    !key.required
        && match &key.shape {
            Shape::Group(keys) => has_needs(keys),
            Shape::List { item, .. } => matches!(&**item, Shape::Group(keys) if has_needs(keys)),
            _ => false,
        }
}

/// Answers by the path of their keys, as they stand in the file.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Answers(BTreeMap<String, String>);

impl Answers {
    /// Keeps an answer; nothing takes it out again.
    pub fn put(&mut self, question: &Question, answer: &str) {
        let answer = answer.trim();
        if answer.is_empty() {
            self.0.remove(&question.path);
        } else {
            self.0.insert(question.path.clone(), in_yaml(&question.key.shape, answer));
        }
    }

    /// Whether a key, or one below it, has an answer.
    #[must_use]
    pub fn holds(&self, path: &str) -> bool {
        let is_below =
            |key: &str| key.strip_prefix(path).is_some_and(|rest| rest.starts_with(['.', '[']));
        self.0.keys().any(|key| key == path || is_below(key))
    }

    /// What stands behind a key, as it stands in the file.
    #[must_use]
    pub fn get(&self, path: &str) -> Option<&str> {
        self.0.get(path).map(String::as_str)
    }
}

/// An answer as it stands in the file: words of a list in brackets, text in quotes where it needs them.
fn in_yaml(shape: &Shape, answer: &str) -> String {
    match shape {
        Shape::List { item, .. } if matches!(**item, Shape::Either(_)) => {
            let words: Vec<String> = answer
                .split(',')
                .map(str::trim)
                .filter(|it| !it.is_empty() && *it != "none")
                .map(condition)
                .collect();
            format!("[{}]", words.join(", "))
        }
        Shape::List { .. } => {
            let items = answer.split(';').map(str::trim).filter(|it| !it.is_empty());
            let items: Vec<String> = items.map(|it| in_braces(&scalar(it))).collect();
            format!("[{}]", items.join(", "))
        }
        _ => scalar(answer),
    }
}

/// `tendon_repair flexor 2026-01-31` and `other: words` as groups, a word as it is.
fn condition(written: &str) -> String {
    if let Some(words) = written.strip_prefix("other:") {
        return format!("{{ other: {} }}", in_braces(&scalar(words.trim())));
    }
    let words: Vec<&str> = written.split_whitespace().collect();
    match words[..] {
        ["tendon_repair", tendon, day] => {
            format!("{{ tendon_repair: {{ tendon: {}, date: {} }} }}", scalar(tendon), scalar(day))
        }
        _ => in_braces(&scalar(written)),
    }
}

/// A single value as it may stand within brackets, where commas and brackets part what they stand in.
pub(super) fn in_braces(value: &str) -> String {
    if value.starts_with(['"', '\'']) || !value.contains([',', '[', ']', '{', '}']) {
        return value.to_owned();
    }
    // JSON's text in quotes is YAML's.
    serde_json::to_string(value).unwrap_or_default()
}

/// A single value; in quotes unless it reads the same without.
fn scalar(text: &str) -> String {
    let is_plain = text.starts_with(|c: char| c.is_alphanumeric() || c == '-')
        && text.ends_with(|c: char| c.is_alphanumeric() || c == '.')
        && text.chars().all(|c| c.is_alphanumeric() || " .-+/°".contains(c))
        && !text.starts_with("- ")
        && !text.starts_with("--");
    if is_plain {
        return text.to_owned();
    }
    serde_yaml::to_string(&Value::from(text))
        .map_or_else(|_| text.to_owned(), |it| it.trim_end().to_owned())
}

/// What a file is begun with beside the answers: what comes from the clinic's profile.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Leading<'l> {
    /// Keys that the profile gives; the file leaves them out.
    pub given: &'l [String],
    /// The profile by the name that the file gives it.
    pub profile: Option<&'l str>,
    /// Whom the profile lists; nothing where it lists nobody.
    pub therapists: &'l str,
}

impl Leading<'_> {
    fn gives(&self, path: &str) -> bool {
        self.given.iter().any(|it| it == path)
    }

    /// Whether the file has a line for a key.
    fn is_written(&self, key: &Key, path: &str) -> bool {
        let own = below(path, key.name);
        let is_of_profile = own == PROFILE && self.profile.is_some();
        is_of_profile || (is_asked(key, path) && !self.gives(&own) && !self.gives_all(key, &own))
    }

    /// Whether nothing is left to write in a group.
    fn gives_all(&self, key: &Key, path: &str) -> bool {
        match key.shape.written_out() {
            Shape::Group(keys) => !keys.iter().any(|it| self.is_written(it, path)),
            _ => false,
        }
    }
}

/// The key that names the clinic's profile.
const PROFILE: &str = "clinic.profile";

/// The commented file with the answers so far; with none it is the blank.
pub(super) fn text(answers: &Answers, leading: &Leading<'_>) -> String {
    let mut text = String::new();
    comment(&mut text, 0, HEAD);
    for key in super::outline().iter().filter(|it| leading.is_written(it, "")) {
        text.push('\n');
        entry(&mut text, key, "", 0, (answers, leading));
    }
    text
}

const HEAD: &str = "A case file: one patient, one orthosis. Write behind the colons. Keep the places of the lines: what \
                    belongs to a group stands two spaces further in. An optional key may stay empty. More keys come with \
                    visits and special wishes; the schema describes them all (tautline schema).";

fn entry(text: &mut String, key: &Key, path: &str, indent: usize, with: (&Answers, &Leading<'_>)) {
    let (answers, leading) = with;
    let path = below(path, key.name);
    let Some(row) = guide::row(&path) else { return };
    let optional = if row.unset.is_some() && !row.is_needed() { "Optional. " } else { "" };
    let listed = match path.as_str() {
        "clinic.therapist" if !leading.therapists.is_empty() => {
            format!(" One of these, by name: {}.", leading.therapists)
        }
        _ => String::new(),
    };
    comment(text, indent, &format!("{optional}{}{listed}", guide::description(&path, key)));
    let pad = " ".repeat(indent);
    let is_bare = is_left_out_whole(key) && !answers.holds(&path);
    match key.shape.written_out() {
        _ if is_bare => text.push_str(&format!("{pad}{}:\n", key.name)),
        Shape::Group(keys) => {
            text.push_str(&format!("{pad}{}:\n", key.name));
            for key in keys.iter().filter(|it| leading.is_written(it, &path)) {
                entry(text, key, &path, indent + 2, with);
            }
        }
        Shape::List { item, .. } if matches!(**item, Shape::Group(_)) => {
            text.push_str(&format!("{pad}{}:\n", key.name));
            let Shape::Group(keys) = &**item else { return };
            for place in (1..).take_while(|it| *it == 1 || answers.holds(&format!("{path}[{it}]")))
            {
                let at = format!("{path}[{place}]");
                let mut inner = String::new();
                for key in keys.iter().filter(|it| is_asked(it, &at)) {
                    entry(&mut inner, key, &at, indent + 4, with);
                }
                text.push_str(&dashed(&inner, indent + 2));
            }
        }
        _ => {
            let named = leading.profile.filter(|_| path == PROFILE).map(scalar);
            match named.as_ref().or(answers.0.get(&path)) {
                Some(answer) => text.push_str(&format!("{pad}{}: {answer}\n", key.name)),
                None => text.push_str(&format!("{pad}{}:\n", key.name)),
            }
        }
    }
}

/// A group's lines as one item of a list: the dash stands before the first key.
fn dashed(lines: &str, indent: usize) -> String {
    let mut is_open = true;
    let mut text = String::new();
    for line in lines.lines() {
        if is_open && !line.trim_start().starts_with('#') {
            is_open = false;
            text.push_str(&format!("{}- {}\n", " ".repeat(indent), line.trim_start()));
        } else if is_open {
            // A comment above the dash stands in the dash's column.
            text.push_str(&format!("{}{}\n", " ".repeat(indent), line.trim_start()));
        } else {
            text.push_str(&format!("{line}\n"));
        }
    }
    text
}

/// The words of a sentence; a number keeps its unit, and what stands in backticks keeps together.
fn unbroken(words: &str) -> Vec<String> {
    let mut all: Vec<String> = Vec::new();
    for word in words.split_whitespace() {
        let is_unit = word.starts_with("mm") || word.starts_with("cm");
        match all.last_mut() {
            Some(last)
                if last.matches('`').count() % 2 == 1
                    || (is_unit && last.ends_with(|c: char| c.is_ascii_digit())) =>
            {
                last.push(' ');
                last.push_str(word);
            }
            _ => all.push(word.to_owned()),
        }
    }
    all
}

fn comment(text: &mut String, indent: usize, words: &str) {
    let start = format!("{}#", " ".repeat(indent));
    let mut line = start.clone();
    for word in unbroken(words) {
        if line.chars().count() + 1 + word.chars().count() > WIDTH {
            text.push_str(&line);
            text.push('\n');
            line.clone_from(&start);
        }
        line.push(' ');
        line.push_str(&word);
    }
    text.push_str(&line);
    text.push('\n');
}
