//! Sizes of the made parts that a file leaves out, as sentences.

use crate::case::{CUFF_PATH_SPREAD, Case, Pull, Size};
use crate::sheets::wording::{mm0, round};

/// What is as usual and was not chosen in the file, size by size, and the line in the cuff: for the clinician.
pub(super) fn usual_sizes(case: &Case) -> Vec<String> {
    told(case, |pull| {
        let chosen = |it: &&Size| **it != Size::CuffPath;
        let size = |it: &Size| format!("{} {}", words(*it), value(pull, *it));
        pull.usual.iter().filter(chosen).map(size).collect()
    })
}

/// The same for the bench, part by part: the sizes stand in the cut list and the positions.
pub(super) fn usual_parts(case: &Case) -> Vec<String> {
    told(case, |pull| {
        let mut parts: Vec<String> =
            pull.usual.iter().filter_map(|it| part(*it)).map(str::to_owned).collect();
        parts.dedup();
        parts
    })
}

fn told(case: &Case, sizes: impl Fn(&Pull) -> Vec<String>) -> Vec<String> {
    let pulls = &case.orthosis.pulls;
    let mut sentences = Vec::new();
    for pull in pulls {
        let of =
            if pulls.len() > 1 { format!(" for {}", pull.direction.word()) } else { String::new() };
        let sizes = sizes(pull);
        if !sizes.is_empty() {
            sentences.push(format!(
                "Usual sizes, not chosen in the file{of} (common practice, no source): {}. Hold them against the limb before \
                 anything is cut.",
                sizes.join(", ")
            ));
        }
        if pull.usual.contains(&Size::CuffPath) {
            sentences.push(format!(
                "Line used up in cuff and tab{of}: {} mm, give or take {} mm, not measured. Thread a line through the made cuff and \
                 measure it before the loop is cut.",
                mm0(pull.line.cuff_path),
                mm0(CUFF_PATH_SPREAD)
            ));
        }
    }
    sentences
}

/// The part that a size belongs to; nothing for the line in the cuff, which has a sentence of its own.
fn part(size: Size) -> Option<&'static str> {
    match size {
        Size::Hole | Size::CuffEdge | Size::CuffEnd => Some("cuff"),
        Size::PieceEdge => Some("forearm piece\u{2019}s edge"),
        Size::StripStart | Size::StripLength => Some("strip"),
        Size::TabWidth | Size::PadLength | Size::HoleToPad => Some("tab"),
        Size::LineDiameter | Size::Tail => Some("line"),
        Size::CuffPath => None,
    }
}

fn words(size: Size) -> &'static str {
    match size {
        Size::Hole => "cuff hole from the crease",
        Size::CuffEdge => "cuff\u{2019}s near edge",
        Size::CuffEnd => "cuff\u{2019}s far edge",
        Size::PieceEdge => "forearm piece\u{2019}s edge",
        Size::StripStart => "strip\u{2019}s start",
        Size::StripLength => "strip\u{2019}s length",
        Size::TabWidth => "tab\u{2019}s width",
        Size::PadLength => "its pad",
        Size::HoleToPad => "hole to pad",
        Size::LineDiameter => "line\u{2019}s diameter",
        Size::CuffPath => "line used up in the cuff",
        Size::Tail => "tail at each end",
    }
}

fn value(pull: &Pull, size: Size) -> String {
    let (cuff, line) = (&pull.cuff, &pull.line);
    let length = match size {
        Size::Hole => cuff.hole_from_crease,
        Size::CuffEdge => cuff.edge_from_crease,
        Size::CuffEnd => cuff.end_from_crease,
        Size::PieceEdge => pull.forearm_piece.edge_from_crease,
        Size::StripStart => pull.strip.start_from_crease,
        Size::StripLength => pull.strip.length,
        Size::TabWidth => pull.tab.width,
        Size::PadLength => pull.tab.pad_length,
        Size::HoleToPad => pull.tab.hole_to_pad,
        Size::LineDiameter => line.diameter,
        Size::CuffPath => line.cuff_path,
        Size::Tail => line.tail,
    };
    format!("{} mm", round(length.to_mm(), 1))
}
