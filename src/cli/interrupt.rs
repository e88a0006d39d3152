//! The wish to stop: the case under way is finished, so that no packet is left half new and half old.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

use super::report;

/// A switch that an interrupt (Ctrl-C, or the end of the session) throws.
pub(super) fn switch() -> Arc<AtomicBool> {
    let switch = Arc::new(AtomicBool::new(false));
    let thrown = Arc::clone(&switch);
    let handler = move || {
        if !thrown.swap(true, Ordering::Relaxed) {
            report::say_failure("stopping: the papers under way are finished first");
        }
    };
    // Where the system takes no handler an interrupt ends the program at once, and each paper is whole all the same.
    let _ = ctrlc::set_handler(handler);
    switch
}
