//! The answers of a visit under way, kept beside the case file until the visit is written, so that a stop loses none.

use std::fs;
use std::path::{Path, PathBuf};

use jiff::civil::Date;

use super::fold::tell;
use super::input::{folder_of, whole};
use super::notebook::Notebook;
use crate::case::{Answers, Question, Typed, Visiting};

/// The file of one day's answers.
struct Kept {
    day: Date,
    notebook: Notebook,
    /// Whether it was begun this time.
    is_new: bool,
}

/// What stands between the case file's name and the day, and behind the day.
const NAME: (&str, &str) = (".visit-", ".unfinished");

/// Answers that are kept, and those of an earlier time that are still to be offered.
pub(super) struct Unfinished {
    case: PathBuf,
    /// The day that is offered first.
    newest: Option<Date>,
    /// The file of the day that is answered.
    kept: Option<Kept>,
    offered: Typed,
    /// Whether nothing can be kept; that is said once.
    is_off: bool,
}

impl Unfinished {
    /// Says of which days answers are kept; those of a visit that the file has are not offered.
    pub(super) fn of(path: &Path, visiting: &Visiting) -> Self {
        // A link leads to the file that is meant.
        let case = path.canonicalize().unwrap_or_else(|_| path.to_owned());
        let (there, open): (Vec<Date>, Vec<Date>) =
            days(&case).into_iter().partition(|it| visiting.has(*it));
        for day in there {
            tell!(
                "{} holds answers of {day}, and a visit of that day is in the file already: take it away when nothing in it is wanted.",
                shown(path, &place(&case, day))
            );
        }
        for day in &open {
            tell!(
                "The visit of {day} was stopped; its answers are kept in {} and are offered in brackets: Enter takes one, `-` leaves \
                 it out.",
                shown(path, &place(&case, *day))
            );
        }
        Self {
            case,
            newest: open.last().copied(),
            kept: None,
            offered: Typed::new(),
            is_off: false,
        }
    }

    /// An answer of the time before.
    pub(super) fn offered(&self, visiting: &Visiting, question: &Question) -> Option<String> {
        if visiting.asks_day(question) {
            return self.newest.map(|it| it.to_string());
        }
        self.offered.get(&question.path).cloned()
    }

    /// Keeps the answers so far.
    pub(super) fn keep(&mut self, visiting: &Visiting, answers: &Answers, newest: &Question) {
        let Some(day) = visiting.date(answers) else { return };
        if visiting.asks_day(newest) {
            self.turn_to(visiting, day);
        }
        self.offered.remove(&newest.path);
        let Some(text) = visiting.unfinished(answers, &self.offered).filter(|_| !self.is_off)
        else {
            return;
        };
        let Some(kept) = &mut self.kept else { return };
        if let Err(why) = kept.notebook.save(&text) {
            tell!("  {why}; the answers are not kept until the visit is written.");
            self.is_off = true;
        }
    }

    /// Goes on with what is kept of a day; a day that was mistaken leaves no file.
    fn turn_to(&mut self, visiting: &Visiting, day: Date) {
        match &self.kept {
            Some(kept) if kept.day == day => return,
            Some(kept) if kept.is_new => self.done(),
            _ => {}
        }
        let place = place(&self.case, day);
        self.offered = Typed::new();
        self.is_off = false;
        if !place.exists() {
            self.kept = Some(Kept { day, notebook: Notebook::new(&place), is_new: true });
            return;
        }
        if let Some(typed) = whole(&place).ok().and_then(|it| visiting.resumed(&it)) {
            self.offered = typed;
            self.kept = Some(Kept { day, notebook: Notebook::resumed(&place), is_new: false });
        } else {
            tell!(
                "  {} cannot be read as answers and stays as it is; the answers are not kept until the visit is written.",
                place.display()
            );
            self.kept = None;
            self.is_off = true;
        }
    }

    /// Where answers are kept.
    pub(super) fn place(&self) -> Option<&Path> {
        let notebook = self.kept.as_ref().map(|it| &it.notebook);
        notebook.filter(|it| it.is_saved()).map(Notebook::path)
    }

    /// Takes the kept answers away: they stand in the case file.
    pub(super) fn done(&mut self) {
        if let Some(place) = self.place() {
            // One that stays is offered again, and the day tells that it is in the file.
            let _ = fs::remove_file(place);
        }
        self.kept = None;
    }
}

/// Where the answers of a day are kept.
fn place(case: &Path, day: Date) -> PathBuf {
    let mut name = case.file_name().unwrap_or_default().to_owned();
    name.push(format!("{}{day}{}", NAME.0, NAME.1));
    case.with_file_name(name)
}

/// A kept file as the user named the folder.
pub(super) fn shown(path: &Path, place: &Path) -> String {
    path.with_file_name(place.file_name().unwrap_or_default()).display().to_string()
}

/// The days of which answers are kept, the newest last.
fn days(case: &Path) -> Vec<Date> {
    let Some(name) = case.file_name().and_then(|it| it.to_str()) else { return Vec::new() };
    let Ok(entries) = fs::read_dir(folder_of(case)) else { return Vec::new() };
    let day = |file: String| -> Option<Date> {
        file.strip_prefix(name)?.strip_prefix(NAME.0)?.strip_suffix(NAME.1)?.parse().ok()
    };
    let names = entries.filter_map(|it| it.ok()?.file_name().into_string().ok());
    let mut days: Vec<Date> = names.filter_map(day).collect();
    days.sort_unstable();
    days
}
