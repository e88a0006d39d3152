//! How the pieces are cut from the sheet: the sheet itself, gaps, wrap, stretch, places of straps.

use std::rc::Rc;

use super::bounds;
use super::fields::{Field, Form, filled_list, group};
use super::forms::{choice, length, refuse};
use super::quantity::number;
use super::shape::Shape;
use crate::units::Length;

/// Width of a strap (common practice, no source).
pub const STRAP_WIDTH: Length = Length::mm(25.0);

/// Whether the sheet stretches alike both ways.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Grain {
    /// Pieces may lie on it in any direction.
    None,
    /// Pieces must lie with their long side along the sheet's length.
    Lengthwise,
}

impl Grain {
    /// The word in a case file.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::None => "none",
            Self::Lengthwise => "lengthwise",
        }
    }
}

/// The thermoplastic sheet that both pieces are cut from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sheet {
    /// Its thickness.
    pub thickness: Length,
    /// Its longer side.
    pub length: Length,
    /// Its shorter side.
    pub width: Length,
    /// Least room between two pieces, and between a piece and the sheet's edge.
    pub margin: Length,
    /// Its grain.
    pub grain: Grain,
}

/// From which side the cuff wraps the hand; its open side lies opposite.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Wrap {
    /// Round the little-finger side, open at the thumb.
    LittleFinger,
    /// Round the thumb side with an opening for the thumb, open at the little finger.
    Thumb,
}

impl Wrap {
    /// The word in a case file.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::LittleFinger => "little_finger",
            Self::Thumb => "thumb",
        }
    }
}

/// How the pieces are drawn. All defaults are common practice, no source.
#[derive(Debug, Clone, PartialEq)]
pub struct Cut {
    /// Between the forearm piece's edges, on each side of the arm: skin is not pinched there.
    pub gap: Length,
    /// The cuff's open side, from edge to edge, beside its tongues.
    pub opening: Length,
    /// From which side the cuff wraps the hand.
    pub wrap: Wrap,
    /// The share by which the warm sheet is stretched while it is draped; the pieces are cut shorter
    /// by it along the pull.
    pub draping_stretch: f64,
    /// Radius of rounded corners.
    pub corner: Length,
    /// Added to the girth from the knuckles on, so that the fingers have room.
    pub finger_room: Length,
    /// Middles of the two forearm straps, from the crease; placed by themselves where nothing is given.
    pub forearm_straps: Option<[Length; 2]>,
}

impl Default for Cut {
    fn default() -> Self {
        Self {
            gap: Length::mm(15.0),
            opening: Length::mm(40.0),
            wrap: Wrap::LittleFinger,
            draping_stretch: 0.0,
            corner: Length::mm(15.0),
            finger_room: Length::mm(6.0),
            forearm_straps: None,
        }
    }
}

/// A sheet of this thickness at its usual size: 610 × 460 mm, about 24 × 18 in (common practice, no
/// source).
#[must_use]
pub fn usual_sheet(thickness: Length) -> Sheet {
    Sheet {
        thickness,
        length: Length::mm(610.0),
        width: Length::mm(460.0),
        margin: Length::mm(10.0),
        grain: Grain::None,
    }
}

pub(super) fn sheet() -> Form<Sheet> {
    group(|f| {
        let thickness = f.need_at_last("thickness", length(bounds::SHEET));
        let long = f.may("length", length(bounds::SHEET_SIDE));
        let width = f.may("width", length(bounds::SHEET_SIDE));
        let margin = f.may("margin", length(bounds::SHEET_MARGIN));
        let grains = &[("none", Grain::None), ("lengthwise", Grain::Lengthwise)];
        let grain = f.may("grain", choice(grains));
        let usual = usual_sheet(thickness?);
        Some(Sheet {
            thickness: usual.thickness,
            length: long.unwrap_or(usual.length),
            width: width.unwrap_or(usual.width),
            margin: margin.unwrap_or(usual.margin),
            grain: grain.unwrap_or(usual.grain),
        })
    })
}

pub(super) fn cut() -> Form<Cut> {
    group(|f| {
        let usual = Cut::default();
        let gap = f.may("gap", length(bounds::GAP));
        let opening = f.may("opening", length(bounds::OPENING));
        let wraps = &[("little_finger", Wrap::LittleFinger), ("thumb", Wrap::Thumb)];
        let wrap = f.may("wrap_from", choice(wraps));
        let draping_stretch = f.may("draping_stretch", percent(0.0, 20.0));
        let corner = f.may("corner", length(bounds::CORNER));
        let finger_room = f.may("finger_room", length(bounds::FINGER_ROOM));
        let straps = f.may("forearm_straps", straps());
        Some(Cut {
            gap: gap.unwrap_or(usual.gap),
            opening: opening.unwrap_or(usual.opening),
            wrap: wrap.unwrap_or(usual.wrap),
            draping_stretch: draping_stretch.unwrap_or(usual.draping_stretch),
            corner: corner.unwrap_or(usual.corner),
            finger_room: finger_room.unwrap_or(usual.finger_room),
            forearm_straps: straps,
        })
    })
}

/// The middles of two straps, the one near the wrist first.
fn straps() -> Form<[Length; 2]> {
    const ACCEPTED: &str =
        "a list of two lengths, the strap near the wrist first: `[ 33 mm, 195 mm ]`";
    let pair = Rc::new(filled_list(ACCEPTED, length(bounds::FROM_CREASE)));
    let told = Rc::clone(&pair);
    let shape = move || told.shape().of_items(2, Some(2));
    Form::new(ACCEPTED, shape, move |field: &Field<'_>| {
        let faults = field.notes.count();
        let read = pair.read(field)?;
        match read[..] {
            // An item with a fault of its own is left out of the list.
            _ if field.notes.count() > faults => None,
            [near, far] if near < far => Some([near, far]),
            [_, _] => {
                refuse(field, "two places", ACCEPTED, "let the strap near the wrist come first")
            }
            [_] => {
                refuse(field, "one place", ACCEPTED, "give the middle of each of the two straps")
            }
            _ => {
                let count = format!("{} places", read.len());
                refuse(field, &count, ACCEPTED, "give the middle of each of the two straps")
            }
        }
    })
}

/// A share in percent, such as `3 %`.
fn percent(min: f64, max: f64) -> Form<f64> {
    let accepted = format!("a share in percent, {min} % to {max} %");
    Form::new(
        accepted.clone(),
        || Shape::Percent,
        move |field| {
            let read = field.scalar(&accepted)?.trim();
            let Some(digits) = read.strip_suffix('%') else {
                return refuse(field, read, &accepted, "write the percent sign, such as `3 %`");
            };
            match number(digits.trim_end()) {
                Some(value) if (min..=max).contains(&value) => Some(value / 100.0),
                _ => refuse(
                    field,
                    read,
                    &accepted,
                    "3 % to 10 % is usual; 0 % where the sheet is not stretched",
                ),
            }
        },
    )
}
