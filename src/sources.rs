//! Every cited work once, with how far its figures were confirmed.
//!
//! A figure from a work of state [`State::Secondary`] was read in a page that reports the work, not
//! in the work itself; the papers say so.

macro_rules! edition {
    () => {
        "2026-11-26"
    };
}

/// The day on which the printed values and their sources were last gone through.
pub const EDITION: &str = edition!();

/// The program's version with the edition of its values.
pub const VERSION: &str = concat!(env!("CARGO_PKG_VERSION"), ", values of ", edition!());

/// How far a citation was confirmed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum State {
    /// The figure used was read in the work's own abstract or page.
    Read,
    /// The figure was read; authors, volume or pages are partly from memory.
    PartFromMemory,
    /// The figure was read in another page that reports the work.
    Secondary,
}

impl State {
    /// The state in words, for the list of sources.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Read => "figures read in the abstract or page",
            Self::PartFromMemory => "figures read; parts of the reference from memory",
            Self::Secondary => "figures as secondary pages report them",
        }
    }
}

/// A cited work.
#[derive(Debug, PartialEq, Eq)]
pub struct Source {
    /// A short name.
    pub key: &'static str,
    /// The reference.
    pub reference: &'static str,
    /// Its DOI, PMID or address.
    pub address: &'static str,
    /// How far it was confirmed.
    pub state: State,
}

macro_rules! sources {
    ($($(#[$doc:meta])* $name:ident = $state:ident, $reference:literal, $address:literal;)*) => {
        $($(#[$doc])* pub const $name: &Source = &Source {
            key: stringify!($name), reference: $reference, address: $address, state: State::$state,
        };)*

        /// All of them.
        pub const ALL: &[&Source] = &[$($name),*];
    };
}

sources! {
    /// Wrist series: session length, sessions a day, gain.
    MCGRATH = Read,
        "McGrath MS et al. J Hand Surg Am 2008;33(9):1498-1504. 47 stiff wrists, no control group.",
        "scholars.duke.edu/display/pub1080670";
    /// How long and how deep a trough is.
    TROUGH = Secondary,
        "Teaching cards on splinting for hand therapy students: trough two thirds of the part's length, half its girth.",
        "brainscape.com/flashcards/splinting-3119100";
    /// Wrist series after radius fracture.
    LUCADO = Read,
        "Lucado AM, Li Z. Physiother Theory Pract 2009;25(4):297-309. 8 patients, no control group.",
        "doi 10.1080/09593980902782389";
    /// Controlled trial of a dynamic splint after radius fracture.
    JONGS = Read,
        "Jongs RA, Harvey LA, Gwinn T, Lucas BR. J Physiother 2012;58(3):173-180. Randomised, 40 patients.",
        "doi 10.1016/S1836-9553(12)70108-X";
    /// Static progressive against dynamic, at the elbow.
    LINDENHOVIUS = Read,
        "Lindenhovius ALC et al. J Bone Joint Surg Am 2012;94(8):694-700. Randomised, 66 elbows.",
        "doi 10.2106/JBJS.J.01761";
    /// Review of stretch for contracture.
    HARVEY = Read,
        "Harvey LA et al. J Physiother 2017;63(2):67-75. Cochrane review of stretch, all joints.",
        "doi 10.1016/j.jphys.2017.02.014";
    /// Review of static progressive orthoses.
    SCHWARTZ = Read,
        "Schwartz DA. Hand (N Y) 2012;7(1):10-17. Review, upper limb.",
        "doi 10.1007/s11552-011-9380-2";
    /// Wrist angles and carpal tunnel pressure.
    KEIR = Read,
        "Keir PJ et al. Hum Factors 2007;49(1):88-99. 37 healthy wrists.",
        "experts.mcmaster.ca publication1313363";
    /// Carpal tunnel pressure at end positions.
    GELBERMAN = Read,
        "Gelberman RH et al. J Bone Joint Surg Am 1981;63:380-383.",
        "profiles.wustl.edu";
    /// Functional range.
    RYU = Read,
        "Ryu JY et al. J Hand Surg Am 1991;16(3):409-419. 40 healthy adults.",
        "doi 10.1016/0363-5023(91)90006-W";
    /// Functional range.
    BRUMFIELD = Read,
        "Brumfield RH, Champoux JA. Clin Orthop 1984;187:23. 19 healthy adults.",
        "abstract";
    /// Accuracy of wrist goniometry.
    CARTER = Read,
        "Carter TI et al. J Hand Surg Am 2009;34(8):1422-1428. Accuracy 6 to 7 degrees.",
        "doi 10.1016/j.jhsa.2009.06.002";
    /// Measuring error of goniometry in the hand.
    REISSNER = Read,
        "Reissner L et al. J Orthop Surg Res 2019;14:173. SEM 4 to 11 degrees, active motion.",
        "doi 10.1186/s13018-019-1177-y";
    /// Agreement of one and of two observers on a wrist's range.
    OBSERVERS = Read,
        "J Hand Surg Am 2019;44(11):954-965. 37 patients; one observer and two, range judged by eye.",
        "jhandsurg.org S0363-5023(17)31912-3";
    /// The warm-up test and what it points to.
    FLOWERS = Secondary,
        "Flowers KR. J Hand Ther 2002;15:158-162, as two clinical pages report it.",
        "primary text not seen";
    /// Time to passive motion after plating.
    BREHMER = Read,
        "Brehmer JL, Husband JB. J Bone Joint Surg Am 2014;96:1621-1630. Randomised, 81 patients.",
        "stored copy of the abstract";
    /// Displacement of radius fractures over time.
    DISPLACEMENT = Read,
        "Trial protocol, BMC Musculoskelet Disord 2014;15:24, quoting earlier work.",
        "doi 10.1186/1471-2474-15-24";
    /// Enrolment gate of a trial of this class of orthosis.
    TRIAL_GATE = Read,
        "Registered trial of static progressive against dynamic wrist splinting: from 8 weeks.",
        "registry entry, no results";
    /// Flexor tendon protocol.
    FLEXOR_PROTOCOL = Read,
        "One hand surgeon's published protocol for flexor tendon repair.",
        "eatonhand.com/thr/thr074";
    /// Extensor tendon protocol.
    EXTENSOR_PROTOCOL = Read,
        "The same surgeon's published protocol for extensor tendon repair.",
        "e-hand.com/thr/thr066";
    /// Complex regional pain syndrome: diagnosis.
    HARDEN = Read,
        "Harden RN et al. Pain 2010;150:268. Diagnostic criteria.",
        "tables at BMC Surg s12893-020-00982-7";
    /// Complex regional pain syndrome: splinting.
    PAIN_FEDERATION = Read,
        "European Pain Federation, standards for complex regional pain syndrome: splinting.",
        "crps.europeanpainfederation.eu";
    /// Heterotopic ossification and stretch.
    CASAVANT = Read,
        "Casavant AM, Hastings H. J Hand Ther 2006;19:255-266.",
        "doi 10.1197/j.jht.2006.02.009";
    /// Heterotopic ossification and passive stretch.
    CRAWFORD = Read,
        "Crawford CM et al. J Burn Care Rehabil 1986;7:323-327.",
        "abstract";
    /// Redness that stays.
    REDNESS = Read,
        "A children's hospital's teaching sheet on orthosis wear: redness over 20 minutes.",
        "childrenswi.org, sheet 1322";
    /// Pain that lasts.
    PAIN_AFTER = Secondary,
        "Public health advice on exercise with arthritis: pain over 2 hours after means too much.",
        "as quoted by clinic pages";
    /// When poor feeling makes it urgent.
    POOR_FEELING = Read,
        "An orthosis leaflet: call sooner with diabetes or poor feeling.",
        "surgi-care.com";
    /// Contraindications to stretch.
    STRETCH_PAGES = Secondary,
        "Therapy pages on contraindications and precautions for stretching.",
        "weak pages; textbook not seen";
    /// Predictors of the result of splinting stiff hand joints.
    GLASGOW = Read,
        "Glasgow C et al. J Hand Ther 2011;24(3):195-205. 46 people, hand joints.",
        "doi 10.1016/j.jht.2011.03.001";
    /// What custom fabricated means to US payers.
    CUSTOM_FABRICATED = Read,
        "US Medicare contractor's page: custom fabricated means made for one person from basic material.",
        "med.noridianmedicare.com, orthotics";
    /// The axis of wrist flexion and extension.
    GONZALEZ = PartFromMemory,
        "Gonzalez RV, Buchanan TS, Delp SL. J Biomech 1997;30:705-712, read from its open model.",
        "opensim-org/opensim-models, WristModel";
    /// Blood flow in the skin of a pressed hand.
    JOHANSSON = Read,
        "Johansson L, Hagg G, Fischer T. Eur J Appl Physiol 2002;86:394-400. 15 to 33 kPa halve skin flow.",
        "doi 10.1007/s00421-001-0562-4";
    /// Pressure in the capillaries of a nail fold.
    WILLIAMS = PartFromMemory,
        "Williams SA et al. Clin Sci 1988;74:507-512. Arteriolar 37.7 mmHg in a nail fold.",
        "doi 10.1042/cs0740507";
    /// Pressure and time at which muscle dies.
    LINDER_GANZ = Read,
        "Linder-Ganz E, Engelberg S, Scheinowitz M, Gefen A. J Biomech 2006;39:2725-2732. Rat muscle.",
        "doi 10.1016/j.jbiomech.2005.08.010";
    /// The tab's test.
    HOOK_SHEAR = Read,
        "ASTM D5169-98 (reapproved 2021), shear strength of hook and loop touch fasteners.",
        "standards listing";
    /// The smallest change of three scores that patients call important.
    SORENSEN = Read,
        "Sorensen AA et al. J Hand Surg Am 2013;38(4):641-649. 102 people, hand and wrist, no injury, no operation.",
        "doi 10.1016/j.jhsa.2012.12.032";
    /// What a change of pain by two points means.
    SALAFFI = PartFromMemory,
        "Salaffi F et al. Eur J Pain 2004. 825 people with lasting pain: two points are much better.",
        "doi 10.1016/j.ejpain.2003.09.004";
    /// Moment arm by virtual work.
    SHERMAN = Read,
        "Sherman MA, Seth A, Delp SL. What is a moment arm? ASME DETC2013-13633.",
        "PMC4404026";
}

/// What a statement rests on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Ground {
    /// Cited works.
    Cited(&'static [&'static Source]),
    /// A rule of the trade without a published source.
    CommonPractice,
    /// Reckoned here from the case.
    Reckoned,
}

impl Ground {
    /// The ground in words, for people and machines.
    #[must_use]
    pub fn words(&self) -> String {
        match self {
            Self::Cited(works) => {
                let all: Vec<&str> = works.iter().map(|work| work.reference).collect();
                all.join(" ")
            }
            Self::CommonPractice => "common practice, no source".into(),
            Self::Reckoned => "reckoned from the case".into(),
        }
    }
}
