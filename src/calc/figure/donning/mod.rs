//! How the orthosis is put on and taken off, drawn step by step from one build.
//!
//! Parts live one a file and give their named places; `scenes` sets them on the limb, `on` and `off` are the pictures.

mod arrow;
mod cuff;
mod forearm_piece;
mod hand;
mod helper;
mod limb;
mod line;
mod off;
mod on;
mod opposite;
mod pose;
mod scenes;
mod straps;
mod view;

use pose::Pose;
use view::{BESIDE, Eye};

use super::bench::Panel;
use super::plane::{Vector, at};
use super::sheet::Sheet;
use super::side::Side;
use super::sizes::Sizes;
use super::{Build, Point, Pull};
use crate::units::{Angle, Length};

/// Free on both sides of the tab between a strap's ends (mm; common practice, no source).
const BESIDE_TAB: f64 = 4.0;
/// Where a part is that is not moved.
const STILL: Vector = at(0.0, 0.0);

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
    /// The sizes of the pull on the opposite side, where there is one.
    pub other: Option<&'w Build>,
    /// Whether left and right are turned about; as in the side view.
    pub mirrored: bool,
}

impl Wearing<'_> {
    fn pose(&self, wrist: Angle, eye: Eye) -> Pose {
        let palm = match self.pull {
            Pull::Palm => 1.0,
            Pull::Back => -1.0,
        };
        Pose {
            side: Side { sizes: Sizes::of(self.build), wrist, palm },
            eye,
            is_thumb_off: false,
            gap: self.build.gap.to_mm(),
            opening: self.build.opening.to_mm(),
        }
    }

    /// At today's mark.
    fn taut(&self) -> Pose {
        self.pose(self.today, BESIDE)
    }

    fn panel(&self, key: &'static str, sheet: Sheet) -> Panel {
        Panel { key, figure: sheet.set(self.mirrored) }
    }

    /// Half of what the straps leave free for line and tab (mm).
    fn lane(&self) -> f64 {
        self.build.tab_width.to_mm() / 2.0 + BESIDE_TAB
    }

    /// The sizes of the pull on the opposite side.
    fn other(&self) -> Option<Sizes> {
        self.other.map(Sizes::of)
    }

    fn course(&self) -> Vec<Vector> {
        self.line.iter().map(|it| at(it.x.to_mm(), it.y.to_mm())).collect()
    }

    /// The place of the tab's hole from the crease (mm).
    fn hole(&self) -> f64 {
        -(self.build.strip_start_from_crease + self.tab_hole).to_mm()
    }
}

/// How it is put on: both pieces set out, forearm piece, its straps, cuff, its straps, tab, what is checked.
///
/// What lies on the pull side is seen from above, the pull from the thumb side with the pull side up; while the elbow goes
/// into the forearm piece the thumb points up. The fingers point the same way in all pictures.
#[must_use]
pub fn donning_sequence(wearing: &Wearing<'_>) -> Vec<Panel> {
    vec![
        wearing.panel("set_out", on::set_out(wearing)),
        wearing.panel("forearm_piece", scenes::forearm_piece(wearing, true)),
        wearing.panel("strap", on::forearm_straps(wearing)),
        wearing.panel("cuff", scenes::cuff(wearing, true)),
        wearing.panel("hand_strap", on::hand_straps(wearing)),
        wearing.panel("tab", on::tab(wearing)),
        wearing.panel("check", on::check(wearing)),
    ]
}

/// How it is taken off, in reverse: tab, cuff, forearm piece.
#[must_use]
pub fn doffing_sequence(wearing: &Wearing<'_>) -> Vec<Panel> {
    vec![
        wearing.panel("lift_tab", off::lift_tab(wearing)),
        wearing.panel("cuff_off", scenes::cuff(wearing, false)),
        wearing.panel("forearm_piece_off", scenes::forearm_piece(wearing, false)),
    ]
}
