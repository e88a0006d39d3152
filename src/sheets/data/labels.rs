//! What the labels for the strip show: a scale for each loop, with the marks that are given out.

use serde::Serialize;

use super::frame::Frame;
use super::handout::given_out;
use crate::calc::Plan;
use crate::calc::loops::{Loop, Mark};
use crate::calc::pull::PullPlan;
use crate::case::{Case, PageSize};
use crate::sheets::wording::{degrees, mm, mm0, round};
use crate::sheets::words::Words;
use crate::units::Length;

#[derive(Debug, Serialize)]
pub(super) struct Labels {
    paper: &'static str,
    frame: Frame,
    /// For each pull and each loop that has a mark to give out, in file order.
    scales: Vec<Scale>,
}

/// A scale as long as its strip, printed without degrees and with them.
#[derive(Debug, Serialize)]
struct Scale {
    direction: &'static str,
    number: String,
    length_mm: f64,
    length: String,
    marks: Vec<ScaleMark>,
    /// Sheet beside the strip on each side; nothing where the piece is not drawn.
    free_mm: Option<f64>,
    free: String,
    /// Whether marks of this loop wait for the doctor's word.
    held: bool,
}

#[derive(Debug, Serialize)]
struct ScaleMark {
    /// Its number; nothing for today's mark, whose name is a word of the paper's language.
    name: Option<String>,
    place_mm: f64,
    place: String,
    angle: String,
}

pub(super) fn labels(case: &Case, plan: &Plan, page: PageSize, words: &Words) -> Labels {
    let scales = plan.pulls.iter().flat_map(|pull| {
        let free = free(case, plan, pull);
        let given = given_out(pull, plan.stays(pull.direction));
        let is_held = |number: usize| {
            let of = pull.loops.iter().find(|it| it.number == number);
            of.is_some_and(|it| it.marks.iter().any(|mark| !pull.is_given_out(mark)))
        };
        given.into_iter().map(move |made| scale(&made, pull, free, is_held(made.number), words))
    });
    Labels { paper: "labels", frame: Frame::of(case, page, words), scales: scales.collect() }
}

/// Sheet beside the strip on each side, where the forearm piece is narrowest under it.
fn free(case: &Case, plan: &Plan, pull: &PullPlan) -> Option<Length> {
    let of = case.orthosis.pulls.iter().find(|it| it.direction == pull.direction)?;
    let beds = plan.pattern.pieces.iter().flat_map(|it| &it.beds);
    let bed = beds.into_iter().find(|it| it.pull == pull.direction)?;
    Some((bed.narrowest - of.strip.width) / 2.0)
}

fn scale(made: &Loop, pull: &PullPlan, free: Option<Length>, held: bool, words: &Words) -> Scale {
    let strip = pull.geometry.strip_length;
    Scale {
        direction: pull.direction.word(),
        number: made.number.to_string(),
        length_mm: strip.to_mm(),
        length: words.number(&mm(strip)),
        marks: made.marks.iter().map(|it| scale_mark(it, words)).collect(),
        free_mm: free.map(|it| round(it.to_mm(), 3)),
        free: free.map_or_else(String::new, mm0),
        held,
    }
}

fn scale_mark(mark: &Mark, words: &Words) -> ScaleMark {
    ScaleMark {
        name: (mark.number > 0).then(|| mark.number.to_string()),
        place_mm: mark.place.to_mm(),
        place: mm0(mark.place),
        angle: words.number(&degrees(mark.angle)),
    }
}
