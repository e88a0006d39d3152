//! What a run of many cases shows while it goes on and when it is over.

use std::collections::BTreeMap;
use std::io::{IsTerminal, stderr, stdout};

use indicatif::{ProgressBar, ProgressStyle};
use serde::Serialize;

use super::batch::{End, Run};
use super::outcome::Outcome;
use super::report;
use super::say::say;

/// How cases are told while they end.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Form {
    /// One case: its papers' paths on standard output.
    Paths,
    /// Many cases: one JSON object a line on standard output.
    Lines,
    /// Many cases at a terminal: what needs a person's eyes alone.
    Quiet,
}

impl Form {
    /// The form for one case or many.
    pub(super) fn of(is_one: bool, json: bool) -> Self {
        if is_one && !json {
            Self::Paths
        } else if !json && stdout().is_terminal() {
            Self::Quiet
        } else {
            Self::Lines
        }
    }
}

/// One case on a line of its own.
#[derive(Serialize)]
struct Line<'r> {
    file: String,
    case: Option<&'r str>,
    outcome: &'static str,
    papers: Vec<String>,
    withheld: &'r [&'static str],
    told: Vec<String>,
}

/// Counts what ends and shows it.
pub(super) struct Ledger {
    form: Form,
    bar: ProgressBar,
    counts: BTreeMap<End, usize>,
    all: usize,
    worst: Outcome,
}

impl Ledger {
    pub(super) fn new(form: Form, all: usize) -> Self {
        // It draws nothing where standard error is no terminal.
        let bar = if form == Form::Paths {
            ProgressBar::hidden()
        } else {
            ProgressBar::new(all as u64).with_style(style())
        };
        Self { form, bar, counts: BTreeMap::new(), all, worst: Outcome::Done }
    }

    /// Shows how a case ended.
    pub(super) fn enter(&mut self, run: Run) {
        *self.counts.entry(run.end).or_default() += 1;
        self.worst = self.worst.max(run.end.outcome());
        let said = self.bar.suspend(|| tell(self.form, &run));
        self.worst = self.worst.max(said);
        self.bar.inc(1);
    }

    /// Sums up, and says how the whole went.
    pub(super) fn close(self, is_interrupted: bool) -> Outcome {
        self.bar.finish_and_clear();
        let ended: usize = self.counts.values().sum();
        if self.form != Form::Paths || is_interrupted {
            report::say_summary(&summary(&self.counts, self.all, ended));
        }
        if is_interrupted && ended < self.all { Outcome::Interrupted } else { self.worst }
    }
}

fn tell(form: Form, run: &Run) -> Outcome {
    let papers = || run.papers.iter().map(|it| it.display().to_string());
    if form == Form::Lines {
        let line = Line {
            file: run.path.display().to_string(),
            case: run.id.as_deref(),
            outcome: run.end.word(),
            papers: papers().collect(),
            withheld: &run.withheld,
            told: run.told.plain(),
        };
        let json = serde_json::to_string(&line).expect("texts and lists");
        // Whoever sits there sees it in words too.
        if stderr().is_terminal() {
            run.told.say();
        }
        return say(&(json + "\n"));
    }
    run.told.say();
    match form {
        Form::Paths => say(&papers().map(|it| it + "\n").collect::<String>()),
        Form::Quiet | Form::Lines => Outcome::Done,
    }
}

/// `40 cases: 37 printed, 1 withheld, 2 faulty.`
fn summary(counts: &BTreeMap<End, usize>, all: usize, ended: usize) -> String {
    let noun = if all == 1 { "case" } else { "cases" };
    let mut parts: Vec<String> =
        counts.iter().map(|(end, count)| format!("{count} {}", end.word())).collect();
    if ended < all {
        parts.push(format!("{} not begun", all - ended));
    }
    format!("{all} {noun}: {}.", parts.join(", "))
}

fn style() -> ProgressStyle {
    ProgressStyle::with_template("{wide_bar} {pos} of {len} cases, {eta} to go")
        .expect("a template of ours")
}
