//! Faults, remarks and findings in words: set out on a terminal, as plain sentences elsewhere.
//!
//! Neither form shows anything of the file but the value a fault is about.

use std::io::{IsTerminal, stderr};
use std::path::Path;

use anstream::eprint;
use anstyle::{AnsiColor, Style};

use super::input::typed;
use super::told::{Form, Told};
use crate::calc::precautions::{Finding, IDLE_OVERRIDE, Level};
use crate::calc::sharpen::{Missing, Number, Sharper};
use crate::case::{Fault, Place, Remark, Source};
use crate::sheets::{self, Paper};

const STRONG: Style = Style::new().bold();
const GRAVE: Style = AnsiColor::Red.on_default().bold();
const CARE: Style = AnsiColor::Yellow.on_default().bold();

/// The heading of what was not measured, and of what that leaves out or blurs.
const MISSING: &str = "What is missing, and for which number";
/// How the findings begin that name a missing measure.
const MISSING_IDS: [&str; 4] = ["no-torque", "torque-short", "not-drawn", "measures-estimated"];

/// The files in which the places of one case stand.
#[derive(Debug, Clone, Copy)]
pub(super) struct Files<'f> {
    pub(super) case: &'f Path,
    pub(super) profile: Option<&'f Path>,
    /// Whether `--clinic` gave the profile, so that the next command must be given it too.
    pub(super) is_given: bool,
}

impl<'f, P: AsRef<Path> + ?Sized> From<&'f P> for Files<'f> {
    fn from(case: &'f P) -> Self {
        Self { case: case.as_ref(), profile: None, is_given: false }
    }
}

impl<'f> Files<'f> {
    fn flag(self) -> String {
        let given = self.profile.filter(|_| self.is_given);
        given.map_or_else(String::new, |it| format!(" --clinic {}", typed(it)))
    }

    fn of(self, source: Source) -> &'f Path {
        match source {
            Source::Case => self.case,
            Source::Profile => self.profile.unwrap_or(self.case),
        }
    }
}

/// Reports faults in file order, how many there are, and the command that reads the mended file.
pub(super) fn faults<'f>(told: &mut Told, files: impl Into<Files<'f>>, faults: &[Fault]) {
    let files = files.into();
    let next = format!("tautline check {}{}", typed(files.case), files.flag());
    all_faults(told, files, faults, &next);
}

/// The same with another command to read the mended file.
pub(super) fn faults_before(told: &mut Told, files: Files<'_>, faults: &[Fault], next: &str) {
    all_faults(told, files, faults, next);
}

/// The same of a clinic's own words.
pub(super) fn faults_of_words(told: &mut Told, path: &Path, faults: &[Fault]) {
    let next = format!("tautline check --words {}", typed(path));
    all_faults(told, path.into(), faults, &next);
}

fn all_faults(told: &mut Told, files: Files<'_>, faults: &[Fault], next: &str) {
    told.head("What is wrong", GRAVE);
    let is_set_out =
        told.form() == Form::Headed || (told.form() == Form::Lines && stderr().is_terminal());
    let form = if is_set_out { set_out } else { sentences };
    for fault in faults {
        let at = place(told, files, fault.place);
        told.line(&form(&at, fault));
    }
    let count = faults.len();
    let (noun, them) = if count == 1 { ("fault", "it") } else { ("faults", "them") };
    let file = files.case.display();
    told.line(&format!("{file}: {count} {noun}; nothing was printed. Mend {them}, then:  {next}"));
}

/// A fault on three or four lines, for a terminal.
fn set_out(at: &str, fault: &Fault) -> String {
    let mut text = format!("{STRONG}fault:{STRONG:#} {}\n  at {at}\n", fault.kind.sentence());
    if let Some(accepted) = fault.kind.accepted() {
        text.push_str(&format!("  takes: {accepted}\n"));
    }
    text.push_str(&format!("  mend: {}\n", fault.kind.cure()));
    text
}

/// A fault as plain sentences on one line.
fn sentences(at: &str, fault: &Fault) -> String {
    let mut text = format!("{at}: {}.", capital(&fault.kind.sentence()));
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
        told.head("What is odd", CARE);
        let at = place(told, files, remark.place);
        let word = match told.form() {
            Form::Lines => format!("{STRONG}Remark{STRONG:#} on `{}`", remark.key),
            Form::Headed | Form::Plain => format!("`{}`", remark.key),
        };
        told.line(&format!("{at}: {word}: {}", remark.text));
    }
}

/// Reports findings of one level and up; under headings by what they do.
pub(super) fn findings(told: &mut Told, path: &Path, findings: &[Finding], up_to: Level) {
    // An override that answers nothing may be a typing error, and that is worth a line always.
    let is_told = |it: &&Finding| it.level <= up_to || it.id == IDLE_OVERRIDE;
    let mut told_of: Vec<(usize, &Finding)> =
        findings.iter().filter(is_told).map(|it| (section(it), it)).collect();
    if told.form() != Form::Lines {
        told_of.sort_by_key(|(section, _)| *section);
    }
    for (section, finding) in told_of {
        let answered = finding.answer.as_ref().map_or_else(String::new, |it| {
            format!(" Overridden by {}, {}: {}.", it.by, it.date, it.why.trim_end_matches('.'))
        });
        let words = format!(
            "`{}`: {}. {} {}{answered}",
            finding.id, finding.title, finding.text, finding.action
        );
        if told.form() == Form::Lines {
            let level = finding.level.word();
            told.line(&format!("{}: {STRONG}{level}{STRONG:#} {words}", path.display()));
            continue;
        }
        let held = Paper::ALL.into_iter().filter(|it| it.is_withheld_by_a_stop());
        let names: Vec<&str> = held.map(Paper::name).collect();
        match section {
            0 => told.head(&format!("What stops {}", sheets::listed(&names)), GRAVE),
            1 => told.head("Stops that somebody decided otherwise", CARE),
            2 => told.head("What asks for care", CARE),
            3 => told.head("Worth knowing", STRONG),
            _ => told.head(MISSING, STRONG),
        }
        told.line(&words);
    }
}

/// Where a finding stands among the headings.
fn section(finding: &Finding) -> usize {
    match finding.level {
        Level::Stop if finding.answer.is_none() => 0,
        Level::Stop => 1,
        Level::Caution => 2,
        Level::Note if MISSING_IDS.iter().any(|it| finding.id.starts_with(it)) => 4,
        Level::Note => 3,
    }
}

/// Says which measure would sharpen which number most.
pub(super) fn sharper(told: &mut Told, path: &Path, sharper: &Sharper) {
    let (now, then) = (sharper.now.to_mm(), sharper.then.to_mm());
    let key = match sharper.missing {
        Missing::CuffPath(at) => format!("orthosis.pulls[{}].line.cuff_path", at + 1),
        Missing::Girth(measure) => format!("limb.{}", sheets::figures::key_of(measure)),
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
    told.head(MISSING, STRONG);
    told.line(&match told.form() {
        Form::Lines => format!("{}: {STRONG}sharpen{STRONG:#} `{key}`: {words}", path.display()),
        Form::Headed | Form::Plain => format!("`{key}`: {words}"),
    });
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

/// Where something stands; under headings the case file is named already.
fn place(told: &Told, files: Files<'_>, place: Place) -> String {
    let file = files.of(place.file).display();
    let of = if place.file == Source::Case { String::new() } else { format!("{file}, ") };
    match told.form() {
        Form::Lines => format!("{file}:{}:{}", place.line, place.column),
        Form::Plain if of.is_empty() => format!("Line {}, column {}", place.line, place.column),
        Form::Headed | Form::Plain => format!("{of}line {}, column {}", place.line, place.column),
    }
}

fn capital(sentence: &str) -> String {
    let mut letters = sentence.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().collect::<String>() + letters.as_str()
    })
}
