//! What the pattern shows: the pieces at true size, parted into tiles.

use kurbo::{BezPath, PathEl, Point};
use serde::Serialize;

use super::card::is_made;
use super::drawing::Drawing;
use super::flat::{self, mark_key};
use super::frame::Frame;
use super::pieces::{self, Refused};
use super::shapes::{Shape, Shapes};
use super::tiles::{Cell, Grid, OVERLAP, Window};
use crate::calc::Plan;
use crate::calc::pattern::{Kind, Mark, Outline, Piece, Spot};
use crate::case::{Case, Direction, PageSize, Side, Wrap};
use crate::sheets::wording::{mm0, round};
use crate::sheets::words::Words;
use crate::units::Length;

/// Words keep this far from a window's edge, along their line and across it; large ones, and ordinary ones.
const WORD_ROOM: [[Length; 2]; 2] =
    [[Length::mm(24.0), Length::mm(5.0)], [Length::mm(16.0), Length::mm(4.0)]];
/// How far the name of a match mark reaches from the mark, along its line and across it.
const NAME_ROOM: [Length; 2] = [Length::mm(11.0), Length::mm(5.0)];
/// Half the height of a line of ordinary words, and how much of its length a letter takes.
const WORD_SIZE: [Length; 2] = [Length::mm(2.4), Length::mm(2.2)];
/// Words stand this far under their arrow.
const UNDER_ARROW: Length = Length::mm(4.5);
/// The words at an end of the forearm piece stand this far inside it.
const AT_END: Length = Length::mm(5.5);

#[derive(Debug, Serialize)]
pub(super) struct PatternPaper {
    paper: &'static str,
    frame: Frame,
    title_side: &'static str,
    /// Whether the pieces are made and worn: then this paper is for a remake alone.
    is_made: bool,
    pieces: Vec<PieceData>,
    refused: Vec<Refused>,
    estimates: Vec<String>,
    window: WindowData,
}

#[derive(Debug, Serialize)]
struct WindowData {
    width: f64,
    height: f64,
    overlap: f64,
}

#[derive(Debug, Serialize)]
struct PieceData {
    letter: char,
    key: &'static str,
    name: String,
    size: String,
    area: String,
    perimeter: String,
    facts: Vec<String>,
    overview: Drawing,
    tiles: Vec<Tile>,
}

#[derive(Debug, Serialize)]
struct Tile {
    name: String,
    joins: Vec<Join>,
    /// Edges cut off before the tile is laid over its neighbours.
    trim: Vec<&'static str>,
    shapes: Shapes,
    words: Vec<Word>,
    matches: Vec<Match>,
}

#[derive(Debug, Serialize)]
struct Join {
    edge: &'static str,
    to: String,
}

#[derive(Debug, Serialize)]
struct Word {
    text: &'static str,
    at: [f64; 2],
    turn: u16,
    big: bool,
}

#[derive(Debug, Serialize)]
struct Match {
    name: String,
    at: [f64; 2],
    put: NameAt,
}

/// Where the name of a match mark stands: in the corner with more room or, turned, in the one beside it along the
/// seam; and so far off the mark along the seam (mm).
#[derive(Debug, Clone, Copy, Serialize)]
struct NameAt {
    turned: bool,
    off: f64,
}

impl NameAt {
    /// Close to the mark, or past the end of its arm; the first that no word takes is the place.
    const CHOICES: [Self; 4] = [
        Self { turned: false, off: 1.0 },
        Self { turned: true, off: 1.0 },
        Self { turned: false, off: 7.0 },
        Self { turned: true, off: 7.0 },
    ];
}

pub(super) fn pattern(case: &Case, plan: &Plan, page: PageSize, words: &Words) -> PatternPaper {
    let window = Window::on(page);
    let drawn = plan.pattern.pieces.iter().zip('A'..);
    PatternPaper {
        paper: "pattern",
        frame: Frame::of(case, page, words),
        title_side: case.patient.side.word(),
        is_made: is_made(case),
        pieces: drawn.map(|(piece, letter)| piece_data(piece, letter, window, case)).collect(),
        refused: pieces::refused(&plan.pattern, case),
        estimates: pieces::stand_ins(&plan.pattern),
        window: WindowData {
            width: window.width.to_mm(),
            height: window.height.to_mm(),
            overlap: OVERLAP.to_mm(),
        },
    }
}

fn piece_data(piece: &Piece, letter: char, window: Window, case: &Case) -> PieceData {
    let name = pieces::name(piece.kind, &piece.pulls, case);
    let grid = Grid::over(piece.extent(), window);
    let tiles: Vec<Cell> = grid.cells().collect();
    let alt = format!(
        "Overview of the {} pattern, {}, and its {} pages.",
        name.to_lowercase(),
        pieces::size(piece),
        tiles.len()
    );
    let mut words = words(piece, case);
    words.extend(mark_words(piece));
    words.extend(grain_word(piece));
    PieceData {
        letter,
        key: piece.kind.key(),
        size: pieces::size(piece),
        area: pieces::area(piece.area()),
        perimeter: format!("{} mm", mm0(piece.outline.perimeter())),
        facts: pieces::facts(piece, case),
        overview: flat::overview(piece, &grid, letter, alt),
        tiles: tiles.iter().map(|cell| tile(cell, &tiles, piece, letter, &words)).collect(),
        name,
    }
}

fn tile(cell: &Cell, all: &[Cell], piece: &Piece, letter: char, words: &[Written]) -> Tile {
    let sides = [("right", 1, 0), ("left", -1, 0), ("above", 0, -1), ("below", 0, 1)];
    let neighbours = sides.map(|(edge, columns, rows)| (edge, cell.neighbour(columns, rows)));
    let joins = neighbours
        .iter()
        .filter_map(|(edge, other)| other.map(|other| Join { edge, to: other.name(letter) }));
    let trim = neighbours
        .iter()
        .filter(|(edge, other)| other.is_some() && matches!(*edge, "left" | "above"))
        .map(|(edge, _)| *edge);
    let words: Vec<Word> = words.iter().filter_map(|it| it.inside(cell, all)).collect();
    let matches = cell.matches().into_iter().map(|(name, at)| {
        let is_free = |it: &NameAt| {
            let corners = cell.name_corners(at, NAME_ROOM, it.turned, Length::mm(it.off));
            !words.iter().any(|word| stands_at(word, corners))
        };
        let put = NameAt::CHOICES.into_iter().find(is_free).unwrap_or(NameAt::CHOICES[0]);
        Match { name, at: place(at), put }
    });
    Tile {
        name: cell.name(letter),
        joins: joins.collect(),
        trim: trim.collect(),
        shapes: shapes(cell, piece),
        matches: matches.collect(),
        words,
    }
}

/// Whether a word stands in a rectangle of the window, given by two corners.
fn stands_at(word: &Word, (low, high): (Spot, Spot)) -> bool {
    let [half, letter] = WORD_SIZE;
    let long = letter * (word.text.chars().count() as f64 / 2.0);
    let (wide, tall) = if word.turn == 0 { (long, half) } else { (half, long) };
    let [x, y] = word.at.map(Length::mm);
    x + wide > low.x && x - wide < high.x && y + tall > low.y && y - tall < high.y
}

/// All lines of a piece inside a window; marks first, what is cut last and on top.
fn shapes(cell: &Cell, piece: &Piece) -> Shapes {
    let holes: Vec<Outline> =
        piece.holes.iter().map(|it| Outline::circle(it.at, it.diameter)).collect();
    let marks = piece.details.iter().map(|it| (mark_key(it.mark), &it.outline));
    let cuts = piece.opening.iter().map(|it| ("cut_hole", it));
    marks
        .chain(holes.iter().map(|it| ("hole", it)))
        .chain(cuts)
        .chain([("cut", &piece.outline)])
        .flat_map(|(part, outline)| {
            let tip = end(outline.path())
                .map(|it| cell.inside(Spot { x: Length::mm(it.x), y: Length::mm(it.y) }));
            let runs = cell.clip(outline).into_iter();
            runs.map(move |it| {
                let part = if part == "grain" && !ends_at(&it, tip) { "grain_cut" } else { part };
                Shape { part, closed: false, path: flat::path(&it) }
            })
        })
        .collect()
}

fn end(path: &BezPath) -> Option<Point> {
    path.elements().last().and_then(PathEl::end_point)
}

/// Whether what a window shows of an arrow has its tip; elsewhere a head would stand at the edge of the page.
fn ends_at(run: &BezPath, tip: Option<Spot>) -> bool {
    let Some((end, tip)) = end(run).zip(tip) else { return false };
    end.distance(Point::new(tip.x.to_mm(), tip.y.to_mm())) < 1e-6
}

/// Something written on a piece.
struct Written {
    at: Spot,
    text: &'static str,
    big: bool,
    is_upright: bool,
}

impl Written {
    /// In a window that holds all of it; where a seam crosses it in every window, in the first that holds its place,
    /// moved clear of the seam.
    fn inside(&self, cell: &Cell, all: &[Cell]) -> Option<Word> {
        let room = self.room();
        let at = cell.inside(self.at);
        let turn = if self.is_upright { 90 } else { 0 };
        let word = |at| Word { text: self.text, at: place(at), turn, big: self.big };
        if cell.holds(at, room) {
            return Some(word(at));
        }
        let nowhere = (Length::ZERO, Length::ZERO);
        let is_crossed = all.iter().all(|it| !it.holds(it.inside(self.at), room));
        let first = all.iter().find(|it| it.holds(it.inside(self.at), nowhere))?;
        (is_crossed && first.is(cell)).then(|| word(cell.clear(at, room)))
    }

    /// What it needs to the sides and up and down from its middle.
    fn room(&self) -> (Length, Length) {
        let [along, across] = WORD_ROOM[usize::from(!self.big)];
        if self.is_upright { (across, along) } else { (along, across) }
    }
}

/// What is written on a piece, and where.
fn words(piece: &Piece, case: &Case) -> Vec<Written> {
    match piece.kind {
        Kind::ForearmPiece => forearm_words(piece, case),
        Kind::Cuff => cuff_words(piece, case),
    }
}

fn forearm_words(piece: &Piece, case: &Case) -> Vec<Written> {
    let extent = piece.extent();
    let middle = extent.middle();
    let across = |share: f64| Spot { x: middle.x, y: extent.low.y + extent.height() * share };
    // Seen from outside with the palm end at the left, the thumb side is up on a right arm.
    let thumb = if case.patient.side == Side::Right { 0.12 } else { 0.88 };
    let plain = |at, text| Written { at, text, big: false, is_upright: false };
    let end = |x, text| Written { at: Spot { x, ..middle }, text, big: false, is_upright: true };
    vec![
        end(extent.low.x + AT_END, "wrist end, palm side"),
        end(extent.high.x - AT_END, "wrist end, back"),
        Written { at: across(0.62), text: "round the elbow", big: true, is_upright: false },
        plain(across(thumb), "thumb side"),
        plain(across(1.0 - thumb), "little-finger side"),
    ]
}

fn cuff_words(piece: &Piece, case: &Case) -> Vec<Written> {
    let extent = piece.extent();
    let palm = piece.holes.iter().find(|it| it.face == Direction::Flexion);
    let is_right = palm.is_some_and(|it| it.at.x > Length::ZERO);
    let side = |share: f64| if is_right { share } else { 1.0 - share };
    let (fold, level) = match case.orthosis.cut.wrap {
        Wrap::LittleFinger => ("little-finger side", 0.62),
        // Over the thumb's opening.
        Wrap::Thumb => ("thumb side", 0.30),
    };
    let word = |x: f64, y: f64, text, big| Written {
        at: Spot { x: extent.low.x + extent.width() * x, y: extent.low.y + extent.height() * y },
        text,
        big,
        is_upright: false,
    };
    vec![
        word(side(0.72), 0.62, "palm", true),
        word(side(0.28), 0.62, "back", true),
        word(0.5, 0.14, "finger end", false),
        word(0.5, level, fold, false),
        word(0.5, 0.95, "wrist end", false),
    ]
}

/// What the arrow is, beside it; a sheet without grain has none.
fn grain_word(piece: &Piece) -> Option<Written> {
    let arrow = piece.details.iter().find(|it| it.mark == Mark::Grain)?.outline.extent().middle();
    // Near a cuff's wrist end the words for that end stand under the arrow.
    let off = if piece.kind == Kind::Cuff { -UNDER_ARROW } else { UNDER_ARROW };
    let at = Spot { y: arrow.y + off, ..arrow };
    Some(Written { at, text: "grain", big: false, is_upright: false })
}

/// What the marks on a piece are, written in their middle.
fn mark_words(piece: &Piece) -> Vec<Written> {
    let named = piece.details.iter().filter_map(|it| {
        let (text, is_upright) = match it.mark {
            Mark::Strip => ("strip", false),
            Mark::Strap => ("strap runs over", true),
            Mark::Dot | Mark::Tongue => ("hook", false),
            Mark::Fold | Mark::Midline | Mark::Lane | Mark::Grain => return None,
        };
        Some(Written { at: it.outline.extent().middle(), text, big: false, is_upright })
    });
    named.collect()
}

fn place(spot: Spot) -> [f64; 2] {
    [round(spot.x.to_mm(), 3), round(spot.y.to_mm(), 3)]
}
