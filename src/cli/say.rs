//! Standard output: a closed pipe ends a run quietly, a full disk is a failure.

use std::io::{ErrorKind, Write, stdout};

use super::input::plain;
use super::outcome::Outcome;
use super::report;

/// Writes text to standard output.
pub(super) fn say(text: &str) -> Outcome {
    let mut out = stdout().lock();
    match out.write_all(text.as_bytes()).and_then(|()| out.flush()) {
        Ok(()) => Outcome::Done,
        // Whoever read has seen enough.
        Err(error) if error.kind() == ErrorKind::BrokenPipe => Outcome::Done,
        Err(error) => {
            report::say_failure(&format!("cannot write to standard output: {}", plain(&error)));
            Outcome::Unwritten
        }
    }
}
