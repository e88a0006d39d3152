//! Files and terminal: the only storey that touches the outside world.

mod args;
mod check;
mod figures;
mod input;
mod outcome;
mod packet;
mod password;
mod pictures;
mod print;
mod report;
mod say;

pub use args::Arguments;
pub use outcome::Outcome;

use args::Command;

/// Does what the arguments ask, and says how it went.
#[must_use]
pub fn run(arguments: &Arguments) -> Outcome {
    match &arguments.command {
        Command::Print(wanted) => print::print(wanted),
        Command::Check(wanted) => check::check(wanted),
        Command::Figures(wanted) => figures::figures(wanted),
    }
}
