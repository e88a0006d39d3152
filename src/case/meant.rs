//! What was meant by a value that is written in another way: units spelled out, a comma, a fraction, a day in another order.
//!
//! Only what can mean one thing alone is offered; nothing is read so.

use jiff::civil::Date;

use super::quantity::{Written, quantity};

/// Units as they are written elsewhere, in small letters.
const UNITS: [(&str, &[&str]); 6] = [
    ("mm", &["mm", "millimeter", "millimeters", "millimetre", "millimetres"]),
    ("cm", &["cm", "centimeter", "centimeters", "centimetre", "centimetres"]),
    ("in", &["in", "inch", "inches", "\"", "”", "″", "''"]),
    ("N", &["n", "newton", "newtons"]),
    ("kgf", &["kgf", "kg", "kilo", "kilos", "kilogram", "kilograms"]),
    ("lbf", &["lbf", "lb", "lbs", "pound", "pounds"]),
];

/// The months' first three letters.
const MONTHS: [&str; 12] =
    ["jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec"];

/// The quantity as the reader takes it.
pub(super) fn as_quantity<Q: Written>(read: &str) -> Option<String> {
    let pointed = read.replace(',', ".");
    if pointed != read && quantity::<Q>(&pointed).is_ok() {
        return Some(pointed);
    }
    let is_of_number = |it: char| it.is_ascii_digit() || " .,/-+\u{2212}".contains(it);
    let split = pointed.find(|it| !is_of_number(it)).unwrap_or(pointed.len());
    let (digits, unit) = pointed.split_at(split);
    let unit = unit.trim().trim_end_matches('.').to_lowercase();
    let known = UNITS.iter().find(|(_, all)| all.contains(&unit.as_str()));
    let unit = known.map(|(unit, _)| *unit)?;
    let meant = format!("{} {unit}", decimal(digits.trim())?);
    quantity::<Q>(&meant).is_ok().then_some(meant)
}

/// A plain number; `3 1/4` and `3-1/4` are 3.25.
fn decimal(digits: &str) -> Option<String> {
    let Some((before, below)) = digits.split_once('/') else { return Some(digits.to_owned()) };
    let (whole, above) = before.trim().rsplit_once([' ', '-']).unwrap_or(("0", before));
    let [whole, above, below] =
        [whole, above, below].map(|it| it.trim().parse::<u16>().ok().map(f64::from));
    let value = whole? + above? / below.filter(|it| *it > 0.0)?;
    // A sixteenth of an inch has four digits.
    let text = format!("{value:.4}");
    Some(text.trim_end_matches('0').trim_end_matches('.').to_owned())
}

/// The day in the reader's form, where its parts can stand in one order alone.
pub(super) fn as_day(read: &str) -> Option<String> {
    let parts: Vec<&str> =
        read.split(|it: char| !it.is_alphanumeric()).filter(|it| !it.is_empty()).collect();
    let [first, second, third] = parts[..] else { return None };
    let number = |it: &str| it.parse::<i16>().ok();
    let is_year = |it: &str| it.len() == 4 && number(it).is_some();
    let (year, month, day) = if is_year(first) {
        (number(first)?, month(second).or(number(second))?, number(third)?)
    } else if is_year(third) {
        let (month, day) = match (month(first), month(second)) {
            (Some(month), None) => (month, number(second)?),
            (None, Some(month)) => (month, number(first)?),
            _ => in_one_order(number(first)?, number(second)?)?,
        };
        (number(third)?, month, day)
    } else {
        return None;
    };
    let date = Date::new(year, month.try_into().ok()?, day.try_into().ok()?).ok()?;
    Some(date.to_string())
}

/// Month and day where only one of two numbers can be a month, or both are the same.
fn in_one_order(one: i16, other: i16) -> Option<(i16, i16)> {
    match (one > 12, other > 12) {
        (true, false) => Some((other, one)),
        (false, true) => Some((one, other)),
        _ => (one == other).then_some((one, other)),
    }
}

/// A month by its name.
fn month(word: &str) -> Option<i16> {
    let start: String = word.to_lowercase().chars().take(3).collect();
    let at = MONTHS.iter().position(|it| *it == start)?;
    i16::try_from(at + 1).ok()
}
