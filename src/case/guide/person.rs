//! Case, clinic, patient, order, history.

use super::{Row, can, group, later, must};

/// What holds where a case leaves a key to the profile.
pub(super) const FROM_PROFILE: &str = "needed, in the case file or in the clinic's profile";

pub(super) const ROWS: &[Row] = &[
    group("case", "The case, and how the patient's papers are printed."),
    must(
        "case.id",
        "The clinic's case number: letters, digits, `-`, `_` and `.`, at most 40.",
        "It stands on every page and in the file names, so it is never the patient's name.",
    ),
    must(
        "case.prepared",
        "The day the papers are for.",
        "It is printed on every page; the program has no clock of its own.",
    ),
    can(
        "case.language",
        "The language of the patient's papers.",
        "Handout and labels come in it; what the clinic reads stays English.",
        "en",
    ),
    can(
        "case.print_size",
        "How large the handout is printed.",
        "`large` sets it in 18 pt for eyes that need it.",
        "standard",
    ),
    later(
        "case.teach_back",
        "When the handout ends in the teach-back, three questions to tick and sign.",
        "always",
    ),
    can(
        "case.next_visit",
        "The day of the next visit, at most 56 days ahead.",
        "The log has a row for each day until then.",
        "two weeks of log",
    ),
    later(
        "clinic",
        "The clinic and the person who treats; or the file of the clinic's profile alone, which holds what is the same \
         for every patient.",
        FROM_PROFILE,
    ),
    later(
        "clinic.profile",
        "The file of the clinic's profile, beside this file, in a folder below it or in the folder above.",
        "every key stands here",
    ),
    can("clinic.name", "The clinic's name.", "It stands on every page.", FROM_PROFILE),
    can(
        "clinic.phone",
        "The number that the patient calls.",
        "It stands beside every sign to stop and call.",
        FROM_PROFILE,
    ),
    can(
        "clinic.therapist",
        "The treating therapist, with letters behind the name; the name alone where the clinic's profile lists it.",
        "Every paper defers to this person.",
        FROM_PROFILE,
    ),
    can("clinic.page", "The paper in the printer.", "Rulers are true on either.", "letter"),
    later(
        "clinic.logo",
        "A PNG, JPEG or WebP beside this file or in a folder below it.",
        "no logo",
    ),
    group("patient", "The patient."),
    must(
        "patient.name",
        "The name as it is to be printed.",
        "It stands on every page; `--initials` prints initials in its place.",
    ),
    must(
        "patient.age",
        "Age in years.",
        "Estimates and remarks come from a survey of adults and are not used for a child.",
    ),
    must("patient.side", "The treated side.", "It mirrors drawings and pattern."),
    must(
        "patient.works_with",
        "The hand that the patient works with.",
        "The summary says whether the treated hand is the one.",
    ),
    group("referral", "The doctor's order."),
    must("referral.by", "Who ordered the orthosis.", "The summary answers this person."),
    must("referral.date", "The day of the order.", "The payer looks for it."),
    must(
        "referral.diagnosis",
        "The diagnosis in the doctor's words.",
        "Summary and brief quote it.",
    ),
    can(
        "referral.code",
        "The diagnosis code, copied as the doctor wrote it.",
        "The payer looks for it; it is never made up.",
        "not recorded",
    ),
    later("referral.tried", "What was tried before.", "not recorded"),
    group("referral.tried[].what", "What was tried."),
    group("referral.tried[].result", "How it went."),
    later(
        "referral.function",
        "What the patient cannot do, each in the clinic's words, at most 120 letters.",
        "not recorded",
    ),
    later(
        "referral.recheck",
        "The day on which the need is looked at again, not before `case.prepared`.",
        "not recorded",
    ),
    group("history", "What is known of the wrist. Some answers stop the work, with a reason."),
    must(
        "history.injury",
        "The day of the injury.",
        "A fracture younger than six weeks stops the work.",
    ),
    can(
        "history.operation",
        "The day of an operation on the wrist.",
        "Time since then bears on what may be stretched.",
        "no operation recorded",
    ),
    must("history.bone", "The state of the bone.", "Unstable bone stops the work."),
    can(
        "history.cleared_for_stretch",
        "Who cleared the wrist for stretch, and when, as `{ by: Dr. P. Anand, date: 2026-04-08 }`.",
        "Bone that is still healing needs it.",
        "not recorded",
    ),
    must(
        "history.cleared_for_stretch.by",
        "Who cleared the wrist for stretch.",
        "Bone that is still healing needs it.",
    ),
    must("history.cleared_for_stretch.date", "The day of the clearance.", "The summary prints it."),
    must(
        "history.end_feel",
        "How the end of passive motion feels: soft yields slowly, firm yields like a strap, hard does not yield.",
        "A hard end feel stops the work: bone does not stretch.",
    ),
    must(
        "history.sensation",
        "What the hand feels.",
        "A hand that feels nothing cannot warn; that stops the work.",
    ),
    must("history.skin", "The skin under the pieces.", "Open skin stops the work."),
    must("history.swelling", "Swelling of hand and wrist.", "Marked swelling stops the work."),
    must("history.rest_pain", "Pain at rest, from 0 to 10.", "High pain at rest stops the work."),
    must(
        "history.conditions",
        "What else bears on stretching; `[]` where nothing does. Words: diabetes, blood_thinners, \
         nerve_compression, osteoporosis, inflammatory_arthritis, complex_regional_pain, \
         heterotopic_ossification, infection; `tendon_repair: { tendon: flexor, date: 2026-01-31 }`; `other: words`.",
        "Each brings up its own caution, or a stop.",
    ),
    group("history.conditions[].tendon_repair", "A repaired tendon."),
    group(
        "history.conditions[].tendon_repair.tendon",
        "Flexor: on the palm side, pulled taut by wrist extension. Extensor: on the back, pulled taut by flexion.",
    ),
    group("history.conditions[].tendon_repair.date", "The day of the repair."),
    group("history.conditions[].other", "Anything else, in the clinic's words."),
];
