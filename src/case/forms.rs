//! The forms of single values: text, date, number, choice, angle, and quantities with units.

use jiff::civil::Date;
use unicode_normalization::UnicodeNormalization;

use super::bounds::{AngleBounds, LengthBounds};
use super::fault::Kind;
use super::fields::{Field, Form, nearest};
use super::meant;
use super::quantity::{Unread, Written, number, quantity};
use super::shape::{Shape, Span};
use crate::fonts;
use crate::units::{Angle, Force, Length};

/// Longest text of a name, in characters: more does not fit a header line.
pub(super) const NAME: usize = 80;
/// Longest text of a remark, in characters: a few of them share one page with everything else.
pub(super) const REMARK: usize = 120;
/// Longest text of a sentence, in characters.
pub(super) const SENTENCE: usize = 400;

/// One line of printable text, at most `longest` characters, in composed form (NFC).
pub(super) fn text(longest: usize) -> Form<String> {
    let accepted = format!("text of at most {longest} characters");
    Form::new(
        accepted.clone(),
        move || Shape::Text { longest },
        move |field| {
            let read: String = field.scalar(&accepted)?.trim().nfc().collect();
            unprintable(field, &read)?;
            if read.is_empty() {
                return refuse(field, "", &accepted, "write the text behind the colon");
            }
            if read.chars().count() > longest {
                return refuse(field, &read, &accepted, "shorten it");
            }
            Some(read)
        },
    )
}

/// Notes the first character that cannot be printed; nothing then.
pub(super) fn unprintable(field: &Field<'_>, read: &str) -> Option<()> {
    let Some(bad) = read.chars().find(|&c| !fonts::prints(c)) else { return Some(()) };
    field.fault(Kind::Unprintable { key: field.path.clone(), character: name_of(bad) });
    None
}

fn name_of(character: char) -> String {
    let code = format!("U+{:04X}", u32::from(character));
    if character.is_alphanumeric() || u32::from(character) > 0x2100 {
        format!("`{character}` ({code})")
    } else {
        code
    }
}

/// A case id: it becomes part of file names, so letters, digits, `-`, `_` and `.` only.
pub(super) fn case_id() -> Form<String> {
    let accepted = "1 to 40 letters A to Z, digits, `-`, `_` or `.`, the first a letter or digit";
    let shape = || Shape::Formed { pattern: "^[A-Za-z0-9][A-Za-z0-9._-]{0,39}$" };
    Form::new(accepted, shape, move |field| {
        let read = field.scalar(accepted)?;
        let fits = (1..=40).contains(&read.len())
            && read.starts_with(|c: char| c.is_ascii_alphanumeric())
            && read.bytes().all(|b| b.is_ascii_alphanumeric() || b"-_.".contains(&b));
        if fits {
            return Some(read.to_owned());
        }
        refuse(field, read, accepted, "use the clinic's case number, never the patient's name")
    })
}

/// A calendar day as `2026-04-13`.
pub(super) fn date() -> Form<Date> {
    let accepted = "a day as year-month-day, such as `2026-04-13`";
    Form::new(
        accepted,
        || Shape::Day,
        move |field| {
            let read = field.scalar(accepted)?.trim();
            let shaped = read.len() == 10 && read.bytes().all(|b| b.is_ascii_digit() || b == b'-');
            let day = read
                .parse::<Date>()
                .ok()
                .filter(|day| shaped && (1900..=2199).contains(&day.year()));
            let cure = || match meant::as_day(read).filter(|_| !shaped) {
                Some(day) => format!("did you mean `{day}`?"),
                None if shaped => "there is no such day in the calendar; correct it".into(),
                None => "write four digits of the year, two of the month, two of the day".into(),
            };
            day.or_else(|| refuse(field, read, accepted, &cure()))
        },
    )
}

/// A whole number within bounds, both included.
pub(super) fn whole(min: u32, max: u32, unit: &'static str) -> Form<u32> {
    let accepted = format!("a whole number{unit}, {min} to {max}");
    Form::new(
        accepted.clone(),
        move || Shape::Whole { min, max },
        move |field| {
            let read = field.scalar(&accepted)?.trim();
            match read.parse::<u32>() {
                Ok(it) if (min..=max).contains(&it) && !read.starts_with('+') => Some(it),
                Ok(_) => refuse(field, read, &accepted, "choose a number within these bounds"),
                Err(_) => refuse(field, read, &accepted, "write digits only, no part and no word"),
            }
        },
    )
}

/// One word of a list.
pub(super) fn choice<T: Copy + 'static>(words: &'static [(&'static str, T)]) -> Form<T> {
    let known: Vec<&str> = words.iter().map(|(word, _)| *word).collect();
    let accepted = format!("one of: {}", known.join(", "));
    let shape = move || Shape::Word(words.iter().map(|(word, _)| *word).collect());
    Form::new(accepted.clone(), shape, move |field| {
        let read = field.scalar(&accepted)?.trim();
        if let Some((_, value)) = words.iter().find(|(word, _)| *word == read) {
            return Some(*value);
        }
        let cure = match nearest(read, &known) {
            Some(word) => format!("did you mean `{word}`?"),
            None => "choose the word that fits".into(),
        };
        refuse(field, read, &accepted, &cure)
    })
}

/// An angle in whole or part degrees; negative = short of neutral.
pub(super) fn angle(bounds: AngleBounds) -> Form<Angle> {
    let accepted = format!(
        "degrees as a plain number, {} to {}; negative means short of neutral",
        bounds.min.to_degrees().round(),
        bounds.max.to_degrees().round()
    );
    let shape = move || Shape::Angle {
        min: bounds.min.to_degrees().round(),
        max: bounds.max.to_degrees().round(),
        hint: bounds.hint,
    };
    Form::new(accepted.clone(), shape, move |field| {
        let read = field.scalar(&accepted)?.trim();
        let Some(degrees) = number(read.trim_end_matches('°').trim_end()) else {
            return refuse(field, read, &accepted, "write the number alone, for example 25");
        };
        let angle = Angle::degrees(degrees);
        if bounds.min <= angle && angle <= bounds.max {
            return Some(angle);
        }
        out_of_bounds(field, read, accepted.clone(), bounds.hint)
    })
}

/// A length with its unit, within bounds.
pub(super) fn length(bounds: LengthBounds) -> Form<Length> {
    let accepted = Length::ACCEPTED;
    let shape = move || Shape::Quantity {
        spans: Span::of(bounds.ends()),
        bounds: bounds.in_words(),
        hint: bounds.hint,
    };
    Form::new(accepted, shape, move |field| {
        let value: Length = with_unit(field)?;
        if bounds.holds(value) {
            return Some(value);
        }
        let read = field.scalar(accepted)?.trim();
        if value < Length::ZERO {
            let cure = "a length has no minus; distances are counted from the crease either way";
            return out_of_bounds(field, read, bounds.in_words(), cure);
        }
        let cure = match bounds.other_unit(read) {
            Some(meant) => format!("did you mean `{meant}`? If not, {}", bounds.hint),
            None => bounds.hint.to_owned(),
        };
        out_of_bounds(field, read, bounds.in_words(), &cure)
    })
}

/// A force with its unit, above nothing and at most `max`.
pub(super) fn force(max: Force) -> Form<Force> {
    let shape = move || Shape::Quantity {
        spans: Span::of([Force::ZERO, max]),
        bounds: force_bounds(max),
        hint: FORCE_HINT,
    };
    Form::new(Force::ACCEPTED, shape, move |field| {
        let value: Force = with_unit(field)?;
        if value > Force::ZERO && value <= max {
            return Some(value);
        }
        let read = field.scalar(Force::ACCEPTED)?.trim();
        out_of_bounds(field, read, force_bounds(max), FORCE_HINT)
    })
}

const FORCE_HINT: &str = "read the gauge again and check the unit";

fn force_bounds(max: Force) -> String {
    format!("more than 0 and at most {} N", max.to_newtons())
}

/// A quantity with its unit, unbounded.
pub(super) fn with_unit<Q: Written>(field: &Field<'_>) -> Option<Q> {
    let read = field.scalar(Q::ACCEPTED)?.trim();
    match quantity(read) {
        Ok(value) => Some(value),
        Err(Unread::NoUnit) => {
            let kind = Kind::NoUnit {
                key: field.path.clone(),
                read: read.to_owned(),
                accepted: Q::ACCEPTED.into(),
                unit: Q::UNIT,
            };
            field.fault(kind);
            None
        }
        Err(Unread::NotAQuantity) => {
            let cure = meant::as_quantity::<Q>(read).map_or_else(
                || "write a number with a point, then one of the units named".into(),
                |it| format!("did you mean `{it}`?"),
            );
            refuse(field, read, Q::ACCEPTED, &cure)
        }
    }
}

/// Notes a value that the key does not take.
pub(super) fn refuse<T>(field: &Field<'_>, read: &str, accepted: &str, cure: &str) -> Option<T> {
    let kind = Kind::NotAccepted {
        key: field.path.clone(),
        read: read.to_owned(),
        accepted: accepted.to_owned(),
        cure: cure.to_owned(),
    };
    field.fault(kind);
    None
}

/// Notes a quantity outside what can be.
pub(super) fn out_of_bounds<T>(
    field: &Field<'_>,
    read: &str,
    bounds: String,
    cure: &str,
) -> Option<T> {
    let kind = Kind::OutOfBounds {
        key: field.path.clone(),
        read: read.to_owned(),
        bounds,
        cure: cure.to_owned(),
    };
    field.fault(kind);
    None
}
