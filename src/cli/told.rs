//! What a run tells about one case, kept together: cases that are worked on side by side do not talk at once.

use anstream::adapter::strip_str;
use anstream::eprint;

/// Lines for standard error, in the order they were told.
#[derive(Debug, Default)]
pub(super) struct Told(String);

impl Told {
    /// Adds a line.
    pub(super) fn line(&mut self, line: &str) {
        self.0.push_str(line);
        self.0.push('\n');
    }

    /// Says it all, with emphasis where a terminal shows it.
    pub(super) fn say(&self) {
        eprint!("{}", self.0);
    }

    /// Its lines without emphasis.
    pub(super) fn plain(&self) -> Vec<String> {
        strip_str(&self.0).to_string().lines().map(str::to_owned).collect()
    }
}
