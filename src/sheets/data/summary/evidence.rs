//! What is published for and against, hopeful and sober side by side.

use super::{Citations, Evidence};
use crate::sources::{HARVEY, JONGS, LINDENHOVIUS, LUCADO, MCGRATH, SCHWARTZ, Source};

/// Kind, what was found, where.
type Row = (&'static str, &'static str, &'static [&'static Source]);

const ROWS: &[Row] = &[
    (
        "Series, no control group",
        "47 stiff wrists, 30 to 60 minutes 1 to 3 times a day: flexion and extension together rose by 35 degrees (5 to \
         100) over a mean of 10 weeks, flexion by 18 (1 to 50), extension by 17 (3 to 50). 8 patients after radius \
         fracture: the passive arc rose from a median of 65 to 106 degrees in 12 weeks. Both include natural recovery, chosen patients and more tolerance of the stretch.",
        &[MCGRATH, LUCADO],
    ),
    (
        "Randomised trial, of another class",
        "Dynamic splint against routine care after radius fracture, 40 patients: passive extension 4 degrees better \
         at 8 weeks (95 % interval \u{2212}4 to 12), 6 at 12 weeks (1 to 12); patient-rated score \u{2212}2 points at \
         8 weeks (\u{2212}8 to 4) and 2 at 12 (\u{2212}5 to 9), so no difference told.",
        &[JONGS],
    ),
    (
        "Randomised trial, of the elbow",
        "Static progressive against dynamic, 66 stiff elbows after injury: arc won 28 and 29 degrees at 3 months, 49 \
         and 47 at 12, no difference; DASH 25 against 32 at 6 months, equal at 12.",
        &[LINDENHOVIUS],
    ),
    (
        "Systematic reviews",
        "Stretch for contracture in people without a disease of the nerves: 1 degree (0 to 2), high certainty, no effect that matters \
         clinically. Static progressive orthoses of the upper limb: overall level of evidence is low.",
        &[HARVEY, SCHWARTZ],
    ),
];

pub(super) fn evidence(cited: &mut Citations) -> Vec<Evidence> {
    ROWS.iter()
        .map(|(kind, text, works)| Evidence { kind, text, source: cited.cite(works) })
        .collect()
}
