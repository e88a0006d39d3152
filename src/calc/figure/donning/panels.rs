//! The pictures of putting on and taking off, each composed of parts.

use super::arrow::{arrow, swing};
use super::line::{self, Tab};
use super::pose::Pose;
use super::view::{DEPTH, Rim};
use super::{cuff, forearm_piece, hand, limb, straps};
use crate::calc::figure::bench::Panel;
use crate::calc::figure::drawing::{Anchor, Part};
use crate::calc::figure::plane::{Vector, at};
use crate::calc::figure::sheet::Sheet;
use crate::calc::figure::side::Side;
use crate::calc::figure::sizes::{STRAP, Sizes};
use crate::calc::figure::{Build, Point, Pull};
use crate::case::Wrap;
use crate::units::{Angle, Length};

/// How far a piece is drawn from its place while it is put on or taken off (mm).
const AWAY: f64 = 92.0;
/// How far the cuff is drawn from the hand while it is put on: away from the eye, or toward it (mm).
const ASIDE: (f64, f64) = (-105.0, 150.0);
/// How far past the near strap a picture of the hand ends, and past the strip one of the tab (mm).
const CUT: (f64, f64) = (14.0, 22.0);
/// Half the shaft of an arrow in a picture of the whole arm, and in one of the hand (mm).
const ARROW: (f64, f64) = (4.2, 2.8);
/// How far fingers and thumb swing when they are moved, to each side (degrees), and how far off their tips the
/// arrow stands (mm).
const SWING: (f64, f64) = (26.0, 11.0);
/// How far names stand over and under what they name (mm).
const ROWS: (f64, f64) = (26.0, 14.0);
/// How far a lifted tab has come toward the hand (mm).
const LIFTED: f64 = 16.0;

/// What is drawn: an orthosis on its limb, and how the wrist stands.
#[derive(Debug, Clone)]
pub struct Wearing<'w> {
    /// The sizes.
    pub build: &'w Build,
    /// Which side the line runs on.
    pub pull: Pull,
    /// The wrist before the tab is set, positive toward the pull.
    pub loose: Angle,
    /// The wrist at today's mark.
    pub today: Angle,
    /// The taut line's corners at today's mark, from the cuff's hole to the tab's.
    pub line: &'w [Point],
    /// u at today's mark.
    pub tab_hole: Length,
    /// Places of the marks along the strip, today's first.
    pub marks: &'w [Length],
    /// Whether left and right are turned about; as in the side view.
    pub mirrored: bool,
}

impl Wearing<'_> {
    fn pose(&self, wrist: Angle, thumb: f64) -> Pose {
        let palm = match self.pull {
            Pull::Palm => 1.0,
            Pull::Back => -1.0,
        };
        Pose {
            side: Side { sizes: Sizes::of(self.build), wrist, palm },
            thumb,
            gap: self.build.gap.to_mm(),
            opening: self.build.opening.to_mm(),
        }
    }

    fn loose(&self) -> Pose {
        self.pose(self.loose, 1.0)
    }

    fn taut(&self) -> Pose {
        self.pose(self.today, 1.0)
    }

    fn panel(&self, key: &'static str, sheet: Sheet) -> Panel {
        Panel { key, figure: sheet.set(self.mirrored) }
    }

    fn lane(&self) -> f64 {
        self.build.tab_width.to_mm() / 2.0 + 4.0
    }

    fn course(&self) -> Vec<Vector> {
        self.line.iter().map(|it| at(it.x.to_mm(), it.y.to_mm())).collect()
    }

    fn hole(&self) -> f64 {
        -(self.build.strip_start_from_crease + self.tab_hole).to_mm()
    }
}

const STILL: Vector = at(0.0, 0.0);

/// How it is put on.
#[must_use]
pub fn donning_sequence(wearing: &Wearing<'_>) -> Vec<Panel> {
    vec![
        wearing.panel("set_out", set_out(wearing)),
        wearing.panel("forearm_piece", forearm_piece_on(wearing, true)),
        wearing.panel("strap", strap_forearm(wearing)),
        wearing.panel("cuff", cuff_on(wearing, true)),
        // From the other edge of the hand its fingers point the other way.
        Panel {
            key: "hand_strap",
            figure: strap_hand(wearing)
                .set(wearing.mirrored != (wearing.build.wrap == Wrap::Thumb)),
        },
        wearing.panel("tab", set_tab(wearing)),
        wearing.panel("check", check(wearing)),
    ]
}

/// How it is taken off.
#[must_use]
pub fn doffing_sequence(wearing: &Wearing<'_>) -> Vec<Panel> {
    vec![
        wearing.panel("lift_tab", lift_tab(wearing)),
        wearing.panel("cuff_off", cuff_on(wearing, false)),
        wearing.panel("forearm_piece_off", forearm_piece_on(wearing, false)),
    ]
}

/// Both pieces beside each other, all straps open.
fn set_out(w: &Wearing<'_>) -> Sheet {
    let mut sheet = Sheet::default();
    let pose = w.pose(Angle::ZERO, 1.0);
    forearm_piece::paint_inside(&mut sheet, &pose, STILL);
    let piece = forearm_piece::paint(&mut sheet, &pose, STILL);
    let mut band = None;
    for place in pose.side.sizes.forearm_straps {
        band = Some(straps::paint_forearm_open(&mut sheet, &pose, place, w.lane(), STILL));
    }
    let strip = line::paint_strip(&mut sheet, &pose, STILL);
    let by = at(58.0, 0.0);
    cuff::paint_inside(&mut sheet, &pose, by);
    let on = cuff::paint(&mut sheet, &pose, by);
    for place in hand_straps(&pose) {
        straps::paint_hand_open(&mut sheet, &pose, place, by);
    }
    let (tab, bend) = dangling(&mut sheet, &pose, on.hole);
    let over = piece.face.y.max(strip.free.y) + ROWS.0;
    sheet.note(Part::ForearmPiece, at(piece.face.x, over), piece.face, Anchor::Above);
    sheet.note(Part::Strip, at(strip.free.x + 40.0, over), strip.free, Anchor::Above);
    sheet.note(Part::Cuff, at(on.face.x, over), on.face, Anchor::Above);
    let under = tab.pad.y - ROWS.1;
    if let Some(strap) = band {
        sheet.note(Part::Strap, at(strap.loose.x, under), strap.loose, Anchor::Below);
    }
    sheet.note(Part::Tab, at(tab.pad.x, under), tab.pad, Anchor::Below);
    sheet.note(Part::Line, at(bend.x + 30.0, under), bend, Anchor::Below);
    sheet
}

/// The line hanging from the cuff's hole down before the cuff, the tab at its end; gives the tab and the bend.
fn dangling(sheet: &mut Sheet, pose: &Pose, hole: Vector) -> (Tab, Vector) {
    let sizes = &pose.side.sizes;
    let end = hole + at(sizes.cuff_edge - sizes.hole + 10.0, -84.0);
    let bend = hole + at(12.0, -54.0);
    let tab = line::paint_tab_aside(sheet, pose, end);
    line::paint_slack(sheet, &[hole, hole + at(12.0, -24.0), bend, hole + at(-22.0, -79.0), end]);
    (tab, bend)
}

fn hand_straps(pose: &Pose) -> [f64; 2] {
    [pose.side.sizes.web_strap(), pose.side.sizes.wrist_strap()]
}

/// The elbow going into the forearm piece, or out of it.
fn forearm_piece_on(w: &Wearing<'_>, is_on: bool) -> Sheet {
    let mut sheet = Sheet::default();
    let pose = w.loose();
    let by = at(-AWAY, 0.0);
    forearm_piece::paint_inside(&mut sheet, &pose, by);
    hand::paint_fingers(&mut sheet, &pose);
    let arm = limb::paint(&mut sheet, &pose, None);
    hand::paint_thumb(&mut sheet, &pose);
    let piece = forearm_piece::paint(&mut sheet, &pose, by);
    for place in pose.side.sizes.forearm_straps {
        straps::paint_forearm_open(&mut sheet, &pose, place, w.lane(), by);
    }
    line::paint_strip(&mut sheet, &pose, by);
    forearm_piece::paint_spread(&mut sheet, &pose);
    limb::paint_upper_arm(&mut sheet, &pose);
    let high = pose.piece(pose.side.sizes.elbow).rim(Rim::Crown).y + 24.0;
    let (from, to) = (at(piece.back.x + 20.0, high), at(arm.elbow.x + 70.0, high));
    arrow(&mut sheet, &if is_on { [from, to] } else { [to, from] }, ARROW.0);
    sheet
}

/// The limb in the forearm piece, its straps not yet painted.
fn in_piece(sheet: &mut Sheet, pose: &Pose, cut: Option<f64>) -> limb::Limb {
    forearm_piece::paint_inside(sheet, pose, STILL);
    hand::paint_fingers(sheet, pose);
    let arm = limb::paint(sheet, pose, cut);
    hand::paint_thumb(sheet, pose);
    forearm_piece::paint(sheet, pose, STILL);
    arm
}

/// The forearm's straps: one closed, one on its way.
fn strap_forearm(w: &Wearing<'_>) -> Sheet {
    let mut sheet = Sheet::default();
    let pose = w.loose();
    in_piece(&mut sheet, &pose, None);
    let [near, far] = pose.side.sizes.forearm_straps;
    straps::paint_forearm(&mut sheet, &pose, far, w.lane(), STILL);
    let open = straps::paint_forearm_open(&mut sheet, &pose, near, w.lane(), STILL);
    line::paint_strip(&mut sheet, &pose, STILL);
    limb::paint_upper_arm(&mut sheet, &pose);
    arrow(&mut sheet, &straps::closing_way(&open), ARROW.0);
    sheet
}

/// The cuff coming round the hand from its closed side, or leaving it.
fn cuff_on(w: &Wearing<'_>, is_on: bool) -> Sheet {
    let mut sheet = Sheet::default();
    let pose = w.loose();
    let comes_from_behind = pose.side.sizes.wrap == Wrap::LittleFinger;
    let by = DEPTH * if comes_from_behind { ASIDE.0 } else { ASIDE.1 };
    if comes_from_behind {
        cuff_with_line(&mut sheet, &pose, by);
    }
    hand_close_up(&mut sheet, w, &pose);
    if !comes_from_behind {
        cuff_with_line(&mut sheet, &pose, by);
    }
    let beside = pose.cuff(pose.side.sizes.cuff_end).centre + at(26.0, 0.0);
    let (far, near) = (beside + by, beside + by * 0.15);
    arrow(&mut sheet, &if is_on { [far, near] } else { [near, far] }, ARROW.1);
    sheet
}

/// The cuff beside the hand with its slack line.
fn cuff_with_line(sheet: &mut Sheet, pose: &Pose, by: Vector) {
    cuff::paint_inside(sheet, pose, by);
    let on = cuff::paint(sheet, pose, by);
    if cuff::is_open_here(pose) {
        slack(sheet, pose, on.hole);
    } else {
        dangling(sheet, pose, on.hole);
    }
}

/// The line lying slack from the cuff's hole over the hand, the tab at its end.
fn slack(sheet: &mut Sheet, pose: &Pose, hole: Vector) {
    let end = hole + at(-92.0, 34.0);
    line::paint_tab_aside(sheet, pose, end);
    line::paint_slack(
        sheet,
        &[hole, hole + at(-8.0, 17.0), hole + at(-36.0, 26.0), hole + at(-64.0, 26.0), end],
    );
}

/// Where a picture of the hand ends.
fn hand_cut(pose: &Pose) -> f64 {
    let sizes = &pose.side.sizes;
    let end = sizes.forearm_straps[0] - STRAP / 2.0 - CUT.0;
    end.clamp(sizes.elbow, sizes.piece_edge - 2.0 * CUT.0)
}

/// The bare hand, the forearm's piece and strap where they end.
fn hand_close_up(sheet: &mut Sheet, w: &Wearing<'_>, pose: &Pose) {
    let cut = hand_cut(pose);
    hand::paint_fingers(sheet, pose);
    limb::paint(sheet, pose, Some(cut));
    hand::paint_palm(sheet, pose);
    hand::paint_thumb(sheet, pose);
    piece_end(sheet, w, pose, cut);
}

/// The forearm piece and its near strap in a picture that ends at `cut`.
fn piece_end(sheet: &mut Sheet, w: &Wearing<'_>, pose: &Pose, cut: f64) {
    forearm_piece::paint_end(sheet, pose, cut);
    straps::paint_forearm(sheet, pose, pose.side.sizes.forearm_straps[0], w.lane(), STILL);
}

/// The hand's straps across the cuff's open side.
fn strap_hand(w: &Wearing<'_>) -> Sheet {
    let mut sheet = Sheet::default();
    let thumb = if w.build.wrap == Wrap::LittleFinger { 1.0 } else { -1.0 };
    let pose = w.pose(w.loose, thumb);
    let cut = hand_cut(&pose);
    let on = in_cuff(&mut sheet, &pose, cut, true);
    piece_end(&mut sheet, w, &pose, cut);
    slack(&mut sheet, &pose, on.hole);
    sheet
}

/// The hand in its closed cuff.
fn in_cuff(sheet: &mut Sheet, pose: &Pose, cut: f64, has_arrows: bool) -> cuff::Cuff {
    cuff::paint_inside(sheet, pose, STILL);
    if pose.thumb < 0.0 {
        hand::paint_thumb(sheet, pose);
    }
    hand::paint_fingers(sheet, pose);
    limb::paint(sheet, pose, Some(cut));
    let on = cuff::paint(sheet, pose, STILL);
    let [web, wrist] = hand_straps(pose);
    let close = |sheet: &mut Sheet, place: f64| {
        let strap = straps::paint_hand(sheet, pose, place, STILL);
        if has_arrows {
            arrow(sheet, &straps::closing_way(&strap), ARROW.1);
        }
    };
    if cuff::is_open_here(pose) {
        close(sheet, web);
        if pose.thumb > 0.0 {
            hand::paint_thumb(sheet, pose);
        }
        close(sheet, wrist);
    } else if pose.thumb > 0.0 {
        hand::paint_thumb(sheet, pose);
    }
    on
}

/// The orthosis from the strip on, still without tab and line; gives where today's mark ends.
fn worn(w: &Wearing<'_>, sheet: &mut Sheet, pose: &Pose) -> Option<Vector> {
    let sizes = &pose.side.sizes;
    let cut = (sizes.strip_end - CUT.1).max(sizes.elbow);
    in_cuff(sheet, pose, cut, false);
    piece_end(sheet, w, pose, cut);
    line::paint_strip(sheet, pose, STILL);
    let mut today = None;
    for (index, mark) in w.marks.iter().enumerate() {
        let place = sizes.strip_start - mark.to_mm();
        let part = if index == 0 { Part::Today } else { Part::Mark };
        let end = line::paint_mark(sheet, pose, place, part, STILL);
        today = today.or(Some(end));
    }
    today
}

/// The same with the tab at today's mark.
fn pulled(w: &Wearing<'_>, sheet: &mut Sheet, pose: &Pose) -> (Tab, Option<Vector>) {
    let today = worn(w, sheet, pose);
    let tab = line::paint_tab(sheet, pose, w.hole(), STILL);
    line::paint_line(sheet, &w.course(), [pose.side.exit_hole(), tab.hole]);
    (tab, today)
}

/// The tab being set.
fn set_tab(w: &Wearing<'_>) -> Sheet {
    let mut sheet = Sheet::default();
    let pose = w.taut();
    let (tab, today) = pulled(w, &mut sheet, &pose);
    let from = tab.pad + at(-10.0, 20.0);
    arrow(&mut sheet, &[from, from - at(62.0, 0.0)], ARROW.1);
    sheet.note(Part::Tab, tab.pad + at(8.0, 24.0), tab.pad + at(8.0, 0.0), Anchor::Above);
    if let Some(today) = today {
        let low = pose.piece(pose.side.sizes.strip_start).rim(Rim::Foot).y - ROWS.1;
        sheet.note(Part::Today, at(today.x, low), today, Anchor::Below);
    }
    sheet
}

/// Fingers and thumb moving.
fn check(w: &Wearing<'_>) -> Sheet {
    let mut sheet = Sheet::default();
    let pose = w.taut();
    pulled(w, &mut sheet, &pose);
    let thumb = hand::thumb_line(&pose);
    let digits = [hand::near_finger(&pose), [thumb[1].0, thumb[thumb.len() - 1].0]];
    for [root, tip] in digits {
        let off = (tip - root).direction() * (SWING.1 + pose.side.sizes.hand_length * 0.045);
        swing(&mut sheet, root, tip + off, SWING.0, ARROW.1 * 0.8);
    }
    sheet
}

/// The tab being lifted, the line going slack.
fn lift_tab(w: &Wearing<'_>) -> Sheet {
    let mut sheet = Sheet::default();
    let pose = w.taut();
    worn(w, &mut sheet, &pose);
    let hole = pose.side.tab_hole(w.tab_hole.to_mm()) + at(LIFTED, 9.0);
    let tab = line::paint_tab_up(&mut sheet, &pose, hole);
    let exit = pose.side.exit_hole();
    let sag = |share: f64, by: f64| hole.toward(exit, share) - at(0.0, by);
    line::paint_slack(&mut sheet, &[exit, sag(0.7, 7.0), sag(0.35, 8.0), hole]);
    let from = tab.pad + at(6.0, 16.0);
    arrow(&mut sheet, &[from, from + at(10.0, 22.0), from + at(34.0, 36.0)], ARROW.1);
    sheet
}
