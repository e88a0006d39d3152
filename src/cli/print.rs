//! `print`: cases in, papers out; the papers of a case together or not at all.

use std::fs;
use std::path::PathBuf;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Once};
use std::thread;

use super::args::{PaperName, Print};
use super::batch::{self, End, Run, Taken};
use super::clinic::Desk;
use super::gather::{Found, gather};
use super::input::{own_words, words_of_another_language};
use super::interrupt;
use super::ledger::{Form, Ledger};
use super::outcome::Outcome;
use super::packet::{self, Sheet};
use super::password;
use super::pictures;
use super::report;
use super::told::Told;
use super::watch::watch;
use crate::calc::precautions::Level;
use crate::calc::{self, Plan};
use crate::case::{Case, PageSize, TeachBack};
use crate::sheets::{self, Draft, Edition, OwnWords, Paper, Pictures};

/// What holds for every case of one call.
struct Job<'a> {
    wanted: &'a Print,
    own: Vec<OwnWords>,
    /// The password that seals the papers, if they are sealed.
    password: Option<String>,
    /// Whether the papers of a case are typeset side by side: where there is one case alone.
    is_one: bool,
    /// The folder is swept once.
    swept: Once,
}

pub(super) fn print(wanted: &Print) -> Outcome {
    let ready = || Ok((gather(&wanted.cases, wanted.from.as_deref())?, password(wanted)?));
    let (found, password) = match ready() {
        Ok(ready) => ready,
        Err(why) => {
            let why: String = why;
            report::say_failure(&format!("{why}; nothing was printed"));
            return Outcome::Unwritten;
        }
    };
    say_passed(&found);
    let switch = interrupt::switch();
    if !wanted.watch {
        return round(wanted, &found, password.as_deref(), &switch);
    }
    let mut last = Outcome::Done;
    watch(
        &switch,
        || looked_at(wanted, &found),
        || {
            report::open_screen("Watching; Ctrl-C ends.");
            last = round(wanted, &found, password.as_deref(), &switch);
        },
    );
    last
}

/// The files that the papers hang on: those named, and as far as these can be read, what they name.
fn looked_at(wanted: &Print, found: &Found) -> Vec<PathBuf> {
    let named = found.cases.iter().chain(&wanted.words).chain(&wanted.clinic);
    // What is wrong is told by the round.
    let mut untold = Told::default();
    let mut files: Vec<PathBuf> = named.cloned().collect();
    let Ok(desk) = Desk::of(&mut untold, wanted.clinic.as_deref()) else { return files };
    for path in &found.cases {
        match desk.read(&mut untold, path) {
            Ok(known) => {
                let logo_beside = known.logo_beside(path);
                files.extend(pictures::files(path, logo_beside, &known.sound.case));
                files.extend(known.beside);
            }
            Err(unread) => files.extend(unread.beside),
        }
    }
    files
}

/// Prints every case once.
fn round(
    wanted: &Print,
    found: &Found,
    password: Option<&str>,
    switch: &Arc<AtomicBool>,
) -> Outcome {
    let own = match own_words(&wanted.words) {
        Ok(own) => own,
        Err(outcome) => return outcome,
    };
    let desk = match Desk::said(wanted.clinic.as_deref()) {
        Ok(desk) => desk,
        Err(outcome) => return outcome,
    };
    let is_one = found.cases.len() == 1;
    let password = password.map(str::to_owned);
    let job = Job { wanted, own, password, is_one, swept: Once::new() };
    let mut ledger = Ledger::new(Form::of(found.is_one, wanted.json), found.cases.len());
    let jobs = wanted.jobs.or_else(|| thread::available_parallelism().ok());
    let jobs = jobs.map_or(1, std::num::NonZeroUsize::get);
    batch::run(
        &desk,
        &found.cases,
        jobs,
        switch,
        |taken| one(&job, taken),
        |run| ledger.enter(run),
    );
    ledger.close(switch.load(Ordering::Relaxed))
}

/// Names what lies among the cases and is none.
fn say_passed(found: &Found) {
    for path in &found.passed {
        report::say_failure(&format!("{}: no `case:` in it, so it is passed over", path.display()));
    }
}

fn password(wanted: &Print) -> Result<Option<String>, String> {
    match &wanted.seal_from {
        Some(path) => password::from(path).map(Some),
        None if wanted.seal => password::asked().map(Some),
        None => Ok(None),
    }
}

fn one(job: &Job, taken: Taken<'_>) -> Run {
    let Taken { path, known, mut told } = taken;
    let wanted = job.wanted;
    let (case, own, logo_beside) =
        (&known.sound.case, known.words(&job.own), known.logo_beside(path));
    words_of_another_language(&mut told, path, case, &own);
    let plan = calc::plan(case);
    report::findings(&mut told, path, &plan.findings, Level::Stop);
    let (papers, withheld) = papers(wanted, &plan);
    let mut run = Run {
        path: path.to_owned(),
        id: Some(case.head.id.clone()),
        end: End::Unwritten,
        papers: Vec::new(),
        withheld: withheld.iter().map(|it| it.name()).collect(),
        told,
    };
    let Some(pictures) = pictures::load(&mut run.told, path, logo_beside, case) else { return run };
    match write(job, &own, &shown(wanted, case), &plan, &papers, &pictures) {
        Ok(done) => (run.end, run.papers) = done,
        Err(why) => {
            report::failure(&mut run.told, &format!("{}: {why}", path.display()));
            return run;
        }
    }
    if plan.is_withheld() {
        tell_withheld(wanted, &mut run, case);
        run.end = End::Withheld;
    }
    run
}

/// What to print, and what is wanted but withheld.
fn papers(wanted: &Print, plan: &Plan) -> (Vec<Paper>, Vec<Paper>) {
    let asked: Vec<Paper> = wanted.only.iter().map(|name| (*name).into()).collect();
    let is_asked = |paper: &Paper| asked.is_empty() || asked.contains(paper);
    let is_held = |paper: &Paper| plan.is_withheld() && paper.is_withheld_by_a_stop();
    let (held, free) = Paper::ALL.into_iter().filter(is_asked).partition(is_held);
    (free, held)
}

fn tell_withheld(wanted: &Print, run: &mut Run, case: &Case) {
    let told = &mut run.told;
    if !run.withheld.is_empty() {
        report::failure(
            told,
            &format!(
                "{}: {} withheld, because of each stop above. Answer it, or record under `overrides` who \
                 decided otherwise, when and why",
                run.path.display(),
                sheets::listed(&run.withheld)
            ),
        );
    }
    for paper in Paper::ALL.into_iter().filter(|it| it.is_withheld_by_a_stop()) {
        let place = place(wanted, case, paper);
        if place.exists() {
            report::failure(
                told,
                &format!(
                    "{} is from an earlier run and speaks against the stop: take it away",
                    place.display()
                ),
            );
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
    let is_alone =
        !wanted.only.is_empty() && wanted.only.iter().all(|it| matches!(it, PaperName::Handout));
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

/// Typesets all papers, writes all beside their places, then puts all in their places; or finds all there already.
fn write(
    job: &Job,
    own: &[OwnWords],
    case: &Case,
    plan: &Plan,
    papers: &[Paper],
    pictures: &Pictures,
) -> Result<(End, Vec<PathBuf>), String> {
    let Job { wanted, password, .. } = job;
    if papers.is_empty() {
        return Ok((End::Printed, Vec::new()));
    }
    let edition = edition(wanted, case, own, pictures);
    let draft = |paper: &Paper| match paper {
        Paper::Summary if wanted.attach => Draft::with_record(case, plan, edition),
        paper => Draft::of(*paper, case, plan, edition),
    };
    let drafts: Vec<Draft> = papers.iter().map(draft).collect();
    let places: Vec<PathBuf> = papers.iter().map(|it| place(wanted, case, *it)).collect();
    let is_there = |(draft, place): (&Draft, &PathBuf)| {
        let there = fs::read(place).ok().and_then(|it| sheets::identifier(&it));
        there.is_some_and(|it| draft.stamp().is(&it.stamp) && it.is_sealed == password.is_some())
    };
    if (wanted.only_changed || wanted.watch) && drafts.iter().zip(&places).all(is_there) {
        return Ok((End::UpToDate, places));
    }
    let set = if job.is_one {
        sheets::side_by_side(&drafts)
    } else {
        drafts.iter().map(Draft::typeset).collect()
    };
    let set = set.map_err(|fault| {
        format!(
            "a paper could not be typeset, which is a fault of tautline; its papers stay as they \
             were: {fault}"
        )
    })?;
    let sheets = places.into_iter().zip(set).map(|(place, pdf)| {
        let pdf = match password {
            Some(password) => sheets::seal(&pdf, password).map_err(|why| why.to_string())?,
            None => pdf,
        };
        Ok(Sheet { pdf, place })
    });
    let sheets = sheets.collect::<Result<_, String>>()?;
    packet::open(&wanted.out, &job.swept)?;
    Ok((End::Printed, packet::put(sheets, &wanted.out, wanted.replace)?))
}

/// The case as its papers show it: with the patient's initials alone where that is asked.
fn shown(wanted: &Print, case: &Case) -> Case {
    let mut case = case.clone();
    if wanted.initials {
        case.patient.name = case.patient.initials();
    }
    case
}
