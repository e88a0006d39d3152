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

impl Outcome {
    /// The exit code.
    pub(super) fn code(self) -> u8 {
        match self {
            Self::Done => 0,
            Self::Withheld => 1,
            Self::Faults => 2,
            Self::Unwritten => 3,
            // What shells give for an end by SIGINT: 128 and the signal's number.
            Self::Interrupted => 130,
        }
    }
}

impl From<Outcome> for ExitCode {
    fn from(outcome: Outcome) -> Self {
        Self::from(outcome.code())
    }
}
