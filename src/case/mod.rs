//! Text → [`Case`], or every fault in it with its place and its cure.
//!
//! [`read`] walks the whole file before it gives up: a therapist mends a file once, not once for
//! each fault. Remarks (a limb unlike any adult's, an active range beyond the passive one) travel
//! with success. A [`Case`] cannot hold an impossible value, so what reckons with it cannot fail.

#[macro_use]
mod words;

mod anthropometry;
mod append;
mod beginning;
mod begun;
mod bounds;
mod course;
mod cross;
mod days;
mod fault;
mod fields;
mod forms;
mod gauge;
pub mod guide;
mod head;
mod known;
mod limits;
mod meant;
mod measured;
mod measures;
mod node;
mod orthosis;
mod overlay;
mod pattern;
mod person;
mod pictures;
mod profile;
mod quantity;
mod schema;
mod shape;
mod unfinished;
mod usual;
mod visiting;
mod visits;
mod wear;
mod write;

pub use beginning::Beginning;
pub use begun::{Answers, Question, questions};
pub use fault::{Fault, Kind, Place, Remark, Source};
pub use head::{Head, Language, PrintSize, TeachBack};
pub use limits::{Limits, SKIN_PLAN, SKIN_STOP, SKIN_WARN, Stock, StockLine};
pub use measured::{Partial, Written, measured};
pub use measures::{Girth, Limb, MeasuringError, Motion, Range, Raters, Reading, WarmUp};
pub use orthosis::{Built, Cuff, Direction, ForearmPiece, Line, Orthosis, Pull, Strip, Tab};
pub use overlay::{Overlay, lay_over};
pub use pattern::{Cut, Grain, STRAP_WIDTH, Sheet, Wrap, usual_sheet};
pub use person::{
    Bone, Clearance, Clinic, Condition, EndFeel, History, Override, PageSize, Patient, Referral,
    Sensation, Side, Skin, Swelling, Tendon, Tried,
};
pub use pictures::Photo;
pub use profile::{FromProfile, Profile, named_profile, named_words};
pub use schema::{profile_schema, schema};
pub use shape::{Key, Shape, Span};
pub use unfinished::Typed;
pub use usual::{CUFF_PATH_SPREAD, Size};
pub use visiting::{Reader, Visiting};
pub use visits::{MarkReached, Pain, Plateau, Scores, SkinSeen, TabSeen, Visit, Worn};
pub use wear::{Session, Wear};
pub use write::normalised;

use crate::units::Angle;
use fields::{Fields, Notes};

/// One patient, one orthosis: the record that every paper is printed from.
#[derive(Debug, Clone, PartialEq)]
pub struct Case {
    /// The case.
    pub head: Head,
    /// The clinic.
    pub clinic: Clinic,
    /// The patient.
    pub patient: Patient,
    /// The order.
    pub referral: Referral,
    /// The wrist's history.
    pub history: History,
    /// Ranges over time, oldest first, at least one.
    pub motion: Vec<Motion>,
    /// What each visit after the first fit adds, oldest first.
    pub visits: Vec<Visit>,
    /// The therapist's rule for a plateau.
    pub plateau: Option<Plateau>,
    /// Warm-up tests.
    pub preconditioning: Vec<WarmUp>,
    /// Readings of the pull of the stiff joint.
    pub torque: Vec<Reading>,
    /// The limb.
    pub limb: Limb,
    /// What will be made.
    pub orthosis: Orthosis,
    /// How it is worn.
    pub wear: Wear,
    /// Measuring errors.
    pub measuring_error: MeasuringError,
    /// What skin, line and tab may bear.
    pub limits: Limits,
    /// What the clinic has on the shelf.
    pub stock: Stock,
    /// Photos of the finished piece, at most four.
    pub photos: Vec<Photo>,
    /// Decisions to go on in spite of a stop.
    pub overrides: Vec<Override>,
}

impl Case {
    /// All measured ranges, oldest first: those before the fit, then those of each visit.
    #[must_use]
    pub fn ranges(&self) -> impl DoubleEndedIterator<Item = &Motion> + Clone {
        let seen = self.visits.iter().filter(|it| it.has_ranges()).map(|it| &it.motion);
        self.motion.iter().chain(seen)
    }

    /// The newest measured ranges that hold a passive one.
    ///
    /// # Panics
    ///
    /// Never for a case that was read: reading refuses a file without motion.
    #[must_use]
    pub fn today(&self) -> &Motion {
        let measured = self.ranges().rev().find(|it| it.passive != Range::default());
        measured
            .or_else(|| self.ranges().next_back())
            .expect("a case that was read has at least one day of motion")
    }

    /// The newest passive end range toward one direction.
    #[must_use]
    pub fn passive(&self, direction: Direction) -> Option<Angle> {
        self.ranges().rev().find_map(|it| it.passive.toward(direction))
    }

    /// Pain at rest when it was last asked.
    #[must_use]
    pub fn rest_pain(&self) -> u32 {
        self.visits.iter().rev().find_map(|it| it.pain.rest).unwrap_or(self.history.rest_pain)
    }

    /// What the hand feels, as it was last looked at.
    #[must_use]
    pub fn sensation(&self) -> Sensation {
        self.visits.iter().rev().find_map(|it| it.sensation).unwrap_or(self.history.sensation)
    }

    /// How swollen it is, as it was last looked at.
    #[must_use]
    pub fn swelling(&self) -> Swelling {
        self.visits.iter().rev().find_map(|it| it.swelling).unwrap_or(self.history.swelling)
    }

    /// How the end of passive motion feels, as it was last felt.
    #[must_use]
    pub fn end_feel(&self) -> EndFeel {
        self.visits.iter().rev().find_map(|it| it.end_feel).unwrap_or(self.history.end_feel)
    }

    /// The newest readings of the pull of the stiff joint toward one direction, all of one day.
    #[must_use]
    pub fn readings(&self, direction: Direction) -> Vec<Reading> {
        let of = |all: &[Reading]| -> Vec<Reading> {
            all.iter().copied().filter(|it| it.pull == direction).collect()
        };
        let seen = self.visits.iter().rev().map(|it| of(&it.torque));
        seen.chain([of(&self.torque)]).find(|it| !it.is_empty()).unwrap_or_default()
    }
}

/// A file that can be used, and what is odd in it.
#[derive(Debug, Clone, PartialEq)]
pub struct Sound {
    /// The case.
    pub case: Case,
    /// What is odd, in file order.
    pub remarks: Vec<Remark>,
    /// What the clinic's profile gave, where there is one.
    pub profile: Option<FromProfile>,
}

/// A file that cannot be used.
#[derive(Debug, Clone, PartialEq)]
pub struct Unsound {
    /// What is wrong, in file order, at least one.
    pub faults: Vec<Fault>,
    /// What is odd beside it, in file order.
    pub remarks: Vec<Remark>,
}

/// Reads the bytes of a case file that names no clinic's profile.
///
/// # Errors
///
/// Every fault in the file, in file order.
pub fn read(bytes: &[u8]) -> Result<Sound, Unsound> {
    read_with(bytes, Profile::Named(&mut no_folder))
}

/// Text that comes without a folder has no file beside it.
fn no_folder(_: &str) -> Result<Vec<u8>, String> {
    Err("give the folder in which it lies".into())
}

/// Reads a case file's bytes with the clinic's profile laid under them.
///
/// # Errors
///
/// Every fault in both files, those of the case first, each in file order.
pub fn read_with(bytes: &[u8], profile: Profile<'_>) -> Result<Sound, Unsound> {
    let root = tree(bytes, Source::Case);
    let root = root.map_err(|fault| Unsound { faults: vec![fault], remarks: Vec::new() })?;
    let Walked { case, faults, remarks, gave, .. } = walked(root, profile);
    match case {
        Some(case) if faults.is_empty() => Ok(Sound { case, remarks, profile: gave }),
        _ => Err(Unsound { faults, remarks }),
    }
}

/// A tree that was walked through to its end.
struct Walked {
    /// The case, as far as each of its values could be read.
    case: Option<Case>,
    /// The tree of case and profile.
    root: node::Node,
    faults: Vec<Fault>,
    remarks: Vec<Remark>,
    gave: Option<FromProfile>,
}

fn walked(root: node::Node, profile: Profile<'_>) -> Walked {
    let joined = profile::join(root, profile);
    let notes = Notes::default();
    let case = Fields::root(&joined.root, &notes, whole_case);
    cross::check(&notes);
    anthropometry::check(&notes);
    gauge::check(&notes);
    let (faults, remarks) = notes.into_parts();
    let faults = joined.with_its_own(faults);
    Walked { case, root: joined.root, faults, remarks, gave: joined.gave }
}

/// The keys that a case file takes, in the order in which it is written; told by the reader itself.
#[must_use]
pub fn outline() -> Vec<Key> {
    Fields::tell(whole_case)
}

/// The keys that a clinic's profile takes, in the order in which it is written.
#[must_use]
pub fn profile_outline() -> Vec<Key> {
    Fields::tell(|f| Some(profile::whole_profile(f)))
}

fn whole_case(f: &mut Fields<'_>) -> Option<Case> {
    let head = f.need("case", head::head());
    let clinic = f.need_at_last("clinic", person::clinic());
    let patient = f.need("patient", person::patient());
    let referral = f.need("referral", person::referral());
    let history = f.need("history", person::history());
    let motion = f.need("motion", measures::motion());
    let visits = f.may("visits", visits::visits());
    let plateau = f.may("plateau", visits::plateau());
    let preconditioning = f.may("preconditioning", measures::warm_ups());
    let torque = f.may("torque", measures::readings());
    let limb = f.need("limb", measures::limb());
    let orthosis = f.need("orthosis", orthosis::orthosis());
    let orthosis =
        orthosis.zip(limb.as_ref()).map(|(orthosis, limb)| orthosis.filled(limb, f.notes()));
    let wear = f.need("wear", wear::wear());
    let measuring_error = f.may("measuring_error", measures::measuring_error());
    let limits = f.may("limits", limits::limits());
    let stock = f.may("stock", limits::stock());
    let photos = f.may("photos", pictures::photos());
    let overrides = f.may("overrides", person::overrides());
    Some(Case {
        head: head?,
        clinic: clinic?,
        patient: patient?,
        referral: referral?,
        history: history?,
        motion: motion?,
        visits: visits.unwrap_or_default(),
        plateau,
        preconditioning: preconditioning.unwrap_or_default(),
        torque: torque.unwrap_or_default(),
        limb: limb?,
        orthosis: orthosis?,
        wear: wear?,
        measuring_error: measuring_error.unwrap_or_default(),
        limits: limits.unwrap_or_default(),
        stock: stock.unwrap_or_default(),
        photos: photos.unwrap_or_default(),
        overrides: overrides.unwrap_or_default(),
    })
}

/// A file's bytes as a tree.
fn tree(bytes: &[u8], file: Source) -> Result<node::Node, Fault> {
    match decode(bytes).and_then(node::parse) {
        Ok(root) => Ok(root.in_file(file)),
        Err(Fault { place, kind }) => Err(Fault { place: Place { file, ..place }, kind }),
    }
}

/// The file's text, which must be UTF-8.
fn decode(bytes: &[u8]) -> Result<&str, Fault> {
    if let Some(what) = other_file(bytes) {
        return Err(Fault { place: Place::START, kind: Kind::OtherFile { what } });
    }
    let not_text =
        |place, message: &str| Fault { place, kind: Kind::NotText { message: message.to_owned() } };
    if bytes.starts_with(&[0xff, 0xfe]) || bytes.starts_with(&[0xfe, 0xff]) {
        return Err(not_text(Place::START, "it is saved as UTF-16"));
    }
    std::str::from_utf8(bytes).map_err(|error| {
        let before = &bytes[..error.valid_up_to()];
        let line_start = before.iter().rposition(|&b| b == b'\n').map_or(0, |at| at + 1);
        let line = before.iter().filter(|&&b| b == b'\n').count() + 1;
        let column = String::from_utf8_lossy(&before[line_start..]).chars().count() + 1;
        let place = Place::new(line as u64, column as u64);
        not_text(place, "a byte here is not UTF-8 text")
    })
}

/// What else the bytes are, by how files of that kind begin.
fn other_file(bytes: &[u8]) -> Option<&'static str> {
    const KINDS: [(&[u8], &str); 5] = [
        (b"%PDF-", "a PDF"),
        (b"PK\x03\x04", "a packed file, such as a word processor writes"),
        (b"\x89PNG", "a picture"),
        (b"\xff\xd8\xff", "a picture"),
        (b"\x7fELF", "a program"),
    ];
    KINDS.iter().find(|(start, _)| bytes.starts_with(start)).map(|(_, what)| *what)
}
