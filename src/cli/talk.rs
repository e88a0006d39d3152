//! Questions at the terminal, one after another, each answer held against the reader before the next is asked.
//!
//! Answers are whole lines, as the terminal itself edits them: that works with screen readers and in any terminal.

use std::collections::BTreeMap;
use std::io::{BufRead, IsTerminal, Write, stderr, stdin};

use anstyle::Style;

use super::fold::tell;
use crate::case::{self, Answers, Fault, Kind, Question, Remark, Shape, guide};

/// What leaves a question out to which an answer is offered.
pub(super) const LEFT_OUT: &str = "-";

const STRONG: Style = Style::new().bold();

/// Whether there is somebody to ask.
pub(super) fn is_at_a_terminal() -> bool {
    stdin().is_terminal() && stderr().is_terminal()
}

/// What the answers belong to.
pub(super) trait Record {
    /// What the reader says of it with these answers.
    fn faults(&self, answers: &Answers) -> Vec<Fault>;
    /// What the reader finds odd.
    fn remarks(&self, answers: &Answers) -> Vec<Remark>;
    /// Whether a question has nothing to ask about, by the answers so far.
    fn is_idle(&self, question: &Question, answers: &Answers) -> bool;
    /// Takes the answers so far, the newest to this question, or says why it cannot.
    fn keep(&self, answers: &Answers, newest: &Question) -> Result<(), String>;
    /// An answer that was given before the questions were stopped.
    fn offered(&self, _: &Question) -> Option<String> {
        None
    }
    /// What a question takes beyond its form, as a sentence.
    fn takes(&self, _: &Question) -> Option<String> {
        None
    }
    /// Why the questions end with these answers.
    fn forbids(&self, _: &Answers) -> Option<String> {
        None
    }
}

/// The questions and the answers so far.
pub(super) struct Talk<'r> {
    pub(super) record: &'r dyn Record,
    pub(super) answers: Answers,
    pub(super) questions: Vec<Question>,
    /// Questions that were answered, in their order.
    trail: Vec<usize>,
    /// What was typed to each, which is offered where it is asked again.
    typed: BTreeMap<String, String>,
}

/// What was typed.
enum Typed {
    Answer,
    Back,
    End,
}

impl<'r> Talk<'r> {
    pub(super) fn new(record: &'r dyn Record, questions: Vec<Question>) -> Self {
        Self {
            record,
            answers: Answers::default(),
            questions,
            trail: Vec::new(),
            typed: BTreeMap::new(),
        }
    }

    /// Asks everything, then again what the reader still misses; false where the terminal ended it.
    pub(super) fn whole(&mut self) -> Result<bool, String> {
        self.from(0)
    }

    /// Goes on behind the last of these answers.
    pub(super) fn on_from(
        &mut self,
        (answers, typed): (Answers, case::Typed),
    ) -> Result<bool, String> {
        self.typed = typed;
        let is_answered = |at: &usize| answers.holds(&self.questions[*at].path);
        self.trail = (0..self.questions.len()).filter(is_answered).collect();
        self.answers = answers;
        self.from(self.trail.last().map_or(0, |it| it + 1))
    }

    /// Asks the last question again, and what follows it.
    pub(super) fn again(&mut self) -> Result<bool, String> {
        let last = self.trail.pop().unwrap_or(0);
        self.from(last)
    }

    fn from(&mut self, first: usize) -> Result<bool, String> {
        let mut at = first;
        while at < self.questions.len() {
            if self.is_left_out(at) {
                at += 1;
                continue;
            }
            match self.ask(at)? {
                Typed::End => return Ok(false),
                Typed::Back => at = self.trail.pop().unwrap_or(0),
                Typed::Answer => {
                    self.trail.push(at);
                    at += 1;
                }
            }
        }
        loop {
            let faults = self.record.faults(&self.answers);
            let Some(open) = faults.iter().find_map(|it| self.index(it.kind.key()?)) else {
                let Some(fault) = faults.first() else { return Ok(true) };
                return Err(format!("no question mends this: {}", fault.kind.sentence()));
            };
            tell!("\nOne more, which the other answers ask for:");
            match self.ask(open)? {
                Typed::End => return Ok(false),
                Typed::Back => return self.again(),
                Typed::Answer => {}
            }
        }
    }

    fn index(&self, key: &str) -> Option<usize> {
        self.questions.iter().position(|it| it.path == key)
    }

    /// Whether a question lies in a group whose first key was left out, or behind the end of a list.
    fn is_left_out(&self, at: usize) -> bool {
        if self.record.is_idle(&self.questions[at], &self.answers) {
            return true;
        }
        self.questions[at].within.iter().any(|(group, is_first)| {
            let earlier = self.questions[..at].iter().rev();
            let mut openings = earlier.filter(|it| it.within.contains(&(group.clone(), true)));
            let opening = openings.next();
            opening.is_some_and(|it| {
                !self.answers.holds(&it.path) && (!is_first || it.path != self.questions[at].path)
            })
        })
    }

    fn ask(&mut self, at: usize) -> Result<Typed, String> {
        let question = self.questions[at].clone();
        introduce(&question, at + 1, self.questions.len(), self.record.takes(&question));
        let typed_before = self.typed.get(&question.path).cloned();
        let mut offered = typed_before.or_else(|| self.record.offered(&question));
        loop {
            eprint_prompt(&question, offered.as_deref());
            let Some(line) = line()? else { return Ok(Typed::End) };
            let typed = match (line.trim(), &offered) {
                ("<", _) => return Ok(Typed::Back),
                // What was offered is not offered again where the reader refuses it.
                ("", Some(_)) => offered.take().unwrap_or_default(),
                (LEFT_OUT, Some(_)) => String::new(),
                (typed, _) => typed.to_owned(),
            };
            let typed = typed.as_str();
            let before = self.answers.clone();
            let known = self.record.faults(&before);
            self.answers.put(&question, &meant(&question.key.shape, typed));
            if typed.is_empty() && is_list_of_words(&question.key.shape) {
                self.answers.put(&question, "none");
            }
            if let Some(why) = self.record.forbids(&self.answers) {
                return Err(why);
            }
            let faults = self.faults_of(&question, &known);
            if faults.is_empty() {
                for remark in
                    self.record.remarks(&self.answers).iter().filter(|it| it.key == question.path)
                {
                    tell!(
                        "  {STRONG}Remark:{STRONG:#} {} `<` at the next question comes back here.",
                        remark.text
                    );
                }
                self.record.keep(&self.answers, &question)?;
                if typed.is_empty() {
                    self.typed.remove(&question.path);
                } else {
                    self.typed.insert(question.path, typed.to_owned());
                }
                return Ok(Typed::Answer);
            }
            for fault in &faults {
                tell(fault, &question);
            }
            self.answers = before;
        }
    }

    /// What this answer brings up: its own faults, and conflicts of others with it.
    fn faults_of(&self, question: &Question, known: &[Fault]) -> Vec<Fault> {
        let is_skipped = !self.answers.holds(&question.path) && question.may_be_skipped();
        let is_new = |it: &Fault| {
            let is_own = it.kind.key().is_some_and(|key| is_at(key, &question.path));
            let is_missing = matches!(it.kind, Kind::Missing { .. });
            if is_own {
                // A key that may be left out is missed only where another key asks for it.
                !(is_missing && is_skipped && question.key.required)
            } else {
                !is_missing && !known.iter().any(|other| other.kind == it.kind)
            }
        };
        self.record.faults(&self.answers).into_iter().filter(is_new).collect()
    }
}

/// Whether a fault's key is a question's, or stands in its list.
fn is_at(key: &str, path: &str) -> bool {
    key.strip_prefix(path).is_some_and(|rest| rest.is_empty() || rest.starts_with(['[', '.']))
}

fn is_list_of_words(shape: &Shape) -> bool {
    matches!(shape, Shape::List { item, .. } if matches!(**item, Shape::Either(_)))
}

/// What to measure, what is taken, why it is asked.
fn introduce(question: &Question, number: usize, of: usize, takes: Option<String>) {
    let row = question.row;
    tell!("\n{STRONG}{number}/{of}  {}{STRONG:#}", row.what);
    let mut lines: Vec<String> = guide::takes(&question.key.shape).into_iter().collect();
    lines.extend(guide::usual(&question.path));
    lines.extend(takes);
    if is_list_of_words(&question.key.shape) {
        lines.push(
            "Part several by commas; Enter alone: none. A tendon as `tendon_repair flexor 2026-01-31`, else `other: words`."
                .into(),
        );
    }
    if matches!(&question.key.shape, Shape::List { item, .. } if matches!(**item, Shape::Text { .. }))
    {
        lines.push("Part several by semicolons.".into());
    }
    if !lines.is_empty() {
        tell!("  {}", lines.join(" "));
    }
    if let Some(why) = row.why {
        tell!("  Why: {why}");
    }
    // A day that has passed is needed anew, though the key may be left out.
    if let Some(without) = row.without().filter(|_| !question.key.required || row.is_needed()) {
        tell!("  {without}");
    }
}

fn eprint_prompt(question: &Question, offered: Option<&str>) {
    let optional = if question.may_be_skipped() { " (optional)" } else { "" };
    let offered = offered.map_or_else(String::new, |it| format!(" [{it}]"));
    anstream::eprint!("  {}{optional}{offered}: ", question.path);
    let _ = stderr().flush();
}

fn tell(fault: &Fault, question: &Question) {
    let is_own = fault.kind.key().is_some_and(|key| is_at(key, &question.path));
    if is_own && matches!(fault.kind, Kind::Missing { .. }) {
        tell!("  This one is needed: {}.", fault.kind.accepted().unwrap_or_default());
        return;
    }
    tell!("  {STRONG}Not yet:{STRONG:#} {}.", fault.kind.sentence());
    if let Some(accepted) = fault.kind.accepted() {
        tell!("  It takes {accepted}.");
    }
    let cure = fault.kind.cure();
    let stop = if cure.ends_with(['?', '.']) { "" } else { "." };
    tell!("  To mend: {cure}{stop}");
    if !is_own {
        tell!("  Type another answer here, or `<` to go back to that one.");
    }
}

/// A word from its first letters, where only one begins so.
fn meant(shape: &Shape, typed: &str) -> String {
    if let Shape::Word(words) = shape {
        let mut begun =
            words.iter().filter(|it| !typed.is_empty() && it.starts_with(&typed.to_lowercase()));
        if let (Some(word), None) = (begun.next(), begun.next()) {
            return (*word).to_owned();
        }
    }
    typed.to_owned()
}

/// A line from the terminal; nothing where it ended.
pub(super) fn line() -> Result<Option<String>, String> {
    let mut line = String::new();
    match stdin().lock().read_line(&mut line) {
        Ok(0) => Ok(None),
        Ok(_) => Ok(Some(line)),
        Err(error) => Err(format!("cannot read from the terminal: {error}")),
    }
}
