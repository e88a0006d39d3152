//! The measuring sheet: each measured key of the reader once and in the file's order, on the page and in the
//! drawings; boxes that a pen finds; what a file has already; and the rules that hold for every paper.

use std::collections::BTreeSet;
use std::fs;
use std::sync::LazyLock;

use lopdf::decode_text_string;
use page_validation::ValidationProfile;
use tautline::calc::figure::{arm_to_measure, wrist_to_measure};
use tautline::case::{PageSize, Question, Written, guide, measured, questions};
use tautline::sheets::{Draft, Paper, Pictures};

use crate::boxes::{clipped, collisions, outside, struck};
use crate::brief::with_long_names;
use crate::checker::broken;
use crate::demo;
use crate::ink::{Ink, Item, Path, Text, read};
use crate::papers::squeezed;
use crate::pdf::Pdf;
use crate::quads::hull;

pub const BASE: &str = "quarry-bend-left-flexion";
/// A pen writes in boxes of 8 mm (common practice, no source).
const LEAST_BOX: f64 = 8.0;
/// Strokes of the crosses in ticked boxes: 1.6 pt, in mm.
const CROSS: f64 = 1.6 * 25.4 / 72.0;

fn sheet(written: &Written, page: PageSize) -> Vec<u8> {
    Draft::measuring_sheet(written, page, &[], &Pictures::none())
        .typeset()
        .unwrap_or_else(|fault| panic!("{fault}"))
}

fn of(text: &str) -> Written {
    Written::read(text.as_bytes()).unwrap_or_else(|faults| panic!("{faults:?}")).0
}

pub fn empty() -> Vec<u8> {
    sheet(&Written::default(), PageSize::Letter)
}

/// Empty, every demo case, the longest names on either side, and a file that holds its number alone; on both sizes.
fn sheets() -> &'static [(String, Vec<u8>)] {
    static ALL: LazyLock<Vec<(String, Vec<u8>)>> = LazyLock::new(typeset_all);
    &ALL
}

fn typeset_all() -> Vec<(String, Vec<u8>)> {
    let mut all = vec![("empty".to_owned(), Written::default())];
    all.push(("begun".to_owned(), of("case:\n  id: LK-7\n")));
    for path in demo::files() {
        let text = fs::read_to_string(&path).unwrap();
        let name = path.file_stem().unwrap().to_string_lossy().into_owned();
        all.push((format!("{name}, longest names"), of(&with_long_names(&text))));
        all.push((name, of(&text)));
    }
    let both = [(PageSize::Letter, "letter"), (PageSize::A4, "a4")];
    let on_both = |(name, written): &(String, Written)| {
        both.map(|(page, size)| (format!("{name} {size}"), sheet(written, page)))
    };
    all.iter().flat_map(on_both).collect()
}

/// The place that a measured key's number points at: the values of one tape share it, and those of a key toward both sides.
fn spot(question: &Question) -> String {
    let path = question.path.as_str();
    match path.split_once(']') {
        Some((list, _)) if path.starts_with("limb.") => format!("{list}]"),
        _ if path.starts_with("torque") => question.row.path.to_owned(),
        _ if path.starts_with("preconditioning") => {
            path.replace(".flexion", "").replace(".extension", "")
        }
        _ => path.to_owned(),
    }
}

fn spots() -> Vec<String> {
    let mut spots: Vec<String> = Vec::new();
    for question in measured() {
        let spot = spot(&question);
        if spots.last() != Some(&spot) {
            spots.push(spot);
        }
    }
    spots
}

/// What `begin` asks with an instrument in the hand stands on the sheet, and in the same order.
#[test]
fn the_sheet_asks_what_begin_asks() {
    let mut rest = measured().into_iter().map(|it| it.path);
    let is_measured = |it: &str| it.starts_with("limb.") || it.starts_with("motion[1].");
    let mut count = 0;
    for question in questions().into_iter().filter(|it| is_measured(&it.path)) {
        if question.path != "motion[1].date" {
            assert!(rest.any(|it| it == question.path), "{}", question.path);
            count += 1;
        }
    }
    // Twelve values make the short case; ranges and girths come to them.
    assert!(count > 20, "{count}");
    let text = squeezed(&Pdf::read(&empty()).text());
    for question in questions().iter().filter(|it| it.path.starts_with("history.")) {
        let what = question.row.what.split_once(';').map_or(question.row.what, |(it, _)| it);
        assert!(text.contains(&squeezed(what)), "{what}");
    }
}

#[test]
fn each_measured_key_has_one_place_in_the_drawings() {
    let drawn: Vec<&str> =
        wrist_to_measure(false).keys.into_iter().chain(arm_to_measure(false).keys).collect();
    let once: BTreeSet<&str> = drawn.iter().copied().collect();
    assert_eq!(once.len(), drawn.len(), "each once: {drawn:?}");
    let wanted = spots();
    assert_eq!(once, wanted.iter().map(String::as_str).collect());
    for pointed in [arm_to_measure(true), wrist_to_measure(true)] {
        assert_eq!(pointed.keys.len(), pointed.drawing.labels.len());
    }
}

/// A left arm is the mirror image of a right one.
#[test]
fn a_left_arm_is_mirrored() {
    let (right, left) = (arm_to_measure(false).drawing, arm_to_measure(true).drawing);
    assert_eq!(right.shapes.len(), left.shapes.len());
    for (one, other) in right.labels.iter().zip(&left.labels) {
        let x = (one.to.x + other.to.x - right.width).to_mm();
        assert!(x.abs() < 1e-6 && (one.to.y - other.to.y).to_mm().abs() < 1e-6, "{x}");
    }
}

/// Whether a path is the circle round a number of the drawings.
fn is_circle(path: &Path) -> bool {
    let (least, most) = hull(path.chains.iter().flatten().copied());
    let (wide, high) = (most.0 - least.0, most.1 - least.1);
    path.fill == Some(1.0) && (wide - 5.4).abs() < 0.05 && (high - 5.4).abs() < 0.05
}

/// What stands in a circle.
fn circled(page: &Ink) -> Vec<String> {
    let circles: Vec<_> =
        page.items.iter().filter_map(Item::path).filter(|it| is_circle(it)).collect();
    let mut found = Vec::new();
    for circle in circles {
        let (least, most) = hull(circle.chains.iter().flatten().copied());
        let is_in = |it: &&Text| {
            it.glyphs
                .iter()
                .flatten()
                .all(|(x, y)| (least.0..=most.0).contains(x) && (least.1..=most.1).contains(y))
        };
        let inside: Vec<&Text> =
            page.texts().filter(|it| !it.glyphs.is_empty()).filter(is_in).collect();
        found.push(inside.iter().map(|it| it.string.trim()).collect::<String>());
    }
    found
}

/// Rows of boxes count on from 1, and so do the circles in the drawings, each number once.
#[test]
fn numbers_stand_in_the_order_of_the_file() {
    let wanted: Vec<String> = (1..=spots().len()).map(|it| it.to_string()).collect();
    for (name, bytes) in sheets() {
        let pages = read(bytes);
        // A row's number is set in 12.5 pt, and nothing else is.
        let is_number = |it: &&Text| (it.size_pt - 12.5).abs() < 0.01;
        let rows: Vec<String> = pages
            .iter()
            .flat_map(Ink::texts)
            .filter(is_number)
            .map(|it| it.string.trim().to_owned())
            .collect();
        assert_eq!(rows, wanted, "{name}");
        let mut drawn: Vec<String> = pages.iter().flat_map(circled).collect();
        drawn.sort_by_key(|it| it.parse::<u32>().unwrap_or_default());
        assert_eq!(drawn, wanted, "{name}");
    }
}

/// Each row says what is measured, its key, and what holds without it, in the words of the questions.
#[test]
fn rows_say_what_the_questions_say() {
    let text = squeezed(&Pdf::read(&empty()).text());
    for question in measured() {
        let row = question.row;
        let is_place = question.path.contains("girths[");
        let key = if is_place { "limb.forearm_girths[]" } else { row.path };
        assert!(text.contains(&squeezed(key)), "{key}");
        if is_place {
            continue;
        }
        assert!(text.contains(&squeezed(row.what)), "{}", row.what);
        // What holds without the warm-up test, or without the gauge, stands above their rows.
        let needed = row.why.filter(|why| row.unset.is_some() && why.contains("needed"));
        let without = needed.map(str::to_owned).or(row.without());
        let without = without.unwrap_or_else(|| "Needed.".into()).replace('`', "");
        if !["torque", "preconditioning"].iter().any(|it| question.path.starts_with(it)) {
            assert!(text.contains(&squeezed(&without)), "{key}: {without}");
        }
    }
    for list in ["torque", "preconditioning"] {
        let without = guide::row(list).unwrap().without().unwrap();
        assert!(text.contains(&squeezed(&without)), "{list}: {without}");
    }
}

#[test]
fn every_sheet_has_two_pages() {
    for (name, bytes) in sheets() {
        assert_eq!(Pdf::read(bytes).page_count(), 2, "{name}");
    }
}

/// The rectangles that a hand writes in: those of the widths of value boxes.
fn boxes(pages: &[Ink]) -> Vec<f64> {
    let paths = pages.iter().flat_map(|it| &it.items).filter_map(Item::path);
    let mut heights = Vec::new();
    for path in paths.filter(|it| it.width_mm.is_some() && it.fill.is_none()) {
        let (least, most) = hull(path.chains.iter().flatten().copied());
        let (wide, high) = (most.0 - least.0, most.1 - least.1);
        if [22.0, 31.0, 37.0].iter().any(|it: &f64| (wide - it).abs() < 0.05) && high > 1.0 {
            heights.push(high);
        }
    }
    heights
}

#[test]
fn each_value_has_a_box_that_a_pen_finds() {
    for (name, bytes) in sheets() {
        let heights = boxes(&read(bytes));
        assert_eq!(heights.len(), measured().len(), "{name}");
        let least = heights.iter().copied().fold(f64::MAX, f64::min);
        assert!(least >= LEAST_BOX, "{name}: {least:.2} mm");
    }
}

/// Units are those that the reader takes, in each empty box.
#[test]
fn empty_boxes_offer_the_units_that_the_reader_takes() {
    let text = Pdf::read(&empty()).text();
    let count = |units: &str| squeezed(&text).matches(units).count();
    let lengths = measured()
        .iter()
        .filter(|it| it.path.starts_with("limb.") || it.path.ends_with("lever"))
        .count();
    assert_eq!(count("mmcmin"), lengths);
    assert_eq!(count("Nkgflbf"), 2);
}

/// The numbers of a file in the file's own units, read by another reader of YAML.
#[test]
fn a_file_fills_in_what_it_has() {
    let text = demo::text(BASE);
    let file: serde_yaml::Value = serde_yaml::from_str(&text).unwrap();
    let page = squeezed(&Pdf::read(&sheet(&of(&text), PageSize::Letter)).text());
    let mut count = 0;
    let mut says = |value: &str| {
        assert!(page.contains(&squeezed(value)), "{value}");
        count += 1;
    };
    for value in file["limb"].as_mapping().unwrap().values() {
        match value {
            serde_yaml::Value::Sequence(girths) => {
                for girth in girths {
                    says(girth["from_crease"].as_str().unwrap());
                    says(girth["girth"].as_str().unwrap());
                }
            }
            one => says(one.as_str().unwrap()),
        }
    }
    let newest = file["motion"].as_sequence().unwrap().last().unwrap();
    for range in ["passive", "active"] {
        for side in ["flexion", "extension"] {
            says(&format!("{}°", newest[range][side].as_i64().unwrap()));
        }
    }
    let warm_up = &file["preconditioning"]["flexion"];
    for end in ["cold", "warm"] {
        says(&format!("{}°", warm_up[end].as_i64().unwrap()));
    }
    says(newest["date"].as_str().unwrap());
    says(file["patient"]["name"].as_str().unwrap());
    says(file["clinic"]["name"].as_str().unwrap());
    says(file["clinic"]["phone"].as_str().unwrap());
    says(file["history"]["injury"].as_str().unwrap());
    assert!(count > 20, "{count}");
}

/// Strokes of crosses in ticked boxes.
fn crosses(bytes: &[u8]) -> usize {
    let pages = read(bytes);
    let paths = pages.iter().flat_map(|it| &it.items).filter_map(Item::path);
    let strokes = paths.filter(|it| {
        let (least, most) = hull(it.chains.iter().flatten().copied());
        it.width_mm.is_some_and(|width| (width - CROSS).abs() < 1e-3)
            && it.fill.is_none()
            && (most.0 - least.0 - 2.2).abs() < 0.01
            && (most.1 - least.1 - 2.2).abs() < 0.01
    });
    strokes.count()
}

/// Two strokes for each answer of the file: side, hand, bone, end feel, feeling, skin, swelling, pain, conditions.
#[test]
fn answers_of_a_file_are_ticked() {
    assert_eq!(crosses(&empty()), 0);
    assert_eq!(crosses(&sheet(&of(&demo::text(BASE)), PageSize::A4)), 2 * 9);
    let with = demo::edited(
        BASE,
        &[(
            "conditions: []",
            "conditions: [diabetes, infection, { tendon_repair: { tendon: flexor, date: 2026-01-31 } }, { other: cold hands }]",
        )],
    );
    let bytes = sheet(&of(&with), PageSize::A4);
    // Two words, the repair and its tendon, and the other one, in the place of none.
    assert_eq!(crosses(&bytes), 2 * (8 + 5));
    let text = squeezed(&Pdf::read(&bytes).text());
    assert!(text.contains("2026-01-31") && text.contains("coldhands"), "{text}");
}

/// A reading stands on the side that the gauge pulled toward; the newest day of ranges counts.
#[test]
fn the_newest_values_are_those_of_the_sheet() {
    let written = of(&demo::text(BASE));
    assert_eq!(written.at("torque[1].force"), Some("11 N"));
    assert_eq!(written.at("torque[2].force"), None);
    let back = demo::text(BASE).replace("pull: flexion, angle: 25", "pull: extension, angle: 25");
    let written = of(&back);
    assert_eq!(
        (written.at("torque[1].force"), written.at("torque[2].force")),
        (Some("6 N"), Some("11 N"))
    );
}

#[test]
fn nothing_lies_on_anything_or_outside_the_margins() {
    let mut faults = Vec::new();
    for (name, bytes) in sheets() {
        for (index, page) in read(bytes).iter().enumerate() {
            // The handout's margins are those of the sheet.
            let found =
                [outside(page, Paper::Handout), collisions(page), struck(page), clipped(page)];
            faults
                .extend(found.concat().iter().map(|it| format!("{name} page {}: {it}", index + 1)));
        }
    }
    assert!(faults.is_empty(), "{} faults:\n{}", faults.len(), faults.join("\n"));
}

/// Read at arm's length: nothing is set in less than 10 pt, the keys for who types neither; the units to circle are 11 pt.
#[test]
fn type_is_large_enough_at_the_arm() {
    let mut units = 0;
    for (name, bytes) in sheets() {
        for it in read(bytes).iter().flat_map(Ink::texts) {
            assert!(it.size_pt > 9.99, "{name}: `{}` {}", it.string, it.size_pt);
            if ["mm", "kgf"].contains(&it.string.trim()) {
                assert!(it.size_pt > 10.99, "{name}: `{}` {}", it.string, it.size_pt);
                units += 1;
            }
        }
    }
    assert!(units > 0, "units stand by themselves");
}

/// PDF/UA-1 (ISO 14289-1) and PDF/A-2a (ISO 19005-2), by an independent checker.
#[test]
fn sheets_conform_to_ua_1_and_a_2a() {
    for (name, bytes) in sheets() {
        for profile in [ValidationProfile::PdfUa1, ValidationProfile::PdfA2a] {
            let rules = broken(bytes, profile);
            assert!(rules.is_empty(), "{name} {profile:?}: {rules:?}");
        }
    }
}

/// Who cannot see the drawings is told the same: every number with what is measured there. Tables have headers.
#[test]
fn drawings_say_their_facts_and_tables_their_headers() {
    let bytes = empty();
    let pdf = Pdf::read(&bytes);
    let tags = pdf.tags();
    let alts: Vec<String> = tags
        .iter()
        .filter(|(kind, _)| kind == "Figure")
        .map(|(_, it)| decode_text_string(pdf.get(it, "Alt").unwrap()).unwrap())
        .collect();
    assert_eq!(alts.len(), 2);
    let all = alts.concat();
    // A place of a list is told by the sheet's own words.
    let is_of_list = |it: &Question| it.path.contains("girths[");
    for (number, question) in spots().iter().enumerate().filter_map(|(at, spot)| {
        Some((
            at + 1,
            measured().into_iter().find(|it| self::spot(it) == *spot && !is_of_list(it))?,
        ))
    }) {
        let fact = format!("{number}: {}", question.row.what);
        assert!(all.contains(&fact), "{fact}");
    }
    let count = |wanted: &str| tags.iter().filter(|(kind, _)| kind == wanted).count();
    // Three columns of ranges, four of the gauge, four of the limb.
    assert_eq!((count("Table"), count("TH")), (3, 11));
}

#[test]
fn the_same_file_gives_the_same_bytes() {
    for written in [Written::default(), of(&demo::text(BASE))] {
        assert!(sheet(&written, PageSize::A4) == sheet(&written, PageSize::A4));
    }
    assert!(empty() != sheet(&Written::default(), PageSize::A4));
}

/// An empty sheet has no day, no name and no clinic.
#[test]
fn an_empty_sheet_invents_nothing() {
    let text = Pdf::read(&empty()).text();
    let edition = tautline::sources::EDITION;
    assert!(!text.contains(edition) && !text.contains("2026"), "{text}");
    assert!(!text.contains("Phone") && !text.contains("Case"), "{text}");
}
