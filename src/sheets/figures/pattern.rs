//! The flat pieces as numbers.

use serde::Serialize;

use crate::calc::pattern::{Basis, Lack, Lie, Measure, Pattern, Piece, StandIn, StrapPlace};
use crate::case::Direction;
use crate::sheets::wording::round;
use crate::units::Length;

/// The pattern's numbers.
#[derive(Debug, Serialize)]
pub(super) struct PatternFigures {
    pub(super) pieces: Vec<PieceFigures>,
    pub(super) refused: Vec<RefusedFigures>,
    pub(super) estimates: Vec<EstimateFigures>,
    pub(super) sheet: SheetFigures,
}

#[derive(Debug, Serialize)]
pub(super) struct PieceFigures {
    pub(super) piece: &'static str,
    pulls: Vec<&'static str>,
    pub(super) length_mm: f64,
    pub(super) width_mm: f64,
    pub(super) area_mm2: f64,
    pub(super) perimeter_mm: f64,
    widths: Vec<WidthFigures>,
    holes: Vec<HoleFigures>,
    straps: Vec<StrapFigures>,
}

#[derive(Debug, Serialize)]
struct WidthFigures {
    from_crease_mm: f64,
    width_mm: f64,
    girth_mm: f64,
}

#[derive(Debug, Serialize)]
struct HoleFigures {
    face: &'static str,
    from_crease_mm: f64,
    from_fold_mm: f64,
    diameter_mm: f64,
    to_edge_mm: f64,
}

#[derive(Debug, Serialize)]
struct StrapFigures {
    strap: &'static str,
    quantity: u8,
    from_crease_mm: f64,
    width_mm: f64,
    length_mm: f64,
    /// The breadth of each hook dot; a strap on tongues has none.
    #[serde(skip_serializing_if = "Option::is_none")]
    dot_mm: Option<f64>,
}

#[derive(Debug, Serialize)]
pub(super) struct RefusedFigures {
    pub(super) piece: &'static str,
    pub(super) missing: Vec<&'static str>,
}

#[derive(Debug, Serialize)]
pub(super) struct EstimateFigures {
    measure: &'static str,
    value_mm: f64,
    /// Its standard error; what is merely taken has none.
    #[serde(skip_serializing_if = "Option::is_none")]
    spread_mm: Option<f64>,
    basis: &'static str,
}

#[derive(Debug, Serialize)]
pub(super) struct SheetFigures {
    pub(super) length_mm: f64,
    pub(super) width_mm: f64,
    pub(super) sheets: usize,
    pub(super) share: f64,
    lies: Vec<LieFigures>,
    too_big: Vec<&'static str>,
}

#[derive(Debug, Serialize)]
struct LieFigures {
    piece: &'static str,
    sheet: usize,
    x_mm: f64,
    y_mm: f64,
    turned_deg: f64,
}

impl PatternFigures {
    pub(super) fn of(pattern: &Pattern) -> Self {
        let used = &pattern.sheet;
        let key = |index: usize| pattern.pieces[index].kind.key();
        Self {
            pieces: pattern.pieces.iter().map(PieceFigures::of).collect(),
            refused: pattern
                .refused
                .iter()
                .map(|it| RefusedFigures {
                    piece: it.kind.key(),
                    missing: it.lacks.iter().map(|it| key_of(Lack::measure(*it))).collect(),
                })
                .collect(),
            estimates: pattern.stand_ins.iter().map(EstimateFigures::of).collect(),
            sheet: SheetFigures {
                length_mm: mm(used.sheet.length),
                width_mm: mm(used.sheet.width),
                sheets: used.sheets,
                share: round(used.share, 3),
                lies: used.lies.iter().map(|it| LieFigures::of(it, key(it.piece))).collect(),
                too_big: used.too_big.iter().map(|it| key(*it)).collect(),
            },
        }
    }
}

impl PieceFigures {
    fn of(piece: &Piece) -> Self {
        let extent = piece.extent();
        Self {
            piece: piece.kind.key(),
            pulls: piece.pulls.iter().map(|it| it.word()).collect(),
            length_mm: mm(extent.width()),
            width_mm: mm(extent.height()),
            area_mm2: round(piece.area().to_mm2(), 1),
            perimeter_mm: mm(piece.outline.perimeter()),
            widths: piece
                .widths
                .iter()
                .map(|it| WidthFigures {
                    from_crease_mm: mm(it.from_crease),
                    width_mm: mm(it.width),
                    girth_mm: mm(it.girth),
                })
                .collect(),
            holes: piece
                .holes
                .iter()
                .map(|it| HoleFigures {
                    face: pull_face(it.face),
                    from_crease_mm: mm(it.from_crease),
                    from_fold_mm: mm(it.at.x.abs()),
                    diameter_mm: mm(it.diameter),
                    to_edge_mm: mm(it.to_edge),
                })
                .collect(),
            straps: piece
                .straps
                .iter()
                .map(|it| StrapFigures {
                    strap: strap(it.place),
                    quantity: it.quantity,
                    from_crease_mm: mm(it.from_crease),
                    width_mm: mm(it.width),
                    length_mm: mm(it.length),
                    dot_mm: it
                        .dots
                        .filter(|dots| dots.breadth > Length::ZERO)
                        .map(|dots| mm(dots.breadth)),
                })
                .collect(),
        }
    }
}

impl EstimateFigures {
    fn of(stand_in: &StandIn) -> Self {
        Self {
            measure: key_of(stand_in.measure),
            value_mm: mm(stand_in.value),
            spread_mm: stand_in.spread.map(mm),
            basis: match stand_in.basis {
                Basis::HandBreadth => "hand_breadth",
                Basis::Knuckles => "knuckle_girth",
                Basis::Wrist => "wrist_circumference",
                Basis::ForearmLength => "forearm_length",
                Basis::WidestForearm => "widest_forearm_girth",
                Basis::NoWiderThanKnuckles => "knuckle_girth_at_most",
            },
        }
    }
}

impl LieFigures {
    fn of(lie: &Lie, piece: &'static str) -> Self {
        Self {
            piece,
            sheet: lie.sheet + 1,
            x_mm: mm(lie.x),
            y_mm: mm(lie.y),
            turned_deg: round(lie.turned.to_degrees(), 2),
        }
    }
}

/// The face of the hand that a pull's line runs on.
fn pull_face(direction: Direction) -> &'static str {
    match direction {
        Direction::Flexion => "palm",
        Direction::Extension => "back",
    }
}

fn mm(length: Length) -> f64 {
    round(length.to_mm(), 3)
}

/// A measure by its key in the case file.
pub(crate) fn key_of(measure: Measure) -> &'static str {
    match measure {
        Measure::Wrist => "wrist_circumference",
        Measure::Knuckles => "knuckle_girth",
        Measure::FingerJoints => "finger_joint_girth",
        Measure::Forearm => "forearm_girths",
        Measure::Elbow => "elbow_girth",
        Measure::ElbowPath => "around_elbow",
    }
}

fn strap(place: StrapPlace) -> &'static str {
    match place {
        StrapPlace::NearWrist => "forearm_wrist",
        StrapPlace::NearElbow => "forearm_elbow",
        StrapPlace::HandWrist => "hand_wrist",
        StrapPlace::HandWeb => "hand_web",
    }
}
