//! Faults, remarks and findings in words: set out on a terminal, as plain sentences elsewhere.
//!
//! Neither form shows anything of the file but the value a fault is about.

use std::io::{IsTerminal, stderr};
use std::path::Path;

use anstream::eprint;
use anstyle::Style;

use super::told::Told;
use crate::calc::pattern::Measure;
use crate::calc::precautions::{Finding, IDLE_OVERRIDE, Level};
use crate::calc::sharpen::{Missing, Number, Sharper};
use crate::case::{Fault, Place, Remark, Source};

const STRONG: Style = Style::new().bold();

/// The files in which the places of one case stand.
#[derive(Debug, Clone, Copy)]
pub(super) struct Files<'f> {
    pub(super) case: &'f Path,
    pub(super) profile: Option<&'f Path>,
}

impl<'f, P: AsRef<Path> + ?Sized> From<&'f P> for Files<'f> {
    fn from(case: &'f P) -> Self {
        Self { case: case.as_ref(), profile: None }
    }
}

impl<'f> Files<'f> {
    fn of(self, source: Source) -> &'f Path {
        match source {
            Source::Case => self.case,
            Source::Profile => self.profile.unwrap_or(self.case),
        }
    }
}

/// Reports faults in file order, and how many there are.
pub(super) fn faults<'f>(told: &mut Told, files: impl Into<Files<'f>>, faults: &[Fault]) {
    let files = files.into();
    let form = if stderr().is_terminal() { set_out } else { sentences };
    for fault in faults {
        told.line(&form(files.of(fault.place.file), fault));
    }
    let count = faults.len();
    let noun = if count == 1 { "fault" } else { "faults" };
    told.line(&format!("{}: {count} {noun}; nothing was printed.", files.case.display()));
}

/// A fault on three or four lines, for a terminal.
fn set_out(path: &Path, fault: &Fault) -> String {
    let mut text = format!(
        "{STRONG}fault:{STRONG:#} {}\n  at {}\n",
        fault.kind.sentence(),
        place(path, fault.place)
    );
    if let Some(accepted) = fault.kind.accepted() {
        text.push_str(&format!("  takes: {accepted}\n"));
    }
    text.push_str(&format!("  mend: {}\n", fault.kind.cure()));
    text
}

/// A fault as plain sentences on one line.
fn sentences(path: &Path, fault: &Fault) -> String {
    let mut text = format!("{}: {}.", place(path, fault.place), capital(&fault.kind.sentence()));
    if let Some(accepted) = fault.kind.accepted() {
        text.push_str(&format!(" It takes {accepted}."));
    }
    let cure = capital(&fault.kind.cure());
    let stop = if cure.ends_with(['?', '.']) { "" } else { "." };
    text.push_str(&format!(" To mend: {cure}{stop}"));
    text
}

/// Reports what is odd.
pub(super) fn remarks<'f>(told: &mut Told, files: impl Into<Files<'f>>, remarks: &[Remark]) {
    let files = files.into();
    for remark in remarks {
        let at = place(files.of(remark.place.file), remark.place);
        told.line(&format!("{at}: {STRONG}Remark{STRONG:#} on `{}`: {}", remark.key, remark.text));
    }
}

/// Reports findings of one level and up.
pub(super) fn findings(told: &mut Told, path: &Path, findings: &[Finding], up_to: Level) {
    // An override that answers nothing may be a typing error, and that is worth a line always.
    let is_told = |it: &&Finding| it.level <= up_to || it.id == IDLE_OVERRIDE;
    for finding in findings.iter().filter(is_told) {
        let level = finding.level.word();
        let answered = finding.answer.as_ref().map_or_else(String::new, |it| {
            format!(" Overridden by {}, {}: {}.", it.by, it.date, it.why.trim_end_matches('.'))
        });
        told.line(&format!(
            "{}: {STRONG}{level}{STRONG:#} `{}`: {}. {} {}{answered}",
            path.display(),
            finding.id,
            finding.title,
            finding.text,
            finding.action
        ));
    }
}

/// Says which measure would sharpen which number most.
pub(super) fn sharper(told: &mut Told, path: &Path, sharper: &Sharper) {
    let (now, then) = (sharper.now.to_mm(), sharper.then.to_mm());
    let key = match sharper.missing {
        Missing::CuffPath(at) => format!("orthosis.pulls[{}].line.cuff_path", at + 1),
        Missing::Girth(measure) => format!("limb.{}", key_of(measure)),
    };
    let words = match sharper.number {
        Number::Mark(direction, mark) => format!(
            "Of what was not measured this would sharpen the marks most. Mark {mark} of {} is known to ±{now:.1} mm; with a line \
             threaded through the made cuff and measured, to ±{then:.1} mm.",
            direction.word()
        ),
        Number::Girth(_) => format!(
            "Of what was not measured this would sharpen the pattern most. It is estimated to ±{now:.1} mm; a tape gives \
             ±{then:.1} mm."
        ),
    };
    told.line(&format!("{}: {STRONG}sharpen{STRONG:#} `{key}`: {words}", path.display()));
}

/// The key of a measure of the pieces.
fn key_of(measure: Measure) -> &'static str {
    match measure {
        Measure::Wrist => "wrist_circumference",
        Measure::Knuckles => "knuckle_girth",
        Measure::FingerJoints => "finger_joint_girth",
        Measure::Forearm => "forearm_girths",
        Measure::Elbow => "elbow_girth",
        Measure::ElbowPath => "around_elbow",
    }
}

/// Says that something could not be done.
pub(super) fn failure(told: &mut Told, sentence: &str) {
    told.line(&format!("{STRONG}tautline:{STRONG:#} {sentence}"));
}

/// Says at once that something could not be done, where it is about no case.
pub(super) fn say_failure(sentence: &str) {
    let mut told = Told::default();
    failure(&mut told, sentence);
    told.say();
}

/// Begins a clear screen with a line on top, where there is a screen.
pub(super) fn open_screen(line: &str) {
    if stderr().is_terminal() {
        // ECMA-48: erase the page, cursor to its first line and column.
        eprint!("\x1b[2J\x1b[H");
        say_summary(line);
    }
}

/// Says how a run of many cases went.
pub(super) fn say_summary(sentence: &str) {
    let mut told = Told::default();
    told.line(&format!("{STRONG}{sentence}{STRONG:#}"));
    told.say();
}

/// `a`, `a and b`, `a, b and c`.
pub(super) fn listed(names: &[&str]) -> String {
    match names {
        [] => String::new(),
        [one] => (*one).to_owned(),
        [first @ .., last] => format!("{} and {last}", first.join(", ")),
    }
}

fn place(path: &Path, place: Place) -> String {
    format!("{}:{}:{}", path.display(), place.line, place.column)
}

fn capital(sentence: &str) -> String {
    let mut letters = sentence.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().collect::<String>() + letters.as_str()
    })
}
