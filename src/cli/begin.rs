//! `begin`: a commented case file, blank or from answers at the terminal.
//!
//! Answers are whole lines, as the terminal itself edits them: that works with screen readers and in any terminal.
//! Each answer is read by the reader of case files with all answers before it, and saved at once.

use std::io::{BufRead, IsTerminal, Write, stderr, stdin};
use std::path::Path;
use std::sync::{Arc, Mutex};

use anstream::eprintln;
use anstyle::Style;

use super::args::Begin;
use super::notebook::Notebook;
use super::outcome::Outcome;
use super::report;
use super::say::say;
use crate::case::{Answers, Fault, Kind, Question, Shape, begun, guide, questions};

const STRONG: Style = Style::new().bold();

pub(super) fn begin(wanted: &Begin) -> Outcome {
    let path = &wanted.file;
    if path.symlink_metadata().is_ok() {
        report::say_failure(&format!(
            "{} is there already and stays as it is; `tautline check {}` says what it lacks",
            path.display(),
            path.display()
        ));
        return Outcome::Unwritten;
    }
    let mut notebook = Notebook::new(path);
    if wanted.blank {
        return match notebook.save(&begun(&Answers::default())) {
            Ok(()) => say(&format!(
                "{}\nFill it in with an editor. `tautline check {}` then says what is still missing.\n",
                path.display(),
                path.display()
            )),
            Err(why) => unwritten(&why),
        };
    }
    if !stdin().is_terminal() || !stderr().is_terminal() {
        report::say_failure(&format!(
            "there is no terminal to ask at; `tautline begin {} --blank` writes a file to fill in",
            path.display()
        ));
        return Outcome::Unwritten;
    }
    let notebook = Arc::new(Mutex::new(notebook));
    stop_cleanly(&notebook, path);
    let mut talk = Talk { notebook, answers: Answers::default(), questions: questions() };
    match talk.whole() {
        Ok(true) => say(&format!(
            "{} is written and reads well. Next:  tautline check {}\n",
            path.display(),
            path.display()
        )),
        Ok(false) => {
            eprintln!("\n{}", stopped(path, talk.is_saved()));
            Outcome::Faults
        }
        Err(why) => unwritten(&why),
    }
}

fn unwritten(why: &str) -> Outcome {
    report::say_failure(why);
    Outcome::Unwritten
}

/// What is said when the questions end early.
fn stopped(path: &Path, is_saved: bool) -> String {
    if !is_saved {
        return "Stopped; nothing was written.".into();
    }
    format!(
        "Stopped. {} holds the answers so far; go on in an editor. `tautline check {}` says what is still missing.",
        path.display(),
        path.display()
    )
}

/// An interrupt waits for a save under way, says what is kept, and ends.
fn stop_cleanly(notebook: &Arc<Mutex<Notebook>>, path: &Path) {
    let (notebook, path) = (Arc::clone(notebook), path.to_owned());
    let handler = move || {
        let is_saved = notebook.lock().is_ok_and(|it| it.is_saved());
        eprintln!("\n{}", stopped(&path, is_saved));
        std::process::exit(Outcome::Interrupted.code().into());
    };
    // Where the system takes no handler an interrupt ends the program at once; each save is whole all the same.
    let _ = ctrlc::set_handler(handler);
}

/// The questions and the answers so far.
struct Talk {
    notebook: Arc<Mutex<Notebook>>,
    answers: Answers,
    questions: Vec<Question>,
}

/// What was typed.
enum Typed {
    Answer,
    Back,
    End,
}

impl Talk {
    /// Asks everything, then again what the reader still misses; false where the terminal ended it.
    fn whole(&mut self) -> Result<bool, String> {
        eprintln!(
            "{} questions, in the order of the case file. Enter alone leaves an optional one out, `<` goes back, Ctrl-C \
             stops and keeps the answers.",
            self.questions.len()
        );
        let mut trail: Vec<usize> = Vec::new();
        let mut at = 0;
        while at < self.questions.len() {
            if self.is_left_out(at) {
                at += 1;
                continue;
            }
            match self.ask(at)? {
                Typed::End => return Ok(false),
                Typed::Back => at = trail.pop().unwrap_or(0),
                Typed::Answer => {
                    trail.push(at);
                    at += 1;
                }
            }
        }
        loop {
            let faults = self.answers.faults();
            let Some(open) = faults.iter().find_map(|it| self.index(it.kind.key()?)) else {
                return Ok(faults.is_empty());
            };
            eprintln!("\nOne more, which the other answers ask for:");
            if matches!(self.ask(open)?, Typed::End) {
                return Ok(false);
            }
        }
    }

    fn index(&self, key: &str) -> Option<usize> {
        self.questions.iter().position(|it| it.path == key)
    }

    /// Whether a question lies in a group whose first key was left out, or behind the end of a list.
    fn is_left_out(&self, at: usize) -> bool {
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
        introduce(&question, at + 1, self.questions.len());
        loop {
            eprint_prompt(&question);
            let Some(line) = line()? else { return Ok(Typed::End) };
            let typed = line.trim();
            if typed == "<" {
                return Ok(Typed::Back);
            }
            let before = self.answers.clone();
            let known = before.faults();
            self.answers.put(&question, &meant(&question.key.shape, typed));
            if typed.is_empty() && is_list_of_words(&question.key.shape) {
                self.answers.put(&question, "none");
            }
            let faults = self.faults_of(&question, &known);
            if faults.is_empty() {
                for remark in self.answers.remarks().iter().filter(|it| it.key == question.path) {
                    eprintln!(
                        "  {STRONG}Remark:{STRONG:#} {} `<` at the next question comes back here.",
                        remark.text
                    );
                }
                self.save()?;
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
        self.answers.faults().into_iter().filter(is_new).collect()
    }

    fn save(&self) -> Result<(), String> {
        let mut notebook = self.notebook.lock().map_err(|_| "the notebook is lost".to_owned())?;
        notebook.save(&begun(&self.answers))
    }

    fn is_saved(&self) -> bool {
        self.notebook.lock().is_ok_and(|it| it.is_saved())
    }
}

/// Whether a fault's key is a question's, or stands in its list.
fn is_at(key: &str, path: &str) -> bool {
    key.strip_prefix(path).is_some_and(|rest| rest.is_empty() || rest.starts_with(['[', '.']))
}

fn is_list_of_words(shape: &Shape) -> bool {
    matches!(shape, Shape::List { .. })
}

/// What to measure, what is taken, why it is asked.
fn introduce(question: &Question, number: usize, of: usize) {
    let row = question.row;
    eprintln!("\n{STRONG}{number}/{of}  {}{STRONG:#}", row.what);
    let mut lines: Vec<String> = guide::takes(&question.key.shape).into_iter().collect();
    lines.extend(guide::usual(&question.path));
    if is_list_of_words(&question.key.shape) {
        lines.push(
            "Part several by commas; Enter alone: none. A tendon as `tendon_repair flexor 2026-01-31`, else `other: words`."
                .into(),
        );
    }
    if !lines.is_empty() {
        eprintln!("  {}", lines.join(" "));
    }
    if let Some(why) = row.why {
        eprintln!("  Why: {why}");
    }
    if let Some(without) = row.without() {
        eprintln!("  {without}");
    }
}

fn eprint_prompt(question: &Question) {
    let optional = if question.may_be_skipped() { " (optional)" } else { "" };
    anstream::eprint!("  {}{optional}: ", question.path);
    let _ = stderr().flush();
}

fn tell(fault: &Fault, question: &Question) {
    let is_own = fault.kind.key().is_some_and(|key| is_at(key, &question.path));
    if is_own && matches!(fault.kind, Kind::Missing { .. }) {
        eprintln!("  This one is needed: {}.", fault.kind.accepted().unwrap_or_default());
        return;
    }
    eprintln!("  {STRONG}Not yet:{STRONG:#} {}.", fault.kind.sentence());
    if let Some(accepted) = fault.kind.accepted() {
        eprintln!("  It takes {accepted}.");
    }
    let cure = fault.kind.cure();
    let stop = if cure.ends_with(['?', '.']) { "" } else { "." };
    eprintln!("  To mend: {cure}{stop}");
    if !is_own {
        eprintln!("  Type another answer here, or `<` to go back to that one.");
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
fn line() -> Result<Option<String>, String> {
    let mut line = String::new();
    match stdin().lock().read_line(&mut line) {
        Ok(0) => Ok(None),
        Ok(_) => Ok(Some(line)),
        Err(error) => Err(format!("cannot read from the terminal: {error}")),
    }
}
