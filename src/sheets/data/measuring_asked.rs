//! The questions of the measuring sheet that are ticked or written, not measured.

use serde::Serialize;

use crate::case::{Key, Question, Shape, Written, questions};

/// The most answers that are boxes to tick where a number is asked.
const MOST_NUMBERS: u32 = 10;

/// A question with its answers.
#[derive(Debug, Serialize)]
pub(super) struct Asked {
    what: String,
    key: String,
    /// Whether nothing may be answered.
    optional: bool,
    /// The answers to choose from; none where words are written.
    ticks: Vec<Tick>,
    /// Whether more than one may be chosen.
    several: bool,
    /// What the file says already, where words are written.
    value: String,
}

/// An answer to tick.
#[derive(Debug, Serialize)]
struct Tick {
    word: String,
    is_ticked: bool,
    /// Answers that belong to this one.
    more: Vec<Tick>,
    /// What is written behind it; none where a tick says all.
    line: Option<String>,
}

/// The questions at these paths, in the order of the file, each with words of its own.
pub(super) fn asked(
    paths: &[&str],
    written: &Written,
    what: impl Fn(&str) -> Option<String>,
) -> Vec<Asked> {
    let all = questions().into_iter().filter(|it| paths.contains(&it.path.as_str()));
    let own = all.map(|it| {
        let own = what(&it.path);
        one(&it, own.unwrap_or_else(|| it.row.what.to_owned()), written, "")
    });
    own.collect()
}

/// All questions of a group, in its order, in the words of the questions.
pub(super) fn ticked(group: &str, written: &Written, none: &str) -> Vec<Asked> {
    let all = questions().into_iter().filter(|it| it.path.starts_with(group));
    all.map(|it| {
        // What stands behind it is how the file writes it, which the boxes show.
        let what = it.row.what.split_once(';').map_or(it.row.what, |(what, _)| what);
        let what = if is_list(&it.key.shape) { format!("{what}.") } else { plain(it.row.what) };
        one(&it, what, written, none)
    })
    .collect()
}

fn is_list(shape: &Shape) -> bool {
    matches!(shape, Shape::List { .. })
}

fn plain(text: &str) -> String {
    text.replace('`', "")
}

fn one(question: &Question, what: String, written: &Written, none: &str) -> Asked {
    let path = &question.path;
    let ticks = ticks(&question.key.shape, path, written, none);
    Asked {
        what,
        key: question.row.path.to_owned(),
        optional: question.may_be_skipped(),
        several: is_list(&question.key.shape),
        value: if ticks.is_empty() {
            written.at(path).unwrap_or_default().to_owned()
        } else {
            String::new()
        },
        ticks,
    }
}

fn tick(word: &str, is_ticked: bool) -> Tick {
    Tick { word: word.replace('_', " "), is_ticked, more: Vec::new(), line: None }
}

/// The reader's own answers, those of the file ticked.
fn ticks(shape: &Shape, path: &str, written: &Written, none: &str) -> Vec<Tick> {
    let is = |word: &str| written.at(path) == Some(word);
    match shape {
        Shape::Word(words) => words.iter().map(|word| tick(word, is(word))).collect(),
        Shape::Whole { min, max } if *max <= MOST_NUMBERS => {
            (*min..=*max).map(|it| it.to_string()).map(|it| tick(&it, is(&it))).collect()
        }
        Shape::List { item, .. } => {
            let mut all = vec![tick(none, written.is_empty_list(path))];
            all.extend(choices(item, path, written));
            all
        }
        _ => Vec::new(),
    }
}

/// The answers of a list: its words, and its groups with what belongs to them.
fn choices(item: &Shape, path: &str, written: &Written) -> Vec<Tick> {
    let given: Vec<(&str, &str)> = written.below(path).collect();
    match item {
        Shape::Word(words) => {
            let is =
                |word: &str| given.iter().any(|(at, value)| at.ends_with(']') && *value == word);
            words.iter().map(|word| tick(word, is(word))).collect()
        }
        Shape::Either(shapes) => shapes.iter().flat_map(|it| choices(it, path, written)).collect(),
        Shape::Group(keys) => keys.iter().map(|key| with_more(key, &given)).collect(),
        _ => Vec::new(),
    }
}

fn with_more(key: &Key, given: &[(&str, &str)]) -> Tick {
    let value = |ending: &str| given.iter().find(|(at, _)| at.ends_with(ending)).map(|it| it.1);
    let is_given = given.iter().any(|(at, _)| at.split('.').any(|it| it == key.name));
    let mut out = tick(key.name, is_given);
    let Shape::Group(inner) = &key.shape else {
        out.line = Some(value(&format!(".{}", key.name)).unwrap_or_default().to_owned());
        return out;
    };
    for part in inner {
        let at = value(&format!(".{}.{}", key.name, part.name));
        match &part.shape {
            Shape::Word(words) => {
                out.more.extend(words.iter().map(|word| tick(word, at == Some(word))));
            }
            _ => out.line = Some(at.unwrap_or_default().to_owned()),
        }
    }
    out
}
