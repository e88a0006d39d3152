//! Papers on disk: whole or as they were, whatever stands in the way or stops the program; for their owner's eyes.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;
use std::process::{Command, Stdio};
use std::thread::sleep;
use std::time::{Duration, Instant};

use lopdf::{Document, Object};

use crate::cli::{Scene, run};
use crate::demo;
use crate::pdf::Pdf;

const BASE: &str = "quarry-bend-left-flexion";
/// Two papers that are typeset fast.
const QUICK: [&str; 6] = ["print", "case.yaml", "--only", "labels", "--only", "pattern"];

fn scene() -> Scene {
    let scene = Scene::new();
    scene.write("case.yaml", demo::text(BASE).as_bytes());
    scene
}

/// Every file of a folder with its bytes.
fn files(folder: &Path) -> BTreeMap<String, Vec<u8>> {
    let Ok(entries) = fs::read_dir(folder) else { return BTreeMap::new() };
    let one = |it: fs::DirEntry| {
        (it.file_name().into_string().unwrap(), fs::read(it.path()).unwrap_or_default())
    };
    entries.map(|it| one(it.unwrap())).collect()
}

/// What tautline did not write for this case and paper stays, and so does all that goes with it.
#[test]
fn a_strange_file_is_not_overwritten() {
    let scene = scene();
    fs::create_dir(scene.path("papers")).unwrap();
    scene.write("papers/QB-2207-labels.pdf", b"%PDF-1.7 a letter of the clinic");
    let done = run(&scene, &QUICK);
    assert_eq!(done.code, 3);
    for part in ["QB-2207-labels.pdf: not written by tautline", "--replace", "stay as they were"] {
        assert!(done.stderr.contains(part), "`{part}` in {}", done.stderr);
    }
    let kept = files(&scene.path("papers"));
    assert_eq!(kept.len(), 1, "{:?}", kept.keys());
    assert_eq!(kept["QB-2207-labels.pdf"], b"%PDF-1.7 a letter of the clinic");
    let done = run(&scene, &[&QUICK[..], &["--replace"]].concat());
    assert_eq!(done.code, 0, "{}", done.stderr);
    assert!(Document::load(scene.path("papers/QB-2207-labels.pdf")).is_ok());
}

/// What cannot be read may be anybody's: a link that leads back to itself, like a file without the right to read it.
#[cfg(unix)]
#[test]
fn what_cannot_be_read_is_not_overwritten() {
    let scene = scene();
    fs::create_dir(scene.path("papers")).unwrap();
    let place = scene.path("papers/QB-2207-labels.pdf");
    std::os::unix::fs::symlink("QB-2207-labels.pdf", &place).unwrap();
    let done = run(&scene, &QUICK);
    assert_eq!(done.code, 3);
    assert!(done.stderr.contains("QB-2207-labels.pdf: not written by tautline"), "{}", done.stderr);
    // Even where it may be replaced: what cannot be kept cannot be put back.
    let done = run(&scene, &[&QUICK[..], &["--replace"]].concat());
    assert_eq!(done.code, 3);
    assert!(fs::symlink_metadata(&place).unwrap().is_symlink());
    assert_eq!(fs::read_dir(scene.path("papers")).unwrap().count(), 1);
}

/// A paper of another case, or another paper of this one, under the wanted name is strange too; an older print of
/// the same paper is not, whatever changed in the case.
#[test]
fn only_the_same_paper_of_the_same_case_is_replaced() {
    let scene = scene();
    assert_eq!(run(&scene, &QUICK).code, 0);
    let labels = scene.path("papers/QB-2207-labels.pdf");
    let old = fs::read(&labels).unwrap();
    scene.write("case.yaml", demo::text(BASE).replace("T. Marlow", "U. Marlow").as_bytes());
    assert_eq!(run(&scene, &QUICK).code, 0);
    assert_ne!(fs::read(&labels).unwrap(), old);
    fs::copy(scene.path("papers/QB-2207-pattern.pdf"), &labels).unwrap();
    assert_eq!(run(&scene, &QUICK).code, 3);
    scene.write("case.yaml", demo::text(BASE).replace("QB-2207", "QB-9").as_bytes());
    assert_eq!(run(&scene, &QUICK).code, 0);
    fs::write(&labels, &old).unwrap();
    fs::copy(&labels, scene.path("papers/QB-9-labels.pdf")).unwrap();
    assert_eq!(run(&scene, &QUICK).code, 3);
}

/// Killed at any moment of a reprint, every paper in its place is whole, the old one or the new one. The moments are spread
/// over a little more than a whole run takes here and now.
#[test]
fn a_kill_at_any_moment_leaves_whole_papers() {
    let scene = scene();
    let begun = Instant::now();
    assert_eq!(run(&scene, &QUICK).code, 0);
    let whole_run = begun.elapsed();
    let names = ["Ada", "Bo"].map(|it| demo::text(BASE).replace("T. Marlow", it));
    let (mut killed, mut done) = (0, 0);
    for turn in 0..100_u32 {
        scene.write("case.yaml", names[turn as usize % 2].as_bytes());
        let mut child = Command::new(env!("CARGO_BIN_EXE_tautline"))
            .args(QUICK)
            .current_dir(scene.path(""))
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .spawn()
            .unwrap();
        // Steps of the golden section reach every moment and repeat none.
        let share = (f64::from(turn) * 0.618_034).fract();
        sleep(whole_run.mul_f64(share * 1.3));
        // A process that is done already cannot be killed; its papers count all the same.
        let _ = child.kill();
        if child.wait().unwrap().success() {
            done += 1;
        } else {
            killed += 1;
        }
        let papers = files(&scene.path("papers"));
        let papers: Vec<_> = papers.iter().filter(|it| !it.0.starts_with('.')).collect();
        assert_eq!(papers.len(), 2, "no paper is ever missing");
        for (name, bytes) in papers {
            let pdf = Document::load_mem(bytes).unwrap_or_else(|it| panic!("{name}: {it}"));
            assert!(!pdf.get_pages().is_empty(), "{name}");
        }
    }
    assert!(killed > 0 && done > 0, "{killed} killed, {done} done");
}

/// What a killed run left beside its papers is taken away by a later one; what is young may be another run's.
#[test]
fn scraps_of_a_killed_run_are_swept() {
    let scene = scene();
    fs::create_dir(scene.path("papers")).unwrap();
    for name in [".tautline-old.part", ".tautline-new.part", "old.part"] {
        scene.write(&format!("papers/{name}"), b"half a paper");
    }
    let long_ago = std::time::SystemTime::now() - Duration::from_hours(2);
    for name in [".tautline-old.part", "old.part"] {
        let file = fs::File::options().write(true).open(scene.path("papers").join(name)).unwrap();
        file.set_modified(long_ago).unwrap();
    }
    assert_eq!(run(&scene, &QUICK).code, 0);
    let left: Vec<String> = files(&scene.path("papers")).into_keys().collect();
    assert_eq!(
        left,
        [".tautline-new.part", "QB-2207-labels.pdf", "QB-2207-pattern.pdf", "old.part"]
    );
}

/// A disk that takes no more: the old papers stay, byte for byte, and the report says why.
#[cfg(unix)]
#[test]
fn a_full_disk_loses_nothing() {
    let scene = scene();
    assert_eq!(run(&scene, &QUICK).code, 0);
    let old = files(&scene.path("papers"));
    scene.write("case.yaml", demo::text(BASE).replace("T. Marlow", "U. Marlow").as_bytes());
    // No file may grow past 8 blocks of 512 bytes: writing fails as on a full disk.
    let line = "trap '' XFSZ; ulimit -f 8; exec \"$0\" \"$@\"";
    let output = Command::new("sh")
        .args(["-c", line, env!("CARGO_BIN_EXE_tautline")])
        .args(QUICK)
        .current_dir(scene.path(""))
        .output()
        .unwrap();
    let told = String::from_utf8(output.stderr).unwrap();
    assert_eq!(output.status.code(), Some(3), "{told}");
    assert!(told.contains("cannot write") && told.contains("stay as they were"), "{told}");
    assert_eq!(files(&scene.path("papers")), old);
}

/// The last paper cannot take its place when the one before it has: that one goes back to what it was, and a place
/// that was free is free again.
#[cfg(unix)]
#[test]
fn a_packet_that_fails_half_way_is_taken_back() {
    let scene = scene();
    assert_eq!(run(&scene, &QUICK).code, 0);
    // What stands under the last name is too large to be kept for the way back; the new papers are not.
    scene.write("papers/QB-2207-labels.pdf", &vec![b'%'; 4 << 20]);
    scene.write("case.yaml", demo::text(BASE).replace("T. Marlow", "U. Marlow").as_bytes());
    let print = || {
        let line = "trap '' XFSZ; ulimit -f 4096; exec \"$0\" \"$@\"";
        let output = Command::new("sh")
            .args(["-c", line, env!("CARGO_BIN_EXE_tautline")])
            .args(QUICK)
            .arg("--replace")
            .current_dir(scene.path(""))
            .output()
            .unwrap();
        let told = String::from_utf8(output.stderr).unwrap();
        assert_eq!(output.status.code(), Some(3), "{told}");
        assert!(
            told.contains("QB-2207-labels.pdf") && told.contains("stay as they were"),
            "{told}"
        );
    };
    let old = files(&scene.path("papers"));
    print();
    assert_eq!(files(&scene.path("papers")), old);
    fs::remove_file(scene.path("papers/QB-2207-pattern.pdf")).unwrap();
    print();
    assert_eq!(
        files(&scene.path("papers")).into_keys().collect::<Vec<_>>(),
        ["QB-2207-labels.pdf"]
    );
    // Without what stood in the way the same packet goes in whole: it was the way back that failed, no paper.
    fs::remove_file(scene.path("papers/QB-2207-labels.pdf")).unwrap();
    let done = run(&scene, &QUICK);
    assert_eq!((done.code, files(&scene.path("papers")).len()), (0, 2), "{}", done.stderr);
}

/// A folder that cannot be made or written into.
#[cfg(target_os = "linux")]
#[test]
fn a_folder_that_takes_no_files_is_told() {
    let done = run(&scene(), &[&QUICK[..], &["--out", "/proc/papers"]].concat());
    assert_eq!(done.code, 3);
    assert!(done.stderr.contains("cannot make the folder /proc/papers"), "{}", done.stderr);
}

#[cfg(unix)]
#[test]
fn papers_are_for_their_owners_eyes() {
    use std::os::unix::fs::PermissionsExt;
    let scene = scene();
    assert_eq!(run(&scene, &QUICK).code, 0);
    for name in files(&scene.path("papers")).keys() {
        let mode = fs::metadata(scene.path("papers").join(name)).unwrap().permissions().mode();
        assert_eq!(mode & 0o777, 0o600, "{name}");
    }
}

/// File names carry the case id, and what a viewer shows of a file before it is opened carries no name.
#[test]
fn no_name_stands_in_file_names_and_metadata() {
    let scene = scene();
    assert_eq!(run(&scene, &["print", "case.yaml"]).code, 0);
    let files = files(&scene.path("papers"));
    assert_eq!(files.len(), 7);
    for (name, bytes) in files {
        assert!(name.starts_with("QB-2207-") && !name.contains("Marlow"), "{name}");
        let pdf = Pdf::read(&bytes);
        assert!(!pdf.metadata().contains("Marlow"), "{name}: {}", pdf.metadata());
        let info = pdf.document().trailer.get(b"Info").and_then(Object::as_reference);
        let info = pdf.document().get_dictionary(info.unwrap()).unwrap();
        assert!(!format!("{info:?}").contains("Marlow"), "{name}");
    }
}

/// With initials no paper holds the name, not even in what is read aloud.
#[test]
fn initials_stand_for_the_name_on_every_paper() {
    let scene = scene();
    let name = "Amadou B. van der Keita-Sørensen";
    scene.write("case.yaml", demo::text(BASE).replace("T. Marlow", name).as_bytes());
    assert_eq!(run(&scene, &["print", "case.yaml", "--initials"]).code, 0);
    for (file, bytes) in files(&scene.path("papers")) {
        let pdf = Pdf::read(&bytes);
        let all = format!("{}{}{}", pdf.text(), pdf.strings().concat(), pdf.metadata());
        for part in ["Amadou", "Keita", "rensen"] {
            assert!(!all.contains(part), "{file}: {part}");
        }
        if !file.contains("pattern") && !file.contains("labels") {
            assert!(pdf.text().contains("A. B. V. D. K.-S."), "{file}");
        }
    }
    let done = run(&scene, &["print", "case.yaml", "--initials", "--attach"]);
    assert_eq!(done.code, 2, "{}", done.stderr);
    assert!(done.stderr.contains("cannot be used with"), "{}", done.stderr);
}

/// A sealed paper opens with its password alone, keeps its pages and tags, and holds nothing to read without it.
#[test]
fn a_sealed_paper_opens_with_its_password_alone() {
    let scene = scene();
    scene.write("word.txt", "grauer Kiesel 7\nsecond line\n".as_bytes());
    assert_eq!(run(&scene, &QUICK).code, 0);
    let open = Pdf::read(&fs::read(scene.path("papers/QB-2207-labels.pdf")).unwrap());
    // A sealed print replaces an open one, and the other way round.
    let sealed = [&QUICK[..], &["--seal-from", "word.txt"]].concat();
    for arguments in [&sealed[..], &sealed, &QUICK, &sealed] {
        let done = run(&scene, arguments);
        assert_eq!(done.code, 0, "{}", done.stderr);
    }
    let bytes = fs::read(scene.path("papers/QB-2207-labels.pdf")).unwrap();
    assert!(!bytes.windows(7).any(|it| it == b"QB-2207"));
    let with = |word: &str| {
        Document::load_mem_with_options(&bytes, lopdf::LoadOptions::with_password(word))
    };
    assert!(with("grauer Kiesel 8").is_err());
    let opened = with("grauer Kiesel 7").unwrap();
    assert_eq!(opened.get_pages().len(), open.page_count());
    assert!(opened.catalog().unwrap().has(b"StructTreeRoot"));
    let text = opened.extract_text(&[1]).unwrap();
    assert_eq!(text.trim(), open.document().extract_text(&[1]).unwrap().trim());
}

#[test]
fn a_seal_without_a_password_prints_nothing() {
    let scene = scene();
    scene.write("short.txt", b"seven77\n");
    scene.write("tab.txt", b"seven\t7777\n");
    for (arguments, part) in [
        (&["--seal"][..], "there is no terminal to ask for the password"),
        (&["--seal-from", "absent.txt"], "cannot read absent.txt"),
        (&["--seal-from", "short.txt"], "short.txt: the password needs at least 8 characters"),
        (&["--seal-from", "tab.txt"], "control character"),
    ] {
        let done = run(&scene, &[&QUICK[..], arguments].concat());
        assert_eq!(done.code, 3, "{}", done.stderr);
        assert!(done.stderr.contains(part), "`{part}` in {}", done.stderr);
        assert!(done.stderr.contains("nothing was printed"), "{}", done.stderr);
        assert_eq!(files(&scene.path("papers")).len(), 0);
    }
}
