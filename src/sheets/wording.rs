//! Numbers, units and days as printed text. Rounding happens here and nowhere else.

use jiff::civil::Date;

use crate::units::{Angle, Force, Length, Pressure, Torque};

/// A value rounded to so many places, never a negative nothing.
#[must_use]
pub(super) fn round(value: f64, places: i32) -> f64 {
    let scale = POWERS[places.clamp(0, 6) as usize];
    let rounded = (value * scale).round() / scale;
    if rounded == 0.0 { 0.0 } else { rounded }
}

const POWERS: [f64; 7] = [1.0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6];

/// A number with so many places.
pub(super) fn fixed(value: f64, places: usize) -> String {
    let text = format!("{:.places$}", round(value, places as i32));
    text.replace('-', "\u{2212}")
}

/// `+2.1`, `−0.4`, `0.0`: a change with so many places.
pub(super) fn signed(value: f64, places: usize) -> String {
    let text = fixed(value, places);
    if round(value, places as i32) > 0.0 { format!("+{text}") } else { text }
}

/// `135`, `18.2`: millimetres, one place only where it is not nothing.
pub(super) fn mm(length: Length) -> String {
    let rounded = round(length.to_mm(), 1);
    fixed(rounded, usize::from(rounded.fract() != 0.0))
}

/// `4.0`: millimetres with one place.
pub(super) fn mm1(length: Length) -> String {
    fixed(length.to_mm(), 1)
}

/// `4`: whole millimetres.
pub(super) fn mm0(length: Length) -> String {
    fixed(length.to_mm(), 0)
}

/// `25°`, `−10°`, `22.5°`.
pub(super) fn degrees(angle: Angle) -> String {
    let rounded = round(angle.to_degrees(), 1);
    format!("{}°", fixed(rounded, usize::from(rounded.fract() != 0.0)))
}

/// `13.5°`: with one place.
pub(super) fn degrees1(angle: Angle) -> String {
    format!("{}°", fixed(angle.to_degrees(), 1))
}

/// `+3°`, `−4°`, `0°`: a change.
pub(super) fn change(angle: Angle) -> String {
    let text = degrees(angle);
    if angle.to_degrees() > 0.0 && text != "0°" { format!("+{text}") } else { text }
}

/// `21.1`: newtons.
pub(super) fn newtons(force: Force) -> String {
    fixed(force.to_newtons(), 1)
}

/// `0.99`: newton metres.
pub(super) fn newton_metres(torque: Torque) -> String {
    fixed(torque.to_newton_metres(), 2)
}

/// `3.6 (27)`: kilopascals and, beside them, millimetres of mercury.
pub(super) fn kpa_mmhg(pressure: Pressure) -> String {
    format!("{} ({})", fixed(pressure.to_kpa(), 1), fixed(pressure.to_mmhg(), 0))
}

/// `23 %`.
pub(super) fn percent(share: f64) -> String {
    format!("{} %", fixed(share * 100.0, 0))
}

/// `13 April 2026`.
pub(super) fn day(date: Date) -> String {
    format!("{} {} {}", date.day(), MONTHS[month(date)], date.year())
}

/// `13 Apr 2026`.
pub(super) fn short_day(date: Date) -> String {
    format!("{} {} {}", date.day(), &MONTHS[month(date)][..3], date.year())
}

/// `13 Apr`.
pub(super) fn day_of_year(date: Date) -> String {
    format!("{} {}", date.day(), &MONTHS[month(date)][..3])
}

fn month(date: Date) -> usize {
    date.month() as usize - 1
}

const MONTHS: [&str; 12] = [
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
];
/// `1 week`, `3 weeks`.
pub(super) fn count(number: i64, one: &str, many: &str) -> String {
    format!("{number} {}", if number == 1 { one } else { many })
}

/// `flexion`, `flexion and extension`, `a, b and c`.
pub(crate) fn listed(words: &[&str]) -> String {
    match words {
        [] => String::new(),
        [one] => (*one).to_owned(),
        [first @ .., last] => format!("{} and {last}", first.join(", ")),
    }
}
