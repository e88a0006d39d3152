//! `visit`: today's measurements from questions at the terminal, put behind the visits of a case file.
//!
//! Nothing is written into the case file before the last answer; then the file as it was goes beside it, and the new one takes its
//! place whole. Until then the answers are kept in a file of their own.

use std::fs;
use std::mem;
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, PoisonError};

use jiff::civil::Date;

use super::args::Visit;
use super::clinic::Desk;
use super::fold::tell;
use super::input::{bytes, typed};
use super::notebook::{keep_beside, replace};
use super::outcome::Outcome;
use super::report;
use super::say::say;
use super::talk::{Record, Talk, is_at_a_terminal, line};
use super::told::Told;
use super::unfinished::{Unfinished, shown};
use crate::case::{self, Answers, Fault, Profile, Question, Remark, Visiting};

/// A case file, and what a next command must be given with it.
struct Place<'v> {
    path: &'v Path,
    flag: String,
}

impl Place<'_> {
    /// The command that does something with the file.
    fn command(&self, does: &str) -> String {
        format!("tautline {does} {}{}", typed(self.path), self.flag)
    }
}

pub(super) fn visit(wanted: &Visit) -> Outcome {
    let path = &wanted.file;
    let ready =
        Desk::said(wanted.clinic.as_deref()).and_then(|desk| Ok((ready(path, &desk)?, desk)));
    let ((text, visiting), desk) = match ready {
        Ok(ready) => ready,
        Err(outcome) => return outcome,
    };
    let place = Place { path, flag: desk.flag() };
    if !is_at_a_terminal() {
        return refused(&format!(
            "there is no terminal to ask at, and {} stays as it is; add the visit below `visits:` with an editor, then `{}`",
            path.display(),
            place.command("check")
        ));
    }
    if let Some(why) = visiting.refused() {
        tell!(
            "Nothing can be added to `visits` of {} safely: {why}. The questions come all the same, and at the end the lines \
             to add by hand.\n",
            path.display()
        );
    }
    tell!(
        "Today's visit. Enter alone leaves an optional question out, `<` goes back, Ctrl-C stops: {} stays as it is, and the \
         answers are kept beside it.",
        path.display()
    );
    let unfinished = Arc::new(Mutex::new(Unfinished::of(path, &visiting)));
    stop_cleanly(&place, &unfinished);
    let asked = Asked { visiting, unfinished };
    talked(&place, &text, &asked)
}

/// Asks until the visit is written or given up.
fn talked(place: &Place<'_>, text: &str, asked: &Asked) -> Outcome {
    let mut talk = Talk::new(asked, asked.visiting.questions());
    let mut is_answered = talk.whole();
    loop {
        match is_answered {
            Ok(true) => {}
            Ok(false) => return stopped(place, asked.kept().as_deref()),
            Err(why) => return refused(&why),
        }
        match confirmed(&asked.visiting, &talk.answers) {
            Ok(Some(true)) => return write(place, text, asked, &talk.answers),
            Ok(Some(false)) => is_answered = talk.again(),
            Ok(None) => return stopped(place, asked.kept().as_deref()),
            Err(why) => return refused(&why),
        }
    }
}

/// The visit that is asked for, its answers kept until it is written.
struct Asked {
    visiting: Visiting,
    unfinished: Arc<Mutex<Unfinished>>,
}

impl Asked {
    /// Where the answers so far are kept.
    fn kept(&self) -> Option<PathBuf> {
        self.unfinished.lock().ok()?.place().map(Path::to_owned)
    }

    /// Takes the kept answers away.
    fn done(&self) {
        if let Ok(mut unfinished) = self.unfinished.lock() {
            unfinished.done();
        }
    }
}

/// The file's text and the visit to come; a file with faults is told and left alone.
fn ready(path: &Path, desk: &Desk) -> Result<(String, Visiting), Outcome> {
    let mut told = Told::default();
    let known = match desk.read(&mut told, path) {
        Ok(known) => known,
        Err(unread) => {
            let outcome = unread.outcome;
            if outcome == Outcome::Faults {
                report::failure(
                    &mut told,
                    &format!(
                        "a visit is added only to a file without faults; {} stays as it is",
                        path.display()
                    ),
                );
            }
            told.say();
            return Err(outcome);
        }
    };
    let text = bytes(&mut told, path).inspect_err(|_| told.say())?;
    // What was read is text.
    let text = String::from_utf8(text).map_err(|_| Outcome::Unwritten)?;
    // The grown text is read as the file is: with the clinic's profile under it.
    let profile = known.profile.map(|it| bytes(&mut told, &it)).transpose();
    let profile = profile.inspect_err(|_| told.say())?;
    let again = move |text: &[u8]| match &profile {
        Some(profile) => case::read_with(text, Profile::Given(profile)),
        None => case::read(text),
    };
    let visiting = Visiting::new(&text, &known.sound.case, Box::new(again));
    Ok((text, visiting))
}

impl Record for Asked {
    fn faults(&self, answers: &Answers) -> Vec<Fault> {
        self.visiting.faults(answers)
    }

    fn remarks(&self, answers: &Answers) -> Vec<Remark> {
        self.visiting.remarks(answers)
    }

    fn is_idle(&self, question: &Question, answers: &Answers) -> bool {
        self.visiting.is_idle(question, answers)
    }

    fn offered(&self, question: &Question) -> Option<String> {
        self.unfinished.lock().ok()?.offered(&self.visiting, question)
    }

    fn keep(&self, answers: &Answers, newest: &Question) -> Result<(), String> {
        let mut unfinished =
            self.unfinished.lock().map_err(|_| "the answers are lost".to_owned())?;
        unfinished.keep(&self.visiting, answers, newest);
        Ok(())
    }

    fn forbids(&self, answers: &Answers) -> Option<String> {
        let day = self.visiting.date(answers).filter(|it| self.visiting.has(*it))?;
        Some(format!(
            "a visit of {day} is in the file already; it stays as it is. Change that visit with an editor"
        ))
    }
}

/// Shows what is to be written; whether that is wanted, or the last question again; nothing where the terminal ended.
fn confirmed(visiting: &Visiting, answers: &Answers) -> Result<Option<bool>, String> {
    tell!("\nThe visit:");
    for line in visiting.lines(answers) {
        anstream::eprintln!("  {line}");
    }
    for (key, old, new) in visiting.moved(answers) {
        tell!("`{key}` changes from {old} to {new}.");
    }
    loop {
        let does = if visiting.refused().is_some() { "prints its lines" } else { "writes it" };
        anstream::eprint!("Enter {does}, `<` goes back: ");
        match line()?.as_deref().map(str::trim) {
            None => return Ok(None),
            Some("") => return Ok(Some(true)),
            Some("<") => return Ok(Some(false)),
            Some(_) => {}
        }
    }
}

fn write(place: &Place<'_>, text: &str, asked: &Asked, answers: &Answers) -> Outcome {
    let visiting = &asked.visiting;
    let path = place.path;
    let whole = match visiting.whole(answers) {
        Ok(whole) => whole,
        Err(why) => {
            asked.done();
            return by_hand(place, visiting, answers, why);
        }
    };
    let day = visiting.date(answers);
    // Until the end an interrupt waits: it would say that the file is as it was.
    let mut unfinished = asked.unfinished.lock().unwrap_or_else(PoisonError::into_inner);
    let outcome = match put(path, text, &whole, day) {
        Ok(kept) => {
            unfinished.done();
            said(place, day, &kept)
        }
        Err(why) => {
            let outcome = by_hand(place, visiting, answers, &why);
            if let Some(kept) = unfinished.place() {
                report::say_failure(&format!("the answers are kept in {} too", shown(path, kept)));
            }
            outcome
        }
    };
    mem::forget(unfinished);
    outcome
}

/// Keeps the file as it was beside it and puts the new text in its place; gives where the old one is.
fn put(path: &Path, text: &str, whole: &str, day: Option<Date>) -> Result<PathBuf, String> {
    // A link leads to the file that is meant.
    let file = path.canonicalize().unwrap_or_else(|_| path.to_owned());
    if fs::read(&file).ok().as_deref() != Some(text.as_bytes()) {
        return Err("the file was changed while the questions were asked".into());
    }
    let kept = keep_beside(&file, text, &day.map_or_else(String::new, |it| it.to_string()))?;
    replace(&file, whole).map(|()| kept)
}

fn said(place: &Place<'_>, day: Option<Date>, kept: &Path) -> Outcome {
    let day = day.map_or_else(String::new, |it| format!(" of {it}"));
    say(&format!(
        "{}: the visit{day} is added; the file as it was is kept beside it as {}.\nNext:  {}, then  {}\n",
        place.path.display(),
        PathBuf::from(kept.file_name().unwrap_or_default()).display(),
        place.command("check"),
        place.command("print")
    ))
}

/// Prints the lines to add, so that no answer is lost.
fn by_hand(place: &Place<'_>, visiting: &Visiting, answers: &Answers, why: &str) -> Outcome {
    report::say_failure(&format!(
        "{} stays as it is: {why}. Add these lines by hand at the end of `visits`, then `{}`",
        place.path.display(),
        place.command("check")
    ));
    for (key, old, new) in visiting.moved(answers) {
        report::say_failure(&format!("also change `{key}` from {old} to {new}"));
    }
    let mut lines = visiting.lines(answers).into_iter();
    let first = lines.next().unwrap_or_default();
    let rest: String = lines.map(|it| format!("    {it}\n")).collect();
    say(&format!("  - {first}\n{rest}")).max(Outcome::Unwritten)
}

fn refused(why: &str) -> Outcome {
    report::say_failure(why);
    Outcome::Unwritten
}

/// What is said when the questions end early.
fn end(path: &Path, again: &str, kept: Option<&Path>) -> String {
    let kept = kept.map_or_else(String::new, |it| {
        let kept = shown(path, it);
        format!(" The answers so far are kept beside it in {kept}; `{again}` offers them again.")
    });
    format!("Stopped; {} is as it was.{kept}", path.display())
}

fn stopped(place: &Place<'_>, kept: Option<&Path>) -> Outcome {
    tell!("\n{}", end(place.path, &place.command("visit"), kept));
    Outcome::Interrupted
}

/// An interrupt waits for a save under way, says what is kept, and ends.
fn stop_cleanly(place: &Place<'_>, unfinished: &Arc<Mutex<Unfinished>>) {
    let (path, again) = (place.path.to_owned(), place.command("visit"));
    let unfinished = Arc::clone(unfinished);
    // Where the system takes no handler an interrupt ends the program at once; each save is whole all the same.
    let _ = ctrlc::set_handler(move || {
        let unfinished = unfinished.lock();
        let kept = unfinished.as_ref().ok().and_then(|it| it.place());
        tell!("\n{}", end(&path, &again, kept));
        std::process::exit(Outcome::Interrupted.code().into());
    });
}
