//! Arguments in, exit code out.

use std::process::ExitCode;

use clap::Parser;
use tautline::cli::{Arguments, refused, run};

fn main() -> ExitCode {
    let outcome = match Arguments::try_parse() {
        Ok(arguments) => run(&arguments),
        Err(error) => refused(&error),
    };
    outcome.into()
}
