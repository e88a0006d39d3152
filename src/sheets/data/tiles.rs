//! A piece parted into windows that each fit a page and overlap their neighbours.

use kurbo::{BezPath, Line, ParamCurve, PathEl, PathSeg, Point, Rect};

use crate::calc::pattern::{Extent, Outline, Spot};
use crate::case::PageSize;
use crate::units::Length;

/// How far neighbours overlap.
pub(super) const OVERLAP: Length = Length::mm(10.0);
/// White between the piece and the outermost windows' edges.
const EDGE: Length = Length::mm(1.5);
/// A window's line, far longer than any page (mm).
const FAR: f64 = 1e5;

/// What a page holds at true size beside its column of words.
#[derive(Debug, Clone, Copy)]
pub(super) struct Window {
    pub(super) width: Length,
    pub(super) height: Length,
}

impl Window {
    /// On a landscape page with 10 mm at the sides and today's header and footer.
    pub(super) fn on(page: PageSize) -> Self {
        let (width, height) = match page {
            PageSize::Letter => (200.0, 166.0),
            PageSize::A4 => (216.0, 160.0),
        };
        Self { width: Length::mm(width), height: Length::mm(height) }
    }
}

/// All windows over one piece.
#[derive(Debug, Clone, Copy)]
pub(super) struct Grid {
    window: Window,
    columns: usize,
    rows: usize,
    /// The first window's corner.
    from: Spot,
}

/// One window of a grid.
#[derive(Debug, Clone, Copy)]
pub(super) struct Cell {
    grid: Grid,
    pub(super) column: usize,
    pub(super) row: usize,
}

impl Grid {
    /// As few windows as cover a piece, the piece in their middle.
    pub(super) fn over(extent: Extent, window: Window) -> Self {
        let count = |size: Length, window: Length| {
            let step = window - OVERLAP;
            (((size + EDGE * 2.0 - OVERLAP) / step).ceil() as usize).max(1)
        };
        let (columns, rows) =
            (count(extent.width(), window.width), count(extent.height(), window.height));
        let whole = |count: usize, window: Length| (window - OVERLAP) * count as f64 + OVERLAP;
        let start = |low: Length, size: Length, whole: Length| low - (whole - size) / 2.0;
        let from = Spot {
            x: start(extent.low.x, extent.width(), whole(columns, window.width)),
            y: start(extent.low.y, extent.height(), whole(rows, window.height)),
        };
        Self { window, columns, rows, from }
    }

    /// Row by row.
    pub(super) fn cells(self) -> impl Iterator<Item = Cell> {
        let columns = self.columns;
        (0..self.rows)
            .flat_map(move |row| (0..columns).map(move |column| Cell { grid: self, column, row }))
    }
}

impl Cell {
    /// Its top left corner.
    pub(super) fn corner(&self) -> Spot {
        let Grid { window, from, .. } = self.grid;
        Spot {
            x: from.x + (window.width - OVERLAP) * self.column as f64,
            y: from.y + (window.height - OVERLAP) * self.row as f64,
        }
    }

    /// Its middle.
    pub(super) fn middle(&self) -> Spot {
        let Spot { x, y } = self.corner();
        let Window { width, height } = self.grid.window;
        Spot { x: x + width / 2.0, y: y + height / 2.0 }
    }

    /// Its frame.
    pub(super) fn frame(&self) -> Outline {
        let Window { width, height } = self.grid.window;
        Outline::upright(width, height).moved(self.corner())
    }

    /// `B3`: the piece's letter and the window's number, row by row.
    pub(super) fn name(&self, letter: char) -> String {
        format!("{letter}{}", self.row * self.grid.columns + self.column + 1)
    }

    /// Its neighbour that many columns and rows further.
    pub(super) fn neighbour(&self, columns: isize, rows: isize) -> Option<Self> {
        let step = |from: usize, by: isize, count: usize| {
            from.checked_add_signed(by).filter(|it| *it < count)
        };
        Some(Self {
            grid: self.grid,
            column: step(self.column, columns, self.grid.columns)?,
            row: step(self.row, rows, self.grid.rows)?,
        })
    }

    /// A place of the piece in the window's own coordinates.
    pub(super) fn inside(&self, spot: Spot) -> Spot {
        let corner = self.corner();
        Spot { x: spot.x - corner.x, y: spot.y - corner.y }
    }

    /// Whether a place of the window keeps so much room to its edges, to the sides and up and down.
    pub(super) fn holds(&self, spot: Spot, room: (Length, Length)) -> bool {
        let Window { width, height } = self.grid.window;
        let within = |it: Length, size: Length, room: Length| room <= it && it <= size - room;
        within(spot.x, width, room.0) && within(spot.y, height, room.1)
    }

    /// Whether it is the same window.
    pub(super) fn is(&self, other: &Self) -> bool {
        (self.column, self.row) == (other.column, other.row)
    }

    /// The nearest place of the window that keeps so much room to its edges.
    pub(super) fn clear(&self, spot: Spot, room: (Length, Length)) -> Spot {
        let Window { width, height } = self.grid.window;
        let within = |it: Length, size: Length, room: Length| it.min(size - room).max(room);
        Spot { x: within(spot.x, width, room.0), y: within(spot.y, height, room.1) }
    }

    /// The corners of the space of a match mark's name: toward the window's middle; turned, along the seam on the other
    /// side; so far off the mark along the seam.
    pub(super) fn name_corners(
        &self,
        mark: Spot,
        [along, across]: [Length; 2],
        turned: bool,
        off: Length,
    ) -> (Spot, Spot) {
        let Window { width, height } = self.grid.window;
        let to_edge = |it: Length, size: Length| it.min(size - it);
        // A seam runs down at a window's sides and across at its head and foot.
        let at_side = to_edge(mark.x, width) < to_edge(mark.y, height);
        let span = |it: Length, size: Length, room: Length, is_seam: bool| {
            let off = if is_seam { off } else { Length::ZERO };
            let is_after = (it < size / 2.0) != (turned && is_seam);
            if is_after { (it + off, it + off + room) } else { (it - off - room, it - off) }
        };
        let (left, right) = span(mark.x, width, along, !at_side);
        let (top, bottom) = span(mark.y, height, across, at_side);
        (Spot { x: left, y: top }, Spot { x: right, y: bottom })
    }

    /// The match marks that it shares with its neighbours: name and place in the window. Two on each shared edge, a
    /// quarter of the way from its ends, in the middle of the overlap.
    pub(super) fn matches(&self) -> Vec<(String, Spot)> {
        let Window { width, height } = self.grid.window;
        let half = OVERLAP / 2.0;
        let quarters = |size: Length| [size / 4.0, size * 0.75];
        let mut marks = Vec::new();
        let mut add = |near: &Self, is_own: bool, is_across: bool| {
            let size = if is_across { height } else { width };
            let edge = match (is_across, is_own) {
                (true, true) => width - half,
                (false, true) => height - half,
                (_, false) => half,
            };
            for (side, along) in ["a", "b"].into_iter().zip(quarters(size)) {
                let seam = format!("{}{}", if is_across { "R" } else { "U" }, near.number());
                let at =
                    if is_across { Spot { x: edge, y: along } } else { Spot { x: along, y: edge } };
                marks.push((format!("{seam}{side}"), at));
            }
        };
        // A seam is named by the window before it.
        if self.neighbour(1, 0).is_some() {
            add(self, true, true);
        }
        if let Some(left) = self.neighbour(-1, 0) {
            add(&left, false, true);
        }
        if self.neighbour(0, 1).is_some() {
            add(self, true, false);
        }
        if let Some(above) = self.neighbour(0, -1) {
            add(&above, false, false);
        }
        marks
    }

    fn number(&self) -> usize {
        self.row * self.grid.columns + self.column + 1
    }

    /// The parts of an outline that lie in the window, in its own coordinates.
    pub(super) fn clip(&self, outline: &Outline) -> Vec<BezPath> {
        let corner = self.corner();
        let moved = outline.moved(Spot { x: -corner.x, y: -corner.y });
        let Window { width, height } = self.grid.window;
        clip(moved.path(), Rect::new(0.0, 0.0, width.to_mm(), height.to_mm()))
    }
}

/// The parts of a path inside a rectangle: each segment is cut where it crosses an edge.
fn clip(path: &BezPath, window: Rect) -> Vec<BezPath> {
    let mut parts: Vec<BezPath> = Vec::new();
    let mut end: Option<Point> = None;
    for segment in path.segments() {
        for part in inside(segment, window) {
            let is_joined = end.is_some_and(|it| it.distance(part.start()) < 1e-9);
            match parts.last_mut().filter(|_| is_joined) {
                Some(run) => run.push(step(part)),
                None => {
                    parts.push(BezPath::from_vec(vec![PathEl::MoveTo(part.start()), step(part)]));
                }
            }
            end = Some(part.end());
        }
    }
    parts
}

fn step(segment: PathSeg) -> PathEl {
    match segment {
        PathSeg::Line(line) => PathEl::LineTo(line.p1),
        PathSeg::Quad(quad) => PathEl::QuadTo(quad.p1, quad.p2),
        PathSeg::Cubic(cubic) => PathEl::CurveTo(cubic.p1, cubic.p2, cubic.p3),
    }
}

/// The parts of one segment inside a rectangle, in order.
fn inside(segment: PathSeg, window: Rect) -> Vec<PathSeg> {
    let Rect { x0, y0, x1, y1 } = window;
    let edges = [
        Line::new((x0, -FAR), (x0, FAR)),
        Line::new((x1, -FAR), (x1, FAR)),
        Line::new((-FAR, y0), (FAR, y0)),
        Line::new((-FAR, y1), (FAR, y1)),
    ];
    let crossings = edges.into_iter().flat_map(|edge| segment.intersect_line(edge));
    let mut cuts: Vec<f64> = crossings.map(|it| it.segment_t.clamp(0.0, 1.0)).collect();
    cuts.extend([0.0, 1.0]);
    cuts.sort_by(f64::total_cmp);
    cuts.windows(2)
        .filter(|pair| pair[1] - pair[0] > 1e-9)
        .filter(|pair| window.contains(segment.eval(f64::midpoint(pair[0], pair[1]))))
        .map(|pair| segment.subsegment(pair[0]..pair[1]))
        .collect()
}
