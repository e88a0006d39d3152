//! Many cases side by side: each worker takes the next, and what they tell comes out in the order of the cases.

use std::collections::BTreeMap;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex, PoisonError, mpsc};
use std::thread;

use super::clinic::{Desk, Known, Unread};
use super::outcome::Outcome;
use super::report;
use super::told::Told;

/// One case at the hands of a worker: read, and its id not taken by a case before it.
pub(super) struct Taken<'q> {
    pub(super) path: &'q Path,
    pub(super) known: Known,
    pub(super) told: Told,
}

/// What became of a case.
#[derive(Debug)]
pub(super) struct Run {
    pub(super) path: PathBuf,
    /// The case's id, once it was read.
    pub(super) id: Option<String>,
    pub(super) end: End,
    /// Papers put in their places.
    pub(super) papers: Vec<PathBuf>,
    /// Papers withheld by a stop.
    pub(super) withheld: Vec<&'static str>,
    pub(super) told: Told,
}

/// How a case ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum End {
    /// Its papers are in their places.
    Printed,
    /// Its papers were in their places already.
    UpToDate,
    /// A stop withholds some; the others are in their places.
    Withheld,
    /// Its file has faults.
    Faulty,
    /// Something could not be read or written.
    Unwritten,
}

impl End {
    pub(super) fn outcome(self) -> Outcome {
        match self {
            Self::Printed | Self::UpToDate => Outcome::Done,
            Self::Withheld => Outcome::Withheld,
            Self::Faulty => Outcome::Faults,
            Self::Unwritten => Outcome::Unwritten,
        }
    }

    pub(super) fn word(self) -> &'static str {
        match self {
            Self::Printed => "printed",
            Self::UpToDate => "up to date",
            Self::Withheld => "withheld",
            Self::Faulty => "faulty",
            Self::Unwritten => "not printed",
        }
    }
}

/// The cases still to do, read one at a time so that an id goes to the case that was named first.
struct Queue<'q> {
    desk: &'q Desk,
    paths: &'q [PathBuf],
    next: usize,
    /// Ids in small letters, and whose each is.
    ids: BTreeMap<String, &'q Path>,
}

/// What comes off the queue: its number, and a case or what was wrong with it.
type Next<'q> = (usize, Result<Taken<'q>, Run>);

impl<'q> Queue<'q> {
    fn take(&mut self) -> Option<Next<'q>> {
        let number = self.next;
        let path = self.paths.get(number)?;
        self.next += 1;
        let mut told = Told::default();
        let desk = self.desk;
        let read = catch_unwind(AssertUnwindSafe(|| desk.read(&mut told, path)));
        let known = match read {
            Ok(Ok(known)) => known,
            Err(_) => return Some((number, Err(fault_of_ours(path, None)))),
            Ok(Err(Unread { outcome, .. })) => {
                let end = if outcome == Outcome::Faults { End::Faulty } else { End::Unwritten };
                return Some((number, Err(Run::unread(path, None, end, told))));
            }
        };
        let id = known.sound.case.head.id.clone();
        // Some file systems do not tell `qb-1` from `QB-1`.
        let same = id.to_lowercase();
        if let Some(first) = self.ids.get(&same) {
            report::failure(
                &mut told,
                &format!(
                    "{}: the case id {id} is that of {} too; its papers would be overwritten. Give each case \
                     its own `case.id`",
                    path.display(),
                    first.display()
                ),
            );
            return Some((number, Err(Run::unread(path, Some(id), End::Faulty, told))));
        }
        self.ids.insert(same, path);
        Some((number, Ok(Taken { path, known, told })))
    }
}

impl Run {
    fn unread(path: &Path, id: Option<String>, end: End, told: Told) -> Self {
        let (papers, withheld) = (Vec::new(), Vec::new());
        Self { path: path.to_owned(), id, end, papers, withheld, told }
    }
}

/// Works on every case, `jobs` at a time, and shows each as it ends, in order; stops between cases when `stop` says so.
///
/// A fault of ours in one case ends that case alone.
pub(super) fn run(
    desk: &Desk,
    paths: &[PathBuf],
    jobs: usize,
    stop: &Arc<AtomicBool>,
    work: impl Fn(Taken<'_>) -> Run + Sync,
    mut show: impl FnMut(Run),
) {
    let queue = Mutex::new(Queue { desk, paths, next: 0, ids: BTreeMap::new() });
    let take = || {
        let is_over = stop.load(Ordering::Relaxed);
        if is_over { None } else { queue.lock().unwrap_or_else(PoisonError::into_inner).take() }
    };
    let (ended, ends) = mpsc::channel::<(usize, Run)>();
    thread::scope(|scope| {
        for _ in 0..jobs.min(paths.len()).max(1) {
            let (ended, work, take) = (ended.clone(), &work, &take);
            scope.spawn(move || {
                while let Some((number, next)) = take() {
                    let run = next.map_or_else(|run| run, |taken| guarded(work, taken));
                    if ended.send((number, run)).is_err() {
                        break;
                    }
                }
            });
        }
        drop(ended);
        let mut early: BTreeMap<usize, Run> = BTreeMap::new();
        let mut due = 0;
        for (number, run) in ends {
            early.insert(number, run);
            while let Some(run) = early.remove(&due) {
                show(run);
                due += 1;
            }
        }
    });
}

/// One case's work, which may not take the others down with it.
fn guarded(work: &(impl Fn(Taken<'_>) -> Run + Sync), taken: Taken<'_>) -> Run {
    let (path, id) = (taken.path, taken.known.sound.case.head.id.clone());
    catch_unwind(AssertUnwindSafe(|| work(taken))).unwrap_or_else(|_| fault_of_ours(path, Some(id)))
}

fn fault_of_ours(path: &Path, id: Option<String>) -> Run {
    let mut told = Told::default();
    report::failure(
        &mut told,
        &format!(
            "{}: a fault of tautline stopped this case; its papers stay as they were",
            path.display()
        ),
    );
    Run::unread(path, id, End::Unwritten, told)
}
