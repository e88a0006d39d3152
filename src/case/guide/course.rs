//! Visits, the rule for a plateau, photos, decisions.

use super::{Row, later, part};

pub(super) const ROWS: &[Row] = &[
    later("visits", "Each visit after the fit, the newest last.", "none"),
    part("visits[].date", "The day of the visit."),
    later("visits[].passive", "Passive end ranges of the treated wrist.", TAKEN),
    later("visits[].passive.flexion", "Passive flexion.", TAKEN),
    later("visits[].passive.extension", "Passive extension.", TAKEN),
    later("visits[].active", "Active end ranges of the treated wrist.", TAKEN),
    later("visits[].active.flexion", "Active flexion.", TAKEN),
    later("visits[].active.extension", "Active extension.", TAKEN),
    later("visits[].other_side", "Passive end ranges of the other wrist.", TAKEN),
    later("visits[].other_side.flexion", "Passive flexion of the other wrist.", TAKEN),
    later("visits[].other_side.extension", "Passive extension of the other wrist.", TAKEN),
    later("visits[].torque", "Force gauge readings of that day.", TAKEN),
    part("visits[].torque[].pull", "Which way the gauge pulled."),
    part("visits[].torque[].angle", "The wrist's angle then, toward the pull."),
    part("visits[].torque[].force", "The gauge's force, pulled square to the hand."),
    part("visits[].torque[].lever", "From the wrist's axis to where the gauge pulled."),
    later("visits[].pain", "Pain, from 0 to 10.", "not asked"),
    later("visits[].pain.rest", "Pain at rest.", "not asked"),
    later("visits[].pain.worn", "Pain while the orthosis is worn.", "not asked"),
    later(
        "visits[].skin",
        "The skin under the orthosis; red_briefly is gone within 20 minutes.",
        "not recorded",
    ),
    later("visits[].sensation", "What the hand feels.", LOOKED),
    later("visits[].swelling", "Swelling of hand and wrist.", LOOKED),
    later("visits[].end_feel", "How the end of passive motion feels.", LOOKED),
    later("visits[].worn", "What was worn since the visit before.", "log not read"),
    part("visits[].worn.sessions", "Sessions since the visit before."),
    part("visits[].worn.minutes", "Minutes in all since the visit before."),
    later(
        "visits[].marks",
        "The mark set by now, as the papers in force number it.",
        "not recorded",
    ),
    later("visits[].marks.flexion", "Of the pull toward the palm.", "not recorded"),
    later("visits[].marks.extension", "Of the pull toward the back.", "not recorded"),
    later("visits[].tab", "Where the tab stood at measured angles, line taut.", "not read"),
    part("visits[].tab[].pull", "Of which pull."),
    part("visits[].tab[].angle", "The wrist's angle toward the pull."),
    part("visits[].tab[].place", "From the strip's end nearest the hand to the tab's front edge."),
    later("visits[].scores", "Outcome scores, as totals that the clinic scored.", "not taken"),
    later("visits[].scores.dash", "DASH, from 0 (best) to 100.", "not taken"),
    later("visits[].scores.quick_dash", "QuickDASH, from 0 (best) to 100.", "not taken"),
    later("visits[].scores.prwe", "PRWE, from 0 (best) to 100.", "not taken"),
    later("visits[].changes", "What was changed: a new loop, a moved strip, new straps.", "none"),
    later("visits[].remark", "Anything else.", "none"),
    later("plateau", "The therapist's own rule for a plateau.", "no rule"),
    part("plateau.weeks", "Over so many weeks."),
    part("plateau.degrees", "A change of at most this still counts as none."),
    later("photos", "Photos of the finished piece, in a row of the summary.", "none"),
    part(
        "photos[].file",
        "A PNG, JPEG or WebP beside the case file or in a folder below it, such as `photos/front.jpg`.",
    ),
    part("photos[].shows", "What it shows."),
    later("overrides", "Decisions to go on in spite of a stop.", "none"),
    part("overrides[].finding", "The finding's id, as `check` prints it."),
    part("overrides[].by", "Who decided."),
    part("overrides[].date", "The day of the decision."),
    part("overrides[].why", "Why."),
];

/// A visit may leave a measure out.
const TAKEN: &str = "not taken on that day; the newest of each kind is used";
/// A visit may leave a look out.
const LOOKED: &str = "not looked at again; the newest counts";
