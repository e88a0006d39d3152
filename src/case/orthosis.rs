//! What will be made: sheet, and for each pull the cuff, forearm piece, strip, tab and line.

use jiff::civil::Date;

use super::bounds;
use super::fields::Notes;
use super::fields::{Form, filled_list, group, list};
use super::forms::{angle, choice, date, force, length, out_of_bounds, whole, with_unit};
use super::measures::Limb;
use super::pattern::{Cut, Sheet, cut, sheet};
use super::quantity::Written;
use super::shape::{Shape, Span};
use super::usual::{self, Size};
use crate::units::{Angle, Area, Force, Length};

/// Which way the line pulls the wrist.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Direction {
    /// Toward the palm.
    Flexion,
    /// Toward the back.
    Extension,
}

impl Direction {
    /// The word in a case file and on paper.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Flexion => "flexion",
            Self::Extension => "extension",
        }
    }

    /// The other way.
    #[must_use]
    pub fn other(self) -> Self {
        match self {
            Self::Flexion => Self::Extension,
            Self::Extension => Self::Flexion,
        }
    }
}

pub(super) const DIRECTIONS: &[(&str, Direction)] =
    &[("flexion", Direction::Flexion), ("extension", Direction::Extension)];

/// The hand cuff, measured from the wrist crease along the hand.
#[derive(Debug, Clone, PartialEq)]
pub struct Cuff {
    /// D: to the exit hole.
    pub hole_from_crease: Length,
    /// h: hole from the hand's midline; default half the hand's depth and the sheet.
    pub hole_height: Option<Length>,
    /// E: to the proximal edge.
    pub edge_from_crease: Length,
    /// e: edge from the hand's midline; default half the palm's depth and the sheet.
    pub edge_height: Option<Length>,
    /// Z: to the distal edge.
    pub end_from_crease: Length,
    /// b: bearing breadth; default the hand's breadth.
    pub bearing_breadth: Option<Length>,
}

/// The forearm piece, measured from the wrist crease toward the elbow.
#[derive(Debug, Clone, PartialEq)]
pub struct ForearmPiece {
    /// c: to the distal edge.
    pub edge_from_crease: Length,
    /// f: edge from the forearm's midline; default half the wrist's depth and the sheet.
    pub edge_height: Option<Length>,
    /// `b_f`: bearing breadth; default the forearm's breadth.
    pub bearing_breadth: Option<Length>,
    /// `l_f`: length; default the forearm's length less c.
    pub length: Option<Length>,
    /// `A_e`: bearing behind the elbow; default the forearm's breadth × 60 mm.
    pub elbow_area: Option<Area>,
}

/// The hook-and-loop strip on the forearm piece.
#[derive(Debug, Clone, PartialEq)]
pub struct Strip {
    /// S: from the crease to its distal end, toward the elbow.
    pub start_from_crease: Length,
    /// W: its length.
    pub length: Length,
    /// Its width.
    pub width: Length,
    /// k: surface from the forearm's midline; default half the depth, the sheet and 2 mm pile.
    pub height: Option<Length>,
}

/// The tab that holds the line on the strip.
#[derive(Debug, Clone, PartialEq)]
pub struct Tab {
    /// Its width.
    pub width: Length,
    /// p: the hook pad's length.
    pub pad_length: Length,
    /// q: punched hole to the near end of the pad.
    pub hole_to_pad: Length,
}

/// The line that does not stretch.
#[derive(Debug, Clone, PartialEq)]
pub struct Line {
    /// Its diameter.
    pub diameter: Length,
    /// Its breaking strength.
    pub strength: Option<Force>,
    /// w: used up in and round the cuff and in the tab's fold, per closed loop.
    pub cuff_path: Length,
    /// t: left at each end for crimping.
    pub tail: Length,
}

/// A loop as it was really made, and what else was found otherwise than planned when it was fitted.
#[derive(Debug, Clone, PartialEq)]
pub struct Built {
    /// Its number among the loops of its pull, from 1.
    pub number: u32,
    /// The day it was fitted.
    pub from: Date,
    /// The loop pulled flat.
    pub flat: Length,
    /// D as it is.
    pub hole_from_crease: Option<Length>,
    /// h as it is.
    pub hole_height: Option<Length>,
    /// e as it is.
    pub cuff_edge_height: Option<Length>,
    /// f as it is.
    pub piece_edge_height: Option<Length>,
    /// S as it is.
    pub strip_start_from_crease: Option<Length>,
    /// k as it is.
    pub strip_height: Option<Length>,
}

/// One pull of the orthosis.
#[derive(Debug, Clone, PartialEq)]
pub struct Pull {
    /// Which way.
    pub direction: Direction,
    /// The angle to work toward.
    pub goal: Angle,
    /// The angle past which no mark is given out before the doctor's word; nothing where the goal
    /// itself is the end.
    pub hold: Option<Angle>,
    /// How far short of today's limit the wrist rests with the tab at the strip's end.
    pub reserve: Angle,
    /// The cuff.
    pub cuff: Cuff,
    /// The forearm piece.
    pub forearm_piece: ForearmPiece,
    /// The strip.
    pub strip: Strip,
    /// The tab.
    pub tab: Tab,
    /// The line.
    pub line: Line,
    /// The loops that were made, the one in use last.
    pub built: Vec<Built>,
    /// The sizes that the file left out and that are as usual.
    pub usual: Vec<Size>,
}

impl Pull {
    /// The loop in use, where one was made.
    #[must_use]
    pub fn in_use(&self) -> Option<&Built> {
        self.built.last()
    }

    /// What was found at the newest fit that says it.
    pub(crate) fn found(&self, what: fn(&Built) -> Option<Length>) -> Option<Length> {
        self.built.iter().rev().find_map(what)
    }
}

/// The orthosis.
#[derive(Debug, Clone, PartialEq)]
pub struct Orthosis {
    /// The thermoplastic sheet.
    pub sheet: Sheet,
    /// How the pieces are cut from it.
    pub cut: Cut,
    /// The pulls, at least one, each direction at most once.
    pub pulls: Vec<Pull>,
}

impl Orthosis {
    /// With the sizes that hang on the limb, and a note of those that the file left out.
    pub(super) fn filled(mut self, limb: &Limb, notes: &Notes) -> Self {
        for (index, pull) in self.pulls.iter_mut().enumerate() {
            usual::fill(pull, &format!("orthosis.pulls[{}]", index + 1), limb, notes);
        }
        self
    }
}

/// Usual reserve (contract of the mechanics).
const RESERVE: Angle = Angle::degrees(5.0);
/// Strongest line that is sold by a breaking strength for this use.
pub(super) const STRENGTH_MAX: Force = Force::newtons(2000.0);

fn cuff() -> Form<Cuff> {
    group(|f| {
        let usual = usual::cuff();
        let hole_from_crease = f.may("hole_from_crease", length(bounds::HOLE));
        let hole_height = f.may("hole_height", length(bounds::HEIGHT));
        let edge_from_crease = f.may("edge_from_crease", length(bounds::CUFF_EDGE));
        let edge_height = f.may("edge_height", length(bounds::HEIGHT));
        let end_from_crease = f.may("end_from_crease", length(bounds::CUFF_END));
        let bearing_breadth = f.may("bearing_breadth", length(bounds::BEARING));
        Some(Cuff {
            hole_from_crease: hole_from_crease.unwrap_or(usual.hole_from_crease),
            hole_height,
            edge_from_crease: edge_from_crease.unwrap_or(usual.edge_from_crease),
            edge_height,
            end_from_crease: end_from_crease.unwrap_or(usual.end_from_crease),
            bearing_breadth,
        })
    })
}

fn forearm_piece() -> Form<ForearmPiece> {
    group(|f| {
        let usual = usual::forearm_piece();
        let edge_from_crease = f.may("edge_from_crease", length(bounds::PIECE_EDGE));
        let edge_height = f.may("edge_height", length(bounds::HEIGHT));
        let bearing_breadth = f.may("bearing_breadth", length(bounds::BEARING));
        let length = f.may("length", length(bounds::PIECE_LENGTH));
        let elbow_area = f.may("elbow_area", elbow_area());
        Some(ForearmPiece {
            edge_from_crease: edge_from_crease.unwrap_or(usual.edge_from_crease),
            edge_height,
            bearing_breadth,
            length,
            elbow_area,
        })
    })
}

fn elbow_area() -> Form<Area> {
    const HINT: &str = "give the area that bears behind the elbow";
    const BOUNDS: &str = "5 cm2 to 300 cm2";
    let ends = [Area::mm2(500.0), Area::mm2(30_000.0)];
    let shape =
        move || Shape::Quantity { spans: Span::of(ends), bounds: BOUNDS.into(), hint: HINT };
    Form::new(Area::ACCEPTED, shape, move |field| {
        let area: Area = with_unit(field)?;
        if ends[0] <= area && area <= ends[1] {
            return Some(area);
        }
        let read = field.scalar(Area::ACCEPTED)?.trim();
        out_of_bounds(field, read, BOUNDS.into(), HINT)
    })
}

fn strip() -> Form<Strip> {
    group(|f| {
        let usual = usual::strip();
        let start_from_crease = f.may("start_from_crease", length(bounds::STRIP_START));
        let span = f.may("length", length(bounds::STRIP_LENGTH));
        let width = f.may("width", length(bounds::STRIP_WIDTH));
        let height = f.may("height", length(bounds::HEIGHT));
        Some(Strip {
            start_from_crease: start_from_crease.unwrap_or(usual.start_from_crease),
            length: span.unwrap_or(usual.length),
            width: width.unwrap_or(usual.width),
            height,
        })
    })
}

fn tab() -> Form<Tab> {
    group(|f| {
        let usual = usual::tab();
        let width = f.may("width", length(bounds::TAB_WIDTH));
        let pad_length = f.may("pad_length", length(bounds::PAD_LENGTH));
        let hole_to_pad = f.may("hole_to_pad", length(bounds::HOLE_TO_PAD));
        Some(Tab {
            width: width.unwrap_or(usual.width),
            pad_length: pad_length.unwrap_or(usual.pad_length),
            hole_to_pad: hole_to_pad.unwrap_or(usual.hole_to_pad),
        })
    })
}

fn line() -> Form<Line> {
    group(|f| {
        let usual = usual::line();
        let diameter = f.may("diameter", length(bounds::LINE_DIAMETER));
        let strength = f.may("strength", force(STRENGTH_MAX));
        let cuff_path = f.may("cuff_path", length(bounds::CUFF_PATH));
        let tail = f.may("tail", length(bounds::TAIL));
        Some(Line {
            diameter: diameter.unwrap_or(usual.diameter),
            strength,
            cuff_path: cuff_path.unwrap_or(usual.cuff_path),
            tail: tail.unwrap_or(usual.tail),
        })
    })
}

fn built() -> Form<Built> {
    group(|f| {
        let number = f.need("loop", whole(1, 20, ""));
        let from = f.need("from", date());
        let flat = f.need("flat", length(bounds::FLAT));
        let hole_from_crease = f.may("hole_from_crease", length(bounds::HOLE));
        let hole_height = f.may("hole_height", length(bounds::HEIGHT));
        let cuff_edge_height = f.may("cuff_edge_height", length(bounds::HEIGHT));
        let piece_edge_height = f.may("piece_edge_height", length(bounds::HEIGHT));
        let strip_start_from_crease = f.may("strip_start_from_crease", length(bounds::STRIP_START));
        let strip_height = f.may("strip_height", length(bounds::HEIGHT));
        Some(Built {
            number: number?,
            from: from?,
            flat: flat?,
            hole_from_crease,
            hole_height,
            cuff_edge_height,
            piece_edge_height,
            strip_start_from_crease,
            strip_height,
        })
    })
}

fn pull() -> Form<Pull> {
    group(|f| {
        let direction = f.need("direction", choice(DIRECTIONS));
        let goal = f.need("goal", angle(bounds::GOAL));
        let reserve = f.may("reserve", angle(bounds::RESERVE));
        let hold = f.may("hold", angle(bounds::GOAL));
        let cuff = f.may("cuff", cuff());
        let forearm_piece = f.may("forearm_piece", forearm_piece());
        let strip = f.may("strip", strip());
        let tab = f.may("tab", tab());
        let line = f.may("line", line());
        let built = f.may("built", list(built()));
        Some(Pull {
            direction: direction?,
            goal: goal?,
            reserve: reserve.unwrap_or(RESERVE),
            hold,
            cuff: cuff.unwrap_or_else(usual::cuff),
            forearm_piece: forearm_piece.unwrap_or_else(usual::forearm_piece),
            strip: strip.unwrap_or_else(usual::strip),
            tab: tab.unwrap_or_else(usual::tab),
            line: line.unwrap_or_else(usual::line),
            built: built.unwrap_or_default(),
            usual: Vec::new(),
        })
    })
}

fn pulls() -> Form<Vec<Pull>> {
    filled_list("a list of one or two pulls, each item starting with `- direction:`", pull())
}

pub(super) fn orthosis() -> Form<Orthosis> {
    group(|f| {
        let sheet = f.need_at_last("sheet", sheet());
        let cut = f.may("pattern", cut());
        let pulls = f.need("pulls", pulls());
        Some(Orthosis { sheet: sheet?, cut: cut.unwrap_or_default(), pulls: pulls? })
    })
}
