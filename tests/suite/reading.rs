//! Reading: what is accepted, and two readers that must agree.

use serde_yaml::Value;
use tautline::calc;
use tautline::case::{self, Direction, Grain, Side, Wrap};
use tautline::sheets::figures::Figures;
use tautline::units::{Force, Length};

use crate::demo;

const BASE: &str = "quarry-bend-left-flexion";

#[test]
fn the_contracts_case_reads_as_it_stands() {
    let case = demo::case(BASE);
    assert_eq!(case.head.id, "QB-2207");
    assert_eq!(case.patient.side, Side::Left);
    assert_eq!(case.patient.works_with, Side::Right);
    assert_eq!(case.limb.hand_length, Length::mm(184.0));
    assert_eq!(case.limb.forearm_girths.len(), 3);
    assert_eq!(case.orthosis.pulls[0].direction, Direction::Flexion);
    assert_eq!(case.orthosis.pulls[0].line.strength, Some(Force::newtons(178.0)));
    assert_eq!(case.wear.days_per_step, 4);
}

#[test]
fn units_are_converted() {
    let text = demo::text("saltmarsh-right-extension");
    let case = demo::read(&text);
    assert!((case.orthosis.pulls[0].strip.width - Length::mm(50.8)).abs() < Length::mm(1e-9));
    assert!((case.torque[0].force.to_newtons() - 7.845_32).abs() < 1e-9);
    assert!((case.torque[0].lever - Length::mm(80.0)).abs() < Length::mm(1e-9));
}

#[test]
fn line_ends_and_byte_order_marks_do_not_matter() {
    let text = demo::text(BASE);
    let plain = demo::read(&text);
    assert_eq!(demo::read(&text.replace('\n', "\r\n")), plain);
    assert_eq!(demo::read(&format!("\u{feff}{text}")), plain);
}

#[test]
fn names_are_composed() {
    let text = demo::text(BASE).replace("T. Marlow", "Rene\u{301} Nguye\u{302}\u{303}n");
    assert_eq!(demo::read(&text).patient.name, "René Nguyễn");
}

#[test]
fn the_normalised_file_reads_back_as_the_same_case() {
    for path in demo::files() {
        let case = demo::read(&std::fs::read_to_string(path).unwrap());
        let text = case::normalised(&case);
        let again = demo::read(&text);
        assert_eq!(case::normalised(&again), text);
        assert_eq!(again.head, case.head);
        assert_eq!(again.referral, case.referral);
        assert_eq!(again.history, case.history);
        assert_eq!(again.motion, case.motion);
        assert_eq!(again.overrides, case.overrides);
        assert_eq!(again.wear, case.wear);
        // Lengths are written in whole hundredths of a micrometre or so; every printed figure agrees.
        let figures = |case| Figures::of(case, &calc::plan(case)).to_json();
        assert_eq!(figures(&again), figures(&case));
    }
}

/// What was tried, what is lost and when the need is looked at again: as written, in their order.
#[test]
fn what_was_tried_and_what_is_lost_are_read() {
    let referral = demo::case("orchard-lane-new-loop").referral;
    let tried: Vec<&str> = referral.tried.iter().map(|it| it.result.as_str()).collect();
    assert_eq!(tried[0], "Flexion stayed at 20 degrees");
    assert_eq!((tried.len(), referral.function.len()), (2, 3));
    assert_eq!(referral.function[1], "Carry shopping in the right hand");
    assert_eq!(referral.recheck, Some(jiff::civil::date(2026, 7, 2)));
    let plain = demo::case(BASE).referral;
    assert!(plain.tried.is_empty() && plain.function.is_empty() && plain.recheck.is_none());
}

/// Sheet and pattern with every key set, none at its default.
#[test]
fn sheet_and_pattern_survive_the_normalised_file() {
    let keys = [(
        "sheet: { thickness: 3.2 mm }",
        "sheet: { thickness: 3.2 mm, length: 62 cm, width: 455 mm, \
          margin: 8 mm, grain: lengthwise }\n  pattern: { gap: 12 mm, opening: 3.5 cm, wrap_from: thumb, \
          draping_stretch: STRETCH, corner: 9 mm, finger_room: 4 mm, forearm_straps: [ 33 mm, 19.5 cm ] }",
    )];
    for stretch in ["0 %", "3 %", "7%", "2.35 %", "14.1 %", "20 %"] {
        let case = demo::read(&demo::edited(BASE, &keys).replacen("STRETCH", stretch, 1));
        let text = case::normalised(&case);
        let again = demo::read(&text);
        assert_eq!(case::normalised(&again), text);
        assert_eq!(again.orthosis, case.orthosis, "{stretch}");
        let percent: f64 = stretch.trim_end_matches([' ', '%']).parse().unwrap();
        assert!((again.orthosis.cut.draping_stretch - percent / 100.0).abs() < 1e-12);
        assert_eq!(again.orthosis.cut.wrap, Wrap::Thumb);
        assert_eq!(again.orthosis.sheet.grain, Grain::Lengthwise);
        assert!((again.orthosis.sheet.length - Length::mm(620.0)).abs() < Length::mm(1e-9));
        assert_eq!(again.orthosis.cut.forearm_straps, Some([Length::mm(33.0), Length::mm(195.0)]));
    }
}

/// The second reader, independent of ours, reads each demo case; every value it finds must stand in
/// the normalised case under the same keys, quantities in mm and N.
#[test]
fn both_readers_agree() {
    for path in demo::files() {
        let text = std::fs::read_to_string(&path).unwrap();
        let theirs: Value = serde_yaml::from_str(&text).unwrap();
        let ours: Value = serde_yaml::from_str(&case::normalised(&demo::read(&text))).unwrap();
        let mut compared = 0;
        agree(&path.display().to_string(), &theirs, &ours, &mut compared);
        // The short case has few.
        assert!(compared > 35, "{}: only {compared} values", path.display());
    }
}

fn agree(at: &str, theirs: &Value, ours: &Value, compared: &mut usize) {
    match theirs {
        Value::Mapping(keys) => {
            for (key, value) in keys {
                let name = key.as_str().unwrap();
                // Left out of the normalised file where it is the default.
                if name == "page" && value.as_str() == Some("letter") {
                    continue;
                }
                agree(&format!("{at} {name}"), value, &ours[name], compared);
            }
        }
        Value::Sequence(items) => {
            assert_eq!(Some(items.len()), ours.as_sequence().map(Vec::len), "{at}");
            for (index, item) in items.iter().enumerate() {
                agree(&format!("{at}[{index}]"), item, &ours[index], compared);
            }
        }
        leaf => {
            *compared += 1;
            match (measured(leaf), measured(ours)) {
                (Some(one), Some(other)) => assert!((one - other).abs() < 1e-6, "{at}"),
                (None, None) => assert_eq!(words(leaf), words(ours), "{at}"),
                _ => panic!("{at}: {leaf:?} and {ours:?}"),
            }
        }
    }
}

/// A number, or a quantity in mm or N, reckoned here from the units' definitions.
fn measured(value: &Value) -> Option<f64> {
    if let Some(number) = value.as_f64() {
        return Some(number);
    }
    let (number, unit) = value.as_str()?.split_once(' ')?;
    let factor = match unit {
        "mm" | "N" => 1.0,
        "cm" => 10.0,
        "in" => 25.4,
        "kgf" => 9.806_65,
        "lbf" => 0.453_592_37 * 9.806_65,
        _ => return None,
    };
    Some(number.parse::<f64>().ok()? * factor)
}

fn words(value: &Value) -> String {
    value.as_str().map_or_else(|| format!("{value:?}"), str::to_owned)
}

/// What is written in another way is offered in the reader's, where it can mean one thing alone; nothing is read so.
#[test]
fn what_was_meant_is_offered() {
    let lengths = [
        ("8,2 cm", Some("8.2 cm")),
        ("82 MM", Some("82 mm")),
        ("82 millimeters", Some("82 mm")),
        ("8.2 Centimetres", Some("8.2 cm")),
        ("3.25 inches", Some("3.25 in")),
        ("3 1/4 in.", Some("3.25 in")),
        ("3-3/16\\\"", Some("3.1875 in")),
        ("1/0 in", None),
        ("82 foot", None),
        ("about 82 mm", None),
    ];
    let forces =
        [("11 newton", Some("11 N")), ("2,5 lbs", Some("2.5 lbf")), ("1 kg", Some("1 kgf"))];
    // Two orders of a day are in use: only what fits one of them is offered.
    let days = [
        ("13.4.2026", Some("2026-04-13")),
        ("04/13/2026", Some("2026-04-13")),
        ("2026-4-13", Some("2026-04-13")),
        ("2026/04/13", Some("2026-04-13")),
        ("April 13, 2026", Some("2026-04-13")),
        ("13 Apr 2026", Some("2026-04-13")),
        ("4/4/2026", Some("2026-04-04")),
        ("04/05/2026", None),
        ("31 April 2026", None),
        ("13/14/2026", None),
        ("last Monday", None),
    ];
    let text = demo::text("quarry-bend-left-flexion");
    let check = |old: &str, key: &str, read: &str, meant: Option<&str>| {
        assert!(text.contains(old), "{old}");
        let new = text.replacen(old, &format!("{key}: \"{read}\""), 1);
        let unsound = case::read(new.as_bytes()).expect_err(read);
        let own = |it: &&case::Fault| it.kind.key().is_some_and(|it| it.ends_with(key));
        let cure = unsound.faults.iter().find(own).expect("a fault of the key").kind.cure();
        match meant {
            Some(meant) => assert_eq!(cure, format!("did you mean `{meant}`?"), "{read}"),
            None => assert!(!cure.contains("did you mean"), "{read}: {cure}"),
        }
    };
    for (read, meant) in lengths {
        check("hand_breadth: 82 mm", "hand_breadth", read, meant);
    }
    for (read, meant) in days {
        check("prepared: 2026-04-13", "prepared", read, meant);
    }
    for (read, meant) in forces {
        check("force: 6 N", "force", read, meant);
    }
}

/// A tab at the start of a line is told as what it is, on its line.
#[test]
fn a_tab_is_told_where_it_stands() {
    for old in ["  hand_breadth: 82 mm", "  hand_length: 18.4 cm", "  weeks"] {
        let text = demo::text("quarry-bend-left-flexion");
        let line = text.lines().position(|it| it.starts_with(old)).unwrap() as u64 + 1;
        let new = text.replacen(old, &format!("\t{}", old.trim_start()), 1);
        let unsound = case::read(new.as_bytes()).expect_err("a tab");
        let [fault] = &unsound.faults[..] else { panic!("{:?}", unsound.faults) };
        assert!(fault.kind.sentence().contains("a tab stands"), "{}", fault.kind.sentence());
        assert_eq!(fault.place.line, line, "{old}");
    }
}
