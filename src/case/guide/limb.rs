//! Ranges, warm-up test, force gauge, limb.

use super::{Row, can, group, later, must, part};

pub(super) const ROWS: &[Row] = &[
    group("motion", "Ranges before the fit, the newest day last."),
    must(
        "motion[].date",
        "The day of measuring.",
        "The newest day counts; with earlier ones the summary shows the course.",
    ),
    group("motion[].passive", "Passive end ranges of the treated wrist."),
    can(
        "motion[].passive.flexion",
        "Passive flexion, goniometer along the back of the hand; the end range you can hold.",
        "A pull toward the palm starts from it; it is needed then.",
        "not measured",
    ),
    can(
        "motion[].passive.extension",
        "Passive extension, goniometer along the palm side; the end range you can hold.",
        "A pull toward the back starts from it; it is needed then.",
        "not measured",
    ),
    group("motion[].active", "Active end ranges of the treated wrist."),
    can("motion[].active.flexion", "Active flexion.", "The summary compares it.", "not measured"),
    can(
        "motion[].active.extension",
        "Active extension.",
        "The summary compares it.",
        "not measured",
    ),
    group("motion[].other_side", "Passive end ranges of the other wrist."),
    can(
        "motion[].other_side.flexion",
        "Passive flexion of the other wrist.",
        "It shows how much is missing on this side.",
        "not measured",
    ),
    can(
        "motion[].other_side.extension",
        "Passive extension of the other wrist.",
        "It shows how much is missing on this side.",
        "not measured",
    ),
    later(
        "preconditioning",
        "The warm-up test: the end range before and after heat and stretch in one visit.",
        "not made",
    ),
    group("preconditioning.flexion", "The test toward the palm."),
    group("preconditioning.extension", "The test toward the back."),
    part("preconditioning.flexion.cold", "The passive end range before heat and stretch."),
    part("preconditioning.flexion.warm", "The passive end range after heat and stretch."),
    part("preconditioning.extension.cold", "The passive end range before heat and stretch."),
    part("preconditioning.extension.warm", "The passive end range after heat and stretch."),
    later(
        "torque",
        "Force gauge readings of the stiff joint's pull.",
        "no pull on line and no pressure on skin is reckoned",
    ),
    part("torque[].pull", "Which way the gauge pulled."),
    part("torque[].angle", "The wrist's angle then, toward the pull."),
    part("torque[].force", "The gauge's force, pulled square to the hand."),
    part("torque[].lever", "From the wrist's axis to where the gauge pulled."),
    group("limb", "The treated limb."),
    must(
        "limb.hand_length",
        "Wrist crease to the tip of the middle finger, on the palm side.",
        "The cuff must end on the hand; odd measures are told by it.",
    ),
    must(
        "limb.hand_breadth",
        "Across the knuckles of index to little finger, thumb left out, with a caliper.",
        "The cuff bears on this breadth, and its pattern follows it.",
    ),
    can(
        "limb.hand_depth",
        "Palm to back with a caliper, at the level of the cuff's holes.",
        "The hole's height over the wrist's axis comes from it, and with it every mark.",
        "needed unless each pull gives `cuff.hole_height`; no survey has it",
    ),
    can(
        "limb.palm_depth",
        "Palm to back with a caliper, at the cuff's wrist edge.",
        "It tells whether the line touches the cuff's edge.",
        "needed unless each pull gives `cuff.edge_height`; no survey has it",
    ),
    can(
        "limb.wrist_depth",
        "Palm to back with a caliper, at the wrist.",
        "It tells whether the line touches the forearm piece's edge.",
        "needed unless each pull gives `forearm_piece.edge_height`; no survey has it",
    ),
    can(
        "limb.wrist_circumference",
        "Round the wrist at the crease, tape snug.",
        "The forearm piece is cut to it.",
        "estimated from a measured `knuckle_girth`, else no pattern",
    ),
    can(
        "limb.forearm_depth",
        "Front to back with a caliper, where the strip will lie.",
        "The strip's height comes from it, and with it every mark.",
        "needed unless each pull gives `strip.height`; no survey has it",
    ),
    must(
        "limb.forearm_breadth",
        "Side to side with a caliper, where the strip will lie.",
        "The forearm piece bears on this breadth.",
    ),
    must(
        "limb.forearm_length",
        "Wrist crease to elbow crease along the palm side.",
        "Strip and forearm piece must fit on it.",
    ),
    can(
        "limb.around_elbow",
        "Tape from the wrist's palm crease along the forearm, round the point of the elbow and back to the wrist's \
         back crease, elbow at 90 degrees.",
        "The forearm piece goes round the elbow; its length comes from it.",
        "estimated from `forearm_length` and `forearm_breadth`",
    ),
    can(
        "limb.forearm_girths",
        "Round the forearm, tape snug, at two or three places, each as `- { from_crease: 5 cm, girth: 18.2 cm }` on a line of \
         its own below.",
        "The forearm piece is cut to them.",
        "the widest estimated from a measured `wrist_circumference`, else no forearm pattern",
    ),
    must(
        "limb.forearm_girths[].from_crease",
        "From the wrist crease to where the tape lies.",
        "The pattern is as wide there as the girth asks.",
    ),
    must("limb.forearm_girths[].girth", "The girth there.", "The forearm piece is cut to it."),
    can(
        "limb.elbow_girth",
        "Round the elbow, tape snug.",
        "The piece is cut to it where it goes round the elbow.",
        "taken as the widest of measured `forearm_girths`, else no forearm pattern",
    ),
    can(
        "limb.knuckle_girth",
        "Round the knuckles, thumb left out.",
        "The cuff is cut to it.",
        "estimated from `hand_breadth`",
    ),
    can(
        "limb.finger_joint_girth",
        "Round the fingers together, where the cuff ends.",
        "The cuff's far edge is cut to it.",
        "taken as a measured `knuckle_girth`, else no cuff pattern",
    ),
    later(
        "limb.axis_past_crease",
        "From the wrist crease toward the fingers, to the axis that the wrist turns about: the head of the capitate.",
        "10 mm, marked as an estimate",
    ),
];
