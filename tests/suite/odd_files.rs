//! Files that are not what a case file should be, by accident or on purpose: a fault report or a right case, never a
//! panic, and never much memory.

use tautline::calc::{self, PullPlan};
use tautline::case::{self, Case, Unsound};

use crate::cli::{Scene, run};
use crate::demo;

const BASE: &str = "quarry-bend-left-flexion";

fn utf16(text: &str, of: fn(u16) -> [u8; 2]) -> Vec<u8> {
    let units = std::iter::once(0xfeff).chain(text.encode_utf16());
    units.flat_map(of).collect()
}

/// The base case with one value changed.
fn with(value: &str) -> Vec<u8> {
    demo::edited(BASE, &[("hand_length: 18.4 cm", &format!("hand_length: {value}"))]).into_bytes()
}

/// What some bytes are read as; a case is reckoned too.
fn read(bytes: &[u8]) -> Result<Case, Unsound> {
    let case = case::read(bytes)?.case;
    let plan = calc::plan(&case);
    assert!(plan.pulls.iter().flat_map(PullPlan::marks).all(|it| it.place.to_mm().is_finite()));
    Ok(case)
}

/// How a file would end a line, begin, or be stored; all of them are the case that they hold.
#[test]
fn other_ways_to_store_a_case_are_read() {
    let text = demo::text(BASE);
    let case = demo::case(BASE);
    for (what, bytes) in [
        ("carriage returns and line feeds", text.replace('\n', "\r\n").into_bytes()),
        ("a byte-order mark", format!("\u{feff}{text}").into_bytes()),
        ("a document's start", format!("---\n{text}").into_bytes()),
        ("a document's end", format!("{text}...\n").into_bytes()),
        ("no last line end", text.trim_end().as_bytes().to_vec()),
        ("a megabyte of remarks less a little", {
            format!("{text}{}", "# a remark that says nothing\n".repeat(30_000)).into_bytes()
        }),
    ] {
        assert_eq!(
            read(&bytes).unwrap_or_else(|it| panic!("{what}: {:?}", it.faults)),
            case,
            "{what}"
        );
    }
}

/// Bytes and characters that have no business in a case file.
#[test]
fn odd_bytes_are_faults() {
    let text = demo::text(BASE);
    let inside = |bytes: &[u8]| {
        let (head, tail) = text.split_once("T. Marlow").unwrap();
        [head.as_bytes(), bytes, tail.as_bytes()].concat()
    };
    for (what, bytes) in [
        ("UTF-16, little end first", utf16(&text, u16::to_le_bytes)),
        ("UTF-16, big end first", utf16(&text, u16::to_be_bytes)),
        ("a NUL", inside(b"T.\0Marlow")),
        ("a lone surrogate", inside(b"T. \xed\xa0\x80Marlow")),
        ("an escaped lone surrogate", inside(br#""T. \ud800 Marlow""#)),
        ("an overlong slash", inside(b"T. \xc0\xaf Marlow")),
        ("a cut-off letter", inside(b"T. Marl\xc3")),
        ("an escape to the terminal", inside(b"T. \x1b[2J Marlow")),
        ("a tab in a name", inside(br#""T.\tMarlow""#)),
        ("a letter that turns the text round", inside("T. \u{202e}Marlow".as_bytes())),
        ("nothing", Vec::new()),
        ("a byte-order mark alone", "\u{feff}".into()),
        ("zeros", vec![0; 4096]),
        ("tabs for indents", text.replace("\n  ", "\n\t").into_bytes()),
        ("two documents", format!("{text}---\n{text}").into_bytes()),
        ("a PDF", b"%PDF-1.7\n%\xe2\xe3\xcf\xd3\n1 0 obj\n".to_vec()),
    ] {
        let unsound = read(&bytes).expect_err(what);
        assert!(!unsound.faults.is_empty(), "{what}");
    }
}

/// YAML that grows, nests or stands for something else.
#[test]
fn yaml_that_does_more_than_hold_values_is_refused() {
    let text = demo::text(BASE);
    let laughs = (1..12).fold("l0: &l0 [ha, ha]\n".to_owned(), |bomb, it| {
        let before = it - 1;
        bomb + &format!("l{it}: &l{it} [{}]\n", vec![format!("*l{before}"); 10].join(", "))
    });
    let nested = (0..1000).map(|it| format!("{}a:\n", " ".repeat(it))).collect::<String>();
    for (what, odd) in [
        ("an alias bomb", laughs.clone()),
        ("an alias bomb behind a case", format!("{text}{laughs}")),
        ("an alias to itself", "a: &a [*a]\n".into()),
        ("lists 10,000 deep", format!("{text}x: {}{}\n", "[".repeat(10_000), "]".repeat(10_000))),
        ("groups 10,000 deep", format!("x: {}\n", "{a: ".repeat(10_000))),
        ("groups 1,000 deep by indents", nested),
        ("a key twice", format!("{text}wear: {{ weeks: 3 }}\n")),
        ("a merge key", text.replace("patient:\n", "patient:\n  <<: { name: X }\n")),
        ("a tag of a program", text.replace("T. Marlow", "!!python/object/apply:os.system [ls]")),
        ("100,000 keys", (0..100_000).map(|it| format!("k{it}: 1\n")).collect()),
        ("a key of a megabyte", format!("{}: 1\n", "k".repeat(1_000_000))),
        ("a value of a megabyte", text.replace("T. Marlow", &"T".repeat(900_000))),
        ("a line of quotes", "\"".repeat(100_001)),
        ("a line of dashes", "- ".repeat(50_000)),
        ("a newer YAML", format!("%YAML 9.9\n---\n{text}")),
    ] {
        // On a small stack, as in a thread, deep nesting must not overflow either.
        let odd = odd.into_bytes();
        let worker =
            std::thread::Builder::new().stack_size(2 << 20).spawn(move || read(&odd).err());
        let unsound = worker.unwrap().join().unwrap_or_else(|_| panic!("{what}: a panic"));
        let faults = unsound.unwrap_or_else(|| panic!("{what} is read as a case")).faults;
        assert!(!faults.is_empty(), "{what}");
    }
}

/// Numbers that a length cannot have.
#[test]
fn odd_numbers_are_faults() {
    for value in [
        ".nan",
        ".inf",
        "-.inf",
        "nan mm",
        "inf mm",
        "1e308 mm",
        "1e309 mm",
        "-1e308 mm",
        "0 mm",
        "-0 mm",
        "-188 mm",
        "1e-308 mm",
        "0x7f mm",
        "0o17 mm",
        "1_000 mm",
        "1,000 mm",
        "18.8.8 cm",
        "18,8,8 cm",
        "18.8 cm cm",
        "18.8",
        "cm",
        "18.8 сm",
        "１８ cm",
        "99999999999999999999999999999999 mm",
        "1/2 in",
        "+-18 cm",
        "18.8 cm 3 mm",
    ] {
        let unsound = read(&with(value)).expect_err(value);
        assert_eq!(unsound.faults.len(), 1, "{value}: {:?}", unsound.faults);
    }
    // The same checks let a right one through.
    read(&with("188 mm")).unwrap();
}

/// A bomb of a megabyte and a file of 50 MB within 200 MB of address space.
#[cfg(target_os = "linux")]
#[test]
fn odd_files_take_little_memory() {
    let scene = Scene::new();
    let deep = "[".repeat(1_000_000);
    let aliases = format!("a: &a [{}]\nb: [{}]\n", "x, ".repeat(100_000), "*a, ".repeat(100_000));
    scene.write("deep.yaml", deep.as_bytes());
    scene.write("aliases.yaml", aliases.as_bytes());
    scene.write("large.yaml", &vec![b'#'; 50 << 20]);
    scene.write("case.yaml", demo::text(BASE).as_bytes());
    for (file, code) in [("deep.yaml", 2), ("aliases.yaml", 2), ("large.yaml", 3), ("case.yaml", 0)]
    {
        let line = "ulimit -v 204800; exec \"$0\" check \"$1\"";
        let output = std::process::Command::new("sh")
            .args(["-c", line, env!("CARGO_BIN_EXE_tautline"), file])
            .current_dir(scene.path(""))
            .output()
            .unwrap();
        let told = String::from_utf8_lossy(&output.stderr);
        let start: String = told.chars().take(400).collect();
        assert_eq!(output.status.code(), Some(code), "{file}: {start}");
    }
    assert_eq!(run(&scene, &["check", "large.yaml"]).code, 3);
}
