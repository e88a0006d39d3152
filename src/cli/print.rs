//! `print`: cases in, papers out; the papers of a case together or not at all.

use std::collections::BTreeMap;
use std::fs;
use std::io::Write;
use std::path::{Path, PathBuf};

use tempfile::NamedTempFile;

use super::args::{PaperName, Print};
use super::input::{own_words, plain, read, words_of_another_language};
use super::outcome::Outcome;
use super::report;
use super::say::say;
use crate::calc::precautions::Level;
use crate::calc::{self, Plan};
use crate::case::{Case, PageSize, TeachBack};
use crate::sheets::{self, Edition, LayoutFault, OwnWords, Paper};

/// A paper ready to be put in its place.
struct Ready {
    file: NamedTempFile,
    place: PathBuf,
}

pub(super) fn print(wanted: &Print) -> Outcome {
    let own = match own_words(&wanted.words) {
        Ok(own) => own,
        Err(outcome) => return outcome,
    };
    let mut printed: BTreeMap<String, &Path> = BTreeMap::new();
    let mut worst = Outcome::Done;
    for path in &wanted.cases {
        let outcome = read(path).map_or_else(
            |outcome| outcome,
            |sound| match printed.insert(sound.case.head.id.clone(), path) {
                None => one(wanted, path, &sound.case, &own),
                Some(first) => same_id(path, first, &sound.case.head.id),
            },
        );
        worst = worst.max(outcome);
    }
    worst
}

/// Two files with one id would overwrite each other's papers.
fn same_id(path: &Path, first: &Path, id: &str) -> Outcome {
    report::failure(&format!(
        "{}: the case id {id} is that of {} too; its papers would be overwritten. Give each case \
         its own `case.id`",
        path.display(),
        first.display()
    ));
    Outcome::Faults
}

fn one(wanted: &Print, path: &Path, case: &Case, own: &[OwnWords]) -> Outcome {
    words_of_another_language(path, case, own);
    let plan = calc::plan(case);
    report::findings(path, &plan.findings, Level::Stop);
    let (papers, withheld) = papers(wanted, &plan);
    let mut outcome = match write(wanted, case, &plan, &papers, own) {
        Ok(places) => {
            let lines: String = places.iter().map(|it| format!("{}\n", it.display())).collect();
            say(&lines)
        }
        Err(why) => {
            report::failure(&format!("{}: {why}", path.display()));
            return Outcome::Unwritten;
        }
    };
    if plan.is_withheld() {
        say_withheld(wanted, path, case, &withheld);
        outcome = outcome.max(Outcome::Withheld);
    }
    outcome
}

/// What to print, and what is wanted but withheld.
fn papers(wanted: &Print, plan: &Plan) -> (Vec<Paper>, Vec<Paper>) {
    let asked: Vec<Paper> = wanted.only.iter().map(|name| (*name).into()).collect();
    let is_asked = |paper: &Paper| asked.is_empty() || asked.contains(paper);
    let is_held = |paper: &Paper| plan.is_withheld() && paper.is_withheld_by_a_stop();
    let (held, free) = Paper::ALL.into_iter().filter(is_asked).partition(is_held);
    (free, held)
}

fn say_withheld(wanted: &Print, path: &Path, case: &Case, withheld: &[Paper]) {
    if !withheld.is_empty() {
        let names: Vec<&str> = withheld.iter().map(|paper| paper.name()).collect();
        report::failure(&format!(
            "{}: {} withheld, because of each stop above. Answer it, or record under `overrides` who \
             decided otherwise, when and why",
            path.display(),
            report::listed(&names)
        ));
    }
    for paper in Paper::ALL.into_iter().filter(|it| it.is_withheld_by_a_stop()) {
        let place = place(wanted, case, paper);
        if place.exists() {
            report::failure(&format!(
                "{} is from an earlier run and speaks against the stop: take it away",
                place.display()
            ));
        }
    }
}

fn place(wanted: &Print, case: &Case, paper: Paper) -> PathBuf {
    wanted.out.join(format!("{}-{}.pdf", case.head.id, paper.name()))
}

/// The handout that is printed alone is the patient's copy; beside other papers it is the clinic's.
fn edition<'w>(wanted: &Print, case: &Case, own: &'w [OwnWords]) -> Edition<'w> {
    let is_alone = matches!(wanted.only[..], [PaperName::Handout]);
    Edition {
        page: wanted.page.map_or(case.clinic.page, PageSize::from),
        teach_back: match case.head.teach_back {
            TeachBack::Always => true,
            TeachBack::ClinicCopy => !is_alone,
            TeachBack::Never => false,
        },
        words: own,
    }
}

/// Typesets all papers, writes all beside their places, then puts all in their places.
fn write(
    wanted: &Print,
    case: &Case,
    plan: &Plan,
    papers: &[Paper],
    own: &[OwnWords],
) -> Result<Vec<PathBuf>, String> {
    if papers.is_empty() {
        return Ok(Vec::new());
    }
    let edition = edition(wanted, case, own);
    let folder = &wanted.out;
    let ours = |fault: LayoutFault| {
        format!(
            "a paper could not be typeset, which is a fault of tautline; its papers stay as they \
             were: {fault}"
        )
    };
    let mut set = sheets::typeset(papers, case, plan, edition).map_err(ours)?;
    let summary = papers.iter().position(|it| *it == Paper::Summary);
    if let Some(index) = summary.filter(|_| wanted.attach) {
        set[index] = sheets::with_record(case, plan, edition).map_err(ours)?;
    }
    fs::create_dir_all(folder).map_err(|error| {
        format!("cannot make the folder {}: {}", folder.display(), plain(&error))
    })?;
    let ready: Result<Vec<Ready>, String> = papers
        .iter()
        .zip(set)
        .map(|(paper, pdf)| beside(&pdf, place(wanted, case, *paper)))
        .collect();
    put_all(ready.map_err(|why| format!("{why}; its papers stay as they were"))?)
}

/// Puts each paper in its place. All of them lie whole beside their places by now, so that only a
/// failing rename can part them; then the report says which are new.
fn put_all(ready: Vec<Ready>) -> Result<Vec<PathBuf>, String> {
    let mut done: Vec<PathBuf> = Vec::new();
    for paper in ready {
        match put(paper) {
            Ok(place) => done.push(place),
            Err(why) if done.is_empty() => {
                return Err(format!("{why}; its papers stay as they were"));
            }
            Err(why) => {
                let new: Vec<String> = done.iter().map(|it| it.display().to_string()).collect();
                return Err(format!("{why}; new already: {}", new.join(", ")));
            }
        }
    }
    Ok(done)
}

/// Writes a paper to a temporary file in the folder it belongs to.
fn beside(pdf: &[u8], place: PathBuf) -> Result<Ready, String> {
    if place.is_dir() {
        return Err(format!("{} is a folder", place.display()));
    }
    let folder = place.parent().unwrap_or(Path::new("."));
    let write = || {
        let mut file = NamedTempFile::new_in(folder)?;
        file.write_all(pdf)?;
        file.as_file().sync_all()?;
        Ok(file)
    };
    let file =
        write().map_err(|error| format!("cannot write {}: {}", place.display(), plain(&error)))?;
    Ok(Ready { file, place })
}

fn put(ready: Ready) -> Result<PathBuf, String> {
    let Ready { file, place } = ready;
    match file.persist(&place) {
        Ok(_) => Ok(place),
        Err(error) => Err(format!("cannot write {}: {}", place.display(), plain(&error.error))),
    }
}
