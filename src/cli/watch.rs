//! `print --watch`: prints again when a file it looks at was saved.
//!
//! Files are looked at, not listened to: that sees a save on a network drive too, and brings no event loop along.

use std::collections::BTreeMap;
use std::fs;
use std::path::PathBuf;
use std::sync::atomic::{AtomicBool, Ordering};
use std::thread::sleep;
use std::time::{Duration, SystemTime};

/// How often files are looked at.
const PAUSE: Duration = Duration::from_millis(250);

/// What tells one save from another; nothing while a file is away.
type Mark = Option<(SystemTime, u64)>;

fn marks(files: &[PathBuf]) -> BTreeMap<PathBuf, Mark> {
    let mark = |file: &PathBuf| {
        let known = fs::metadata(file).ok()?;
        Some((known.modified().ok()?, known.len()))
    };
    files.iter().map(|file| (file.clone(), mark(file))).collect()
}

/// Calls `round` now and after each save of one of its files, until `stop`; a round gives the files that the next one
/// hangs on.
///
/// A file that still changes is being saved, and is waited for.
pub(super) fn watch(
    stop: &AtomicBool,
    mut files: Vec<PathBuf>,
    mut round: impl FnMut() -> Vec<PathBuf>,
) {
    while !stop.load(Ordering::Relaxed) {
        let before = marks(&files);
        files = round();
        let mut seen = marks(&files);
        // What was saved while the round went on counts.
        let mut is_due =
            seen.iter().any(|(file, mark)| before.get(file).is_some_and(|old| old != mark));
        loop {
            sleep(PAUSE);
            if stop.load(Ordering::Relaxed) {
                return;
            }
            let now = marks(&files);
            if now != seen {
                is_due = true;
                seen = now;
            } else if is_due {
                break;
            }
        }
    }
}
