//! Collecting shapes and labels, and setting them on a page.

use super::curve::{Outline, Stroke};
use super::drawing::{Anchor, Drawing, Label, Part, Place, Shape, Step};
use super::plane::{Vector, at};
use crate::units::Length;

/// Room kept for a label's words across (mm at full size); the longest name at reading size.
pub(super) const WORDS_WIDE: f64 = 110.0;
/// Room kept for a label's words in height (mm at full size).
pub(super) const WORDS_HIGH: f64 = 16.0;
/// White edge round everything (mm).
const EDGE: f64 = 4.0;
/// Points looked at on each stroke when its extent is taken.
const LOOKS: u8 = 24;

/// A label before it is set: drawing points.
#[derive(Debug, Clone, Copy)]
pub(super) struct Note {
    pub(super) part: Part,
    pub(super) at: Vector,
    pub(super) to: Vector,
    pub(super) anchor: Anchor,
}

/// A drawing while it is made: x right, y up, origin where the view likes it.
#[derive(Debug, Default)]
pub(super) struct Sheet {
    shapes: Vec<(Part, Outline)>,
    notes: Vec<Note>,
}

impl Sheet {
    /// Paints one more shape over those before.
    pub(super) fn paint(&mut self, part: Part, outline: Outline) {
        self.shapes.push((part, outline));
    }

    /// Names a part.
    pub(super) fn note(&mut self, part: Part, at: Vector, to: Vector, anchor: Anchor) {
        self.notes.push(Note { part, at, to, anchor });
    }

    /// Paints all that another holds, each point moved by `place`.
    pub(super) fn take(&mut self, other: &Self, place: impl Fn(Vector) -> Vector) {
        self.shapes.extend(other.shapes.iter().map(|(part, it)| (*part, it.map(&place))));
    }

    /// Points along everything painted so far, close enough for extents.
    pub(super) fn trace(&self) -> Vec<Vector> {
        self.shapes.iter().flat_map(|(_, outline)| trace(outline)).collect()
    }

    /// Sets the drawing on a page that just holds it. `mirrored` turns left and right about.
    pub(super) fn set(self, mirrored: bool) -> Drawing {
        let side = if mirrored { -1.0 } else { 1.0 };
        let turn = |point: Vector| at(point.x * side, -point.y);
        let notes: Vec<Note> = self.notes.iter().map(|note| note.turned(mirrored)).collect();
        let mut seen: Vec<Vector> = self.trace().into_iter().map(turn).collect();
        seen.extend(notes.iter().flat_map(Note::room));
        let low = seen.iter().fold(at(0.0, 0.0), |a, b| at(a.x.min(b.x), a.y.min(b.y)));
        let high = seen.iter().fold(at(0.0, 0.0), |a, b| at(a.x.max(b.x), a.y.max(b.y)));
        let place = |point: Vector| Place {
            x: Length::mm(point.x - low.x + EDGE),
            y: Length::mm(point.y - low.y + EDGE),
        };
        let label = |note: &Note| Label {
            part: note.part,
            at: place(note.at),
            to: place(note.to),
            anchor: note.anchor,
        };
        Drawing {
            width: Length::mm(high.x - low.x + 2.0 * EDGE),
            height: Length::mm(high.y - low.y + 2.0 * EDGE),
            labels: notes.iter().map(label).collect(),
            shapes: self
                .shapes
                .iter()
                .map(|(part, outline)| Shape {
                    part: *part,
                    closed: outline.closed,
                    path: steps(&outline.map(turn), place),
                })
                .collect(),
        }
    }
}

impl Note {
    /// In page sense, y down.
    fn turned(&self, mirrored: bool) -> Self {
        let side = if mirrored { -1.0 } else { 1.0 };
        let anchor = match (self.anchor, mirrored) {
            (Anchor::Left, true) => Anchor::Right,
            (Anchor::Right, true) => Anchor::Left,
            (anchor, _) => anchor,
        };
        let turn = |point: Vector| at(point.x * side, -point.y);
        Self { part: self.part, at: turn(self.at), to: turn(self.to), anchor }
    }

    /// Two corners of the room its words need, in page sense.
    fn room(&self) -> [Vector; 2] {
        let (wide, high) = (WORDS_WIDE, WORDS_HIGH);
        let (from, to) = match self.anchor {
            Anchor::Above => (at(-wide / 2.0, -high), at(wide / 2.0, 0.0)),
            Anchor::Below => (at(-wide / 2.0, 0.0), at(wide / 2.0, high)),
            Anchor::Left => (at(-wide, -high / 2.0), at(0.0, high / 2.0)),
            Anchor::Right => (at(0.0, -high / 2.0), at(wide, high / 2.0)),
        };
        [self.at + from, self.at + to]
    }
}

fn trace(outline: &Outline) -> Vec<Vector> {
    let mut points = vec![outline.start];
    let mut from = outline.start;
    for stroke in &outline.strokes {
        let (leave, arrive, end) = match *stroke {
            Stroke::Line(end) => (from, end, end),
            Stroke::Curve(leave, arrive, end) => (leave, arrive, end),
        };
        points.extend((1..=LOOKS).map(|look| {
            let share = f64::from(look) / f64::from(LOOKS);
            let middle = leave.toward(arrive, share);
            let first = from.toward(leave, share).toward(middle, share);
            first.toward(middle.toward(arrive.toward(end, share), share), share)
        }));
        from = end;
    }
    points
}

fn steps(outline: &Outline, place: impl Fn(Vector) -> Place) -> Vec<Step> {
    let mut path = vec![Step::Move(place(outline.start))];
    path.extend(outline.strokes.iter().map(|stroke| match *stroke {
        Stroke::Line(end) => Step::Line(place(end)),
        Stroke::Curve(leave, arrive, end) => Step::Curve(place(leave), place(arrive), place(end)),
    }));
    path
}
