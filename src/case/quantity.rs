//! Numbers and quantities as a therapist writes them: `135 mm`, `18.4 cm`, `6 N`, `-10`.

use std::ops::Div;

use crate::units::{Area, Force, Length, Pressure};

/// Why a quantity could not be read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Unread {
    /// A number, and nothing behind it.
    NoUnit,
    /// Not a number with a known unit.
    NotAQuantity,
}

/// A quantity that is written as a number and a unit.
pub(super) trait Written: Sized + Copy + Div<Output = f64> {
    /// The units taken, in words.
    const ACCEPTED: &'static str;
    /// The unit most written.
    const UNIT: &'static str;
    /// All units taken.
    const UNITS: &'static [&'static str];

    /// The quantity of `number` in `unit`, or nothing for an unknown unit.
    fn of(number: f64, unit: &str) -> Option<Self>;
}

impl Written for Length {
    const ACCEPTED: &'static str = "a length with its unit: `135 mm`, `13.5 cm` or `5.3 in`";
    const UNIT: &'static str = "mm";
    const UNITS: &'static [&'static str] = &["mm", "cm", "in"];

    fn of(number: f64, unit: &str) -> Option<Self> {
        match unit {
            "mm" => Some(Self::mm(number)),
            "cm" => Some(Self::cm(number)),
            "in" => Some(Self::inches(number)),
            _ => None,
        }
    }
}

impl Written for Force {
    const ACCEPTED: &'static str = "a force with its unit: `11 N`, `1.1 kgf` or `2.5 lbf`";
    const UNIT: &'static str = "N";
    const UNITS: &'static [&'static str] = &["N", "kgf", "lbf"];

    fn of(number: f64, unit: &str) -> Option<Self> {
        match unit {
            "N" => Some(Self::newtons(number)),
            "kgf" => Some(Self::kgf(number)),
            "lbf" => Some(Self::lbf(number)),
            _ => None,
        }
    }
}

impl Written for Area {
    const ACCEPTED: &'static str = "an area with its unit: `4200 mm2` or `42 cm2`";
    const UNIT: &'static str = "cm2";
    const UNITS: &'static [&'static str] = &["mm2", "cm2"];

    fn of(number: f64, unit: &str) -> Option<Self> {
        match unit {
            "mm2" => Some(Self::mm2(number)),
            "cm2" => Some(Self::mm2(number * 100.0)),
            _ => None,
        }
    }
}

impl Written for Pressure {
    const ACCEPTED: &'static str =
        "a pressure with its unit: `4.9 kPa`, `37 mmHg`, `3.5 N/cm2` or `2 GPa`";
    const UNIT: &'static str = "kPa";
    const UNITS: &'static [&'static str] = &["kPa", "mmHg", "N/cm2", "GPa"];

    fn of(number: f64, unit: &str) -> Option<Self> {
        match unit {
            "kPa" => Some(Self::kpa(number)),
            "mmHg" => Some(Self::mmhg(number)),
            "N/cm2" => Some(Self::kpa(number * 10.0)),
            "GPa" => Some(Self::kpa(number * 1e6)),
            _ => None,
        }
    }
}

/// Reads a number and its unit, with or without a space between.
pub(super) fn quantity<Q: Written>(text: &str) -> Result<Q, Unread> {
    let text = text.trim();
    let split = text.find(|c: char| c.is_alphabetic()).unwrap_or(text.len());
    let (digits, unit) = text.split_at(split);
    let number = number(digits.trim_end()).ok_or(Unread::NotAQuantity)?;
    if unit.is_empty() {
        return Err(Unread::NoUnit);
    }
    Q::of(number, unit.trim_end()).ok_or(Unread::NotAQuantity)
}

/// Reads a plain decimal number: digits, one point, a sign in front. No exponent, no comma.
pub(super) fn number(text: &str) -> Option<f64> {
    let text = text.replace('\u{2212}', "-");
    let digits = text.strip_prefix(['-', '+']).unwrap_or(&text);
    let (whole, part) = digits.split_once('.').unwrap_or((digits, "0"));
    let plain = |it: &str| !it.is_empty() && it.bytes().all(|b| b.is_ascii_digit());
    (plain(whole) && plain(part)).then(|| text.parse().ok()).flatten()
}
