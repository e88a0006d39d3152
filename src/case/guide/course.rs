//! Visits, the rule for a plateau, photos, decisions.

use super::{Row, can, later, must, part};

pub(super) const ROWS: &[Row] = &[
    later("visits", "Each visit after the fit, the newest last.", "none"),
    must(
        "visits[].date",
        "The day of the visit.",
        "Each day has one visit; the newest stands last.",
    ),
    later("visits[].passive", "Passive end ranges of the treated wrist.", TAKEN),
    can("visits[].passive.flexion", "Passive flexion.", END_RANGE, TAKEN),
    can("visits[].passive.extension", "Passive extension.", END_RANGE, TAKEN),
    later("visits[].active", "Active end ranges of the treated wrist.", TAKEN),
    can("visits[].active.flexion", "Active flexion.", ACTIVE, TAKEN),
    can("visits[].active.extension", "Active extension.", ACTIVE, TAKEN),
    later("visits[].other_side", "Passive end ranges of the other wrist.", TAKEN),
    can("visits[].other_side.flexion", "Passive flexion of the other wrist.", NORM, TAKEN),
    can("visits[].other_side.extension", "Passive extension of the other wrist.", NORM, TAKEN),
    later("visits[].torque", "Force gauge readings of that day.", TAKEN),
    must(
        "visits[].torque[].pull",
        "Force gauge reading: which way the gauge pulled.",
        "Tension and pressures are reckoned from the newest readings.",
    ),
    must("visits[].torque[].angle", "The wrist's angle then, toward the pull.", GAUGE),
    must("visits[].torque[].force", "The gauge's force, pulled square to the hand.", GAUGE),
    must("visits[].torque[].lever", "From the wrist's axis to where the gauge pulled.", GAUGE),
    later("visits[].pain", "Pain, from 0 to 10.", "not asked"),
    can("visits[].pain.rest", "Pain at rest.", SAFE, "not asked"),
    can("visits[].pain.worn", "Pain while the orthosis is worn.", SAFE, "not asked"),
    can(
        "visits[].skin",
        "The skin under the orthosis; red_briefly is gone within 20 minutes.",
        SAFE,
        "not recorded",
    ),
    can("visits[].sensation", "What the hand feels.", STOPS, LOOKED),
    can("visits[].swelling", "Swelling of hand and wrist.", STOPS, LOOKED),
    can("visits[].end_feel", "How the end of passive motion feels.", STOPS, LOOKED),
    later("visits[].worn", "What was worn since the visit before.", "log not read"),
    must(
        "visits[].worn.sessions",
        "From the patient's log: sessions since the visit before.",
        "A range that stays may be a dose that was not worn.",
    ),
    must(
        "visits[].worn.minutes",
        "Minutes in all since the visit before.",
        "They are set against what was planned.",
    ),
    later(
        "visits[].marks",
        "The mark set by now, as the papers in force number it.",
        "not recorded",
    ),
    can(
        "visits[].marks.flexion",
        "The mark set by now, of the pull toward the palm.",
        MARK,
        "not recorded",
    ),
    can(
        "visits[].marks.extension",
        "The mark set by now, of the pull toward the back.",
        MARK,
        "not recorded",
    ),
    later("visits[].tab", "Where the tab stood at measured angles, line taut.", "not read"),
    must(
        "visits[].tab[].pull",
        "Where the tab stood with the line taut: of which pull.",
        "Marks are set anew by what was really made.",
    ),
    must("visits[].tab[].angle", "The wrist's angle toward the pull.", TAB),
    must(
        "visits[].tab[].place",
        "From the strip's end nearest the hand to the tab's front edge.",
        TAB,
    ),
    later("visits[].scores", "Outcome scores, as totals that the clinic scored.", "not taken"),
    can("visits[].scores.dash", "DASH, from 0 (best) to 100.", SCORE, "not taken"),
    can("visits[].scores.quick_dash", "QuickDASH, from 0 (best) to 100.", SCORE, "not taken"),
    can("visits[].scores.prwe", "PRWE, from 0 (best) to 100.", SCORE, "not taken"),
    can(
        "visits[].changes",
        "What was changed: a new loop, a moved strip, new straps.",
        "The summary tells it beside the day.",
        "none",
    ),
    can("visits[].remark", "Anything else.", "The summary tells it beside the day.", "none"),
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
const END_RANGE: &str = "Today's mark and the trend start from it.";
const ACTIVE: &str = "Active range that falls while passive rises holds the course up.";
const NORM: &str = "It is the norm that the goal is held against.";
const GAUGE: &str = "One reading is an angle, a force and a lever.";
const SAFE: &str = "The next mark is suggested only where range, skin and pain were taken.";
const STOPS: &str = "A change can stop the stretch.";
const MARK: &str = "It tells how far the wearer has come between visits.";
const TAB: &str = "One reading is an angle and a place.";
const SCORE: &str = "A change is told against what matters to patients.";
