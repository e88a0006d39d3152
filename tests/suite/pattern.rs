//! The flat pieces: what must hold for every limb.

use geo::{Area, BooleanOps, Contains, Coord, Distance as _, Euclidean, Intersects, Rect};
use proptest::prelude::*;
use tautline::calc::pattern::{Kind, Mark, Outline, Piece};
use tautline::case::{self, Case, Direction, Grain, Side, Wrap};
use tautline::units::Length;

use crate::demo;
use crate::outlines::outlines;
use crate::shapes::{anything, between, cut, limbs, piece, points, polygon, same};

const BASE: &str = "quarry-bend-left-flexion";

fn mm(value: f64) -> Length {
    Length::mm(value)
}

/// A girth at the elbow crease itself does not push the elbow's own girth aside, nor one at the wrist
/// crease the wrist's; unless the file is refused.
#[test]
fn a_girth_at_a_crease_does_not_hide_another() {
    let read = |from: &str, to: &str| {
        let text = demo::edited(
            BASE,
            &[(from, to), ("edge_from_crease: 12 mm }", "edge_from_crease: 0 mm }")],
        );
        case::read(text.as_bytes()).ok().map(|it| piece(&it.case, Kind::ForearmPiece))
    };
    if let Some(drawn) =
        read("{ from_crease: 20 cm, girth: 26.0 cm }", "{ from_crease: 245 mm, girth: 24 cm }")
    {
        assert_eq!(drawn.widths.last().unwrap().girth, mm(270.0));
    }
    if let Some(drawn) =
        read("{ from_crease: 5 cm, girth: 18.2 cm }", "{ from_crease: 0 mm, girth: 18.2 cm }")
    {
        assert_eq!(drawn.widths[0].girth, mm(166.0));
    }
}

/// What stands beside a width as the limb's girth is what was measured.
#[test]
fn widths_stand_beside_the_limbs_own_girths() {
    let case = demo::case(BASE);
    let girths = |kind| -> Vec<f64> {
        piece(&case, kind).widths.iter().map(|it| it.girth.to_mm()).collect()
    };
    let near_all = |ours: Vec<f64>, theirs: &[f64]| {
        assert_eq!(ours.len(), theirs.len());
        assert!(ours.iter().zip(theirs).all(|(a, b)| (a - b).abs() < 0.01), "{ours:?} {theirs:?}");
    };
    near_all(girths(Kind::ForearmPiece), &[169.84, 182.0, 225.0, 260.0, 270.0]);
    // 20 mm from the crease: 166 + (198 − 166)·20/82.06.
    near_all(girths(Kind::Cuff), &[173.8, 198.0, 186.0]);
}

/// Widths at sixty places along a piece.
fn widths(piece: &Piece) -> Vec<f64> {
    let ring = points(&piece.outline, 48);
    let extent = piece.extent();
    let is_across = piece.kind == Kind::ForearmPiece;
    let (low, size) = if is_across {
        (extent.low.x.to_mm(), extent.width().to_mm())
    } else {
        (extent.low.y.to_mm(), extent.height().to_mm())
    };
    (0..60).map(|it| cut(&ring, low + size * (f64::from(it) + 0.5) / 60.0, is_across)).collect()
}

const BOTH: [Kind; 2] = [Kind::ForearmPiece, Kind::Cuff];

/// Holds that no place of a piece is narrower than before, nor its outline's area smaller.
fn no_narrower(
    kinds: &[Kind],
    before: &Case,
    after: &Case,
    what: &str,
) -> Result<(), TestCaseError> {
    for &kind in kinds {
        let (small, large) = (piece(before, kind), piece(after, kind));
        for (place, (one, other)) in widths(&small).into_iter().zip(widths(&large)).enumerate() {
            let says = format!("{what}: {kind:?} at {place}/60: {one:.3} to {other:.3} mm");
            prop_assert!(other >= one - 0.005, "{says}");
        }
        prop_assert!(large.outline.area() >= small.outline.area() - tenth(), "{what}: {kind:?}");
    }
    Ok(())
}

fn tenth() -> tautline::units::Area {
    tautline::units::Area::mm2(0.1)
}

/// A case with one of its girths raised, by its place among them, and its name.
fn raised(case: &Case, which: usize, by: f64) -> (Case, String) {
    let mut case = case.clone();
    let by = mm(by);
    let limb = &mut case.limb;
    let grow = |it: &mut Option<Length>| *it = it.map(|it| it + by);
    let name = match which {
        0 => {
            grow(&mut limb.wrist_circumference);
            "wrist".to_owned()
        }
        1 => {
            grow(&mut limb.knuckle_girth);
            "knuckles".to_owned()
        }
        2 => {
            grow(&mut limb.finger_joint_girth);
            "finger joints".to_owned()
        }
        3 => {
            grow(&mut limb.elbow_girth);
            "elbow".to_owned()
        }
        other => {
            let index = (other - 4) % limb.forearm_girths.len();
            let girth = &mut limb.forearm_girths[index];
            girth.girth = girth.girth + by;
            format!("forearm {index}")
        }
    };
    (case, name)
}

proptest! {
    #![proptest_config(demo::draws(200))]

    /// No hook hangs over the edge toward the skin: each lies inside the outline as cut, on a tongue with white round it.
    #[test]
    fn every_hook_lies_inside_its_piece(case in limbs()) {
        for kind in BOTH {
            let drawn = piece(&case, kind);
            let outline = polygon(&drawn.outline);
            for it in drawn.details.iter().filter(|it| matches!(it.mark, Mark::Dot | Mark::Tongue)) {
                let hook = polygon(&it.outline);
                prop_assert!(outline.contains(&hook), "{kind:?} {:?}: {hook:?}", it.mark);
                if it.mark == Mark::Tongue {
                    let white = Euclidean.distance(outline.exterior(), hook.exterior());
                    prop_assert!(white > 1.4, "{white:.2} mm beside a hook");
                }
            }
        }
    }

    /// The arrow of the grain with its word under or over it crosses no cutting line; a sheet without grain has none.
    #[test]
    fn the_grain_keeps_clear_of_what_is_cut(case in limbs()) {
        let mut case = case;
        for kind in BOTH {
            case.orthosis.sheet.grain = Grain::None;
            let is_arrow = |it: &&tautline::calc::pattern::Detail| it.mark == Mark::Grain;
            prop_assert!(!piece(&case, kind).details.iter().any(|it| is_arrow(&it)));
            case.orthosis.sheet.grain = Grain::Lengthwise;
            let drawn = piece(&case, kind);
            let arrow = drawn.details.iter().find(is_arrow).expect("an arrow").outline.extent();
            // 7 mm hold the word beside its arrow: see UNDER_ARROW and WORD_SIZE in the sheet's data.
            let (over, under) = if kind == Kind::Cuff { (7.0, 1.0) } else { (1.0, 7.0) };
            let ground = Rect::new(
                Coord { x: arrow.low.x.to_mm(), y: arrow.low.y.to_mm() - over },
                Coord { x: arrow.high.x.to_mm(), y: arrow.high.y.to_mm() + under },
            )
            .to_polygon();
            prop_assert!(polygon(&drawn.outline).contains(&ground), "{kind:?}: {ground:?}");
            if let Some(opening) = &drawn.opening {
                prop_assert!(!polygon(opening).intersects(&ground), "{kind:?}: {ground:?}");
            }
        }
    }

    #[test]
    fn a_bigger_girth_never_makes_a_piece_narrower(
        case in limbs(), which in 0..7_usize, by in 1.0..30.0_f64,
    ) {
        let (bigger, name) = raised(&case, which, by);
        no_narrower(&BOTH, &case, &bigger, &name)?;
    }

    /// The forearm piece keeps to it whatever the limb, as the weights of its rounded bends do not depend on
    /// the girths.
    #[test]
    fn a_bigger_girth_never_narrows_the_forearm_piece(
        case in anything(), which in 0..8_usize, by in 1.0..30.0_f64,
    ) {
        let (bigger, name) = raised(&case, which, by);
        no_narrower(&[Kind::ForearmPiece], &case, &bigger, &name)?;
    }

    #[test]
    fn a_bigger_gap_or_opening_never_makes_a_piece_wider(case in limbs(), by in 1.0..30.0_f64) {
        let mut open = case.clone();
        open.orthosis.cut.gap = open.orthosis.cut.gap + mm(by);
        no_narrower(&BOTH, &open, &case, "gap")?;
        let mut open = case.clone();
        open.orthosis.cut.opening = open.orthosis.cut.opening + mm(by);
        no_narrower(&BOTH, &open, &case, "opening")?;
    }

    /// The left cuff mirrors the right one; both edges of the forearm piece are alike.
    #[test]
    fn sides_are_mirror_images(case in limbs()) {
        let on = |side| {
            let mut case = case.clone();
            case.patient.side = side;
            case
        };
        let [left, right] = [Side::Left, Side::Right].map(|it| piece(&on(it), Kind::Cuff));
        let flip = |outline: &Outline| -> Vec<Coord> {
            points(outline, 8).into_iter().map(|it| Coord { x: -it.x, y: it.y }).collect()
        };
        prop_assert_eq!(outlines(&left).len(), outlines(&right).len());
        for (one, other) in outlines(&left).into_iter().zip(outlines(&right)) {
            prop_assert!(same(&points(one, 8), &flip(other)));
        }
        prop_assert_eq!(left.holes.len(), right.holes.len());
        for (one, other) in left.holes.iter().zip(&right.holes) {
            prop_assert_eq!(one.face, other.face);
            prop_assert!((one.at.x + other.at.x).to_mm().abs() < 1e-9);
            prop_assert!((one.at.y - other.at.y).to_mm().abs() < 1e-9);
        }
        let [left, right] = [Side::Left, Side::Right].map(|it| piece(&on(it), Kind::ForearmPiece));
        prop_assert_eq!(&left, &right);
        let mut ring = points(&left.outline, 8);
        let mut across: Vec<Coord> = ring.iter().map(|it| Coord { x: it.x, y: -it.y }).collect();
        for it in [&mut ring, &mut across] {
            it.sort_by(|one, other| one.x.total_cmp(&other.x).then(one.y.total_cmp(&other.y)));
        }
        prop_assert!(near_sets(&ring, &across));
    }

    /// A hole lies a quarter of the girth from the fold, Z − D from the finger end, inside the outline; the
    /// palm's lies on the right of a right cuff that wraps round the little finger.
    #[test]
    fn holes_lie_on_the_middle_of_each_face(case in limbs()) {
        let cuff = piece(&case, Kind::Cuff);
        let (limb, pull) = (&case.limb, &case.orthosis.pulls[0]);
        let level = limb.hand_length.to_mm() * 0.446;
        let room = case.orthosis.cut.finger_room.to_mm();
        let end = pull.cuff.end_from_crease.to_mm();
        let knots = [
            (0.0, limb.wrist_circumference.unwrap().to_mm()),
            (level, limb.knuckle_girth.unwrap().to_mm() + room),
            (end, limb.finger_joint_girth.unwrap().to_mm() + room),
        ];
        let girth = between(&knots, pull.cuff.hole_from_crease.to_mm());
        let from_fold = girth / 4.0 * (1.0 - case.orthosis.cut.draping_stretch);
        prop_assert_eq!(cuff.holes.len(), 2);
        for hole in &cuff.holes {
            let palm_is_right = (case.patient.side == Side::Right)
                == (case.orthosis.cut.wrap == Wrap::LittleFinger);
            let is_right = (hole.face == Direction::Flexion) == palm_is_right;
            let x = if is_right { from_fold } else { -from_fold };
            prop_assert!((hole.at.x.to_mm() - x).abs() < 1e-9, "{hole:?} {x}");
            let y = end - pull.cuff.hole_from_crease.to_mm();
            prop_assert!((hole.at.y.to_mm() - y).abs() < 1e-9);
            prop_assert!(cuff.outline.holds(hole.at));
            let theirs = Euclidean.distance(
                &geo::Point::new(hole.at.x.to_mm(), hole.at.y.to_mm()),
                polygon(&cuff.outline).exterior(),
            );
            prop_assert!((hole.to_edge.to_mm() - theirs).abs() < 0.01);
        }
    }

    /// The thumb's opening leaves 12 mm of sheet on both sides of it along the hand.
    #[test]
    fn a_cuff_round_the_thumb_lets_it_out(case in limbs()) {
        let cuff = piece(&case, Kind::Cuff);
        if case.orthosis.cut.wrap == Wrap::LittleFinger {
            prop_assert!(cuff.opening.is_none());
            return Ok(());
        }
        let opening = cuff.opening.as_ref().unwrap();
        let (hole, sheet) = (polygon(opening), polygon(&cuff.outline));
        prop_assert!(hole.difference(&sheet).unsigned_area() < 1e-6);
        prop_assert!(opening.extent().low.y - cuff.extent().low.y >= mm(12.0 - 1e-9));
        prop_assert!(cuff.extent().high.y - opening.extent().high.y >= mm(12.0 - 1e-9));
        prop_assert!(opening.extent().height() > mm(15.0), "{:?}", opening.extent());
        prop_assert!((cuff.outline.area() - opening.area() - cuff.area()).abs() < tenth());
    }
}

/// Every point of one has one of the other within 1e-9 mm; both sorted along x.
fn near_sets(ours: &[Coord], theirs: &[Coord]) -> bool {
    ours.iter().all(|one| {
        theirs.iter().any(|other| (one.x - other.x).abs() < 1e-9 && (one.y - other.y).abs() < 1e-9)
    })
}
