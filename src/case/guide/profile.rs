//! Keys that only a clinic's profile has, or that are something else there than in a case.

use super::{Row, later};

pub(super) const ROWS: &[Row] = &[
    later(
        "language",
        "The language of the patient's papers: `case.language` of every case.",
        "as in the case",
    ),
    later(
        "print_size",
        "The size of the handout's letters: `case.print_size` of every case.",
        "as in the case",
    ),
    later(
        "teach_back",
        "When the handout ends in the teach-back: `case.teach_back` of every case.",
        "as in the case",
    ),
    later(
        "words",
        "The clinic's own words: a words file beside the profile or below it, or a list with one for each language.",
        "our words",
    ),
    later("clinic", "The clinic and those who treat.", "as in the case"),
    later(
        "clinic.therapist",
        "Who treats, with letters behind the name, in every case that names nobody.",
        "each case names who treats",
    ),
    later("orthosis", "What is the same in everything that is made.", "as in the case"),
    later(
        "clinic.therapists",
        "All who treat, each with the letters behind the name; a case names one of them, and need not where there is one only.",
        "a case names any therapist",
    ),
];
