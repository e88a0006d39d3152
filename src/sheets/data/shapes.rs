//! The shapes of a drawing as one text, which the layouts pass on unread: they are by far the most of a paper's data, and
//! the typesetter hashes whatever a layout holds in its hands, over and over.

use kurbo::PathEl;
use serde::Serialize;

/// A shape of a drawing.
#[derive(Debug)]
pub(super) struct Shape {
    pub(super) part: &'static str,
    pub(super) closed: bool,
    pub(super) path: Path,
}

/// The steps of a path in thousandths of a millimetre (SVG 1.1, 8.3).
#[derive(Debug)]
pub(super) struct Path(String);

/// The shapes of a drawing in the order they are drawn, each as its part and its path; a semicolon between two.
#[derive(Debug, Serialize)]
pub(super) struct Shapes(String);

impl FromIterator<Shape> for Shapes {
    fn from_iter<I: IntoIterator<Item = Shape>>(shapes: I) -> Self {
        let mut text = String::new();
        for Shape { part, closed, path } in shapes {
            if !text.is_empty() {
                text.push(';');
            }
            text.extend([part, " ", &path.0, if closed { "Z" } else { "" }]);
        }
        Self(text)
    }
}

impl FromIterator<PathEl> for Path {
    /// Of steps in mm, rounded to the last digit kept: a thousandth is far below what a printer shows.
    fn from_iter<I: IntoIterator<Item = PathEl>>(steps: I) -> Self {
        let mut text = String::new();
        for step in steps {
            let (letter, points) = match step {
                PathEl::MoveTo(to) => ('M', vec![to]),
                PathEl::LineTo(to) => ('L', vec![to]),
                PathEl::QuadTo(middle, to) => ('Q', vec![middle, to]),
                PathEl::CurveTo(one, other, to) => ('C', vec![one, other, to]),
                PathEl::ClosePath => ('Z', vec![]),
            };
            text.push(letter);
            for (index, point) in points.iter().enumerate() {
                let gap = if index == 0 { "" } else { " " };
                let [x, y] = [point.x, point.y].map(thousandths);
                text.push_str(&format!("{gap}{x} {y}"));
            }
        }
        Self(text)
    }
}

/// A length in thousandths of a millimetre; what is none stays none, and stops the paper where the path is read.
fn thousandths(mm: f64) -> String {
    let whole = (mm * 1000.0).round();
    if whole.is_finite() { (whole as i64).to_string() } else { whole.to_string() }
}

/// What stands before the shapes of a drawing in JSON. A case's own words cannot hold it: JSON marks their quotes.
const BEFORE: &str = r#""shapes":""#;

/// Takes the shapes of each drawing out of JSON and leaves the path where they are found: gives the JSON, and the
/// shapes in the order of their paths.
pub(super) fn taken_out(json: &str, path: impl Fn(usize) -> String) -> (String, Vec<String>) {
    let mut parts = json.split(BEFORE);
    let mut left = parts.next().unwrap_or_default().to_owned();
    let mut taken = Vec::new();
    for part in parts {
        let (shapes, behind) = part.split_once('"').unwrap_or((part, ""));
        left.extend([BEFORE, &path(taken.len()), "\"", behind]);
        taken.push(shapes.to_owned());
    }
    (left, taken)
}
