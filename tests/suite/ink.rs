//! What a page paints, in the order in which it paints it: every glyph's box, read from the outlines of the
//! embedded font, and every line and area. In mm from the bottom left.

use std::sync::LazyLock;

use lopdf::content::{Content, Operation};
use lopdf::{Dictionary, decode_text_string};
use ttf_parser::{Face, GlyphId};

use crate::glyphs::{Glyphs, Shown};
use crate::papers::{Printed, all};
use crate::pdf::{IDENTITY, Matrix, Pdf, apply, numbers, then};
use crate::quads::{Point, Quad, hull};

/// One thing painted.
#[derive(Debug, Clone)]
pub enum Item {
    Text(Text),
    Path(Path),
}

impl Item {
    /// The upright box round it.
    pub fn area(&self) -> (Point, Point) {
        match self {
            Self::Text(it) => hull(it.glyphs.iter().flatten().copied()),
            Self::Path(it) => hull(it.chains.iter().flatten().copied()),
        }
    }

    /// Whose content it is.
    pub fn mark(&self) -> Mark {
        match self {
            Self::Text(it) => it.mark,
            Self::Path(it) => it.mark,
        }
    }

    pub fn path(&self) -> Option<&Path> {
        match self {
            Self::Path(it) => Some(it),
            Self::Text(_) => None,
        }
    }
}

/// A shown string.
#[derive(Debug, Clone)]
pub struct Text {
    /// What a reader or a copy takes it for.
    pub string: String,
    /// The boxes round the outlines of its glyphs; a space has none.
    pub glyphs: Vec<Quad>,
    /// From its start to its end, from 0.2 of its size below the base line to 0.7 above.
    pub line: Quad,
    pub size_pt: f64,
    pub mark: Mark,
    /// What it must keep within, where something clips it.
    pub clip: Option<(Point, Point)>,
}

/// A stroked or filled path, curves as chains of short lines.
#[derive(Debug, Clone)]
pub struct Path {
    pub chains: Vec<Vec<Point>>,
    pub width_mm: Option<f64>,
    /// How light it is filled, 0 black, 1 white.
    pub fill: Option<f64>,
    pub mark: Mark,
}

/// Whose content it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Mark {
    /// Content of the tag tree, by its number on the page.
    Tagged(i64),
    /// Header or footer.
    Frame,
    /// Other content that is not read aloud.
    Mute,
}

/// All that a page paints.
#[derive(Debug, Clone)]
pub struct Ink {
    pub size: Point,
    pub items: Vec<Item>,
}

impl Ink {
    pub fn texts(&self) -> impl Iterator<Item = &Text> {
        self.items.iter().filter_map(|it| match it {
            Item::Text(text) => Some(text),
            Item::Path(_) => None,
        })
    }
}

/// Every page of every demo paper, read once.
pub fn pages() -> &'static [(&'static Printed, Vec<Ink>)] {
    static PAGES: LazyLock<Vec<(&'static Printed, Vec<Ink>)>> =
        LazyLock::new(|| all().iter().map(|it| (it, read(&it.bytes))).collect());
    &PAGES
}

/// Every page of a paper.
pub fn read(bytes: &[u8]) -> Vec<Ink> {
    let pdf = Pdf::read(bytes);
    (0..pdf.page_count()).map(|index| ink(&pdf, index)).collect()
}

/// Reads a page.
fn ink(pdf: &Pdf, index: usize) -> Ink {
    ink_of(pdf, index, &pdf.content(index))
}

/// Reads a page with another content stream in the place of its own.
pub fn ink_of(pdf: &Pdf, index: usize, content: &[u8]) -> Ink {
    let mut reader = Reader { pdf, items: Vec::new(), fonts: Vec::new() };
    let state = State { matrix: IDENTITY, width: 1.0, fill: 0.0, clip: None };
    reader.content(content, &pdf.resources(index), state, &mut Vec::new(), 0);
    Ink { size: pdf.page_size_mm(index), items: reader.items }
}

/// A font as far as it is needed: the glyphs' boxes as shares of the size, and what they stand for.
struct Font {
    key: *const Dictionary,
    boxes: Vec<Option<[f64; 4]>>,
    strings: Vec<String>,
}

/// The graphics state, as far as the typesetter changes it.
#[derive(Clone, Copy)]
struct State {
    matrix: Matrix,
    width: f64,
    fill: f64,
    clip: Option<(Point, Point)>,
}

/// Marked content that is open: whose it is, and what its text is said to be.
struct Open {
    mark: Option<Mark>,
    actual: Option<String>,
}

struct Reader<'a> {
    pdf: &'a Pdf,
    items: Vec<Item>,
    fonts: Vec<Font>,
}

/// A path under construction, in page space.
#[derive(Default)]
struct Pen {
    chains: Vec<Vec<Point>>,
    clips: bool,
}

impl Pen {
    fn to(&mut self, at: Point) {
        self.chains.last_mut().expect("a path starts with `m`").push(at);
    }

    /// Sixteen short lines in the place of a cubic curve.
    fn curve(&mut self, [b, c, d]: [Point; 3]) {
        let a = *self.chains.last().and_then(|it| it.last()).expect("a curve starts somewhere");
        for step in 1..=16 {
            let t = f64::from(step) / 16.0;
            let u = 1.0 - t;
            let mix = |a: f64, b: f64, c: f64, d: f64| {
                u * u * u * a + 3.0 * u * u * t * b + 3.0 * u * t * t * c + t * t * t * d
            };
            self.to((mix(a.0, b.0, c.0, d.0), mix(a.1, b.1, c.1, d.1)));
        }
    }

    fn close(&mut self) {
        if let Some(first) = self.chains.last().and_then(|it| it.first()).copied() {
            self.to(first);
        }
    }
}

impl Reader<'_> {
    fn content(
        &mut self,
        bytes: &[u8],
        resources: &[&Dictionary],
        start: State,
        open: &mut Vec<Open>,
        depth: u8,
    ) {
        let content = Content::decode(bytes).unwrap();
        let (mut state, mut stack) = (start, Vec::new());
        let (mut pen, mut glyphs) = (Pen::default(), Glyphs::default());
        for operation in &content.operations {
            let n = numbers(&operation.operands);
            let at = |it: usize| apply(state.matrix, (n[it], n[it + 1]));
            match operation.operator.as_str() {
                "q" => stack.push(state),
                "Q" => state = stack.pop().unwrap(),
                "cm" => state.matrix = then([n[0], n[1], n[2], n[3], n[4], n[5]], state.matrix),
                "w" => state.width = n[0],
                "g" | "rg" | "sc" | "scn" => state.fill = lightness(&n),
                "m" => pen.chains.push(vec![at(0)]),
                "l" => pen.to(at(0)),
                "c" => pen.curve([at(0), at(2), at(4)]),
                "re" => {
                    let corner = |x: f64, y: f64| apply(state.matrix, (n[0] + x, n[1] + y));
                    let (w, h) = (n[2], n[3]);
                    let start = corner(0.0, 0.0);
                    pen.chains.push(vec![
                        start,
                        corner(w, 0.0),
                        corner(w, h),
                        corner(0.0, h),
                        start,
                    ]);
                }
                "h" => pen.close(),
                "W" | "W*" => pen.clips = true,
                "S" | "s" | "f" | "F" | "f*" | "B" | "B*" | "b" | "b*" | "n" => {
                    self.paint(&mut pen, &operation.operator, &mut state, mark_of(open));
                }
                "BDC" | "BMC" => open.push(self.opened(operation)),
                "EMC" => {
                    open.pop().unwrap();
                }
                "Do" if depth < 8 => {
                    if let Some((bytes, inner, own)) =
                        self.pdf.form(&operation.operands[0], resources)
                    {
                        let state = State { matrix: then(own, state.matrix), ..state };
                        self.content(&bytes, &inner, state, open, depth + 1);
                    }
                }
                other => {
                    assert!(!["v", "y"].contains(&other), "teach `{other}` to this reader");
                    if let Some(shown) = glyphs.take(self.pdf, operation, resources) {
                        self.text(&shown, &state, open, resources);
                    }
                }
            }
        }
    }

    fn paint(&mut self, pen: &mut Pen, how: &str, state: &mut State, mark: Mark) {
        let Pen { chains, clips } = std::mem::take(pen);
        let strokes = matches!(how, "S" | "s" | "B" | "B*" | "b" | "b*");
        let fills = matches!(how, "f" | "F" | "f*" | "B" | "B*" | "b" | "b*");
        if strokes || fills {
            let [a, b, c, d, ..] = state.matrix;
            let scale = (a * d - b * c).abs().sqrt() * 25.4 / 72.0;
            self.items.push(Item::Path(Path {
                chains: chains.clone(),
                width_mm: strokes.then_some(state.width * scale),
                fill: fills.then_some(state.fill),
                mark,
            }));
        }
        if clips {
            let (least, most) = hull(chains.into_iter().flatten());
            state.clip = Some(state.clip.map_or((least, most), |(low, high)| {
                ((least.0.max(low.0), least.1.max(low.1)), (most.0.min(high.0), most.1.min(high.1)))
            }));
        }
    }

    fn opened(&self, operation: &Operation) -> Open {
        let tag = operation.operands[0].as_name().unwrap();
        let properties = operation
            .operands
            .get(1)
            .map(|it| it.as_dict().expect("the typesetter writes properties where they are used"));
        let get = |key: &str| self.pdf.get(properties?, key);
        let is_frame = get("Type").and_then(|it| it.as_name().ok()) == Some(b"Pagination");
        let mark = match get("MCID").and_then(|it| it.as_i64().ok()) {
            Some(id) => Some(Mark::Tagged(id)),
            None if tag == b"Artifact" => Some(if is_frame { Mark::Frame } else { Mark::Mute }),
            None => None,
        };
        let actual = get("ActualText").and_then(|it| decode_text_string(it).ok());
        Open { mark, actual }
    }

    fn text(&mut self, shown: &Shown, state: &State, open: &mut [Open], resources: &[&Dictionary]) {
        let font = self.font(&shown.font, resources);
        let mut string = String::new();
        let mut boxes = Vec::new();
        let quad = |base: Matrix, [left, low, right, high]: [f64; 4]| -> Quad {
            let whole = then(base, state.matrix);
            [(left, low), (right, low), (right, high), (left, high)]
                .map(|(x, y)| apply(whole, (x * shown.size, y * shown.size)))
        };
        for (id, base) in &shown.glyphs {
            let id = usize::from(*id);
            string += &font.strings[id];
            boxes.extend(font.boxes[id].map(|it| quad(*base, it)));
        }
        // A span that says what its glyphs stand for speaks once, with its first string.
        if let Some(actual) = open.iter_mut().rev().find_map(|it| it.actual.as_mut()) {
            string = std::mem::take(actual);
        }
        // A space at the end of a line takes no room.
        let spaces =
            shown.glyphs.iter().rev().take_while(|it| font.boxes[usize::from(it.0)].is_none());
        let end = spaces.last().map_or(shown.to, |it| it.1);
        let run = end[4] - shown.from[4];
        let line = quad(shown.from, [0.0, -0.2, run / shown.size, 0.7]);
        let [a, b, c, d, ..] = then(shown.from, state.matrix);
        self.items.push(Item::Text(Text {
            string,
            glyphs: boxes,
            line,
            size_pt: shown.size * (a * d - b * c).abs().sqrt(),
            mark: mark_of(open),
            clip: state.clip,
        }));
    }

    fn font(&mut self, name: &str, resources: &[&Dictionary]) -> &Font {
        let pdf = self.pdf;
        let font = resources
            .iter()
            .find_map(|it| pdf.get(pdf.get(it, "Font")?.as_dict().ok()?, name)?.as_dict().ok());
        let font = font.unwrap_or_else(|| panic!("font `{name}`"));
        let known = self.fonts.iter().position(|it| std::ptr::eq(it.key, font));
        let index = known.unwrap_or_else(|| {
            self.fonts.push(load(pdf, font));
            self.fonts.len() - 1
        });
        &self.fonts[index]
    }
}

/// Grey as it is, or the mean of red, green and blue.
fn lightness(n: &[f64]) -> f64 {
    n.iter().sum::<f64>() / n.len().max(1) as f64
}

/// Whose content is painted now: what was opened last decides, a span inside it does not.
fn mark_of(open: &[Open]) -> Mark {
    open.iter().rev().find_map(|it| it.mark).unwrap_or(Mark::Mute)
}

/// The boxes and the meaning of all glyphs of an embedded font (ISO 32000-1, 9.7.4: character ids are glyph
/// numbers of the `TrueType` file inside).
fn load(pdf: &Pdf, font: &Dictionary) -> Font {
    let inner = pdf.get(font, "DescendantFonts").unwrap().as_array().unwrap();
    let inner = pdf.resolve(&inner[0]).as_dict().unwrap();
    assert_eq!(pdf.get(inner, "CIDToGIDMap").unwrap().as_name().unwrap(), b"Identity");
    let descriptor = pdf.get(inner, "FontDescriptor").unwrap().as_dict().unwrap();
    let file = pdf.get(descriptor, "FontFile2").unwrap().as_stream().unwrap();
    let bytes = file.decompressed_content().unwrap_or_else(|_| file.content.clone());
    let face = Face::parse(&bytes, 0).unwrap();
    let em = f64::from(face.units_per_em());
    let ids = 0..face.number_of_glyphs();
    let boxes = ids.clone().map(|id| {
        let it = face.glyph_bounding_box(GlyphId(id))?;
        Some([it.x_min, it.y_min, it.x_max, it.y_max].map(|it| f64::from(it) / em))
    });
    let encoding = font.get_font_encoding(pdf.document()).unwrap();
    let strings = ids.map(|id| encoding.bytes_to_string(&id.to_be_bytes()).unwrap());
    Font { key: font, boxes: boxes.collect(), strings: strings.collect() }
}
