//! How a run went, as an exit code.

use std::process::ExitCode;

/// How a run went; of several cases the worst counts, in this order.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Outcome {
    /// All done.
    Done,
    /// Papers withheld by a stop-level finding.
    Withheld,
    /// Faults in a case file.
    Faults,
    /// A file could not be read or written.
    Unwritten,
    /// Stopped by an interrupt before all cases were done.
    Interrupted,
}

impl From<Outcome> for ExitCode {
    fn from(outcome: Outcome) -> Self {
        Self::from(match outcome {
            Outcome::Done => 0,
            Outcome::Withheld => 1,
            Outcome::Faults => 2,
            Outcome::Unwritten => 3,
            // What shells give for an end by SIGINT: 128 and the signal's number.
            Outcome::Interrupted => 130,
        })
    }
}
