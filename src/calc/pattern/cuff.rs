//! The hand cuff, flat: two flaps, for the palm and for the back, on both sides of the line where
//! the sheet folds round the hand.
//!
//! With p the share that draping stretches, at a distance u from the crease each flap reaches
//! H = (C(u) − o)/2 · (1 − p) from the fold: half the girth C less the open side o. From the knuckles on the
//! girth has room for the fingers added. Beside the open side two tongues carry the straps, at the
//! snuffbox and in the web of the thumb; between them the flaps draw back for the thumb's root.

use super::estimate::{Lack, Reckoner};
use super::girths::Girths;
use super::outline::{Corner, Outline, Spot};
use super::piece::{Detail, Dimension, Hole, Kind, Mark, Piece, Strap, StrapPlace, Width};
use crate::calc::straps::{CuffStraps, WEB, cuff_straps};
use crate::case::{Case, Direction, Grain, Pull, Side, Wrap};
use crate::units::Length;

/// The knuckle of the middle finger, in hand lengths from the crease (Buchholz B et al. Ergonomics
/// 1992;35:261-73, coefficient as second-hand sources give it).
const KNUCKLES: f64 = 0.446;
/// A cuff that ends nearer to the knuckles than this ends at them.
const PAST_KNUCKLES: Length = Length::mm(6.0);
/// How far a tongue stands out of its flap (mm; common practice, no source).
const TONGUE: f64 = 8.0;
/// A tongue is wider than its strap by this on each side (mm; common practice, no source).
const BESIDE_STRAP: f64 = 3.0;
/// How far the edge takes to step between tongue and flap (mm).
const STEP: f64 = 4.0;
/// The least run between two tongues for the thumb's root to draw back (mm).
const LEAST_SCALLOP: f64 = 8.0;
/// How far the palm flap draws back for the ball of the thumb, and the back flap, in hand breadths;
/// estimates, to be trimmed on the patient.
const SCALLOP: [f64; 2] = [0.18, 0.10];
/// The least that a flap reaches (mm).
const LEAST_HALF: f64 = 15.0;
/// Rounding of the small corners beside tongues (mm).
const SMALL: f64 = 6.0;
/// How far a bend between two girths is rounded (mm).
const BEND: f64 = 10.0;
/// The thumb's opening: its near end and half its breadth, in hand lengths; estimates, to be cut
/// small and widened on the patient.
const THUMB: (f64, f64) = (0.20, 0.075);
/// Sheet left between the thumb's opening and the cuff's edges (mm).
const BRIDGE: f64 = 12.0;
/// What a strap overlaps each flap by (mm; common practice, no source).
const OVERLAP: f64 = 40.0;
/// The least hole, and the line's diameters that fit one (common practice, no source).
const HOLE: (Length, f64) = (Length::mm(3.0), 3.0);
/// Holes nearer than this are one, however their places were written.
const SAME: Length = Length::mm(0.05);
/// Between two rows of dimensions (mm at full size).
const ROW: f64 = 22.0;
/// The grain arrow's height over the wrist edge (mm).
const GRAIN_UP: f64 = 14.0;
/// Palm and back.
const FACES: [Direction; 2] = [Direction::Flexion, Direction::Extension];
/// Half a grain arrow, at most and at least (mm).
const ARROW: (f64, f64) = (18.0, 6.0);
/// Between the grain arrow and the thumb's opening beside it (mm).
const BESIDE_OPENING: f64 = 9.0;
/// Sheet left between a hook and the edge (mm; common practice, no source).
const ROUND_HOOK: f64 = 1.5;
/// So far a hook is moved in at a time (mm).
const INWARD: f64 = 0.25;

/// The pulls that share one cuff, the first of which gives its edges.
pub(super) fn cuff(
    case: &Case,
    pulls: &[&Pull],
    reckoner: &mut Reckoner<'_>,
) -> Result<Piece, Vec<Lack>> {
    let (wrist, knuckles) = (reckoner.wrist(), reckoner.knuckles());
    // A cuff that ends at the knuckles or before has no part over the fingers.
    let reaches = pulls[0].cuff.end_from_crease > case.limb.hand_length * KNUCKLES + PAST_KNUCKLES;
    let fingers = if reaches { reckoner.finger_joints().map(Some) } else { Ok(None) };
    match (wrist, knuckles, fingers) {
        (Ok(wrist), Ok(knuckles), Ok(fingers)) => {
            let mut limb =
                vec![(Length::ZERO, wrist), (case.limb.hand_length * KNUCKLES, knuckles)];
            limb.extend(fingers.map(|it| (pulls[0].cuff.end_from_crease, it)));
            Ok(Flat::of(case, pulls, limb).piece(case))
        }
        (wrist, knuckles, fingers) => {
            Err([wrist.err(), knuckles.err(), fingers.err()].into_iter().flatten().collect())
        }
    }
}

/// The flat cuff while it is drawn: right side, outer face up, fingers up.
struct Flat<'c> {
    pulls: Vec<&'c Pull>,
    /// The hand's own girths.
    limb: Girths,
    /// The same with room for the fingers.
    girths: Girths,
    straps: CuffStraps,
    opening: Length,
    wrap: Wrap,
    corner: f64,
    hand_length: Length,
    hand_breadth: Length,
    /// E and Z.
    edge: Length,
    end: Length,
    shrink: f64,
}

impl<'c> Flat<'c> {
    fn of(case: &Case, pulls: &[&'c Pull], own: Vec<(Length, Length)>) -> Self {
        let (limb, cut) = (&case.limb, &case.orthosis.cut);
        let (edge, end) = (pulls[0].cuff.edge_from_crease, pulls[0].cuff.end_from_crease);
        // The room grows from nothing at the crease to the knuckles and stays from there on.
        let roomy = own.iter().map(|&(place, girth)| {
            let room = if place > Length::ZERO { cut.finger_room } else { Length::ZERO };
            (place, girth + room)
        });
        let girths = Girths::new(roomy.collect());
        Self {
            pulls: pulls.to_vec(),
            limb: Girths::new(own),
            girths,
            straps: cuff_straps(limb.hand_length, edge, end),
            opening: cut.opening,
            wrap: cut.wrap,
            corner: cut.corner.to_mm(),
            hand_length: limb.hand_length,
            hand_breadth: limb.hand_breadth,
            edge,
            end,
            shrink: 1.0 - cut.draping_stretch,
        }
    }

    fn piece(&self, case: &Case) -> Piece {
        let outline = self.outline();
        let mut details = vec![self.up_line(Mark::Fold, 0.0)];
        details.extend(FACES.into_iter().map(|face| self.midline(face)));
        details.extend(self.tongues(&outline));
        details.extend((case.orthosis.sheet.grain == Grain::Lengthwise).then(|| self.grain()));
        let piece = Piece {
            kind: Kind::Cuff,
            pulls: self.pulls.iter().map(|it| it.direction).collect(),
            opening: self.thumb_opening(),
            details,
            holes: self.holes(&outline),
            outline,
            straps: self.closing(),
            clears_thumb: self.wrap == Wrap::Thumb || self.has_scallop(),
            beds: Vec::new(),
            dimensions: self.dimensions(),
            widths: self.widths(),
        };
        match case.patient.side {
            Side::Right => piece,
            Side::Left => piece.turned(),
        }
    }

    /// Which way a face lies from the fold on a right hand: seen from outside, fingers up, the palm lies to the
    /// right of the little finger and to the left of the thumb.
    fn sign(&self, face: Direction) -> f64 {
        let palm = match self.wrap {
            Wrap::LittleFinger => 1.0,
            Wrap::Thumb => -1.0,
        };
        if face == Direction::Flexion { palm } else { -palm }
    }

    /// y of a distance from the crease (mm): the finger end at 0.
    fn y(&self, from_crease: Length) -> f64 {
        (self.end - from_crease).to_mm()
    }

    /// H in mm.
    fn half(&self, from_crease: Length) -> f64 {
        let half = (self.girths.at(from_crease) - self.opening).to_mm() / 2.0 * self.shrink;
        half.max(LEAST_HALF)
    }

    /// A flap's edge that stands out of its half girth, or draws back as far as the least flap.
    fn edge_x(&self, from_crease: Length, out: f64) -> f64 {
        (self.half(from_crease) + out).max(LEAST_HALF)
    }

    /// From the fold to the middle of a face: a quarter of the girth.
    fn middle(&self, from_crease: Length) -> f64 {
        self.girths.at(from_crease).to_mm() / 4.0 * self.shrink
    }

    fn outline(&self) -> Outline {
        let (right, left) = match self.wrap {
            Wrap::LittleFinger => (Direction::Flexion, Direction::Extension),
            Wrap::Thumb => (Direction::Extension, Direction::Flexion),
        };
        // Down one flap from the fingers, up the other.
        let mut corners: Vec<Corner> = self.flap(right).into_iter().rev().collect();
        corners.extend(self.flap(left).into_iter().map(Corner::opposite));
        Outline::rounded(&corners)
    }

    /// The free edge of a flap from the wrist to the fingers, x away from the fold.
    fn flap(&self, face: Direction) -> Vec<Corner> {
        let steps = self.steps(face);
        let (first, last) = (0, steps.len() - 1);
        let mut corners = Vec::new();
        for (index, &(place, out)) in steps.iter().enumerate() {
            if index > 0 {
                let before = steps[index - 1].0;
                let bends = self.girths.places(before, place);
                corners.extend(bends.map(|it| {
                    let share = (it - before) / (place - before);
                    let out = steps[index - 1].1 + (out - steps[index - 1].1) * share;
                    Corner::round(self.edge_x(it, out), self.y(it), BEND)
                }));
            }
            let reach =
                if index == first || index == last { self.corner.min(SMALL * 2.0) } else { SMALL };
            corners.push(Corner::round(self.edge_x(place, out), self.y(place), reach));
        }
        corners
    }

    /// How far a flap's edge stands out of its half girth, by place: tongues out, the thumb's root in.
    fn steps(&self, face: Direction) -> Vec<(Length, f64)> {
        let step = Length::mm(STEP);
        let [wrist, web] = self.tongue_spans();
        let draws_back = match self.wrap {
            Wrap::LittleFinger => {
                self.hand_breadth.to_mm() * SCALLOP[usize::from(face != Direction::Flexion)]
            }
            Wrap::Thumb => 0.0,
        };
        let mut steps = vec![(wrist.0, TONGUE)];
        if self.has_scallop() {
            steps.push((wrist.1, TONGUE));
            steps.push((wrist.1 + step, -draws_back));
            steps.push((web.0 - step, -draws_back));
            steps.push((web.0, TONGUE));
        }
        if web.1 + step * 2.0 < self.end {
            steps.extend([(web.1, TONGUE), (web.1 + step, 0.0), (self.end, 0.0)]);
        } else {
            steps.push((self.end, TONGUE));
        }
        steps
    }

    /// Whether the tongues leave room between them for the thumb's root.
    fn has_scallop(&self) -> bool {
        let [wrist, web] = self.tongue_spans();
        web.0 - wrist.1 >= Length::mm(LEAST_SCALLOP + 2.0 * STEP)
    }

    /// Where the tongues begin and end along the hand.
    fn tongue_spans(&self) -> [(Length, Length); 2] {
        let half = self.straps.width / 2.0 + Length::mm(BESIDE_STRAP);
        let web = self.straps.web;
        [(self.edge, self.straps.wrist + half), (web - half, (web + half).min(self.end))]
    }

    fn tongues(&self, outline: &Outline) -> Vec<Detail> {
        let places = [self.straps.wrist, self.straps.web];
        let one =
            |place, sign| Detail { mark: Mark::Tongue, outline: self.hook(outline, place, sign) };
        places.into_iter().flat_map(|it| [one(it, 1.0), one(it, -1.0)]).collect()
    }

    /// The hook under a strap's end: it lies on the tongue and runs on over the flap, as far in from the tip as the
    /// rounded edge asks for, so that none of it hangs over toward the skin.
    fn hook(&self, outline: &Outline, place: Length, sign: f64) -> Outline {
        let half = self.straps.width / 2.0;
        let white = Length::mm(ROUND_HOOK);
        let low = (place - half).max(self.edge + white);
        let high = (place + half).min(self.end - white).max(low);
        let (top, bottom) = (self.y(high), self.y(low));
        let mut tip = self.half(place) + TONGUE - BESIDE_STRAP;
        let is_clear = |tip: f64| {
            (0..=4).all(|step| {
                let y = top + (bottom - top) * f64::from(step) / 4.0;
                let spot = Spot { x: Length::mm(tip * sign), y: Length::mm(y) };
                outline.holds(spot) && outline.distance(spot) >= white - Length::mm(1e-6)
            })
        };
        while tip > LEAST_HALF && !is_clear(tip) {
            tip -= INWARD;
        }
        let root = (tip - OVERLAP).max(0.0);
        let (left, right) = if sign > 0.0 { (root, tip) } else { (-tip, -root) };
        Outline::rectangle(left, top, right, bottom)
    }

    /// The straps across the open side: from tongue to tongue, and the overlap on each.
    fn closing(&self) -> Vec<Strap> {
        let strap = |place, from_crease: Length| {
            // On the hand a flap reaches as far as before the stretch was taken off.
            let flap = (self.half(from_crease) + TONGUE) / self.shrink;
            let gap = self.girths.at(from_crease) - Length::mm(2.0 * flap);
            Strap {
                place,
                from_crease,
                quantity: 1,
                width: self.straps.width,
                length: gap.max(Length::ZERO) + Length::mm(2.0 * OVERLAP),
                dots: None,
            }
        };
        vec![
            strap(StrapPlace::HandWrist, self.straps.wrist),
            strap(StrapPlace::HandWeb, self.straps.web),
        ]
    }

    fn up_line(&self, mark: Mark, x: f64) -> Detail {
        Detail { mark, outline: Outline::open(&[(x, 0.0), (x, self.y(self.edge))]) }
    }

    /// The middle of a face, a quarter of the girth from the fold.
    fn midline(&self, face: Direction) -> Detail {
        let mut places = vec![self.end];
        let bends: Vec<Length> = self.girths.places(self.edge, self.end).collect();
        places.extend(bends.iter().rev());
        places.push(self.edge);
        let points: Vec<(f64, f64)> =
            places.iter().map(|it| (self.middle(*it) * self.sign(face), self.y(*it))).collect();
        Detail { mark: Mark::Midline, outline: Outline::open(&points) }
    }

    fn grain(&self) -> Detail {
        // Under the holes' level; beside the thumb's opening, which takes the middle.
        let y = self.y(self.edge) - GRAIN_UP;
        let (left, right) = self.thumb_opening().map_or((-ARROW.0, ARROW.0), |it| {
            let left = it.extent().high.x.to_mm() + BESIDE_OPENING;
            let room = self.half(self.edge) - ROUND_HOOK - left;
            (left, left + room.min(2.0 * ARROW.0).max(2.0 * ARROW.1))
        });
        let outline = Outline::open(&[(left, y), (right, y)]);
        Detail { mark: Mark::Grain, outline }
    }

    /// One hole on each face, level with each other, for each distance that a pull asks for.
    fn holes(&self, outline: &Outline) -> Vec<Hole> {
        let mut holes: Vec<Hole> = Vec::new();
        for pull in &self.pulls {
            let from_crease = pull.cuff.hole_from_crease;
            let diameter = HOLE.0.max(pull.line.diameter * HOLE.1);
            for face in FACES {
                let x = self.middle(from_crease) * self.sign(face);
                let at = Spot { x: Length::mm(x), y: Length::mm(self.y(from_crease)) };
                let apart = outline.distance(at);
                let to_edge = if outline.holds(at) { apart } else { -apart };
                let is_there =
                    |it: &&mut Hole| it.face == face && (it.from_crease - from_crease).abs() < SAME;
                match holes.iter_mut().find(is_there) {
                    Some(hole) => hole.diameter = hole.diameter.max(diameter),
                    None => holes.push(Hole { at, face, from_crease, diameter, to_edge }),
                }
            }
        }
        holes
    }

    /// The thumb's opening, where the cuff wraps round the thumb side.
    fn thumb_opening(&self) -> Option<Outline> {
        if self.wrap == Wrap::LittleFinger {
            return None;
        }
        let bridge = Length::mm(BRIDGE);
        let near = (self.hand_length * THUMB.0).max(self.edge + bridge);
        let far = (self.hand_length * WEB).min(self.end - bridge);
        if far <= near {
            return None;
        }
        let half_high = (far - near).to_mm() / 2.0;
        let middle = self.y((near + far) / 2.0);
        Some(Outline::ellipse(
            0.0,
            middle,
            self.hand_length.to_mm() * THUMB.1 * self.shrink,
            half_high,
        ))
    }

    fn dimensions(&self) -> Vec<Dimension> {
        let spot = |x: f64, y: f64| Spot { x: Length::mm(x), y: Length::mm(y) };
        let along = |from: f64, to: f64, y: f64| Dimension { from: spot(from, y), to: spot(to, y) };
        let bottom = self.y(self.edge);
        let wrist = self.half(self.straps.wrist) + TONGUE;
        let web = self.half(self.straps.web) + TONGUE;
        let fingers = self.half(self.end);
        let widest = wrist.max(web).max(fingers);
        let mut all = vec![
            along(-fingers, fingers, -2.0 * ROW),
            along(-wrist, wrist, bottom + ROW),
            Dimension {
                from: spot(-widest - 2.0 * ROW, 0.0),
                to: spot(-widest - 2.0 * ROW, bottom),
            },
        ];
        if let Some(pull) = self.pulls.first() {
            all.push(along(0.0, self.middle(pull.cuff.hole_from_crease), -ROW));
        }
        let (from, to) = self.tongue_spans()[1];
        let x = -widest - ROW;
        all.push(Dimension { from: spot(x, self.y(to)), to: spot(x, self.y(from)) });
        all
    }

    /// Round the hand at the wrist edge, at the knuckles where they lie on it, and at the finger end.
    fn widths(&self) -> Vec<Width> {
        let mut places = vec![self.edge];
        places.extend(self.girths.places(self.edge, self.end));
        places.push(self.end);
        let width = |from_crease: Length| Width {
            from_crease,
            width: Length::mm(2.0 * self.half(from_crease)),
            girth: self.limb.at(from_crease),
        };
        places.into_iter().map(width).collect()
    }
}
