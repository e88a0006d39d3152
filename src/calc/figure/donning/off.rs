//! The pictures of taking off that putting on does not have.

use super::arrow::arrow;
use super::scenes::{self, ARROW};
use super::{Wearing, helper, line};
use crate::calc::figure::plane::at;
use crate::calc::figure::sheet::Sheet;

/// How far a lifted tab has come toward the hand, and off the strip (mm).
const LIFTED: (f64, f64) = (16.0, 9.0);

/// The tab being lifted, the line going slack.
pub(super) fn lift_tab(w: &Wearing<'_>) -> Sheet {
    let mut sheet = Sheet::default();
    let pose = w.taut();
    scenes::worn(w, &mut sheet, &pose);
    let grown = pose.growth();
    let hole = pose.side.tab_hole(w.tab_hole.to_mm()) + at(LIFTED.0, LIFTED.1);
    let edge = line::lifted_edge(&pose, hole);
    helper::paint_under(&mut sheet, edge, grown);
    let tab = line::paint_tab_up(&mut sheet, &pose, hole);
    helper::paint_over(&mut sheet, edge, grown);
    let exit = pose.exit_hole();
    let sag = |share: f64, by: f64| hole.toward(exit, share) - at(0.0, by);
    line::paint_slack(&mut sheet, &[exit, sag(0.7, 7.0), sag(0.35, 8.0), hole]);
    let from = tab.pad + at(6.0, 16.0) * grown;
    let way = [from, from + at(10.0, 22.0) * grown, from + at(34.0, 36.0) * grown];
    arrow(&mut sheet, &way, ARROW.1 * grown);
    sheet
}
