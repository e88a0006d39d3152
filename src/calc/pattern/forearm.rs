//! The forearm piece, flat: up the palm side of the forearm, round the bent elbow, down the back.
//!
//! With p the share that draping stretches, c the edge's distance from the crease and U the tape
//! round the elbow, it is L = (U − 2 c)(1 − p) long. At a distance d from the crease, on either
//! face, it is w = C(d)/2 − g wide: half the girth C less the gap g on each side. Round the elbow it keeps
//! the width of the elbow. Its corners and bends are rounded.

use super::estimate::{Lack, Reckoner};
use super::girths::Girths;
use super::lane::Lane;
use super::outline::{Corner, Outline, Spot};
use super::piece::{Bed, Detail, Dimension, Dots, Kind, Mark, Piece, Strap, StrapPlace, Width};
use crate::calc::straps::orthosis_straps;
use crate::case::{Case, Direction, Grain, Pull, STRAP_WIDTH};
use crate::units::Length;

/// How far a bend between two girths is rounded to each side (mm).
const BEND: f64 = 3.5;
/// The least width drawn, whatever the girth; a finding speaks of narrow pieces before.
const LEAST_WIDTH: Length = Length::mm(20.0);
/// Between a dot and the lane (common practice, no source).
const LANE_ROOM: Length = Length::mm(2.0);
/// Between a dot and the piece's edge (common practice, no source).
const EDGE_ROOM: Length = Length::mm(3.0);
/// A girth this near to wrist or elbow was taken there.
const SAME_PLACE: Length = Length::mm(5.0);
/// The broadest dot (common practice, no source).
const DOT: Length = Length::mm(25.0);
/// Half a grain arrow (mm).
const ARROW: f64 = 30.0;

/// The pulls that share one forearm piece, the first of which gives its edge.
pub(super) fn forearm_piece(
    case: &Case,
    pulls: &[&Pull],
    reckoner: &mut Reckoner<'_>,
) -> Result<Piece, Vec<Lack>> {
    let (wrist, along, elbow, path) =
        (reckoner.wrist(), reckoner.forearm(), reckoner.elbow(), reckoner.elbow_path());
    match (wrist, along, elbow, path) {
        (Ok(wrist), Ok(mut knots), Ok(elbow), Ok(path)) => {
            // Wrist and elbow have keys of their own, which come before a girth taken at the same place.
            let ends = [(Length::ZERO, wrist), (case.limb.forearm_length, elbow)];
            knots.retain(|knot| ends.iter().all(|end| (end.0 - knot.0).abs() > SAME_PLACE));
            knots.extend(ends);
            let flat = Flat::of(case, pulls, Girths::new(knots), path);
            Ok(flat.piece(case))
        }
        (wrist, along, elbow, path) => {
            Err([wrist.err(), along.err(), elbow.err(), path.err()].into_iter().flatten().collect())
        }
    }
}

/// The flat piece while it is drawn.
struct Flat<'c> {
    pulls: Vec<&'c Pull>,
    girths: Girths,
    gap: Length,
    corner: f64,
    /// c.
    edge: Length,
    /// Crease to elbow crease.
    elbow: Length,
    /// U − 2 c, before stretch is taken off.
    draped: Length,
    /// 1 − p.
    shrink: f64,
    /// t.
    thickness: Length,
}

impl<'c> Flat<'c> {
    fn of(case: &Case, pulls: &[&'c Pull], girths: Girths, path: Length) -> Self {
        let cut = &case.orthosis.cut;
        let edge = pulls[0].forearm_piece.edge_from_crease;
        Self {
            pulls: pulls.to_vec(),
            girths,
            gap: cut.gap,
            corner: cut.corner.to_mm(),
            edge,
            elbow: case.limb.forearm_length,
            draped: path - edge * 2.0,
            shrink: 1.0 - cut.draping_stretch,
            thickness: case.orthosis.sheet.thickness,
        }
    }

    fn piece(&self, case: &Case) -> Piece {
        let straps = orthosis_straps(case);
        let mut details = vec![
            self.cross(self.elbow, Direction::Flexion),
            self.cross(self.elbow, Direction::Extension),
        ];
        for pull in &self.pulls {
            details.push(self.lane(pull));
            details.push(self.strip(pull));
        }
        let closing = straps.map(|place| self.closing(place));
        details.extend(closing.iter().flat_map(|it| it.details.clone()));
        details.extend((case.orthosis.sheet.grain == Grain::Lengthwise).then(|| self.grain()));
        let places = [StrapPlace::NearWrist, StrapPlace::NearElbow];
        Piece {
            kind: Kind::ForearmPiece,
            pulls: self.pulls.iter().map(|it| it.direction).collect(),
            outline: self.outline(),
            opening: None,
            details,
            holes: Vec::new(),
            straps: straps
                .into_iter()
                .zip(places)
                .zip(&closing)
                .map(|((from_crease, place), it)| it.strap(place, from_crease))
                .collect(),
            clears_thumb: true,
            beds: self.pulls.iter().map(|it| self.bed(it)).collect(),
            dimensions: self.dimensions(straps),
            widths: self.widths(),
        }
    }

    /// L in mm.
    fn length(&self) -> f64 {
        self.draped.to_mm() * self.shrink
    }

    /// x of a distance from the crease along a face (mm).
    fn x(&self, from_crease: Length, face: Direction) -> f64 {
        let x = (from_crease - self.edge).to_mm() * self.shrink;
        match face {
            Direction::Flexion => x,
            Direction::Extension => self.length() - x,
        }
    }

    /// w: C/2 − g.
    fn width(&self, from_crease: Length) -> Length {
        let width = self.girths.at(from_crease.min(self.elbow)) / 2.0 - self.gap;
        width.max(LEAST_WIDTH)
    }

    fn half(&self, from_crease: Length) -> f64 {
        self.width(from_crease).to_mm() / 2.0
    }

    fn outline(&self) -> Outline {
        // Girths beside the rounded corner count at its end, where the corner leaves room for a bend.
        let past_corner = self.edge + Length::mm(self.corner);
        let is_beside = self.girths.places(self.edge, past_corner).next().is_some();
        let mut bends: Vec<Length> = is_beside.then_some(past_corner).into_iter().collect();
        bends.extend(self.girths.places(past_corner, self.elbow));
        bends.push(self.elbow);
        let end = self.half(self.edge);
        let taper =
            |&place: &Length, face| Corner::taper(self.x(place, face), -self.half(place), BEND);
        let mut upper = vec![Corner::round(0.0, -end, self.corner)];
        upper.extend(bends.iter().map(|it| taper(it, Direction::Flexion)));
        upper.extend(bends.iter().rev().map(|it| taper(it, Direction::Extension)));
        upper.push(Corner::round(self.length(), -end, self.corner));
        let lower: Vec<Corner> = upper.iter().rev().map(|it| it.across()).collect();
        upper.extend(lower);
        Outline::rounded(&upper)
    }

    /// A line across the piece.
    fn cross(&self, place: Length, face: Direction) -> Detail {
        let (x, half) = (self.x(place, face), self.half(place));
        Detail { mark: Mark::Fold, outline: Outline::open(&[(x, -half), (x, half)]) }
    }

    fn lane(&self, pull: &Pull) -> Detail {
        let steps = Lane::of(pull).steps();
        let corner = |&(place, half): &(Length, Length)| {
            (self.x(place, pull.direction), -half.to_mm().min(self.half(place)))
        };
        let mut corners: Vec<(f64, f64)> = steps.iter().map(corner).collect();
        let below: Vec<(f64, f64)> = corners.iter().rev().map(|&(x, y)| (x, -y)).collect();
        corners.extend(below);
        Detail { mark: Mark::Lane, outline: Outline::polygon(&corners) }
    }

    fn strip(&self, pull: &Pull) -> Detail {
        let start = pull.strip.start_from_crease;
        let [one, other] = [start, start + pull.strip.length].map(|it| self.x(it, pull.direction));
        let half = pull.strip.width.to_mm() / 2.0;
        let outline = Outline::rectangle(one.min(other), -half, one.max(other), half);
        Detail { mark: Mark::Strip, outline }
    }

    /// The piece under a strip.
    fn bed(&self, pull: &Pull) -> Bed {
        let start = pull.strip.start_from_crease;
        let end = start + pull.strip.length;
        let mut places = vec![start, end];
        places.extend(self.girths.places(start, end));
        let narrowest = places.into_iter().map(|it| self.width(it)).reduce(Length::min);
        Bed { pull: pull.direction, narrowest: narrowest.unwrap_or_default() }
    }

    fn grain(&self) -> Detail {
        let middle = self.length() / 2.0;
        // Off the middle line, where the width's number stands.
        let y = -self.half(self.elbow) / 2.0;
        let outline = Outline::open(&[(middle - ARROW, y), (middle + ARROW, y)]);
        Detail { mark: Mark::Grain, outline }
    }

    /// How much a rounded corner takes off the half width at d from the piece's end: h (1 − √(1 − (1 − d/r)²)),
    /// with r its reach along the piece and h across it.
    fn corner_cut(&self, from_crease: Length) -> Length {
        let across = self.corner.min(self.half(self.edge));
        let short = 1.0 - (from_crease - self.edge).to_mm() * self.shrink / self.corner;
        let short = short.clamp(0.0, 1.0);
        Length::mm(across * (1.0 - (1.0 - short * short).sqrt()))
    }

    /// How the strap at a place closes: dots beside the lane on each face that carries a strip, and straight
    /// across a face that carries none.
    fn closing(&self, place: Length) -> Closing {
        let (from, to) = (place - STRAP_WIDTH / 2.0, place + STRAP_WIDTH / 2.0);
        let half = self.width(from).min(self.width(to)) / 2.0 - self.corner_cut(from);
        let mut details = Vec::new();
        // What a strap leaves free on each face, from the middle line to its dots.
        let mut inner = Vec::new();
        let mut breadth: Option<Length> = None;
        for face in [Direction::Flexion, Direction::Extension] {
            let on_face = self.pulls.iter().find(|it| it.direction == face);
            let [one, other] = [from, to].map(|it| self.x(it, face));
            let (left, right) = (one.min(other), one.max(other));
            let Some(pull) = on_face else {
                let half = half.to_mm();
                let across = Outline::rectangle(left, -half, right, half);
                details.push(Detail { mark: Mark::Strap, outline: across });
                inner.push(None);
                continue;
            };
            let outer = half - EDGE_ROOM;
            let lane = Lane::of(pull).width(from, to);
            let lowest = if lane > Length::ZERO { lane / 2.0 + LANE_ROOM } else { Length::ZERO };
            let start = (outer - DOT).max(lowest).min(outer);
            breadth = Some(breadth.map_or(outer - lowest, |it| it.min(outer - lowest)).min(DOT));
            inner.push(Some(start));
            if outer > start {
                let (start, outer) = (start.to_mm(), outer.to_mm());
                for (low, high) in [(-outer, -start), (start, outer)] {
                    let dot = Outline::rectangle(left, low, right, high);
                    details.push(Detail { mark: Mark::Dot, outline: dot });
                }
            }
        }
        Closing {
            details,
            inner,
            breadth: breadth.unwrap_or_default(),
            girth: self.girths.at(place),
            thickness: self.thickness,
        }
    }

    fn dimensions(&self, straps: [Length; 2]) -> Vec<Dimension> {
        let along = |from: f64, to: f64, y: f64| Dimension {
            from: Spot { x: Length::mm(from), y: Length::mm(y) },
            to: Spot { x: Length::mm(to), y: Length::mm(y) },
        };
        let deepest = (self.girths.widest() / 2.0 - self.gap).to_mm() / 2.0;
        let row = |number: f64| deepest + ROW * number;
        let end = self.length();
        let mut all = vec![along(0.0, end, row(3.0))];
        let edge = |face| if face == Direction::Flexion { 0.0 } else { end };
        for pull in &self.pulls {
            let face = pull.direction;
            let start = self.x(pull.strip.start_from_crease, face);
            let stop = self.x(pull.strip.start_from_crease + pull.strip.length, face);
            all.push(along(edge(face), start, row(1.0)));
            all.push(along(start, stop, row(1.0)));
        }
        let fold = [Direction::Flexion, Direction::Extension].map(|it| self.x(self.elbow, it));
        all.push(along(0.0, fold[0], row(2.0)));
        all.push(along(fold[0], fold[1], row(2.0)));
        all.push(along(fold[1], end, row(2.0)));
        let face = self.pulls[0].direction;
        for (index, strap) in straps.into_iter().enumerate() {
            let number = 1.0 + index as f64;
            all.push(along(edge(face), self.x(strap, face), -row(number)));
        }
        let across = |x: f64, half: f64| Dimension {
            from: Spot { x: Length::mm(x), y: Length::mm(-half) },
            to: Spot { x: Length::mm(x), y: Length::mm(half) },
        };
        let end_half = self.half(self.edge);
        all.push(across(-ROW, end_half));
        all.push(across(end + ROW, end_half));
        all.push(across(f64::midpoint(fold[0], fold[1]), self.half(self.elbow)));
        all
    }

    /// Widths at the edge, at each measured girth, and round the elbow.
    fn widths(&self) -> Vec<Width> {
        let mut places = vec![self.edge];
        places.extend(self.girths.places(self.edge, self.elbow));
        places.push(self.elbow);
        let width = |from_crease: Length| Width {
            from_crease,
            width: self.width(from_crease),
            girth: self.girths.at(from_crease),
        };
        places.into_iter().map(width).collect()
    }
}

/// Between two rows of dimensions (mm at full size).
const ROW: f64 = 19.0;

/// How one strap closes.
struct Closing {
    details: Vec<Detail>,
    /// On the palm face and on the back: from the middle line to the dots' inner ends; nothing where the
    /// strap runs across.
    inner: Vec<Option<Length>>,
    breadth: Length,
    girth: Length,
    /// t.
    thickness: Length,
}

impl Closing {
    /// Round the piece from dot to dot: the girth over the sheet, C + 2 π t, less what stays free on each
    /// face.
    fn strap(&self, place: StrapPlace, from_crease: Length) -> Strap {
        let free = self.inner.iter().flatten().fold(Length::ZERO, |sum, it| sum + *it * 2.0);
        let both = self.inner.iter().flatten().count();
        let quantity = if both == 2 { 2 } else { 1 };
        Strap {
            place,
            from_crease,
            quantity,
            width: STRAP_WIDTH,
            length: (self.girth + self.thickness * std::f64::consts::TAU - free)
                / f64::from(quantity),
            dots: Some(Dots { quantity: 2 * both as u8, breadth: self.breadth.max(Length::ZERO) }),
        }
    }
}
