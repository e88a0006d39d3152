//! The command line; doc comments are its help text.

use std::path::PathBuf;

use clap::{Args, Parser, Subcommand, ValueEnum};
use clap_complete::Shell;

use crate::case::PageSize;
use crate::sheets::Paper;
use crate::sources::VERSION;

/// Reckons a custom static progressive wrist orthosis from one case file and prints its papers.
///
/// See a demo case:  tautline print demo-cases/quarry-bend-left-flexion.yaml
///
/// Begin your own:  tautline begin case.yaml, then tautline check case.yaml, then tautline print case.yaml
///
/// Exit code: 0 done, 1 papers withheld by a stop-level finding, 2 faults in a case file,
/// 3 a file could not be read or written, 130 stopped by an interrupt; of many cases the worst counts.
#[derive(Debug, Parser)]
#[command(version = VERSION, about, long_about, max_term_width = 100)]
pub struct Arguments {
    /// What to do.
    #[command(subcommand)]
    pub(super) command: Command,
}

#[derive(Debug, Subcommand)]
pub(super) enum Command {
    /// Begin a case file: questions at the terminal, or a blank to fill in.
    ///
    /// Example:  tautline begin ward/QB-2207.yaml
    ///
    /// The questions follow the file. Each says what to measure and from where, which units are taken, what can be and why
    /// it is asked; each answer is checked at once, as `check` would. Enter alone leaves an optional one out, `<` goes
    /// back, Ctrl-C stops and keeps the answers; the same command then goes on behind the last one. A file that is there already is
    /// never touched, but for one that was begun so, is not whole yet and was not changed since.
    Begin(Begin),
    /// Print the sheet to take to the patient's arm: what to ask and measure, with boxes to write in.
    ///
    /// Example:  tautline measuring-sheet ward/QB-2207.yaml --out ward/papers
    ///
    /// Two pages: history and ranges, then the limb with a drawing in which each tape and each caliper has the number of its
    /// box. Boxes and questions follow the case file. Without a file the sheet is empty; a file that is begun, as `begin`
    /// or `begin --blank` writes it, fills in what it has, in its own units. It needs nothing but `case.id`.
    MeasuringSheet(MeasuringSheet),
    /// Add today's visit to a case file from questions at the terminal.
    ///
    /// Example:  tautline visit ward/QB-2207.yaml
    ///
    /// The questions follow the keys of a visit; all but the day may be left out, and each answer is checked at once with the
    /// whole file. The visit goes behind the others; comments, order and line ends stay as they are. Where the visit is
    /// later than `case.prepared`, that day moves to the visit's, and days that have passed are asked anew. The file as it
    /// was is kept beside it as `FILE.before-DAY.bak`.
    ///
    /// Nothing is lost where the questions are stopped, by Ctrl-C or a closed terminal: the answers so far are kept beside the
    /// file as `FILE.visit-DAY.unfinished`, and the next visit of that day offers them in brackets. Enter takes one, `-`
    /// leaves it out.
    Visit(Visit),
    /// Print the papers of one or more cases as PDF.
    ///
    /// Example:  tautline print ward/QB-2207.yaml --out ward/papers --page a4
    ///
    /// All papers of a case are ready before any is put in its place. A stop-level finding withholds the
    /// handout, the card, the pattern and the labels until the case file records who decided otherwise and
    /// why; summary, brief and workings still print, with the finding on top.
    ///
    /// Of many cases none stops the others. At a terminal a bar shows how far they are; elsewhere each case
    /// gives one line of JSON on standard output, in the order they were named. Ctrl-C finishes the cases under
    /// way.
    Print(Print),
    /// Read cases and report; write nothing.
    ///
    /// Example:  tautline check ward/QB-2207.yaml --words ward/words.yaml
    ///
    /// What is wrong, what is odd, what stops which papers, what asks for care, and which missing measure leaves out or
    /// blurs which number: at a terminal under headings, elsewhere each on a line that names its file. Colours only at a
    /// terminal, and none where `NO_COLOR` is set.
    ///
    /// Where the clinic's profile lies under the case, a line says which keys came from it. Faults of both files are
    /// reported at once. Where the profile lists the therapists, the case must name one of them.
    Check(Check),
    /// Print the JSON Schema of a case file, so that an editor completes and checks it while you type.
    ///
    /// Example:  tautline schema > case.schema.json
    ///
    /// Many editors read YAML with a schema: name it in the case file's first line, as the demo cases do:
    /// `# yaml-language-server: $schema=case.schema.json`
    Schema {
        /// The schema of a clinic's profile instead.
        #[arg(long)]
        clinic: bool,
    },
    /// Print what a shell needs to complete commands, options and files.
    ///
    /// Example:  tautline completions bash > ~/.local/share/bash-completion/completions/tautline
    Completions {
        /// The shell.
        shell: Shell,
    },
    /// Print the manual page of the program, or of one command.
    ///
    /// Example:  tautline man print | man -l -
    Man {
        /// The command.
        #[arg(value_name = "COMMAND")]
        command: Option<String>,
    },
    /// Print the numbers of cases.
    ///
    /// Example:  tautline figures ward/QB-2207.yaml --json
    Figures(Figures),
}

#[derive(Debug, Args)]
pub(super) struct Begin {
    /// The case file to write.
    #[arg(value_name = "FILE")]
    pub file: PathBuf,
    /// Write the file without questions: every key with a comment, nothing behind the colons.
    #[arg(long)]
    pub blank: bool,
    /// The clinic's profile: what it gives is not asked for, and the file names it where it lies beside the file, in a folder
    /// below it or in the folder above.
    #[arg(long, value_name = "FILE")]
    pub clinic: Option<PathBuf>,
}

#[derive(Debug, Args)]
pub(super) struct MeasuringSheet {
    /// A case file, whole or begun; without one the sheet is empty.
    #[arg(value_name = "CASE")]
    pub case: Option<PathBuf>,
    /// The folder to write into; made if it is not there.
    #[arg(long, value_name = "DIR", default_value = "papers")]
    pub out: PathBuf,
    /// Lay the clinic's own words over ours, as `print` does.
    #[arg(long, value_name = "FILE")]
    pub words: Vec<PathBuf>,
    /// The clinic's profile, in place of the one that the case names: name, phone, logo, page and words come from it, also
    /// where no case is given.
    #[arg(long, value_name = "FILE")]
    pub clinic: Option<PathBuf>,
    /// Overwrite a file in the way that is no older measuring sheet of this case.
    #[arg(long)]
    pub replace: bool,
    /// The paper in the printer [default: the clinic's `page`, else letter].
    #[arg(long, value_name = "SIZE")]
    pub page: Option<PageName>,
}

#[derive(Debug, Args)]
pub(super) struct Visit {
    /// The case file to add to; it must have no faults.
    #[arg(value_name = "FILE")]
    pub file: PathBuf,
    /// The clinic's profile, in place of the one that the case names.
    #[arg(long, value_name = "FILE")]
    pub clinic: Option<PathBuf>,
}

#[derive(Debug, Args)]
pub(super) struct Print {
    /// Case files, or folders with case files in them (`.yaml`, `.yml`; folders in folders too).
    #[arg(required_unless_present = "from", value_name = "CASE")]
    pub cases: Vec<PathBuf>,
    /// Also the case files and folders listed in this file, one a line; `-` is standard input.
    #[arg(long, value_name = "FILE")]
    pub from: Option<PathBuf>,
    /// How many cases to work on at a time [default: one for each core].
    #[arg(long, value_name = "NUMBER", value_parser = jobs)]
    pub jobs: Option<std::num::NonZeroUsize>,
    /// Leave a case alone whose papers are all printed from what its file says now, by this program.
    #[arg(long)]
    pub only_changed: bool,
    /// Print again each time a case file, the clinic's profile, a words file or a picture was saved, until Ctrl-C. A file with faults, or
    /// half saved, leaves the last good papers where they are.
    #[arg(long, conflicts_with = "seal")]
    pub watch: bool,
    /// One line of JSON for each case on standard output, even for one case or at a terminal.
    #[arg(long)]
    pub json: bool,
    /// The folder to write into; made if it is not there.
    #[arg(long, value_name = "DIR", default_value = "papers")]
    pub out: PathBuf,
    /// Print only this paper; may be given more than once.
    #[arg(long, value_name = "PAPER")]
    pub only: Vec<PaperName>,
    /// Attach the whole case file to the summary, which is then PDF/A-3a: it carries the full record.
    #[arg(long)]
    pub attach: bool,
    /// Lay the clinic's own words over ours: a YAML file with any of the keys of `layouts/words`, and
    /// `language: es` on top where they are Spanish; once for each language.
    #[arg(long, value_name = "FILE")]
    pub words: Vec<PathBuf>,
    /// The clinic's profile for all these cases, in place of the one that a case names.
    #[arg(long, value_name = "FILE")]
    pub clinic: Option<PathBuf>,
    /// Show the patient's initials instead of the name on every paper.
    #[arg(long, conflicts_with = "attach")]
    pub initials: bool,
    /// Seal each PDF with a password (AES, 256 bits), asked for at the terminal. A sealed PDF is no PDF/A.
    #[arg(long)]
    pub seal: bool,
    /// Seal each PDF with the password on the first line of this file.
    #[arg(long, value_name = "FILE", conflicts_with = "seal")]
    pub seal_from: Option<PathBuf>,
    /// Overwrite files in the way that tautline did not write for this case and paper.
    #[arg(long)]
    pub replace: bool,
    /// The paper in the printer [default: the clinic's `page`, else letter].
    #[arg(long, value_name = "SIZE")]
    pub page: Option<PageName>,
}

#[derive(Debug, Args)]
pub(super) struct Check {
    /// Case files.
    #[arg(required_unless_present = "words", value_name = "CASE")]
    pub cases: Vec<PathBuf>,
    /// Also read the clinic's own words, as `print` does.
    #[arg(long, value_name = "FILE")]
    pub words: Vec<PathBuf>,
    /// The clinic's profile for all these cases, in place of the one that a case names.
    #[arg(long, value_name = "FILE")]
    pub clinic: Option<PathBuf>,
    /// Also print each sound case as a normalised file, in millimetres, on standard output.
    #[arg(long)]
    pub normalised: bool,
    /// For screen readers: one plain sentence a line under plain headings, no colour, no marks round words.
    #[arg(long)]
    pub plain: bool,
}

#[derive(Debug, Args)]
pub(super) struct Figures {
    /// Case files.
    #[arg(required = true, value_name = "CASE")]
    pub cases: Vec<PathBuf>,
    /// The clinic's profile for all these cases, in place of the one that a case names.
    #[arg(long, value_name = "FILE")]
    pub clinic: Option<PathBuf>,
    /// As JSON, one object on a line for each case.
    #[arg(long)]
    pub json: bool,
}

fn jobs(text: &str) -> Result<std::num::NonZeroUsize, &'static str> {
    text.parse().map_err(|_| "it takes a whole number from 1 on, such as 4")
}

/// A paper by its name.
#[derive(Debug, Clone, Copy, ValueEnum)]
pub(super) enum PaperName {
    /// For the patient.
    Handout,
    /// For the bench.
    Card,
    /// For the clinician and the payer.
    Summary,
    /// One page of the summary, to attach to the payer's justification.
    Brief,
    /// Every number behind the mechanics, for the clinician who checks them.
    Workings,
    /// The flat pieces at true size, on pages to tape together.
    Pattern,
    /// For the strip: scales to cut out and stick beside it.
    Labels,
}

impl From<PaperName> for Paper {
    fn from(name: PaperName) -> Self {
        match name {
            PaperName::Handout => Self::Handout,
            PaperName::Card => Self::Card,
            PaperName::Summary => Self::Summary,
            PaperName::Brief => Self::Brief,
            PaperName::Workings => Self::Workings,
            PaperName::Pattern => Self::Pattern,
            PaperName::Labels => Self::Labels,
        }
    }
}

/// A page size by its name.
#[derive(Debug, Clone, Copy, ValueEnum)]
pub(super) enum PageName {
    /// US Letter, 8.5 × 11 in.
    Letter,
    /// A4, 210 × 297 mm.
    A4,
}

impl From<PageName> for PageSize {
    fn from(name: PageName) -> Self {
        match name {
            PageName::Letter => Self::Letter,
            PageName::A4 => Self::A4,
        }
    }
}
