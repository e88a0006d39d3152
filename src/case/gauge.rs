//! Force gauge readings that are odd: a remark, never a refusal.

use super::fields::Notes;
use crate::units::{Angle, Torque};

/// Trials tested passive wrist extension at 2 and 3 N·m and dropped 1 N·m as too little (Leung J et
/// al., J Physiother 2012, journal from memory); a stiff wrist under an orthosis is not published.
const HARD: Torque = Torque::newton_metres(3.0);
/// Below this a gauge mostly reads the hand's own weight: 0.4 N·m for a hand held level (Winter's
/// segment data), of which a slight tilt shows a tenth.
const FAINT: Torque = Torque::newton_metres(0.04);
/// How far past today's end range a reading may lie before it is odd.
const PAST_END: Angle = Angle::degrees(5.0);

/// Notes a remark for each reading that few wrists give.
pub(super) fn check(notes: &Notes) {
    let readings = notes.items("torque");
    for reading in &readings {
        size(notes, reading);
        place(notes, reading);
    }
    for way in ["flexion", "extension"] {
        let mut same: Vec<(Angle, Torque, &String)> = readings
            .iter()
            .filter(|it| notes.word(&format!("{it}.pull")).as_deref() == Some(way))
            .filter_map(|it| Some((notes.angle(&format!("{it}.angle"))?, torque(notes, it)?, it)))
            .collect();
        same.sort_by(|one, other| one.0.total_cmp(&other.0));
        for pair in same.windows(2) {
            if pair[1].1 < pair[0].1 {
                let text = "The pull is weaker here than at a smaller angle. A stiff wrist pulls \
                            harder the further it goes; read the gauge again.";
                notes.remark(&format!("{}.force", pair[1].2), text);
            }
        }
    }
}

fn torque(notes: &Notes, reading: &str) -> Option<Torque> {
    let force = notes.force(&format!("{reading}.force"))?;
    Some(force * notes.length(&format!("{reading}.lever"))?)
}

fn size(notes: &Notes, reading: &str) {
    let Some(torque) = torque(notes, reading) else { return };
    let value = torque.to_newton_metres();
    let text = if torque > HARD {
        format!(
            "Force times lever gives {value:.1} N·m, more than wrist trials pull with (2 to 3 N·m). \
             Check the unit and the lever."
        )
    } else if torque < FAINT {
        format!(
            "Force times lever gives {value:.3} N·m, less than the hand's own weight. Check the unit \
             and the lever."
        )
    } else {
        return;
    };
    notes.remark(&format!("{reading}.force"), text);
}

fn place(notes: &Notes, reading: &str) {
    let lever = notes.length(&format!("{reading}.lever"));
    if let (Some(lever), Some(hand)) = (lever, notes.length("limb.hand_length"))
        && lever > hand
    {
        let text = "The lever is longer than the hand. Measure from the wrist's axis to where the \
                    gauge pulled.";
        notes.remark(&format!("{reading}.lever"), text);
    }
    let visits = notes.items("motion");
    let (Some(way), Some(last)) = (notes.word(&format!("{reading}.pull")), visits.last()) else {
        return;
    };
    if let (Some(angle), Some(end)) =
        (notes.angle(&format!("{reading}.angle")), notes.angle(&format!("{last}.passive.{way}")))
        && angle > end + PAST_END
    {
        let text = "The gauge was read past today's passive range. Check the angle; beyond today's \
                    range the reading at the range is used.";
        notes.remark(&format!("{reading}.angle"), text);
    }
}
