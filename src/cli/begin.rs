//! `begin`: a commented case file, blank or from answers at the terminal.
//!
//! Each answer is read by the reader of case files with all answers before it, and saved at once.

use std::path::Path;
use std::sync::{Arc, Mutex};

use anstream::eprintln;

use super::args::Begin;
use super::notebook::Notebook;
use super::outcome::Outcome;
use super::report;
use super::say::say;
use super::talk::{Record, Talk, is_at_a_terminal};
use crate::case::{Answers, Fault, Question, Remark, begun, questions};

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
    if !is_at_a_terminal() {
        report::say_failure(&format!(
            "there is no terminal to ask at; `tautline begin {} --blank` writes a file to fill in",
            path.display()
        ));
        return Outcome::Unwritten;
    }
    let notebook = Arc::new(Mutex::new(notebook));
    stop_cleanly(&notebook, path);
    let begun = Begun { notebook };
    let mut talk = Talk::new(&begun, questions());
    eprintln!(
        "{} questions, in the order of the case file. Enter alone leaves an optional one out, `<` goes back, Ctrl-C \
         stops and keeps the answers.",
        talk.questions.len()
    );
    match talk.whole() {
        Ok(true) => say(&format!(
            "{} is written and reads well. Next:  tautline check {}\n",
            path.display(),
            path.display()
        )),
        Ok(false) => {
            eprintln!("\n{}", stopped(path, begun.is_saved()));
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

/// A case file that is begun; each answer is saved at once.
struct Begun {
    notebook: Arc<Mutex<Notebook>>,
}

impl Begun {
    fn is_saved(&self) -> bool {
        self.notebook.lock().is_ok_and(|it| it.is_saved())
    }
}

impl Record for Begun {
    fn faults(&self, answers: &Answers) -> Vec<Fault> {
        answers.faults()
    }

    fn remarks(&self, answers: &Answers) -> Vec<Remark> {
        answers.remarks()
    }

    fn is_idle(&self, _: &Question, _: &Answers) -> bool {
        false
    }

    fn keep(&self, answers: &Answers) -> Result<(), String> {
        let mut notebook = self.notebook.lock().map_err(|_| "the notebook is lost".to_owned())?;
        notebook.save(&begun(answers))
    }
}
