//! Arguments in, exit code out.

use std::process::ExitCode;

use clap::Parser;
use tautline::cli::{Arguments, run};

fn main() -> ExitCode {
    run(&Arguments::parse()).into()
}
