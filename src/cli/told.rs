//! What a run tells about one case, kept together: cases that are worked on side by side do not talk at once.

use std::io::{IsTerminal, stderr};
use std::path::Path;

use anstream::adapter::strip_str;
use anstream::eprint;
use anstyle::Style;

use super::fold::to_terminal;
use super::plain::plain;

/// How it is told.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(super) enum Form {
    /// Each line by itself: it names the file and how much it weighs.
    #[default]
    Lines,
    /// Under headings, for a person at a terminal; the file is named once.
    Headed,
    /// Under headings, one sentence a line, for a screen reader.
    Plain,
}

/// Lines for standard error, in the order they were told.
#[derive(Debug, Default)]
pub(super) struct Told {
    text: String,
    form: Form,
    heading: String,
}

impl Told {
    /// What is told of one file under headings, at a terminal or where plain sentences are asked for.
    pub(super) fn under_headings(path: &Path, is_plain: bool) -> Self {
        let form = match (is_plain, stderr().is_terminal()) {
            (true, _) => Form::Plain,
            (false, true) => Form::Headed,
            (false, false) => Form::Lines,
        };
        let mut told = Self { form, ..Self::default() };
        if form != Form::Lines {
            told.line(&format!("{}:", path.display()));
        }
        told
    }

    pub(super) fn form(&self) -> Form {
        self.form
    }

    /// Opens a section, once; nothing where each line stands by itself.
    pub(super) fn head(&mut self, heading: &str, style: Style) {
        if self.form == Form::Lines || self.heading == heading {
            return;
        }
        heading.clone_into(&mut self.heading);
        if self.form == Form::Headed {
            self.text.push('\n');
        }
        self.line(&format!("{style}{heading}:{style:#}"));
    }

    /// Adds a line.
    pub(super) fn line(&mut self, line: &str) {
        if self.form == Form::Plain {
            self.text.push_str(&plain(line));
            return;
        }
        self.text.push_str(line);
        self.text.push('\n');
    }

    /// Says it all, with emphasis where a terminal shows it.
    pub(super) fn say(&self) {
        if self.form == Form::Plain {
            eprint!("{}", self.text);
        } else {
            eprint!("{}", to_terminal(&self.text));
        }
    }

    /// Its lines without emphasis.
    pub(super) fn plain(&self) -> Vec<String> {
        strip_str(&self.text).to_string().lines().map(str::to_owned).collect()
    }
}
