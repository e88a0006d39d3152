//! `print`: cases in, papers out; the papers of a case together or not at all.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use super::args::{PaperName, Print};
use super::input::{own_words, read, words_of_another_language};
use super::outcome::Outcome;
use super::packet::{self, Sheet};
use super::password;
use super::pictures;
use super::report;
use super::say::say;
use crate::calc::precautions::Level;
use crate::calc::{self, Plan};
use crate::case::{Case, PageSize, TeachBack};
use crate::sheets::{self, Edition, LayoutFault, OwnWords, Paper, Pictures};

/// What holds for every case of one call.
struct Job<'a> {
    wanted: &'a Print,
    own: Vec<OwnWords>,
    /// The password that seals the papers, if they are sealed.
    password: Option<String>,
}

pub(super) fn print(wanted: &Print) -> Outcome {
    let own = match own_words(&wanted.words) {
        Ok(own) => own,
        Err(outcome) => return outcome,
    };
    let password = match password(wanted) {
        Ok(password) => password,
        Err(why) => {
            report::failure(&format!("{why}; nothing was printed"));
            return Outcome::Unwritten;
        }
    };
    let job = Job { wanted, own, password };
    let mut printed: BTreeMap<String, &Path> = BTreeMap::new();
    let mut worst = Outcome::Done;
    for path in &wanted.cases {
        let outcome = read(path).map_or_else(
            |outcome| outcome,
            |sound| match printed.insert(sound.case.head.id.clone(), path) {
                None => one(&job, path, &sound.case),
                Some(first) => same_id(path, first, &sound.case.head.id),
            },
        );
        worst = worst.max(outcome);
    }
    worst
}

fn password(wanted: &Print) -> Result<Option<String>, String> {
    match &wanted.seal_from {
        Some(path) => password::from(path).map(Some),
        None if wanted.seal => password::asked().map(Some),
        None => Ok(None),
    }
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

fn one(job: &Job, path: &Path, case: &Case) -> Outcome {
    let wanted = job.wanted;
    words_of_another_language(path, case, &job.own);
    let plan = calc::plan(case);
    report::findings(path, &plan.findings, Level::Stop);
    let (papers, withheld) = papers(wanted, &plan);
    let Some(pictures) = pictures::load(path, case) else { return Outcome::Unwritten };
    let mut outcome = match write(job, &shown(wanted, case), &plan, &papers, &pictures) {
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
fn edition<'w>(
    wanted: &Print,
    case: &Case,
    own: &'w [OwnWords],
    pictures: &'w Pictures,
) -> Edition<'w> {
    let is_alone = matches!(wanted.only[..], [PaperName::Handout]);
    Edition {
        page: wanted.page.map_or(case.clinic.page, PageSize::from),
        teach_back: match case.head.teach_back {
            TeachBack::Always => true,
            TeachBack::ClinicCopy => !is_alone,
            TeachBack::Never => false,
        },
        words: own,
        pictures,
    }
}

/// Typesets all papers, writes all beside their places, then puts all in their places.
fn write(
    job: &Job,
    case: &Case,
    plan: &Plan,
    papers: &[Paper],
    pictures: &Pictures,
) -> Result<Vec<PathBuf>, String> {
    let Job { wanted, own, password } = job;
    if papers.is_empty() {
        return Ok(Vec::new());
    }
    let edition = edition(wanted, case, own, pictures);
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
    let sheets = papers.iter().zip(set).map(|(paper, pdf)| {
        let pdf = match password {
            Some(password) => sheets::seal(&pdf, password).map_err(|why| why.to_string())?,
            None => pdf,
        };
        Ok(Sheet { pdf, place: place(wanted, case, *paper) })
    });
    packet::put(sheets.collect::<Result<_, String>>()?, &wanted.out, wanted.replace)
}

/// The case as its papers show it: with the patient's initials alone where that is asked.
fn shown(wanted: &Print, case: &Case) -> Case {
    let mut case = case.clone();
    if wanted.initials {
        case.patient.name = case.patient.initials();
    }
    case
}
