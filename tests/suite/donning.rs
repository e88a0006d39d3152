//! The pictures of putting on and taking off: true in angle and place, inside their frame, mirrored truly.

mod steps;

use proptest::prelude::*;
use proptest::test_runner::TestCaseError;
use tautline::calc::build::build;
use tautline::calc::figure::{
    Anchor, Build, Drawing, Label, Panel, Part, Place, Point, Pull, Shape, Step, Wearing,
    doffing_sequence, donning_sequence,
};
use tautline::calc::pattern::Lane;
use tautline::calc::{self, PullPlan};
use tautline::case::{Case, Direction, Wrap};
use tautline::units::{Angle, Length, math};

use crate::demo;
use crate::shapes::{anything, limbs};

/// What a drawing is made of, owned.
struct Scene {
    build: Build,
    pull: Pull,
    today: Angle,
    line: Vec<Point>,
    hole: Length,
    marks: Vec<Length>,
    other: Option<Build>,
}

impl Scene {
    /// One pull with the tab at its first mark, drawn from either side of the limb.
    fn of(case: &Case, plan: &PullPlan, pull: Pull) -> Option<Self> {
        let mark = plan.marks().next()?;
        Some(Self {
            build: build(case, &case.orthosis.pulls[0], plan),
            pull,
            today: mark.angle,
            line: mark.line.corners().iter().map(|it| Point { x: it.x, y: it.y }).collect(),
            hole: mark.hole,
            marks: plan.loops[0].marks.iter().map(|it| it.place).collect(),
            other: None,
        })
    }

    fn panels(&self, mirrored: bool) -> Vec<Panel> {
        let wearing = Wearing {
            build: &self.build,
            pull: self.pull,
            loose: Angle::ZERO.min(self.today),
            today: self.today,
            line: &self.line,
            tab_hole: self.hole,
            marks: &self.marks,
            other: self.other.as_ref(),
            mirrored,
        };
        let mut panels = donning_sequence(&wearing);
        panels.extend(doffing_sequence(&wearing));
        panels
    }
}

/// The base case's scene with a wrap and a pull.
fn base(wrap: Wrap, pull: Pull) -> Scene {
    let mut case = demo::case("quarry-bend-left-flexion");
    case.orthosis.cut.wrap = wrap;
    let plan = calc::plan(&case);
    Scene::of(&case, &plan.pulls[0], pull).unwrap()
}

fn named<'p>(panels: &'p [Panel], key: &str) -> &'p Drawing {
    &panels.iter().find(|it| it.key == key).unwrap_or_else(|| panic!("no {key}")).figure
}

fn of_part(drawing: &Drawing, part: Part) -> Vec<&Shape> {
    drawing.shapes.iter().filter(|it| it.part == part).collect()
}

/// Each step's end, in mm.
fn ends(shape: &Shape) -> Vec<(f64, f64)> {
    let end = |step: &Step| match *step {
        Step::Move(to) | Step::Line(to) | Step::Curve(_, _, to) => (to.x.to_mm(), to.y.to_mm()),
    };
    shape.path.iter().map(end).collect()
}

fn places(drawing: &Drawing) -> Vec<Place> {
    let steps = drawing.shapes.iter().flat_map(|it| &it.path);
    let of = |step: &Step| match *step {
        Step::Move(to) | Step::Line(to) => vec![to],
        Step::Curve(one, other, to) => vec![one, other, to],
    };
    let mut places: Vec<Place> = steps.flat_map(of).collect();
    places.extend(drawing.labels.iter().flat_map(|it| [it.at, it.to]));
    places
}

/// The mean of a shape's corners.
fn middle(shape: &Shape) -> (f64, f64) {
    let ends = ends(shape);
    let count = ends.len() as f64;
    let sum = ends.iter().fold((0.0, 0.0), |sum, it| (sum.0 + it.0, sum.1 + it.1));
    (sum.0 / count, sum.1 / count)
}

/// Whether a closed shape holds a point: a ray to the right crosses its edge an odd number of times. Curves
/// are cut into chords.
fn holds(shape: &Shape, (x, y): (f64, f64)) -> bool {
    let mut ring: Vec<(f64, f64)> = Vec::new();
    for step in &shape.path {
        match *step {
            Step::Move(to) | Step::Line(to) => ring.push((to.x.to_mm(), to.y.to_mm())),
            Step::Curve(one, two, to) => {
                let from = *ring.last().unwrap();
                let four = [from]
                    .into_iter()
                    .chain([one, two, to].map(|it| (it.x.to_mm(), it.y.to_mm())))
                    .collect::<Vec<_>>();
                ring.extend((1..=12_u32).map(|it| {
                    let t = f64::from(it) / 12.0;
                    let s = 1.0 - t;
                    let w = [s * s * s, 3.0 * s * s * t, 3.0 * s * t * t, t * t * t];
                    four.iter()
                        .zip(w)
                        .fold((0.0, 0.0), |sum, (p, w)| (sum.0 + p.0 * w, sum.1 + p.1 * w))
                }));
            }
        }
    }
    let count = ring.len();
    let crossings = (0..count).filter(|&index| {
        let ((x0, y0), (x1, y1)) = (ring[index], ring[(index + 1) % count]);
        (y0 > y) != (y1 > y) && x < x0 + (x1 - x0) * (y - y0) / (y1 - y0)
    });
    crossings.count() % 2 == 1
}

#[test]
fn the_point_search_finds_points() {
    let at = |x: f64, y: f64| Place { x: Length::mm(x), y: Length::mm(y) };
    let path = [(0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0)];
    let mut path: Vec<Step> = path.iter().map(|&(x, y)| Step::Line(at(x, y))).collect();
    path[0] = Step::Move(at(0.0, 0.0));
    let square = Shape { part: Part::Strap, closed: true, path };
    assert!(holds(&square, (5.0, 5.0)) && holds(&square, (9.9, 0.1)));
    assert!(!holds(&square, (10.1, 5.0)) && !holds(&square, (5.0, -0.1)));
}

/// The order in which it is put on and taken off, and what each picture draws.
#[test]
fn each_picture_draws_what_its_step_handles() {
    for wrap in [Wrap::LittleFinger, Wrap::Thumb] {
        let scene = base(wrap, Pull::Palm);
        let panels = scene.panels(false);
        let keys: Vec<&str> = panels.iter().map(|it| it.key).collect();
        let on = ["set_out", "forearm_piece", "strap", "cuff", "hand_strap", "tab", "check"];
        assert_eq!(keys, [&on[..], &["lift_tab", "cuff_off", "forearm_piece_off"]].concat());
        // Part, then how many there are of it in each picture.
        let limb = [0, 1, 1, 1, 1, 1, 1, 1, 1, 1];
        let is_drawn = |part: Part| -> Vec<usize> {
            panels.iter().map(|it| usize::from(!of_part(&it.figure, part).is_empty())).collect()
        };
        assert_eq!(is_drawn(Part::Hand), limb);
        assert_eq!(is_drawn(Part::ForearmPiece), [1; 10]);
        assert_eq!(is_drawn(Part::Cuff), [1, 0, 0, 1, 1, 1, 1, 1, 1, 0]);
        assert_eq!(is_drawn(Part::Line), [1, 0, 0, 1, 1, 1, 1, 1, 1, 0]);
        assert_eq!(is_drawn(Part::Tab), [1, 0, 0, 1, 1, 1, 1, 1, 1, 0]);
        assert_eq!(is_drawn(Part::Today), [0, 0, 0, 0, 0, 1, 1, 1, 0, 0]);
        let arrows: Vec<usize> =
            panels.iter().map(|it| of_part(&it.figure, Part::Motion).len()).collect();
        assert_eq!(arrows, [0, 1, 1, 1, 1, 1, 2, 1, 1, 1]);
        // What moves in the last picture of putting on, and nowhere else: the near fingertips and the thumb.
        let ghosts: Vec<usize> =
            panels.iter().map(|it| of_part(&it.figure, Part::Ghost).len()).collect();
        assert_eq!(ghosts, [0, 0, 0, 0, 0, 0, 3, 0, 0, 0]);
        // All later marks stand there too.
        assert_eq!(of_part(named(&panels, "tab"), Part::Mark).len(), scene.marks.len() - 1);
    }
}

/// The way off is the way on turned round: the same picture, its arrow pointing back.
#[test]
fn arrows_of_taking_off_point_back() {
    for wrap in [Wrap::LittleFinger, Wrap::Thumb] {
        let panels = base(wrap, Pull::Palm).panels(false);
        for (on, off) in [("cuff", "cuff_off"), ("forearm_piece", "forearm_piece_off")] {
            let (on, off) = (named(&panels, on), named(&panels, off));
            let rest = |it: &Drawing| -> Vec<Shape> {
                it.shapes.iter().filter(|it| it.part != Part::Motion).cloned().collect()
            };
            assert_eq!(rest(on).len(), rest(off).len());
            // From the end of the shaft to the tip: the corner farthest from the mean of all.
            let points = |it: &Drawing| {
                let arrow = of_part(it, Part::Motion)[0];
                let all = ends(arrow);
                let (x, y) = middle(arrow);
                let far = |it: &&(f64, f64)| math::hypot(it.0 - x, it.1 - y);
                let start = all.iter().max_by(|a, b| far(a).total_cmp(&far(b))).unwrap();
                (x - start.0, y - start.1)
            };
            let (there, back) = (points(on), points(off));
            assert!(there.0 * back.0 + there.1 * back.1 < 0.0, "{there:?} {back:?}");
        }
    }
}

/// A place turned about the origin.
fn turned((x, y): (f64, f64), degrees: f64) -> (f64, f64) {
    let (sin, cos) = math::sin_cos(degrees.to_radians());
    (x * cos - y * sin, x * sin + y * cos)
}

/// The exit hole as it is drawn, seen from the tab's hole, x toward the fingers and y toward the pull: by the contract
/// of the mechanics it is rot(θ)·(D − a, h) − (−a − S − u, k).
fn holds_todays_angle(scene: &Scene, drawing: &Drawing) -> Result<(), TestCaseError> {
    let [exit, tab] = of_part(drawing, Part::Hole)[..] else { panic!("two holes") };
    let (exit, tab) = (middle_of_ring(exit), middle_of_ring(tab));
    let sizes = &scene.build;
    let mm = |it: Length| it.to_mm();
    let axis = mm(sizes.axis_past_crease);
    let hand = (mm(sizes.hole_from_crease) - axis, mm(sizes.hole_height));
    let out = turned(hand, scene.today.to_degrees());
    let strip = mm(sizes.strip_start_from_crease) + mm(scene.hole);
    let wanted = (out.0 + axis + strip, out.1 - mm(sizes.strip_height));
    let drawn = (exit.0 - tab.0, tab.1 - exit.1);
    prop_assert!(
        math::hypot(drawn.0 - wanted.0, drawn.1 - wanted.1) < 1e-6,
        "drawn {drawn:?}, wanted {wanted:?} at {}°",
        scene.today.to_degrees()
    );
    Ok(())
}

/// The middle of a drawn ring: half way between its outermost points.
fn middle_of_ring(shape: &Shape) -> (f64, f64) {
    let ends = ends(shape);
    let span = |of: fn(&(f64, f64)) -> f64| {
        let low = ends.iter().map(of).fold(f64::INFINITY, f64::min);
        let high = ends.iter().map(of).fold(f64::NEG_INFINITY, f64::max);
        f64::midpoint(low, high)
    };
    (span(|it| it.0), span(|it| it.1))
}

/// The hand's straps lie one behind the other along the hand: the way from one to the other rises by today's
/// angle. They lean by what the cuff tapers, a few degrees.
#[test]
fn the_drawn_hand_stands_at_todays_angle() {
    for degrees in [-30.0, -10.0, 0.0, 25.0, 45.0, 60.0] {
        let mut scene = base(Wrap::LittleFinger, Pull::Palm);
        scene.today = Angle::degrees(degrees);
        let panels = scene.panels(false);
        let straps = of_part(named(&panels, "tab"), Part::Strap);
        let (web, wrist) = (middle(straps[0]), middle(straps[1]));
        let drawn = math::atan2(wrist.1 - web.1, web.0 - wrist.0).to_degrees();
        assert!((drawn - degrees).abs() < 6.0, "{drawn:.1}° drawn, {degrees}° today");
    }
}

/// Along the strip, today's line stands where its mark says, the tab's front edge at it, and later lines as far off as their
/// marks. The line on the page reads along x; depth shifts a point by its share, which is the same for all lines.
fn holds_the_marks(scene: &Scene, drawing: &Drawing) -> Result<(), TestCaseError> {
    let outer = |shape: &Shape| ends(shape).last().unwrap().0;
    let today = of_part(drawing, Part::Today)[0];
    // Marks that lie on one breadth of the piece: within 0.1 of the way its edge leans.
    for (index, mark) in of_part(drawing, Part::Mark).into_iter().enumerate() {
        let apart = outer(today) - outer(mark);
        let wanted = (scene.marks[index + 1] - scene.marks[0]).to_mm();
        prop_assert!((apart - wanted).abs() < 0.6, "{apart} mm drawn, {wanted} mm marked");
    }
    // From the strip's end near the hand: the corner of the strip toward the eye and the fingers.
    let strip = of_part(drawing, Part::Strip)[0];
    let corner = ends(strip).into_iter().fold((f64::MIN, f64::MIN), |best, it| {
        if it.0 + it.1 > best.0 + best.1 { it } else { best }
    });
    let place = corner.0 - outer(today);
    let mark = scene.marks[0].to_mm();
    prop_assert!((place - mark).abs() < 2.5, "{place} mm drawn, {mark} mm marked");
    // The tab's pad, painted last of the tab, ends at the line toward the fingers.
    let pad = of_part(drawing, Part::Tab).pop().unwrap();
    let front = ends(pad).into_iter().map(|it| it.0).fold(f64::MIN, f64::max);
    let line = ends(today).into_iter().map(|it| it.0).fold(f64::MIN, f64::max);
    prop_assert!((front - line).abs() < 3.0, "tab ends at {front}, today's line at {line}");
    Ok(())
}

/// How much lower on the page, and farther from the fingers, lies what is a millimetre nearer to the eye.
const LOWER: f64 = 0.42;
const BACK: f64 = 0.11;

/// Neither the line nor the lane that it needs to both sides lies on a strap.
fn keeps_the_lane_free(
    scene: &Scene,
    lane: Length,
    drawing: &Drawing,
) -> Result<(), TestCaseError> {
    let course = ends(of_part(drawing, Part::Line)[0]);
    // Over the cuff the line runs on its face, far from the open side and its straps.
    let start = scene.build.strip_start_from_crease.to_mm() + scene.hole.to_mm();
    let piece = start - scene.build.piece_edge_from_crease.to_mm();
    let tab = course.last().unwrap().0;
    for strap in of_part(drawing, Part::Strap) {
        for pair in course.windows(2) {
            for step in 0..=100_u32 {
                let t = f64::from(step) / 100.0;
                let x = pair[0].0 + (pair[1].0 - pair[0].0) * t;
                let y = pair[0].1 + (pair[1].1 - pair[0].1) * t;
                let is_over_piece = x - tab < piece;
                for aside in [0.0, lane.to_mm() / 2.0] {
                    let spot = (x, y + if is_over_piece { aside * LOWER } else { 0.0 });
                    prop_assert!(!holds(strap, spot), "{spot:?}, {aside} mm off the line");
                }
            }
        }
    }
    Ok(())
}

/// Every point that a shape goes through and both ends of every leader; the handles of a curve may lie outside.
fn stays_inside(drawing: &Drawing) -> Result<(), TestCaseError> {
    for place in places(drawing) {
        prop_assert!(place.x.to_mm().is_finite() && place.y.to_mm().is_finite());
    }
    let slack = 0.001;
    let (width, height) = (drawing.width.to_mm() + slack, drawing.height.to_mm() + slack);
    let leaders = drawing.labels.iter().flat_map(|it| [it.at, it.to]);
    let leaders = leaders.map(|it| (it.x.to_mm(), it.y.to_mm()));
    for (x, y) in drawing.shapes.iter().flat_map(ends).chain(leaders) {
        prop_assert!(x >= -slack && x <= width && y >= -slack && y <= height, "{x}, {y}");
    }
    Ok(())
}

fn mirrors(one: &Drawing, other: &Drawing) -> Result<(), TestCaseError> {
    prop_assert_eq!((one.width, one.height), (other.width, other.height));
    prop_assert_eq!(places(one).len(), places(other).len());
    for (left, right) in places(one).iter().zip(places(other)) {
        prop_assert!((one.width - left.x - right.x).abs() < Length::mm(1e-6));
        prop_assert!((left.y - right.y).abs() < Length::mm(1e-6));
    }
    Ok(())
}

/// Room for words, in mm at full size: as much as the drawing keeps for them.
fn room(label: &Label) -> [f64; 4] {
    let (x, y) = (label.at.x.to_mm(), label.at.y.to_mm());
    let (wide, high) = (110.0, 16.0);
    let top = if label.anchor == Anchor::Above { y - high } else { y };
    [x - wide / 2.0, top, x + wide / 2.0, top + high]
}

fn parts_labels(drawing: &Drawing) -> Result<(), TestCaseError> {
    for (index, one) in drawing.labels.iter().enumerate() {
        prop_assert!(matches!(one.anchor, Anchor::Above | Anchor::Below));
        prop_assert!(!of_part(drawing, one.part).is_empty(), "{:?} is named, not drawn", one.part);
        for other in &drawing.labels[index + 1..] {
            let ([l, t, r, b], [left, top, right, bottom]) = (room(one), room(other));
            let apart =
                r <= left + 1e-6 || right <= l + 1e-6 || b <= top + 1e-6 || bottom <= t + 1e-6;
            prop_assert!(apart, "{:?} and {:?}", one.part, other.part);
        }
    }
    Ok(())
}

proptest! {
    #![proptest_config(demo::draws(150))]

    /// Any limb that somebody may have, seen from either side, with either wrap, pulled either way.
    #[test]
    fn pictures_of_random_limbs_keep_their_rules(case in limbs(), is_palm: bool) {
        let plan = calc::plan(&case);
        let pull = if is_palm { Pull::Palm } else { Pull::Back };
        let Some(scene) = Scene::of(&case, &plan.pulls[0], pull) else { return Ok(()) };
        let panels = scene.panels(false);
        for (one, other) in panels.iter().zip(scene.panels(true)) {
            stays_inside(&one.figure)?;
            mirrors(&one.figure, &other.figure)?;
            parts_labels(&one.figure)?;
        }
        let tab = named(&panels, "tab");
        holds_todays_angle(&scene, tab)?;
        holds_todays_angle(&scene, named(&panels, "check"))?;
        holds_the_marks(&scene, tab)?;
        let lane = Lane::of(&case.orthosis.pulls[0]).line_wide;
        keeps_the_lane_free(&scene, lane, tab)?;
    }

    /// Whatever a case file lets through still gives finite pictures inside their frame.
    #[test]
    fn pictures_of_absurd_limbs_are_finite(case in anything(), degrees in -90.0..110.0_f64) {
        let plan = calc::plan(&case);
        let pull = &plan.pulls[0];
        let scene = Scene {
            build: build(&case, &case.orthosis.pulls[0], pull),
            pull: Pull::Back,
            today: Angle::degrees(degrees),
            line: Vec::new(),
            hole: Length::ZERO,
            marks: Vec::new(),
            other: None,
        };
        for panel in scene.panels(case.orthosis.pulls[0].direction == Direction::Extension) {
            stays_inside(&panel.figure)?;
        }
    }
}
