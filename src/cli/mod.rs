//! Files and terminal: the only storey that touches the outside world.

mod args;
mod batch;
mod begin;
mod check;
mod clinic;
mod figures;
mod fold;
mod gather;
mod input;
mod interrupt;
mod ledger;
mod manual;
mod measuring_sheet;
mod notebook;
mod outcome;
mod packet;
mod password;
mod pictures;
mod plain;
mod print;
mod report;
mod say;
mod stuck;
mod talk;
mod told;
mod unfinished;
mod visit;
mod watch;

pub use args::Arguments;
pub use outcome::Outcome;
pub use stuck::refused;

use args::Command;

/// Does what the arguments ask, and says how it went.
#[must_use]
pub fn run(arguments: &Arguments) -> Outcome {
    match &arguments.command {
        Command::Begin(wanted) => begin::begin(wanted),
        Command::Visit(wanted) => visit::visit(wanted),
        Command::Print(wanted) => print::print(wanted),
        Command::Check(wanted) => check::check(wanted),
        Command::Completions { shell } => manual::completions(*shell),
        Command::Man { command } => manual::page(command.as_deref()),
        Command::MeasuringSheet(wanted) => measuring_sheet::measuring_sheet(wanted),
        Command::Schema { clinic: true } => say::say(&crate::case::profile_schema()),
        Command::Schema { clinic: false } => say::say(&crate::case::schema()),
        Command::Figures(wanted) => figures::figures(wanted),
    }
}
