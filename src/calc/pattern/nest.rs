//! How the pieces lie on the sheet, and how much of it they use.
//!
//! Each piece counts as the rectangle that encloses it. A sheet without grain takes them at any
//! angle that helps: along, across, and the long piece askew with the other in a corner.

use super::piece::Piece;
use crate::case::{Grain, Sheet};
use crate::units::{Angle, Area, Length, math};

/// Where one piece lies on a sheet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lie {
    /// The piece, by its place in the pattern.
    pub piece: usize,
    /// On which sheet, from 0.
    pub sheet: usize,
    /// The middle of its enclosing rectangle, from the sheet's corner.
    pub x: Length,
    /// The same, down.
    pub y: Length,
    /// How it is turned, clockwise.
    pub turned: Angle,
}

/// How the pieces use the clinic's sheet.
#[derive(Debug, Clone, PartialEq)]
pub struct SheetUse {
    /// The sheet.
    pub sheet: Sheet,
    /// Where each piece that fits lies.
    pub lies: Vec<Lie>,
    /// Pieces that fit no sheet of this size, by their place in the pattern.
    pub too_big: Vec<usize>,
    /// How many sheets are needed for those that fit.
    pub sheets: usize,
    /// The share of those sheets that the pieces use: Σ areas / (sheets · length · width).
    pub share: f64,
}

/// Turns that are tried, in whole degrees.
const TURNS: std::ops::RangeInclusive<u32> = 0..=90;

/// A rectangle's half sides and turn, with its middle (mm).
#[derive(Debug, Clone, Copy)]
struct Block {
    x: f64,
    y: f64,
    half_long: f64,
    half_high: f64,
    turned: Angle,
}

/// Lays the pieces on as few sheets as it finds: one after the other, each on the first sheet that has
/// room.
pub(super) fn nest(sheet: Sheet, pieces: &[Piece]) -> SheetUse {
    let mut order: Vec<usize> = (0..pieces.len()).collect();
    let size = |index: &usize| pieces[*index].extent().width();
    order.sort_by(|one, other| size(other).total_cmp(&size(one)));
    let mut laid: Vec<Vec<(usize, Block)>> = Vec::new();
    let mut too_big = Vec::new();
    for index in order {
        let spots = |taken: &[(usize, Block)]| {
            let taken: Vec<Block> = taken.iter().map(|it| it.1).collect();
            free_spot(sheet, &taken, &pieces[index])
        };
        let found = laid.iter().enumerate().find_map(|(at, taken)| Some((at, spots(taken)?)));
        match found.or_else(|| Some((laid.len(), spots(&[])?))) {
            Some((at, block)) if at < laid.len() => laid[at].push((index, block)),
            Some((_, block)) => laid.push(vec![(index, block)]),
            None => too_big.push(index),
        }
    }
    too_big.sort_unstable();
    let mut lies: Vec<Lie> = laid
        .iter()
        .enumerate()
        .flat_map(|(sheet, blocks)| blocks.iter().map(move |(piece, it)| it.lie(*piece, sheet)))
        .collect();
    lies.sort_by_key(|it| it.piece);
    let used = lies.iter().map(|it| pieces[it.piece].area()).fold(Area::ZERO, |sum, it| sum + it);
    let whole = (sheet.length * sheet.width) * laid.len().max(1) as f64;
    SheetUse { sheet, lies, too_big, sheets: laid.len(), share: used / whole }
}

/// The first place where a piece lies clear of the sheet's edge and of those before it.
fn free_spot(sheet: Sheet, taken: &[Block], piece: &Piece) -> Option<Block> {
    let extent = piece.extent();
    let half = (extent.width().to_mm() / 2.0, extent.height().to_mm() / 2.0);
    let turns: Vec<u32> = match sheet.grain {
        Grain::Lengthwise => vec![0],
        // Along, across, then askew.
        Grain::None => {
            [0, 90].into_iter().chain(TURNS.filter(|it| !matches!(it, 0 | 90))).collect()
        }
    };
    let margin = sheet.margin.to_mm();
    let (long, wide) = (sheet.length.to_mm() - 2.0 * margin, sheet.width.to_mm() - 2.0 * margin);
    turns.into_iter().find_map(|turn| {
        let turned = Angle::degrees(f64::from(turn));
        let at = |x: f64, y: f64| Block { x, y, half_long: half.0, half_high: half.1, turned };
        let reach = at(0.0, 0.0).reach();
        // A hair of slack, so that a piece as long as the room passes.
        if reach.0 * 2.0 > long + 1e-9 || reach.1 * 2.0 > wide + 1e-9 {
            return None;
        }
        let ends = |reach: f64, room: f64| [margin + reach, margin + room - reach];
        let corners = ends(reach.0, long)
            .into_iter()
            .flat_map(|x| ends(reach.1, wide).map(move |y| at(x, y)));
        corners.into_iter().find(|it| taken.iter().all(|other| it.is_clear_of(other, margin)))
    })
}

impl Block {
    fn lie(&self, piece: usize, sheet: usize) -> Lie {
        Lie { piece, sheet, x: Length::mm(self.x), y: Length::mm(self.y), turned: self.turned }
    }

    /// Its two axes.
    fn axes(&self) -> [(f64, f64); 2] {
        let (sin, cos) = math::sin_cos(self.turned.to_radians());
        [(cos, sin), (-sin, cos)]
    }

    /// Half of what it takes along and across the sheet.
    fn reach(&self) -> (f64, f64) {
        let [along, across] = self.axes();
        (
            self.half_long * along.0.abs() + self.half_high * across.0.abs(),
            self.half_long * along.1.abs() + self.half_high * across.1.abs(),
        )
    }

    /// Half of what it takes along a direction of length one.
    fn span(&self, way: (f64, f64)) -> f64 {
        let along = |axis: (f64, f64)| (axis.0 * way.0 + axis.1 * way.1).abs();
        let [long, high] = self.axes();
        self.half_long * along(long) + self.half_high * along(high)
    }

    /// Whether a straight gap of `room` lies between two blocks: one of their sides' directions parts
    /// them (separating axis theorem).
    fn is_clear_of(&self, other: &Self, room: f64) -> bool {
        let between = (other.x - self.x, other.y - self.y);
        self.axes().into_iter().chain(other.axes()).any(|way| {
            let apart = (between.0 * way.0 + between.1 * way.1).abs();
            apart + 1e-9 >= self.span(way) + other.span(way) + room
        })
    }
}
