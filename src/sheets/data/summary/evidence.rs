//! What is published for and against, hopeful and sober side by side.

use super::{Citations, Evidence};
use crate::sources::{HARVEY, JONGS, LUCADO, MCGRATH, SCHWARTZ, Source};

/// Kind, what was found, where.
type Row = (&'static str, &'static str, &'static [&'static Source]);

const ROWS: &[Row] = &[
    (
        "Series, no control group",
        "47 stiff wrists, 30 to 60 minutes 1 to 3 times a day: flexion and extension together rose \
         by 35 degrees (5 to 100) over a mean of 10 weeks.",
        &[MCGRATH],
    ),
    (
        "Series, no control group",
        "8 patients after radius fracture: the passive arc rose from a median of 65 to 106 degrees \
         in 12 weeks. Both series include natural recovery.",
        &[LUCADO],
    ),
    (
        "Randomised trial",
        "Dynamic splint against routine care after radius fracture, 40 patients: passive extension \
         4 degrees better at 8 weeks (95 % interval \u{2212}4 to 12), 6 at 12 weeks (1 to 12).",
        &[JONGS],
    ),
    (
        "Systematic review",
        "Stretch for contracture outside neurology: 1 degree (0 to 2), high certainty, no effect \
         that matters clinically.",
        &[HARVEY],
    ),
    (
        "Systematic review",
        "Static progressive orthoses of the upper limb: overall level of evidence is low.",
        &[SCHWARTZ],
    ),
];

pub(super) fn evidence(cited: &mut Citations) -> Vec<Evidence> {
    ROWS.iter()
        .map(|(kind, text, works)| Evidence { kind, text, source: cited.cite(works) })
        .collect()
}
