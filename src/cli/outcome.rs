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
}

impl From<Outcome> for ExitCode {
    fn from(outcome: Outcome) -> Self {
        Self::from(match outcome {
            Outcome::Done => 0,
            Outcome::Withheld => 1,
            Outcome::Faults => 2,
            Outcome::Unwritten => 3,
        })
    }
}
