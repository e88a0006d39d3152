//! What a drawing is made of once it stands on its page.

use crate::units::Length;

/// A drawing at full size: shapes in painting order, and the words' places.
///
/// Page sense: origin at the top left, x to the right, y down. Width and height hold every shape
/// and the room for every label.
#[derive(Debug, Clone, PartialEq)]
pub struct Drawing {
    /// Extent to the right.
    pub width: Length,
    /// Extent down.
    pub height: Length,
    /// In painting order; a filled shape hides what stands before it.
    pub shapes: Vec<Shape>,
    /// No two of them share room, nor stand on a shape.
    pub labels: Vec<Label>,
}

/// One outline or line.
#[derive(Debug, Clone, PartialEq)]
pub struct Shape {
    /// What it shows; picks its look.
    pub part: Part,
    /// Whether the end joins the start: a closed shape has an inside to fill.
    pub closed: bool,
    /// Begins with the only [`Step::Move`].
    pub path: Vec<Step>,
}

/// One step of a path, in page places.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Step {
    /// Begin here.
    Move(Place),
    /// Straight to here.
    Line(Place),
    /// A cubic Bézier curve: first handle, second handle, end.
    Curve(Place, Place, Place),
}

/// A place on the page: origin at the top left, x to the right, y down.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Place {
    /// To the right.
    pub x: Length,
    /// Down.
    pub y: Length,
}

/// The name of a part and the leader to it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Label {
    /// Which part is named.
    pub part: Part,
    /// Where the words stand and the leader begins.
    pub at: Place,
    /// Where the leader ends on the part.
    pub to: Place,
    /// On which side of `at` the words stand.
    pub anchor: Anchor,
}

/// On which side of a label's `at` its words stand: centred over or under it, or ending or
/// beginning at it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Anchor {
    /// Centred, over `at`.
    Above,
    /// Centred, under `at`.
    Below,
    /// Ending at `at`.
    Left,
    /// Beginning at `at`.
    Right,
}

/// What a shape shows.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Part {
    /// Forearm, elbow and the stub of the upper arm.
    Arm,
    /// Palm, fingers and thumb.
    Hand,
    /// The wrist crease, a line.
    Crease,
    /// The hand cuff.
    Cuff,
    /// The forearm piece.
    ForearmPiece,
    /// The strip of loop on the forearm piece.
    Strip,
    /// The tab that the patient moves.
    Tab,
    /// The line from cuff to tab.
    Line,
    /// A strap across the open side.
    Strap,
    /// The tab's hook pad.
    Pad,
    /// A hole the line passes through.
    Hole,
    /// A mark on the strip, a line.
    Mark,
    /// The wrist axis, a cross of two lines.
    Axis,
    /// The bench's gauge: its lane, and its end lines.
    Gauge,
    /// The sleeve that joins the line's ends.
    Sleeve,
    /// Where a sleeve is pressed.
    Squeezed,
    /// The line's end past its sleeve.
    Tail,
    /// Hook material, flat.
    Hooks,
    /// Where hook material is folded, a line.
    Fold,
    /// Which way something goes or is pressed, a line with a head at its end.
    Arrow,
    /// A field of the limb without an edge.
    Skin,
    /// The inner face of a piece.
    Inside,
    /// Today's mark on the strip, a line.
    Today,
    /// A check sign, or the cross through what is wrong.
    Sign,
    /// Which way a part is moved in this step, an arrow as an outline.
    Motion,
    /// A nail or a fold of the skin.
    Nail,
    /// Where a part of the limb goes that moves, an outline.
    Ghost,
    /// A measuring tape round the limb or along it, a line.
    Tape,
    /// The tape where the limb hides it, a line.
    TapeBehind,
    /// A caliper from jaw to jaw, a line.
    Caliper,
    /// A length from its first end to its second, a line with a head at its end.
    Reach,
    /// Where a length begins, a line.
    Landmark,
    /// The way a limb turns, a line with a head at its end.
    Turn,
}

impl Part {
    /// The part's name in drawing data and words files.
    #[must_use]
    pub const fn key(self) -> &'static str {
        match self {
            Self::Arm => "arm",
            Self::Hand => "hand",
            Self::Crease => "crease",
            Self::Cuff => "cuff",
            Self::ForearmPiece => "forearm_piece",
            Self::Strip => "strip",
            Self::Tab => "tab",
            Self::Line => "line",
            Self::Strap => "strap",
            Self::Pad => "pad",
            Self::Hole => "hole",
            Self::Mark => "mark",
            Self::Axis => "axis",
            Self::Gauge => "gauge",
            Self::Sleeve => "sleeve",
            Self::Squeezed => "squeezed",
            Self::Tail => "tail",
            Self::Hooks => "hooks",
            Self::Fold => "fold",
            Self::Arrow => "arrow",
            Self::Skin => "skin",
            Self::Inside => "inside",
            Self::Today => "today",
            Self::Sign => "sign",
            Self::Motion => "motion",
            Self::Nail => "nail",
            Self::Ghost => "ghost",
            Self::Tape => "tape",
            Self::TapeBehind => "tape_behind",
            Self::Caliper => "caliper",
            Self::Reach => "reach",
            Self::Landmark => "landmark",
            Self::Turn => "turn",
        }
    }
}

impl Anchor {
    /// The anchor's name in drawing data.
    #[must_use]
    pub const fn key(self) -> &'static str {
        match self {
            Self::Above => "above",
            Self::Below => "below",
            Self::Left => "left",
            Self::Right => "right",
        }
    }
}
