//! What each key is, in words: the one place for the descriptions of the schema, the comments of a begun file and
//! the questions that are asked at a terminal.
//!
//! Bounds, units and words are not repeated here; they come from the reader.

mod course;
mod limb;
mod orthosis;
mod person;
mod profile;

use super::shape::{Key, Shape, Span};

/// What a case file is.
pub(super) const FILE: &str = "One patient, one orthosis: the living record that every paper is printed from. Every length carries \
     its unit. Angles are plain degrees; a negative angle means short of neutral.";

/// What a clinic's profile is.
pub(super) const PROFILE: &str = "What is the same for every patient of a clinic: laid under each case that names this file. Keys stand where \
     they stand in a case file; what a case gives itself wins, key by key.";

/// What one key is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Row {
    /// The key's path, `[]` for each item of a list.
    pub path: &'static str,
    /// What stands there, and from where to where it is measured.
    pub what: &'static str,
    /// Why it is asked for when a file is begun; nothing for keys that come later or seldom.
    pub why: Option<&'static str>,
    /// What holds where the key is left out.
    pub unset: Option<&'static str>,
}

impl Row {
    /// Whether the key is optional in name only: without it another must be there.
    #[must_use]
    pub fn is_needed(&self) -> bool {
        self.unset.is_some_and(|it| it.starts_with("needed"))
    }

    /// What holds without the key, as a sentence.
    #[must_use]
    pub fn without(&self) -> Option<String> {
        let unset = self.unset?;
        Some(match unset.strip_prefix("needed") {
            Some(rest) => format!("Needed{rest}."),
            None => format!("Left out: {unset}."),
        })
    }
}

/// A group or list of keys.
const fn group(path: &'static str, what: &'static str) -> Row {
    Row { path, what, why: None, unset: None }
}

/// A key that must be there, with the reason for asking.
const fn must(path: &'static str, what: &'static str, why: &'static str) -> Row {
    Row { path, what, why: Some(why), unset: None }
}

/// A key that may be left out and is asked for all the same.
const fn can(
    path: &'static str,
    what: &'static str,
    why: &'static str,
    unset: &'static str,
) -> Row {
    Row { path, what, why: Some(why), unset: Some(unset) }
}

/// A key that is not asked for when a file is begun.
const fn later(path: &'static str, what: &'static str, unset: &'static str) -> Row {
    Row { path, what, why: None, unset: Some(unset) }
}

/// A key that must be there within a group that comes later.
const fn part(path: &'static str, what: &'static str) -> Row {
    group(path, what)
}

/// All rows, section by section.
pub fn rows() -> impl Iterator<Item = &'static Row> {
    [person::ROWS, limb::ROWS, orthosis::ROWS, course::ROWS].into_iter().flatten()
}

/// The rows of keys that only a clinic's profile has.
pub fn profile_rows() -> impl Iterator<Item = &'static Row> {
    profile::ROWS.iter()
}

/// The row of a key; `visits[].pain.rest` for `visits[2].pain.rest`.
#[must_use]
pub fn row(path: &str) -> Option<&'static Row> {
    let path = bare(path);
    rows().chain(profile::ROWS).find(|it| it.path == path)
}

/// The row of a key as it stands in a clinic's profile.
#[must_use]
pub fn profile_row(path: &str) -> Option<&'static Row> {
    let path = bare(path);
    profile::ROWS.iter().chain(rows()).find(|it| it.path == path)
}

/// A path without the numbers of its places.
fn bare(path: &str) -> String {
    let mut bare = String::new();
    let mut inside = false;
    for letter in path.chars() {
        match letter {
            ']' => inside = false,
            _ if inside => continue,
            '[' => inside = true,
            _ => {}
        }
        bare.push(letter);
    }
    bare
}

/// The path of a key below another.
pub(super) fn below(path: &str, name: &str) -> String {
    if path.is_empty() { name.to_owned() } else { format!("{path}.{name}") }
}

/// What a key is and what it takes, as sentences.
pub(super) fn description(path: &str, key: &Key) -> String {
    let Some(row) = row(path) else { return sentence(&key.accepted) };
    described(row, key, row.without())
}

/// The same for a key of a clinic's profile: what it leaves out a case may give.
pub(super) fn description_in_profile(path: &str, key: &Key) -> String {
    let Some(row) = profile_row(path) else { return sentence(&key.accepted) };
    let is_own = profile::ROWS.iter().any(|it| it.path == row.path);
    let without = match row.unset {
        Some(unset) if !is_own && !row.is_needed() => {
            Some(format!("Left out: as in the case, else {unset}."))
        }
        _ => row.without(),
    };
    described(row, key, without)
}

fn described(row: &Row, key: &Key, without: Option<String>) -> String {
    let sentences = [Some(row.what.to_owned()), takes(&key.shape), without];
    sentences.into_iter().flatten().collect::<Vec<_>>().join(" ")
}

/// What a single value may be, as a sentence; nothing for groups and lists.
#[must_use]
pub fn takes(shape: &Shape) -> Option<String> {
    Some(match shape {
        Shape::Text { longest } => format!("At most {longest} letters."),
        Shape::Day => "A day as year-month-day, such as 2026-04-13.".into(),
        Shape::Whole { min, max } => format!("A whole number, {min} to {max}."),
        Shape::Number { min, max } => format!("A number, {min} to {max}."),
        Shape::Percent => "In percent, such as 3 %.".into(),
        Shape::Angle { min, max, .. } => format!("In degrees, {min} to {max}."),
        Shape::Quantity { spans, bounds, .. } => format!("In {}; {bounds}.", units(spans)),
        Shape::Word(words) => format!("One of: {}.", words.join(", ")),
        Shape::Formed { .. } | Shape::List { .. } | Shape::Group(_) | Shape::Either(_) => {
            return None;
        }
    })
}

/// What most adults measure, as a sentence, where the survey has the measure.
#[must_use]
pub fn usual(path: &str) -> Option<String> {
    let [low, high] = super::anthropometry::usual(path)?;
    Some(format!("98 of 100 adults measure {} mm to {} mm.", low.to_mm(), high.to_mm()))
}

/// `mm, cm or in`.
fn units(spans: &[Span]) -> String {
    let names: Vec<&str> = spans.iter().map(|it| it.unit).collect();
    match &names[..] {
        [] => String::new(),
        [one] => (*one).to_owned(),
        [first @ .., last] => format!("{} or {last}", first.join(", ")),
    }
}

fn sentence(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().collect::<String>() + letters.as_str() + "."
    })
}
