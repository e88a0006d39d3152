//! Who it is for, who asked for it, and what is known of the wrist's history.

use std::rc::Rc;

use jiff::civil::Date;

use super::fault::Kind;
use super::fields::nearest;
use super::fields::{Field, Fields, Form, group, list};
use super::forms::{NAME, REMARK, SENTENCE, choice, date, refuse, text, whole};
use super::node::Value;
use super::pictures;
use super::profile;
use super::shape::Shape;

/// Longest telephone number, in characters, with what is said beside it.
pub(super) const PHONE: usize = 30;

/// A side of the body.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Side {
    /// Left.
    Left,
    /// Right.
    Right,
}

/// The paper that the clinic's printer holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum PageSize {
    /// US Letter, 215.9 × 279.4 mm.
    #[default]
    Letter,
    /// ISO 216 A4, 210 × 297 mm.
    A4,
}

/// The clinic and the person who treats.
#[derive(Debug, Clone, PartialEq)]
pub struct Clinic {
    /// Its name.
    pub name: String,
    /// The number the patient calls.
    pub phone: String,
    /// The treating therapist.
    pub therapist: String,
    /// The paper its printer holds.
    pub page: PageSize,
    /// The file of its logo, from the folder of the case file down.
    pub logo: Option<String>,
}

/// The patient, as the file names them.
#[derive(Debug, Clone, PartialEq)]
pub struct Patient {
    /// Name as printed.
    pub name: String,
    /// Age in years.
    pub age: u32,
    /// The treated side.
    pub side: Side,
    /// The hand they work with.
    pub works_with: Side,
}

impl Patient {
    /// The initials of the name: `A. B. K.-S.` for Amadou B. Keita-Sørensen.
    ///
    /// The first letter of each word, and of each part of a word with hyphens, as a capital.
    #[must_use]
    pub fn initials(&self) -> String {
        let first = |part: &str| {
            let letter = part.chars().find(|it| it.is_alphabetic())?;
            Some(format!("{}.", letter.to_uppercase()))
        };
        let word = |word: &str| word.split('-').filter_map(first).collect::<Vec<_>>().join("-");
        let words: Vec<String> = self.name.split_whitespace().map(word).collect();
        words.into_iter().filter(|it| !it.is_empty()).collect::<Vec<_>>().join(" ")
    }
}

/// The doctor's order.
#[derive(Debug, Clone, PartialEq)]
pub struct Referral {
    /// Who ordered.
    pub by: String,
    /// When.
    pub date: Date,
    /// The diagnosis in the doctor's words.
    pub diagnosis: String,
    /// The diagnosis code, copied as the clinic wrote it.
    pub code: Option<String>,
    /// What was tried before, in the clinic's words.
    pub tried: Vec<Tried>,
    /// What the patient cannot do, in the clinic's words.
    pub function: Vec<String>,
    /// The day on which the clinic looks again at whether the orthosis is still wanted.
    pub recheck: Option<Date>,
}

/// Something that was tried before the orthosis.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Tried {
    /// What.
    pub what: String,
    /// How it went.
    pub result: String,
}

/// Who decided something, and when.
#[derive(Debug, Clone, PartialEq)]
pub struct Clearance {
    /// Who.
    pub by: String,
    /// When.
    pub date: Date,
}

/// The state of the bone.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Bone {
    /// Healed.
    Healed,
    /// Healing.
    Healing,
    /// Not stable.
    Unstable,
}

/// What stops the joint at its end.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum EndFeel {
    /// Yields softly.
    Soft,
    /// Yields like a strap.
    Firm,
    /// Does not yield, as bone on bone.
    Hard,
}

/// Feeling in the hand.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Sensation {
    /// Normal.
    Normal,
    /// Reduced.
    Reduced,
    /// Absent.
    Absent,
}

/// The skin under the pieces.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Skin {
    /// Whole.
    Intact,
    /// Thin or easily torn.
    Fragile,
    /// Broken.
    Open,
}

/// Swelling.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Swelling {
    /// None.
    None,
    /// Mild.
    Mild,
    /// Marked.
    Marked,
}

/// A tendon that was repaired.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Tendon {
    /// On the palm side: pulled taut by wrist extension.
    Flexor,
    /// On the back: pulled taut by wrist flexion.
    Extensor,
}

/// Something known of the patient that bears on stretching.
#[derive(Debug, Clone, PartialEq)]
pub enum Condition {
    /// Diabetes.
    Diabetes,
    /// Medicines against clotting.
    BloodThinners,
    /// Nerve compression at the wrist.
    NerveCompression,
    /// A repaired tendon and the day of the repair.
    TendonRepair(Tendon, Date),
    /// Thin bone.
    Osteoporosis,
    /// Rheumatoid or other inflammatory joint disease.
    InflammatoryArthritis,
    /// Complex regional pain syndrome.
    ComplexRegionalPain,
    /// Bone forming in soft tissue.
    HeterotopicOssification,
    /// An infection of the limb.
    Infection,
    /// Anything else, in the clinic's words.
    Other(String),
}

/// What is known of the wrist.
#[derive(Debug, Clone, PartialEq)]
pub struct History {
    /// Day of the injury.
    pub injury: Date,
    /// Day of an operation.
    pub operation: Option<Date>,
    /// State of the bone.
    pub bone: Bone,
    /// Who cleared the wrist for stretch.
    pub cleared_for_stretch: Option<Clearance>,
    /// End feel.
    pub end_feel: EndFeel,
    /// Sensation.
    pub sensation: Sensation,
    /// Skin.
    pub skin: Skin,
    /// Swelling.
    pub swelling: Swelling,
    /// Pain at rest, 0 to 10.
    pub rest_pain: u32,
    /// Conditions.
    pub conditions: Vec<Condition>,
}

/// A decision to go on in spite of a stop-level finding.
#[derive(Debug, Clone, PartialEq)]
pub struct Override {
    /// The finding's id.
    pub finding: String,
    /// Who decided.
    pub by: String,
    /// When.
    pub date: Date,
    /// Why.
    pub why: String,
}

words! {
    Side: "left" = Left, "right" = Right;
    Bone: "healed" = Healed, "healing" = Healing, "unstable" = Unstable;
    EndFeel: "soft" = Soft, "firm" = Firm, "hard" = Hard;
    Sensation: "normal" = Normal, "reduced" = Reduced, "absent" = Absent;
    Skin: "intact" = Intact, "fragile" = Fragile, "open" = Open;
    Swelling: "none" = None, "mild" = Mild, "marked" = Marked;
}

pub(super) fn clinic() -> Form<Clinic> {
    let inline = Rc::new(group(|f| {
        let _ = f.may("profile", profile::file());
        let name = f.need_at_last("name", text(NAME));
        let phone = f.need_at_last("phone", text(PHONE));
        let therapist = f.need_at_last("therapist", text(NAME));
        let page = f.may("page", page());
        let logo = f.may("logo", pictures::file());
        Some(Clinic {
            name: name?,
            phone: phone?,
            therapist: therapist?,
            page: page.unwrap_or_default(),
            logo,
        })
    }));
    let told = Rc::clone(&inline);
    // The name alone of a profile never comes here: the profile then lies in its place.
    let shape = move || Shape::Either(vec![profile::file().shape(), told.shape()]);
    let accepted = "a group of keys, each on its own line, two spaces further in, or the file of the clinic's profile";
    Form::new(accepted, shape, move |field| inline.read(field))
}

/// The paper in the printer.
pub(super) fn page() -> Form<PageSize> {
    choice(&[("letter", PageSize::Letter), ("a4", PageSize::A4)])
}

pub(super) fn patient() -> Form<Patient> {
    group(|f| {
        let name = f.need("name", text(NAME));
        let age = f.need("age", whole(0, 120, " of years"));
        let side = f.need("side", choice(Side::WORDS));
        let works_with = f.need("works_with", choice(Side::WORDS));
        Some(Patient { name: name?, age: age?, side: side?, works_with: works_with? })
    })
}

pub(super) fn referral() -> Form<Referral> {
    group(|f| {
        let by = f.need("by", text(NAME));
        let date = f.need("date", date());
        let diagnosis = f.need("diagnosis", text(SENTENCE));
        let code = f.may("code", text(30));
        let tried = f.may("tried", list(tried()));
        let function = f.may("function", list(text(REMARK)));
        let recheck = f.may("recheck", self::date());
        Some(Referral {
            by: by?,
            date: date?,
            diagnosis: diagnosis?,
            code,
            tried: tried.unwrap_or_default(),
            function: function.unwrap_or_default(),
            recheck,
        })
    })
}

fn tried() -> Form<Tried> {
    group(|f| {
        let what = f.need("what", text(REMARK));
        let result = f.need("result", text(REMARK));
        Some(Tried { what: what?, result: result? })
    })
}

fn clearance() -> Form<Clearance> {
    group(|f| {
        let by = f.need("by", text(NAME));
        let date = f.need("date", date());
        Some(Clearance { by: by?, date: date? })
    })
}

pub(super) fn history() -> Form<History> {
    group(|f| {
        let injury = f.need("injury", date());
        let operation = f.may("operation", date());
        let bone = f.need("bone", choice(Bone::WORDS));
        let cleared_for_stretch = f.may("cleared_for_stretch", clearance());
        let end_feel = f.need("end_feel", choice(EndFeel::WORDS));
        let sensation = f.need("sensation", choice(Sensation::WORDS));
        let skin = f.need("skin", choice(Skin::WORDS));
        let swelling = f.need("swelling", choice(Swelling::WORDS));
        let rest_pain = f.need("rest_pain", whole(0, 10, ""));
        let conditions = f.need("conditions", list(condition()));
        Some(History {
            injury: injury?,
            operation,
            bone: bone?,
            cleared_for_stretch,
            end_feel: end_feel?,
            sensation: sensation?,
            skin: skin?,
            swelling: swelling?,
            rest_pain: rest_pain?,
            conditions: conditions?,
        })
    })
}

/// Conditions that are one word.
const WORDS: &[(&str, Condition)] = &[
    ("diabetes", Condition::Diabetes),
    ("blood_thinners", Condition::BloodThinners),
    ("nerve_compression", Condition::NerveCompression),
    ("osteoporosis", Condition::Osteoporosis),
    ("inflammatory_arthritis", Condition::InflammatoryArthritis),
    ("complex_regional_pain", Condition::ComplexRegionalPain),
    ("heterotopic_ossification", Condition::HeterotopicOssification),
    ("infection", Condition::Infection),
];

fn condition() -> Form<Condition> {
    let words: Vec<&str> = WORDS.iter().map(|(word, _)| *word).collect();
    let accepted = format!(
        "one of: {}; or `tendon_repair: {{ tendon: flexor, date: 2026-01-31 }}`; or `other: words`",
        words.join(", ")
    );
    let shape = || {
        let words = WORDS.iter().map(|(word, _)| *word).collect();
        Shape::Either(vec![Shape::Word(words), group(condition_keys).shape()])
    };
    Form::new(accepted.clone(), shape, move |field| match &field.node.value {
        Value::Scalar(_) => condition_word(field, &accepted, &words),
        Value::Group(_) => condition_group(field, &accepted),
        _ => refuse(field, "", &accepted, "write one condition on each line of the list"),
    })
}

fn condition_word(field: &Field<'_>, accepted: &str, words: &[&str]) -> Option<Condition> {
    let read = field.scalar(accepted)?;
    if let Some((_, condition)) = WORDS.iter().find(|(word, _)| *word == read) {
        return Some(condition.clone());
    }
    let cure = match nearest(read, words) {
        Some(word) => format!("did you mean `{word}`?"),
        None => "write `other:` and your own words if none of these fits".into(),
    };
    refuse(field, read, accepted, &cure)
}

fn condition_group(field: &Field<'_>, accepted: &str) -> Option<Condition> {
    let before = field.notes.count();
    let condition = group(condition_keys).read(field);
    if condition.is_none() && field.notes.count() == before {
        let kind = Kind::WrongShape {
            key: field.path.clone(),
            found: "none or more than one condition",
            accepted: accepted.to_owned(),
        };
        field.fault(kind);
    }
    condition
}

fn condition_keys(f: &mut Fields<'_>) -> Option<Condition> {
    let tendon = f.may("tendon_repair", tendon_repair());
    let other = f.may("other", text(NAME)).map(Condition::Other);
    match (tendon, other) {
        (Some(_), Some(_)) => None,
        (tendon, other) => tendon.or(other),
    }
}

fn tendon_repair() -> Form<Condition> {
    group(|f| {
        let tendon =
            f.need("tendon", choice(&[("flexor", Tendon::Flexor), ("extensor", Tendon::Extensor)]));
        let date = f.need("date", date());
        Some(Condition::TendonRepair(tendon?, date?))
    })
}

pub(super) fn overrides() -> Form<Vec<Override>> {
    list(group(|f| {
        let finding = f.need("finding", text(NAME));
        let by = f.need("by", text(NAME));
        let date = f.need("date", date());
        let why = f.need("why", text(SENTENCE));
        Some(Override { finding: finding?, by: by?, date: date?, why: why? })
    }))
}

impl Condition {
    /// The word that stands for it in a case file.
    #[must_use]
    pub fn word(&self) -> &str {
        match self {
            Self::TendonRepair(..) => "tendon_repair",
            Self::Other(_) => "other",
            plain => WORDS.iter().find(|(_, it)| it == plain).map_or("", |(word, _)| word),
        }
    }
}
