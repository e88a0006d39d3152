//! How far shown text runs: ISO 32000-1, 9.4, as far as the typesetter uses it.

use lopdf::content::Operation;
use lopdf::{Dictionary, Object};

use crate::pdf::{IDENTITY, Matrix, Pdf, numbers, then};

/// The text state of a content stream.
#[derive(Default)]
pub struct Glyphs {
    /// Advances of the font by character id, in thousandths of its size, and the usual one.
    advances: Vec<(u16, f64)>,
    usual: f64,
    size: f64,
    matrix: Option<Matrix>,
    /// The font's name among the page's resources.
    font: String,
}

/// A shown string in the space of its content stream.
pub struct Shown {
    /// The font's name among the page's resources, and its size.
    pub font: String,
    pub size: f64,
    /// The base line at the string's start and at its end.
    pub from: Matrix,
    pub to: Matrix,
    /// Every glyph with the base line at its start.
    pub glyphs: Vec<(u16, Matrix)>,
}

impl Glyphs {
    /// Takes one operator; gives the text that it shows, if it shows any.
    pub fn take(
        &mut self,
        pdf: &Pdf,
        operation: &Operation,
        resources: &[&Dictionary],
    ) -> Option<Shown> {
        let n = numbers(&operation.operands);
        match operation.operator.as_str() {
            "BT" => self.matrix = Some(IDENTITY),
            "Tm" => self.matrix = Some([n[0], n[1], n[2], n[3], n[4], n[5]]),
            "Tf" => {
                self.size = n[0];
                self.font(pdf, operation.operands[0].as_name().unwrap(), resources);
            }
            "Tj" => return Some(self.show(&operation.operands)),
            "TJ" => return Some(self.show(operation.operands[0].as_array().unwrap())),
            other => assert!(
                !["Td", "TD", "T*", "'", "\"", "Tc", "Tw", "Tz", "Ts"].contains(&other),
                "the typesetter now writes `{other}`: teach it to this reader"
            ),
        }
        None
    }

    fn font(&mut self, pdf: &Pdf, name: &[u8], resources: &[&Dictionary]) {
        let name = String::from_utf8_lossy(name);
        self.font = name.to_string();
        let inner = resources.iter().find_map(|it| {
            let fonts = pdf.get(it, "Font")?.as_dict().ok()?;
            let font = pdf.get(fonts, &name)?.as_dict().ok()?;
            pdf.resolve(pdf.get(font, "DescendantFonts")?.as_array().ok()?.first()?).as_dict().ok()
        });
        let inner = inner.unwrap_or_else(|| panic!("`{name}` is a composite font"));
        let usual = pdf.get(inner, "DW").and_then(|it| it.as_float().ok());
        self.usual = usual.map_or(1000.0, f64::from);
        self.advances.clear();
        let widths = pdf.get(inner, "W").unwrap().as_array().unwrap();
        let whole = |it: &Object| u16::try_from(it.as_i64().unwrap()).unwrap();
        // `first [w w w]` or `first last w`.
        let mut rest = widths.as_slice();
        while let [first, second, more @ ..] = rest {
            if let Object::Array(row) = pdf.resolve(second) {
                self.advances.extend((whole(first)..).zip(numbers(row)));
                rest = more;
            } else {
                let width = f64::from(more[0].as_float().unwrap());
                self.advances.extend((whole(first)..=whole(second)).map(|it| (it, width)));
                rest = &more[1..];
            }
        }
    }

    /// Moves on by strings of two-byte character ids and by thousandths between them.
    fn show(&mut self, pieces: &[Object]) -> Shown {
        let from = self.matrix.expect("text is shown inside BT and ET");
        let moved = |run: f64| then([1.0, 0.0, 0.0, 1.0, run / 1000.0 * self.size, 0.0], from);
        let (mut run, mut glyphs) = (0.0, Vec::new());
        for piece in pieces {
            if let Object::String(bytes, _) = piece {
                for pair in bytes.chunks_exact(2) {
                    let id = u16::from_be_bytes([pair[0], pair[1]]);
                    glyphs.push((id, moved(run)));
                    run += self.advance(id);
                }
            } else {
                run -= f64::from(piece.as_float().unwrap());
            }
        }
        let to = moved(run);
        self.matrix = Some(to);
        Shown { font: self.font.clone(), size: self.size, from, to, glyphs }
    }

    fn advance(&self, id: u16) -> f64 {
        self.advances.iter().find(|(it, _)| *it == id).map_or(self.usual, |(_, width)| *width)
    }
}
