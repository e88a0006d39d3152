//! From the clinic's shelf: the thinnest line and the smallest pad that hold.

use super::ceiling::{Allowed, tab};
use crate::case::{Case, StockLine};
use crate::units::{Force, Length, Pressure};

/// What to take from the shelf for one pull.
#[derive(Debug, Clone, PartialEq)]
pub struct Choice {
    /// The line, where lines are listed.
    pub line: Option<LineChoice>,
    /// The pad, where hook widths are listed.
    pub pad: Option<PadChoice>,
}

/// A line from the shelf.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LineChoice {
    /// The thinnest that holds; nothing where none does.
    pub holds: Option<StockLine>,
    /// The next thinner one, which does not.
    pub thinner: Option<StockLine>,
    /// What each strand must bear.
    pub strand: Force,
    /// The breaking strength that is needed for that.
    pub needed: Force,
}

/// A tab's pad from the shelf.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PadChoice {
    /// Width and length of the smallest pad that holds and still leaves room; nothing where none
    /// does.
    pub holds: Option<(Length, Length)>,
    /// The next narrower tape and the length that it would need.
    pub narrower: Option<(Length, Length)>,
    /// The longest pad that leaves the tab room to move to the goal.
    pub longest: Length,
    /// What the tab must bear.
    pub pull: Force,
}

/// The choice for the largest loads of a pull.
#[must_use]
pub fn choose(case: &Case, strand: Force, pull: Force, longest: Length) -> Choice {
    Choice { line: line(case, strand), pad: pad(case, pull, longest) }
}

/// The thinnest line whose strands hold with crimp, water and safety factor.
fn line(case: &Case, strand: Force) -> Option<LineChoice> {
    let mut lines = case.stock.lines.clone();
    lines.sort_by(|one, other| one.diameter.total_cmp(&other.diameter));
    let holds_at = |it: &StockLine| {
        Allowed::of(case, Some(it.strength)).strand.is_some_and(|allowed| strand <= allowed)
    };
    let at = lines.iter().position(holds_at);
    let limits = &case.limits;
    let needed = strand * (limits.line_safety / (limits.crimp_efficiency * limits.wet_strength));
    let thinner = at.unwrap_or(lines.len()).checked_sub(1).map(|it| lines[it]);
    (!lines.is_empty()).then(|| LineChoice {
        holds: at.map(|it| lines[it]),
        thinner,
        strand,
        needed,
    })
}

/// The pad of least area: length = T / (shear · width), for each tape on the shelf.
fn pad(case: &Case, pull: Force, longest: Length) -> Option<PadChoice> {
    let allowed = tab(&case.limits);
    let mut widths = case.stock.hook_widths.clone();
    widths.sort_by(Length::total_cmp);
    let pads: Vec<(Length, Length)> =
        widths.iter().map(|width| (*width, pad_length(pull, allowed, *width))).collect();
    let at = pads.iter().position(|(_, length)| *length <= longest);
    let narrower = at.unwrap_or(pads.len()).checked_sub(1).map(|it| pads[it]);
    (!pads.is_empty()).then(|| PadChoice { holds: at.map(|it| pads[it]), narrower, longest, pull })
}

/// The length of a pad that bears a pull at an allowed shear, to the next whole millimetre.
#[must_use]
pub fn pad_length(pull: Force, allowed: Pressure, width: Length) -> Length {
    let area_mm2 = pull.to_newtons() / allowed.to_kpa() * 1000.0;
    Length::mm((area_mm2 / width.to_mm() - 1e-9).ceil())
}
