//! `begin`: a commented case file, blank or from answers at the terminal.
//!
//! Each answer is read by the reader of case files with all answers before it, and saved at once.

use std::path::Path;
use std::sync::{Arc, Mutex};

use super::args::Begin;
use super::clinic::{Desk, name_for};
use super::fold::tell;
use super::input::{folder_of, typed, whole};
use super::notebook::Notebook;
use super::outcome::Outcome;
use super::report;
use super::say::say;
use super::stuck::is_yaml;
use super::talk::{Record, Talk, is_at_a_terminal};
use super::told::Told;
use crate::case::{Answers, Beginning, Fault, Question, Remark, Typed};

pub(super) fn begin(wanted: &Begin) -> Outcome {
    let path = &wanted.file;
    if let Some(why) = nowhere(path) {
        return unwritten(&why);
    }
    let desk = match Desk::said(wanted.clinic.as_deref()) {
        Ok(desk) => desk,
        Err(outcome) => return outcome,
    };
    let (beginning, flag) = match beginning(&desk, path) {
        Ok(ready) => ready,
        Err(outcome) => return outcome,
    };
    let next = format!("tautline check {}{flag}", typed(path));
    let is_there = path.symlink_metadata().is_ok();
    let is_asked = !wanted.blank && is_at_a_terminal();
    let begun = is_there.then(|| unfinished(&beginning, path).filter(|_| is_asked));
    if let Some(None) = begun {
        return unwritten(&format!(
            "{} is there already and stays as it is; `{next}` says what it lacks",
            path.display()
        ));
    }
    if wanted.blank {
        return match Notebook::new(path).save(&beginning.text(&Answers::default())) {
            Ok(()) => say(&format!(
                "{}\nFill it in with an editor. `{next}` then says what is still missing.\n",
                path.display()
            )),
            Err(why) => unwritten(&why),
        };
    }
    if !is_asked {
        return unwritten(&format!(
            "there is no terminal to ask at; `tautline begin {} --blank{}` writes a file to fill in",
            typed(path),
            desk.flag()
        ));
    }
    let again = format!("tautline begin {}{}", typed(path), desk.flag());
    asked(&Ways { path, next, again }, beginning, begun.flatten())
}

/// A file under way, the command behind it and the one that goes on with it.
struct Ways<'w> {
    path: &'w Path,
    next: String,
    again: String,
}

/// Asks from the start, or behind the answers that a begun file has.
fn asked(ways: &Ways<'_>, beginning: Beginning, answers: Option<(Answers, Typed)>) -> Outcome {
    let Ways { path, next, .. } = ways;
    let notebook = if answers.is_some() { Notebook::resumed(path) } else { Notebook::new(path) };
    let notebook = Arc::new(Mutex::new(notebook));
    stop_cleanly(&notebook, ways);
    let begun = Begun { notebook, beginning };
    let mut talk = Talk::new(&begun, begun.beginning.questions());
    tell!(
        "{} questions, in the order of the case file. Enter alone leaves an optional one out, `<` goes back, Ctrl-C \
         stops and keeps the answers.",
        talk.questions.len()
    );
    let is_whole = match answers {
        Some(answers) => {
            tell!("{} is begun; the questions go on behind its last answer.", path.display());
            talk.on_from(answers)
        }
        None => talk.whole(),
    };
    match is_whole {
        Ok(true) => say(&format!("{} is written and reads well. Next:  {next}\n", path.display())),
        Ok(false) => {
            tell!("\n{}", stopped(path, begun.is_saved(), &ways.again));
            Outcome::Faults
        }
        Err(why) => unwritten(&why),
    }
}

/// The answers of a file that was begun, was not touched since and lacks something.
fn unfinished(beginning: &Beginning, path: &Path) -> Option<(Answers, Typed)> {
    let is_file = path.symlink_metadata().is_ok_and(|it| it.is_file());
    let bytes = whole(path).ok().filter(|_| is_file)?;
    beginning.resumed(&bytes).filter(|(answers, _)| !beginning.faults(answers).is_empty())
}

/// Why no file can be at a place, and what to do.
fn nowhere(path: &Path) -> Option<String> {
    let shown = path.display();
    if path.is_dir() {
        return Some(format!(
            "{shown} is a folder; name the file to begin in it:  tautline begin {}",
            typed(&path.join("case.yaml"))
        ));
    }
    if !is_yaml(path) && path.symlink_metadata().is_err() {
        let mut named = path.as_os_str().to_owned();
        named.push(".yaml");
        return Some(format!(
            "{shown} has no ending by which editors and folders know a case file:  tautline begin {}",
            typed(Path::new(&named))
        ));
    }
    let folder = folder_of(path);
    (!folder.is_dir()).then(|| {
        format!(
            "there is no folder {} to begin {shown} in; make it first, or name a file in a folder that is there",
            folder.display()
        )
    })
}

/// The questions and the file with the profile that was given, and what the next command must be given too: the profile,
/// where the file cannot name it.
fn beginning(desk: &Desk, path: &Path) -> Result<(Beginning, String), Outcome> {
    let Some((profile, bytes)) = desk.given() else {
        return Ok((Beginning::default(), String::new()));
    };
    let name = name_for(path, profile);
    let is_named = name.is_some();
    let mut told = Told::default();
    let beginning = Beginning::with(bytes.to_owned(), name).map_err(|faults| {
        let next = format!("tautline begin {}{}", typed(path), desk.flag());
        report::faults_before(&mut told, desk.files(profile, Some(profile)), &faults, &next);
        Outcome::Faults
    });
    let beginning = beginning.inspect_err(|_| told.say())?;
    if is_named {
        return Ok((beginning, String::new()));
    }
    let file = profile.file_name().unwrap_or_default().to_string_lossy();
    report::say_failure(&format!(
        "{} does not name the clinic's profile, since {} lies neither beside it, nor in a folder below it, nor in the folder \
         above. Give `{}` with each command; or put the profile there and write `profile: {file}` below `clinic:`",
        path.display(),
        profile.display(),
        desk.flag().trim()
    ));
    Ok((beginning, desk.flag()))
}

fn unwritten(why: &str) -> Outcome {
    report::say_failure(why);
    Outcome::Unwritten
}

/// What is said when the questions end early.
fn stopped(path: &Path, is_saved: bool, again: &str) -> String {
    if !is_saved {
        return "Stopped; nothing was written.".into();
    }
    format!(
        "Stopped. {} holds the answers so far. `{again}` goes on with the questions.",
        path.display()
    )
}

/// An interrupt waits for a save under way, says what is kept, and ends.
fn stop_cleanly(notebook: &Arc<Mutex<Notebook>>, ways: &Ways<'_>) {
    let (notebook, path, again) = (Arc::clone(notebook), ways.path.to_owned(), ways.again.clone());
    let handler = move || {
        let is_saved = notebook.lock().is_ok_and(|it| it.is_saved());
        tell!("\n{}", stopped(&path, is_saved, &again));
        std::process::exit(Outcome::Interrupted.code().into());
    };
    // Where the system takes no handler an interrupt ends the program at once; each save is whole all the same.
    let _ = ctrlc::set_handler(handler);
}

/// A case file that is begun; each answer is saved at once.
struct Begun {
    notebook: Arc<Mutex<Notebook>>,
    beginning: Beginning,
}

impl Begun {
    fn is_saved(&self) -> bool {
        self.notebook.lock().is_ok_and(|it| it.is_saved())
    }
}

impl Record for Begun {
    fn faults(&self, answers: &Answers) -> Vec<Fault> {
        self.beginning.faults(answers)
    }

    fn remarks(&self, answers: &Answers) -> Vec<Remark> {
        self.beginning.remarks(answers)
    }

    fn is_idle(&self, _: &Question, _: &Answers) -> bool {
        false
    }

    fn takes(&self, question: &Question) -> Option<String> {
        self.beginning.takes(question)
    }

    fn keep(&self, answers: &Answers, _: &Question) -> Result<(), String> {
        let mut notebook = self.notebook.lock().map_err(|_| "the notebook is lost".to_owned())?;
        notebook.save(&self.beginning.text(answers))
    }
}
