//! Reading a PDF back: text, tag tree, strings, and what a page draws, in millimetres.

use lopdf::content::Content;
use lopdf::{Dictionary, Document, Object, ObjectId, Stream, decode_text_string};

use crate::glyphs::Glyphs;

/// Millimetres in a point.
const MM: f64 = 25.4 / 72.0;

/// A PDF that was read back.
pub struct Pdf {
    document: Document,
    pages: Vec<ObjectId>,
}

/// What a page draws, in page space: mm from the bottom left.
#[derive(Debug, Default)]
pub struct Drawn {
    /// Straight strokes.
    pub strokes: Vec<Stroke>,
    /// Curved strokes.
    pub curves: Vec<Curve>,
    /// Corners of every painted path, stroked or filled.
    pub corners: Vec<(f64, f64)>,
    /// Where each shown string starts and ends on its base line.
    pub texts: Vec<((f64, f64), (f64, f64))>,
}

/// A stroked cubic Bézier curve in page space: start, two handles, end, mm from the bottom left.
#[derive(Debug, Clone, Copy)]
pub struct Curve {
    pub points: [(f64, f64); 4],
    pub width_pt: f64,
}

/// A straight stroke in page space, mm from the bottom left; width in points.
#[derive(Debug, Clone, Copy)]
pub struct Stroke {
    pub from: (f64, f64),
    pub to: (f64, f64),
    pub width_pt: f64,
}

impl Stroke {
    pub fn is_vertical(&self) -> bool {
        (self.from.0 - self.to.0).abs() < 1e-4
    }

    pub fn is_horizontal(&self) -> bool {
        (self.from.1 - self.to.1).abs() < 1e-4
    }

    pub fn length(&self) -> f64 {
        let (x, y) = (self.to.0 - self.from.0, self.to.1 - self.from.1);
        (x * x + y * y).sqrt()
    }
}

impl Pdf {
    pub fn read(bytes: &[u8]) -> Self {
        let document = Document::load_mem(bytes).unwrap();
        let pages = document.get_pages().into_values().collect();
        Self { document, pages }
    }

    pub fn document(&self) -> &Document {
        &self.document
    }

    pub fn page_ids(&self) -> &[ObjectId] {
        &self.pages
    }

    pub fn page_count(&self) -> usize {
        self.pages.len()
    }

    pub fn catalog(&self) -> &Dictionary {
        self.document.catalog().unwrap()
    }

    pub fn resolve<'a>(&'a self, object: &'a Object) -> &'a Object {
        self.document.dereference(object).unwrap().1
    }

    /// The value of a key, followed to where it stands.
    pub fn get<'a>(&'a self, dictionary: &'a Dictionary, key: &str) -> Option<&'a Object> {
        dictionary.get(key.as_bytes()).ok().map(|it| self.resolve(it))
    }

    pub fn page(&self, index: usize) -> &Dictionary {
        self.document.get_dictionary(self.pages[index]).unwrap()
    }

    pub fn page_size_mm(&self, index: usize) -> (f64, f64) {
        let area = numbers(self.get(self.page(index), "MediaBox").unwrap().as_array().unwrap());
        ((area[2] - area[0]) * MM, (area[3] - area[1]) * MM)
    }

    /// The text of a page.
    pub fn page_text(&self, index: usize) -> String {
        self.document.extract_text(&[u32::try_from(index).unwrap() + 1]).unwrap()
    }

    /// The text of all pages.
    pub fn text(&self) -> String {
        (0..self.pages.len()).map(|index| self.page_text(index)).collect::<Vec<_>>().join("\n")
    }

    /// Every structure element's type, with its dictionary, in reading order.
    pub fn tags(&self) -> Vec<(String, &Dictionary)> {
        let root = self.get(self.catalog(), "StructTreeRoot").unwrap().as_dict().unwrap();
        let mut found = Vec::new();
        self.walk_tags(root, &mut found);
        found
    }

    fn walk_tags<'a>(&'a self, element: &'a Dictionary, found: &mut Vec<(String, &'a Dictionary)>) {
        if let Some(Object::Name(kind)) = self.get(element, "S") {
            found.push((String::from_utf8_lossy(kind).into_owned(), element));
        }
        for child in self.children(element) {
            self.walk_tags(child, found);
        }
    }

    /// The structure elements right below one.
    pub fn children<'a>(&'a self, element: &'a Dictionary) -> Vec<&'a Dictionary> {
        let kids = match self.get(element, "K") {
            Some(Object::Array(kids)) => kids.iter().map(|it| self.resolve(it)).collect(),
            Some(one) => vec![one],
            None => Vec::new(),
        };
        kids.into_iter().filter_map(|it| it.as_dict().ok()).filter(|it| it.has(b"S")).collect()
    }

    /// Every straight stroke of a page, form `XObjects` included.
    pub fn strokes(&self, index: usize) -> Vec<Stroke> {
        self.drawn(index).strokes
    }

    /// Every text string that stands in an object of the document: names, titles, alternatives. Page
    /// text is not among them; it stands in content streams.
    pub fn strings(&self) -> Vec<String> {
        let mut found = Vec::new();
        let mut below: Vec<&Object> = self.document.objects.values().collect();
        below.extend(self.document.trailer.iter().map(|(_, value)| value));
        while let Some(object) = below.pop() {
            match object {
                Object::String(bytes, _) => {
                    let raw = String::from_utf8_lossy(bytes).into_owned();
                    found.push(decode_text_string(object).unwrap_or(raw));
                }
                Object::Array(items) => below.extend(items),
                Object::Dictionary(it) | Object::Stream(Stream { dict: it, .. }) => {
                    below.extend(it.iter().map(|(_, value)| value));
                }
                _ => {}
            }
        }
        found
    }

    /// The document's XMP metadata.
    pub fn metadata(&self) -> String {
        let stream = self.get(self.catalog(), "Metadata").unwrap().as_stream().unwrap();
        let bytes = stream.decompressed_content().unwrap_or_else(|_| stream.content.clone());
        String::from_utf8(bytes).unwrap()
    }

    /// All that a page draws, form `XObjects` included.
    pub fn drawn(&self, index: usize) -> Drawn {
        let mut walk = Walk { pdf: self, drawn: Drawn::default() };
        walk.content(&self.content(index), &self.resources(index), IDENTITY, 0);
        walk.drawn
    }

    /// A page's content stream.
    pub fn content(&self, index: usize) -> Vec<u8> {
        self.document.get_page_content(self.pages[index])
    }

    /// What a page's content stream calls by name.
    pub fn resources(&self, index: usize) -> Vec<&Dictionary> {
        let (inline, shared) = self.document.get_page_resources(self.pages[index]).unwrap();
        let mut resources: Vec<&Dictionary> = inline.into_iter().collect();
        resources.extend(shared.iter().map(|id| self.document.get_dictionary(*id).unwrap()));
        resources
    }

    /// A form `XObject` by its name, with what it calls by name and its matrix.
    pub fn form<'a>(
        &'a self,
        name: &Object,
        resources: &[&'a Dictionary],
    ) -> Option<(Vec<u8>, Vec<&'a Dictionary>, Matrix)> {
        let name = String::from_utf8_lossy(name.as_name().unwrap()).into_owned();
        let form = resources.iter().find_map(|it| {
            let objects = self.get(it, "XObject")?.as_dict().ok()?;
            self.get(objects, &name)?.as_stream().ok()
        })?;
        if form.dict.get(b"Subtype").and_then(Object::as_name).ok() != Some(b"Form") {
            return None;
        }
        let own = self.get(&form.dict, "Matrix").and_then(|it| it.as_array().ok());
        let own = own.map(|it| numbers(it)).filter(|it| it.len() == 6);
        let own = own.map_or(IDENTITY, |n| [n[0], n[1], n[2], n[3], n[4], n[5]]);
        let inner = self
            .get(&form.dict, "Resources")
            .and_then(|it| it.as_dict().ok())
            .into_iter()
            .collect();
        let bytes = form.decompressed_content().unwrap_or_else(|_| form.content.clone());
        Some((bytes, inner, own))
    }
}

pub fn numbers(objects: &[Object]) -> Vec<f64> {
    objects.iter().filter_map(|it| it.as_float().ok()).map(f64::from).collect()
}

/// A PDF transformation matrix: [a b c d e f] of ISO 32000-1, 8.3.3.
pub type Matrix = [f64; 6];
pub const IDENTITY: Matrix = [1.0, 0.0, 0.0, 1.0, 0.0, 0.0];

/// `cm`: the new matrix comes before the old one.
pub fn then(first: Matrix, second: Matrix) -> Matrix {
    let [a, b, c, d, e, f] = first;
    let [ga, gb, gc, gd, ge, gf] = second;
    [
        a * ga + b * gc,
        a * gb + b * gd,
        c * ga + d * gc,
        c * gb + d * gd,
        e * ga + f * gc + ge,
        e * gb + f * gd + gf,
    ]
}

pub fn apply(matrix: Matrix, (x, y): (f64, f64)) -> (f64, f64) {
    let [a, b, c, d, e, f] = matrix;
    ((x * a + y * c + e) * MM, (x * b + y * d + f) * MM)
}

struct Walk<'a> {
    pdf: &'a Pdf,
    drawn: Drawn,
}

impl Walk<'_> {
    fn content(&mut self, bytes: &[u8], resources: &[&Dictionary], start: Matrix, depth: u8) {
        let content = Content::decode(bytes).unwrap();
        // A line width that is never set is 1 pt: ISO 32000-1, table 52.
        let (mut matrix, mut width, mut stack) = (start, 1.0, Vec::new());
        let (mut path, mut at, mut first) = (Vec::new(), (0.0, 0.0), (0.0, 0.0));
        let (mut curves, mut corners, mut glyphs) = (Vec::new(), Vec::new(), Glyphs::default());
        for operation in &content.operations {
            let n = numbers(&operation.operands);
            match operation.operator.as_str() {
                "q" => stack.push((matrix, width)),
                "Q" => (matrix, width) = stack.pop().unwrap(),
                "cm" => matrix = then([n[0], n[1], n[2], n[3], n[4], n[5]], matrix),
                "w" => width = n[0],
                "m" => {
                    at = (n[0], n[1]);
                    first = at;
                    corners.push(at);
                }
                "l" => {
                    path.push((at, (n[0], n[1])));
                    at = (n[0], n[1]);
                    corners.push(at);
                }
                "c" => {
                    curves.push([at, (n[0], n[1]), (n[2], n[3]), (n[4], n[5])]);
                    at = (n[4], n[5]);
                    corners.push(at);
                }
                "v" | "y" => {
                    at = (n[n.len() - 2], n[n.len() - 1]);
                    corners.push(at);
                }
                "re" => corners.extend([(n[0], n[1]), (n[0] + n[2], n[1] + n[3])]),
                "h" => {
                    path.push((at, first));
                    at = first;
                }
                "S" | "s" | "B" | "B*" | "b" | "b*" => {
                    let strokes = path.drain(..).map(|(from, to)| Stroke {
                        from: apply(matrix, from),
                        to: apply(matrix, to),
                        width_pt: width,
                    });
                    self.drawn.strokes.extend(strokes);
                    self.drawn.curves.extend(curves.drain(..).map(|it: [(f64, f64); 4]| Curve {
                        points: it.map(|point| apply(matrix, point)),
                        width_pt: width,
                    }));
                    self.drawn.corners.extend(corners.drain(..).map(|it| apply(matrix, it)));
                }
                "f" | "F" | "f*" => {
                    path.clear();
                    curves.clear();
                    self.drawn.corners.extend(corners.drain(..).map(|it| apply(matrix, it)));
                }
                // A path that only clips paints nothing.
                "n" => {
                    path.clear();
                    curves.clear();
                    corners.clear();
                }
                "Do" if depth < 8 => self.form(&operation.operands[0], resources, matrix, depth),
                _ => {
                    let end = |base: Matrix| apply(matrix, (base[4], base[5]));
                    let shown = glyphs.take(self.pdf, operation, resources);
                    self.drawn.texts.extend(shown.map(|it| (end(it.from), end(it.to))));
                }
            }
        }
    }

    fn form(&mut self, name: &Object, resources: &[&Dictionary], matrix: Matrix, depth: u8) {
        if let Some((bytes, inner, own)) = self.pdf.form(name, resources) {
            self.content(&bytes, &inner, then(own, matrix), depth + 1);
        }
    }
}
