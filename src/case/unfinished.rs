//! The answers of a visit that was stopped: the lines in which they are kept, and how they are read again.

use std::collections::BTreeMap;

use super::Source;
use super::begun::Answers;
use super::measured::Written;
use super::node::Value;
use super::visiting::Visiting;

/// Answers as they were typed, by the path of their key.
pub type Typed = BTreeMap<String, String>;

impl Visiting {
    /// The answers so far, and those still to be offered, as text of their own: the days that move in their groups, then
    /// the lines of the visit as the case file would have them. Nothing where no more than the day is known.
    #[must_use]
    pub fn unfinished(&self, answers: &Answers, offered: &Typed) -> Option<String> {
        let mut all = answers.clone();
        for question in self.questions() {
            if let Some(typed) = offered.get(&question.path).filter(|_| !all.holds(&question.path))
            {
                all.put(&question, typed);
            }
        }
        let moved: String = moved_days(&all).collect();
        let lines = self.lines(&all);
        let is_worth_it = lines.len() > 1 || !moved.is_empty();
        is_worth_it.then(|| moved + &lines.iter().map(|it| format!("{it}\n")).collect::<String>())
    }

    /// The answers that such a text holds, by the paths of the questions; nothing where it cannot be read.
    #[must_use]
    pub fn resumed(&self, text: &[u8]) -> Option<Typed> {
        let root = super::tree(text, Source::Case).ok()?;
        let Value::Group(entries) = &root.value else { return None };
        let mut typed = Typed::new();
        for entry in entries {
            let is_moved =
                Self::OVERTAKEN.iter().any(|it| it.split('.').next() == Some(&entry.key));
            let path = if is_moved { entry.key.clone() } else { self.below(&entry.key) };
            typed.extend(Written::of(&entry.node, &path));
        }
        let questions = self.questions();
        typed.retain(|path, _| questions.iter().any(|it| it.path == *path));
        Some(typed)
    }
}

/// The days that were answered for those which the visit overtakes, each in its group.
fn moved_days(answers: &Answers) -> impl Iterator<Item = String> {
    Visiting::OVERTAKEN.into_iter().filter_map(|path| {
        let (group, key) = path.split_once('.')?;
        Some(format!("{group}: {{ {key}: {} }}\n", answers.get(path)?))
    })
}
