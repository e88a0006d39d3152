//! The case file as JSON Schema, for editors that complete and check it while it is written.
//!
//! Built from what the reader tells of itself ([`super::outline`]): a schema derived from the types would know the
//! finished case, not how its values are written. It refuses nothing that the reader takes; where one value alone
//! does not decide, or a bound falls between whole units, the reader knows more.

use serde_yaml::{Mapping, Value};

use super::guide;
use super::shape::{Key, Shape, Span};

/// The dialect.
const DIALECT: &str = "https://json-schema.org/draft/2020-12/schema";

/// The schema of a case file, as JSON text.
///
/// # Panics
///
/// Never: a tree of texts, numbers and lists is always JSON.
#[must_use]
pub fn schema() -> String {
    whole("tautline case file", guide::FILE, &super::outline(), guide::description)
}

/// The schema of a clinic's profile, as JSON text.
///
/// # Panics
///
/// Never: a tree of texts, numbers and lists is always JSON.
#[must_use]
pub fn profile_schema() -> String {
    let keys = super::profile_outline();
    whole("tautline clinic's profile", guide::PROFILE, &keys, guide::description_in_profile)
}

/// What a key is, in words.
type Describe = fn(&str, &Key) -> String;

fn whole(title: &str, description: &str, keys: &[Key], describe: Describe) -> String {
    let mut all = Mapping::new();
    put(&mut all, "$schema", DIALECT);
    put(&mut all, "title", title);
    put(&mut all, "description", description);
    for (key, value) in group(keys, "", describe) {
        all.insert(key, value);
    }
    let text = serde_json::to_string_pretty(&Value::Mapping(all));
    text.expect("a tree of texts and numbers is JSON") + "\n"
}

fn put(group: &mut Mapping, key: &str, value: impl Into<Value>) {
    group.insert(key.into(), value.into());
}

/// The keys of a group below a path.
fn group(keys: &[Key], path: &str, describe: Describe) -> Mapping {
    let mut properties = Mapping::new();
    for key in keys {
        let path = guide::below(path, key.name);
        let mut value = Mapping::new();
        put(&mut value, "description", describe(&path, key));
        let shape = shape(&key.shape, &path, describe);
        value.extend(if key.required { shape } else { or_nothing(shape) });
        put(&mut properties, key.name, value);
    }
    let required: Vec<&str> = keys.iter().filter(|it| it.required).map(|it| it.name).collect();
    let mut group = typed("object");
    put(&mut group, "properties", properties);
    if !required.is_empty() {
        put(&mut group, "required", required);
    }
    put(&mut group, "additionalProperties", false);
    group
}

fn typed(name: &str) -> Mapping {
    let mut value = Mapping::new();
    put(&mut value, "type", name);
    value
}

/// The same, or a key without a value: the reader takes that as a key left out.
fn or_nothing(mut shape: Mapping) -> Mapping {
    let null = || Value::from(vec![Value::Mapping(typed("null"))]);
    if let Some(Value::Sequence(any)) = shape.get_mut("anyOf") {
        any.push(Value::Mapping(typed("null")));
        return shape;
    }
    if let Some(Value::Sequence(words)) = shape.get_mut("enum") {
        words.push(Value::Null);
        return shape;
    }
    match shape.get_mut("type") {
        Some(Value::Sequence(types)) => types.push("null".into()),
        Some(one) => *one = Value::Sequence(vec![one.clone(), "null".into()]),
        None => put(&mut shape, "anyOf", null()),
    }
    shape
}

fn any_of(shapes: Vec<Mapping>) -> Mapping {
    let mut any = Mapping::new();
    put(&mut any, "anyOf", shapes.into_iter().map(Value::Mapping).collect::<Vec<_>>());
    any
}

fn shape(shape: &Shape, path: &str, describe: Describe) -> Mapping {
    match shape {
        Shape::Text { longest } => {
            let mut value = text_of_any_kind();
            put(&mut value, "minLength", 1);
            put(&mut value, "maxLength", *longest as u64);
            value
        }
        Shape::Formed { pattern: form } => {
            let mut value = text_of_any_kind();
            put(&mut value, "pattern", *form);
            put(&mut value, "minimum", 0);
            value
        }
        Shape::Day => pattern(r"(19|2[01])[0-9]{2}-(0[1-9]|1[0-2])-(0[1-9]|[12][0-9]|3[01])"),
        Shape::Whole { min, max } => {
            let whole = numbered("integer", f64::from(*min), f64::from(*max));
            any_of(vec![whole, pattern("[0-9]+")])
        }
        Shape::Number { min, max } => any_of(vec![numbered("number", *min, *max), pattern(NUMBER)]),
        Shape::Angle { min, max, .. } => {
            any_of(vec![numbered("number", *min, *max), pattern(&format!(r"{NUMBER}\s*°*"))])
        }
        Shape::Percent => pattern(&format!(r"{NUMBER}\s*%")),
        Shape::Quantity { spans, .. } => {
            let units: Vec<String> = spans.iter().map(with_unit).collect();
            pattern(&format!("({})", units.join("|")))
        }
        Shape::Word(words) => {
            let mut value = Mapping::new();
            put(&mut value, "enum", words.clone());
            value
        }
        Shape::List { item, least, most } => {
            let mut value = typed("array");
            put(&mut value, "items", self::shape(item, &format!("{path}[]"), describe));
            if *least > 0 {
                put(&mut value, "minItems", *least as u64);
            }
            if let Some(most) = most {
                put(&mut value, "maxItems", *most as u64);
            }
            value
        }
        Shape::Group(keys) => group(keys, path, describe),
        Shape::Either(shapes) => {
            any_of(shapes.iter().map(|it| self::shape(it, path, describe)).collect())
        }
    }
}

/// A plain number in quotes; the reader takes a true minus sign too.
const NUMBER: &str = r"[-+−]?[0-9]+(\.[0-9]+)?";

/// Text, also where it looks like a number or a truth word: the reader takes the file's own letters.
fn text_of_any_kind() -> Mapping {
    let mut value = Mapping::new();
    put(&mut value, "type", vec!["string", "number", "boolean"]);
    value
}

fn pattern(form: &str) -> Mapping {
    let mut value = typed("string");
    put(&mut value, "pattern", format!(r"^\s*{form}\s*$"));
    value
}

fn numbered(kind: &str, min: f64, max: f64) -> Mapping {
    let bound = |it: f64| {
        if it.fract() == 0.0 { Value::from(it as i64) } else { Value::from(it) }
    };
    let mut value = typed(kind);
    put(&mut value, "minimum", bound(min));
    put(&mut value, "maximum", bound(max));
    value
}

/// A quantity in one unit, its bounds widened to whole units.
fn with_unit(span: &Span) -> String {
    /// A unit conversion may miss a whole bound by the last bit.
    const HAIR: f64 = 1e-6;
    let least = (span.min + HAIR).floor().max(0.0) as u64;
    let most = (span.max + HAIR).floor() as u64;
    let sign = if least == 0 { "[-+−]?" } else { r"\+?" };
    let whole = between(least, most).join("|");
    let unit = span.unit;
    format!(r"{sign}0*({whole})(\.[0-9]+)?\s*{unit}")
}

/// Patterns that together match the whole numbers from `least` to `most`, without zeros in front.
///
/// Splits where the number of digits changes and where the last digits run full: 90 to 312 are `9[0-9]`,
/// `[1-2][0-9][0-9]`, `30[0-9]` and `31[0-2]`.
fn between(least: u64, most: u64) -> Vec<String> {
    let mut patterns = Vec::new();
    let mut from = least;
    while from <= most {
        // The largest block of tens, hundreds … that starts here and ends in time.
        let mut block = 1;
        while from.is_multiple_of(block * 10) && from > 0 && from + block * 10 - 1 <= most {
            block *= 10;
        }
        // The digit above the block may run on, up to its nine.
        let head = from / block;
        let more = (9 - head % 10).min((most + 1 - from) / block - 1);
        let digits = block.to_string().len() - 1;
        let front = if head >= 10 { (head / 10).to_string() } else { String::new() };
        let tail = head % 10;
        let digit = if more == 0 { tail.to_string() } else { format!("[{tail}-{}]", tail + more) };
        patterns.push(format!("{front}{digit}{}", "[0-9]".repeat(digits)));
        from += block * (more + 1);
    }
    patterns
}
