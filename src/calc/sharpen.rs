//! Which measure that was not taken would sharpen which number most.
//!
//! Each candidate is an estimate with a spread: the line used up in the cuff, which the marks follow by the taut line's
//! own derivative, and the girths that stand in for measured ones, which the pieces follow one to one. A number's gain is
//! its standard deviation now less the one it would have with the measure taken.

use super::Plan;
use super::loops::{Mark, path_part};
use super::pattern::Measure;
use super::pull::PullPlan;
use crate::case::{Case, Direction};
use crate::units::Length;

/// A measure that was not taken.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Missing {
    /// w of the pull with this index: a line threaded through the made cuff and the tab's fold.
    CuffPath(usize),
    /// A girth, or the tape round the elbow.
    Girth(Measure),
}

/// The number that would be sharper.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Number {
    /// A mark's place.
    Mark(Direction, usize),
    /// The estimate itself, and every width of a piece that follows it.
    Girth(Measure),
}

/// What one measure would do.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sharper {
    /// The measure.
    pub missing: Missing,
    /// The number.
    pub number: Number,
    /// One standard deviation of the number now.
    pub now: Length,
    /// One standard deviation with the measure taken.
    pub then: Length,
}

impl Sharper {
    fn gain(&self) -> Length {
        self.now - self.then
    }
}

/// The measure that would sharpen a mark most, then the one that would sharpen the flat pieces most; nothing where all
/// were taken. The two are not weighed against each other: a mark is what the patient sets, a girth is trimmed on the limb.
#[must_use]
pub fn most(case: &Case, plan: &Plan) -> Vec<Sharper> {
    let tape = case.measuring_error.tape;
    let girths = plan.pattern.stand_ins.iter().filter_map(|it| {
        let (missing, number) = (Missing::Girth(it.measure), Number::Girth(it.measure));
        Some(Sharper { missing, number, now: it.spread?, then: tape })
    });
    let marks = plan.pulls.iter().enumerate().flat_map(|(at, pull)| of_marks(at, pull));
    [best(marks), best(girths)].into_iter().flatten().collect()
}

fn best(all: impl Iterator<Item = Sharper>) -> Option<Sharper> {
    all.filter(|it| it.gain() > Length::ZERO)
        .max_by(|one, other| one.gain().total_cmp(&other.gain()))
}

/// What a measured w would do for each mark of a pull: σ² less its part.
fn of_marks(at: usize, pull: &PullPlan) -> impl Iterator<Item = Sharper> {
    // Once the tab's places tell of the loop as it was made, its marks no longer hang on w.
    let loops = pull.loops.iter().filter(|_| pull.as_built.is_none());
    let marks = loops.flat_map(|it| &it.marks);
    let sharper = move |mark: &Mark| {
        let part = path_part(&pull.geometry, &mark.line).to_mm();
        let now = mark.spread.to_mm();
        let then = Length::mm((now * now - part * part).max(0.0).sqrt());
        let number = Number::Mark(pull.direction, mark.number);
        Sharper { missing: Missing::CuffPath(at), number, now: mark.spread, then }
    };
    marks.map(sharper)
}
