//! Names as people write them: each prints and reads back letter by letter; what the fonts lack is refused by name.

use tautline::calc;
use tautline::case::{self, Kind, PageSize};
use tautline::sheets::{self, Paper};
use unicode_normalization::UnicodeNormalization;

use crate::demo;
use crate::ink::{Ink, read};

/// Sixty forms of names, from parts that are common in their languages and put together here; no person is meant.
/// Letters by Unicode's exemplar sets (CLDR, from memory); forms after what writers on names in forms warn of:
/// one letter, one name, many names, particles, suffixes, marks inside.
const NAMES: [&str; 60] = [
    // Latin letters with marks.
    "José Ángel Muñoz Peña",
    "María Inés Güell i Puig",
    "João Gonçalves da Conceição",
    "Zoë Noël-François",
    "Gaëtan L’Hôpital",
    "Bjørn Åge Sæther",
    "Örn Þórðarson",
    "Guðrún Æsa Ýrardóttir",
    "Jürgen Weiß-Häußler",
    "Małgorzata Święcicka-Żółć",
    "Jiří Dvořák",
    "Ľubomír Šťastný",
    "Božena Kučerová-Ďuricová",
    "Győző Szőke-Űrhegyi",
    "Ștefan Țepeș-Brâncuș",
    "Đorđe Čavić-Šušnjar",
    "Žydrūnė Ąžuolaitė",
    "Ģirts Ķēniņš",
    "Õnne Mäeküla-Šults",
    "İlkay Çağlar Öztürk-Işık",
    "Şule Gündoğdu",
    "Ëlona Përçapi",
    "Ġorġ Żammit Ħal",
    "Siobhán Ní Ghráinne",
    "Rhŷs Llŷr ap Gwŷn",
    "Kealiʻi Kaʻōpua",
    "Ọlábísí Adéṣọlá",
    "Ɓala Ɗanladi Ƙaura",
    "Təranə Ələkbərova",
    "Ŋɔlu Ɛdem",
    // Vietnamese.
    "Nguyễn Thị Hạnh",
    "Trần Đức Phượng",
    "Lê Hữu Ngữ",
    "Đặng Quỳnh Ưng",
    "Phạm Ỷ Vỹ",
    "Võ Thuỳ Dương Ẩn",
    // Cyrillic.
    "Анна Сергеевна Щукина",
    "Ёлкин Пётр Ильич",
    "Ївга Ґалаґан",
    "Љубиша Њежић-Џомба",
    "Ѓорѓи Ќурчиев",
    "Ўладзімір Шыпіла",
    "Әсел Қыдырбекқызы",
    "Өнөржан Үсөнов",
    // Greek.
    "Ελένη Παπαδοπούλου",
    "Άγγελος Ξύδης",
    "Ωρίων Ψαρός-Ϊωνος",
    // Marks between letters.
    "Aoife O’Malley-D’Arcy",
    "Sean O'Dowd",
    "N’Dri Kouamé",
    "Anne-Marie Saint-Yves-Roy",
    // Particles, suffixes, titles.
    "Ludwig van der Aa zu Hohenau",
    "Maria de los Ángeles de la O y Vega",
    "Ali ibn Yusuf al-Masri bin Hassan",
    "Robert T. Vance Jr.",
    "Walter Price III",
    // Short and long.
    "O",
    "U Ba",
    "Sukarman",
    "Wolfeschlegel Steinhausen-Bergerdorff Elisabethanna Maximiliane von Ötztaler-See",
];

/// A case of that patient and that therapist.
fn text(patient: &str, therapist: &str) -> String {
    let quoted = |it: &str| format!("\"{it}\"");
    demo::edited(
        "quarry-bend-left-flexion",
        &[
            ("name: T. Marlow", &format!("name: {}", quoted(patient))),
            ("therapist: Ines Okoye, OTR/L, CHT", &format!("therapist: {}", quoted(therapist))),
        ],
    )
}

/// The text of a handout's pages, as a reader gets it, all space taken out.
fn printed(text: &str) -> String {
    let case = demo::read(text);
    let set = sheets::typeset(&[Paper::Handout], &case, &calc::plan(&case), PageSize::A4);
    let pages = read(&set.unwrap_or_else(|fault| panic!("{}: {fault}", case.patient.name))[0]);
    squeezed(&pages.iter().flat_map(Ink::texts).map(|it| it.string.as_str()).collect::<String>())
}

fn squeezed(text: &str) -> String {
    text.chars().filter(|it| !it.is_whitespace()).collect()
}

/// In bold in each page's header and in the running text: so both weights of both fonts are tried.
#[test]
fn names_print_and_read_back() {
    let mut seen = std::collections::BTreeSet::new();
    for (it, patient) in NAMES.iter().enumerate() {
        assert!(seen.insert(patient), "{patient} stands there twice");
        let therapist = NAMES[(it + 1) % NAMES.len()];
        let pages = printed(&text(patient, therapist));
        for name in [*patient, therapist] {
            let wanted = squeezed(&name.nfc().collect::<String>());
            assert!(pages.matches(&wanted).count() >= 2, "{name} is not in {pages:.200}");
        }
    }
}

/// A name typed with loose marks prints as the one with letters that carry theirs.
#[test]
fn loose_marks_join_their_letters() {
    let mut told_apart = 0;
    for pair in NAMES.chunks(2) {
        let loose: Vec<String> = pair.iter().map(|it| it.nfd().collect()).collect();
        told_apart += loose.iter().zip(pair).filter(|(loose, name)| loose != *name).count();
        let case = demo::read(&text(&loose[0], &loose[1]));
        let names = [case.patient.name, case.clinic.therapist];
        for (name, read) in pair.iter().zip(names) {
            assert_eq!(read, name.nfc().collect::<String>());
        }
    }
    assert!(told_apart > 35, "{told_apart} names have marks");
    let pages = printed(&text(
        "Nguye\u{302}\u{303}n Thi\u{323} Ha\u{323}nh",
        "Jir\u{30c}i\u{301} N\u{303}a",
    ));
    for name in ["NguyễnThịHạnh", "JiříÑa"] {
        assert!(pages.contains(name), "{name}");
    }
}

/// Scripts that the fonts lack, a sign each: refused at its key, by its name, before anything is typeset.
#[test]
fn letters_that_the_fonts_lack_are_named() {
    for (script, name, letter, code) in [
        ("Arabic", "مريم", 'م', "U+0645"),
        ("Hebrew", "דוד", 'ד', "U+05D3"),
        ("Han", "王芳", '王', "U+738B"),
        ("Hangul", "김민", '김', "U+AE40"),
        ("Kana", "はな", 'は', "U+306F"),
        ("Thai", "สมชาย", 'ส', "U+0E2A"),
        ("Devanagari", "आशा", 'आ', "U+0906"),
        ("Tamil", "மாலா", 'ம', "U+0BAE"),
        ("Georgian", "ნინო", 'ნ', "U+10DC"),
        ("Armenian", "Անի", 'Ա', "U+0531"),
        ("Amharic", "ሰላም", 'ሰ', "U+1230"),
        ("emoji", "😀", '😀', "U+1F600"),
        ("a letter in a Latin name", "Anna 王", '王', "U+738B"),
    ] {
        let Err(unsound) = case::read(text(name, "I. Okoye").as_bytes()) else {
            panic!("{script}: `{name}` is read");
        };
        let character = format!("`{letter}` ({code})");
        let wanted = Kind::Unprintable { key: "patient.name".into(), character };
        let found: Vec<&Kind> = unsound.faults.iter().map(|it| &it.kind).collect();
        assert_eq!(found, [&wanted], "{script}");
    }
}
