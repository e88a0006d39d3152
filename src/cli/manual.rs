//! Manual pages and shell completions, made from the same arguments that are read.

use clap::CommandFactory;
use clap_complete::Shell;

use super::args::Arguments;
use super::outcome::Outcome;
use super::report;
use super::say::say;
use crate::sheets;
use crate::sources::VERSION;

/// Prints a shell's completions.
pub(super) fn completions(shell: Shell) -> Outcome {
    let mut text = Vec::new();
    clap_complete::generate(shell, &mut Arguments::command(), "tautline", &mut text);
    say(&String::from_utf8_lossy(&text))
}

/// Prints the manual page of the program, or of one of its commands.
pub(super) fn page(name: Option<&str>) -> Outcome {
    let mut program = Arguments::command();
    program.build();
    let found = name.map(|it| (it, program.find_subcommand(it).cloned()));
    let command = match found {
        None => program,
        Some((_, Some(found))) => found.version(VERSION),
        Some((name, None)) => {
            let known: Vec<&str> = program.get_subcommands().map(clap::Command::get_name).collect();
            let known = sheets::listed(&known);
            report::say_failure(&format!("there is no command `{name}`; there are {known}"));
            return Outcome::Unwritten;
        }
    };
    let mut text = Vec::new();
    match clap_mangen::Man::new(command).render(&mut text) {
        Ok(()) => say(&String::from_utf8_lossy(&text)),
        Err(error) => {
            report::say_failure(&format!("cannot make the page: {error}"));
            Outcome::Unwritten
        }
    }
}
