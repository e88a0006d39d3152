//! `visit`: today's measurements from questions at the terminal, put behind the visits of a case file.
//!
//! Nothing is written before the last answer; then the file as it was goes beside it, and the new one takes its place whole.

use std::fs;
use std::path::{Path, PathBuf};

use anstream::eprintln;
use jiff::civil::Date;

use super::args::Visit;
use super::clinic::Desk;
use super::input::{bytes, typed};
use super::notebook::{keep_beside, replace};
use super::outcome::Outcome;
use super::report;
use super::say::say;
use super::talk::{Record, Talk, is_at_a_terminal, line};
use super::told::Told;
use crate::case::{self, Answers, Fault, Profile, Question, Remark, Visiting};

pub(super) fn visit(wanted: &Visit) -> Outcome {
    let path = &wanted.file;
    let ready =
        Desk::said(wanted.clinic.as_deref()).and_then(|desk| Ok((ready(path, &desk)?, desk)));
    let ((text, visiting), desk) = match ready {
        Ok(ready) => ready,
        Err(outcome) => return outcome,
    };
    let flag = desk.flag();
    if !is_at_a_terminal() {
        return refused(&format!(
            "there is no terminal to ask at, and {} stays as it is; add the visit below `visits:` with an editor, then \
             `tautline check {}{flag}`",
            path.display(),
            typed(path)
        ));
    }
    if let Some(why) = visiting.refused() {
        eprintln!(
            "Nothing can be added to `visits` of {} safely: {why}. The questions come all the same, and at the end the lines \
             to add by hand.\n",
            path.display()
        );
    }
    stop_cleanly(path);
    let mut talk = Talk::new(&visiting, visiting.questions());
    eprintln!(
        "Today's visit. Enter alone leaves an optional question out, `<` goes back, Ctrl-C stops and leaves {} as it is.",
        path.display()
    );
    let mut is_answered = talk.whole();
    loop {
        match is_answered {
            Ok(true) => {}
            Ok(false) => return stopped(path),
            Err(why) => return refused(&why),
        }
        match confirmed(&visiting, &talk.answers) {
            Ok(Some(true)) => return write((path, &flag), &text, &visiting, &talk.answers),
            Ok(Some(false)) => is_answered = talk.again(),
            Ok(None) => return stopped(path),
            Err(why) => return refused(&why),
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

impl Record for Visiting {
    fn faults(&self, answers: &Answers) -> Vec<Fault> {
        Visiting::faults(self, answers)
    }

    fn remarks(&self, answers: &Answers) -> Vec<Remark> {
        Visiting::remarks(self, answers)
    }

    fn is_idle(&self, question: &Question, answers: &Answers) -> bool {
        Visiting::is_idle(self, question, answers)
    }

    fn keep(&self, _: &Answers) -> Result<(), String> {
        Ok(())
    }

    fn forbids(&self, answers: &Answers) -> Option<String> {
        let day = self.date(answers).filter(|_| self.is_there(answers))?;
        Some(format!(
            "a visit of {day} is in the file already; it stays as it is. Change that visit with an editor"
        ))
    }
}

/// Shows what is to be written; whether that is wanted, or the last question again; nothing where the terminal ended.
fn confirmed(visiting: &Visiting, answers: &Answers) -> Result<Option<bool>, String> {
    eprintln!("\nThe visit:");
    for line in visiting.lines(answers) {
        eprintln!("  {line}");
    }
    for (key, old, new) in visiting.moved(answers) {
        eprintln!("`{key}` changes from {old} to {new}.");
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

fn write(file: (&Path, &str), text: &str, visiting: &Visiting, answers: &Answers) -> Outcome {
    let (path, flag) = file;
    let by_hand = |why: &str| by_hand(file, visiting, answers, why);
    let whole = match visiting.whole(answers) {
        Ok(whole) => whole,
        Err(why) => return by_hand(why),
    };
    // A link leads to the file that is meant.
    let place = path.canonicalize().unwrap_or_else(|_| path.to_owned());
    if fs::read(&place).ok().as_deref() != Some(text.as_bytes()) {
        return by_hand("the file was changed while the questions were asked");
    }
    let day = visiting.date(answers);
    let kept = keep_beside(&place, text, &day.map_or_else(String::new, |it| it.to_string()));
    let kept = match kept.and_then(|kept| replace(&place, &whole).map(|()| kept)) {
        Ok(kept) => kept,
        Err(why) => return by_hand(&why),
    };
    said(path, flag, day, &kept)
}

fn said(path: &Path, flag: &str, day: Option<Date>, kept: &Path) -> Outcome {
    let name = kept.file_name().map(PathBuf::from).unwrap_or_default();
    let day = day.map_or_else(String::new, |it| format!(" of {it}"));
    let file = typed(path);
    say(&format!(
        "{}: the visit{day} is added; the file as it was is kept beside it as {}.\nNext:  tautline check {file}{flag}, then  \
         tautline print {file}{flag}\n",
        path.display(),
        name.display(),
    ))
}

/// Prints the lines to add, so that no answer is lost.
fn by_hand(
    (path, flag): (&Path, &str),
    visiting: &Visiting,
    answers: &Answers,
    why: &str,
) -> Outcome {
    report::say_failure(&format!(
        "{} stays as it is: {why}. Add these lines by hand at the end of `visits`, then `tautline check {}{flag}`",
        path.display(),
        typed(path)
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

fn stopped(path: &Path) -> Outcome {
    eprintln!("\nStopped; {} is as it was.", path.display());
    Outcome::Interrupted
}

/// An interrupt says that nothing was written, and ends.
fn stop_cleanly(path: &Path) {
    let path = path.to_owned();
    // Where the system takes no handler an interrupt ends the program at once; the file is whole all the same.
    let _ = ctrlc::set_handler(move || std::process::exit(stopped(&path).code().into()));
}
