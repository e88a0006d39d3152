//! Flat pieces as drawings: to scale with their dimensions, laid on the sheet, parted into tiles.

use kurbo::{BezPath, PathEl};

use super::drawing::{Drawing, Enclosure, Label, coordinate};
use super::shapes::{Path, Shape};
use super::tiles::Grid;
use crate::calc::pattern::{Dimension, Lie, Mark, Outline, Piece, SheetUse, Spot};
use crate::sheets::wording::mm0;
use crate::units::Length;

/// Half the tick across the end of a dimension (mm at full size).
const TICK: f64 = 4.0;

/// A drawing under way, in the piece's own coordinates.
#[derive(Default)]
struct Canvas {
    shapes: Vec<(&'static str, Outline)>,
    /// The middle of each; where the line that it measures begins; what it says; whether it stands upright.
    labels: Vec<(Spot, Spot, String, bool)>,
}

/// A piece with its marks and dimensions, to be drawn to scale.
pub(super) fn dimensioned(piece: &Piece, alt: String) -> Drawing {
    let mut canvas = Canvas::default();
    canvas.piece(piece);
    for dimension in &piece.dimensions {
        canvas.dimension(dimension);
    }
    canvas.set(alt)
}

/// A piece and the windows of its tiles with their names.
pub(super) fn overview(piece: &Piece, grid: &Grid, letter: char, alt: String) -> Drawing {
    let mut canvas = Canvas::default();
    canvas.paint("cut", &piece.outline);
    if let Some(opening) = &piece.opening {
        canvas.paint("cut_hole", opening);
    }
    for cell in grid.cells() {
        canvas.paint("tile", &cell.frame());
        canvas.label(cell.middle(), cell.name(letter));
    }
    canvas.set(alt)
}

/// One sheet with the pieces on it.
pub(super) fn on_sheet(
    used: &SheetUse,
    pieces: &[Piece],
    names: &[String],
    number: usize,
    alt: String,
) -> Drawing {
    let mut canvas = Canvas::default();
    canvas.paint("sheet", &Outline::upright(used.sheet.length, used.sheet.width));
    for lie in used.lies.iter().filter(|it| it.sheet == number) {
        let piece = &pieces[lie.piece];
        canvas.paint("piece", &laid(piece, &piece.outline, lie));
        if let Some(opening) = &piece.opening {
            canvas.paint("hole", &laid(piece, opening, lie));
        }
        canvas.label(Spot { x: lie.x, y: lie.y }, names[lie.piece].clone());
    }
    canvas.set(alt)
}

/// An outline of a piece where the piece lies on the sheet.
fn laid(piece: &Piece, outline: &Outline, lie: &Lie) -> Outline {
    let extent = piece.extent();
    let middle =
        Spot { x: (extent.low.x + extent.high.x) / 2.0, y: (extent.low.y + extent.high.y) / 2.0 };
    outline.laid(middle, Spot { x: lie.x, y: lie.y }, lie.turned)
}

impl Canvas {
    fn paint(&mut self, part: &'static str, outline: &Outline) {
        self.shapes.push((part, outline.clone()));
    }

    fn label(&mut self, at: Spot, text: String) {
        self.labels.push((at, at, text, false));
    }

    fn piece(&mut self, piece: &Piece) {
        self.paint("cut", &piece.outline);
        if let Some(opening) = &piece.opening {
            self.paint("cut_hole", opening);
        }
        for detail in &piece.details {
            self.paint(mark_key(detail.mark), &detail.outline);
        }
        for hole in &piece.holes {
            self.paint("hole", &Outline::circle(hole.at, hole.diameter));
        }
    }

    /// A line with a tick across each end, and its length in mm.
    fn dimension(&mut self, dimension: &Dimension) {
        let Dimension { from, to } = *dimension;
        let is_upright = (from.x - to.x).abs() < (from.y - to.y).abs();
        let tick = Length::mm(TICK);
        self.paint("dimension", &Outline::line(from, to));
        for end in [from, to] {
            let (one, other) = if is_upright {
                (Spot { x: end.x - tick, y: end.y }, Spot { x: end.x + tick, y: end.y })
            } else {
                (Spot { x: end.x, y: end.y - tick }, Spot { x: end.x, y: end.y + tick })
            };
            self.paint("dimension", &Outline::line(one, other));
        }
        let middle = Spot { x: (from.x + to.x) / 2.0, y: (from.y + to.y) / 2.0 };
        self.labels.push((middle, from, mm0(from.distance(to)), is_upright));
    }

    /// On its page: the origin at the top left of all shapes.
    fn set(self, alt: String) -> Drawing {
        let extents: Vec<_> = self.shapes.iter().map(|(_, it)| it.extent()).collect();
        let least =
            |of: fn(&Spot) -> Length| extents.iter().map(|it| of(&it.low)).reduce(Length::min);
        let most =
            |of: fn(&Spot) -> Length| extents.iter().map(|it| of(&it.high)).reduce(Length::max);
        let low = Spot {
            x: least(|it| it.x).unwrap_or_default(),
            y: least(|it| it.y).unwrap_or_default(),
        };
        let high =
            Spot { x: most(|it| it.x).unwrap_or_default(), y: most(|it| it.y).unwrap_or_default() };
        let by = Spot { x: -low.x, y: -low.y };
        let place = |it: Spot| [coordinate(it.x + by.x), coordinate(it.y + by.y)];
        let labels = self.labels.iter().map(|(at, to, text, is_upright)| Label {
            part: "dimension",
            at: place(*at),
            to: place(*to),
            anchor: "on",
            text: Some(text.clone()),
            turn: is_upright.then_some(90),
        });
        let shapes = self.shapes.iter().map(|(part, outline)| Shape {
            part,
            closed: outline.is_closed(),
            path: path(outline.moved(by).path()),
        });
        let (width, height) = (coordinate(high.x - low.x), coordinate(high.y - low.y));
        Drawing {
            alt,
            width,
            height,
            enclosure: Enclosure { left: 0.0, right: width, top: 0.0, bottom: height },
            labels: labels.collect(),
            shapes: shapes.collect(),
        }
    }
}

/// A detail's part in drawing data.
pub(super) fn mark_key(mark: Mark) -> &'static str {
    match mark {
        Mark::Fold => "fold",
        Mark::Midline => "midline",
        Mark::Lane => "lane",
        Mark::Strip => "strip",
        Mark::Strap => "strap",
        Mark::Dot => "dot",
        Mark::Tongue => "tongue",
        Mark::Grain => "grain",
    }
}

/// The steps of a path, left open: a shape that is closed closes it.
pub(super) fn path(path: &BezPath) -> Path {
    path.elements().iter().copied().filter(|it| *it != PathEl::ClosePath).collect()
}
