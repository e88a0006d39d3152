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

/// Calls `round` now and after each save of one of the files that `look` names, until `stop`.
///
/// A file that still changes is being saved, and is waited for. Marks are taken before a round reads, so that no save
/// is missed while it goes on.
pub(super) fn watch(
    stop: &AtomicBool,
    mut look: impl FnMut() -> Vec<PathBuf>,
    mut round: impl FnMut(),
) {
    while !stop.load(Ordering::Relaxed) {
        let before = marks(&look());
        round();
        let files = look();
        let mut seen = marks(&files);
        let mut is_due = seen != before;
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
