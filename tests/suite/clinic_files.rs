//! The clinic's profile on disk: where it may lie, what lies beside it, the papers, and what is seen of a change.

use std::fs;
#[cfg(unix)]
use std::process::Command;

use crate::cli::{Done, Scene, run};
use crate::clinic::{WHOLE, bare, inline, text, with};
use crate::demo;
#[cfg(unix)]
use crate::running::Running;

/// A folder `clinic/ward/` for the case, so that there are folders above it.
fn scene(naming: &str) -> Scene {
    let scene = Scene::new();
    fs::create_dir_all(scene.path("clinic/ward/below")).unwrap();
    scene.write(
        "clinic/ward/case.yaml",
        text(&with(bare(), "clinic.profile", naming.into())).as_bytes(),
    );
    scene
}

/// The profile's text without its logo, which is no picture here.
fn no_logo() -> String {
    WHOLE.replace("  logo: logo.png\n", "")
}

fn check(scene: &Scene) -> Done {
    run(scene, &["check", "clinic/ward/case.yaml"])
}

#[test]
fn a_profile_lies_beside_the_case_below_or_one_folder_up() {
    for (naming, place) in [
        ("weir.yaml", "clinic/ward/weir.yaml"),
        ("below/weir.yml", "clinic/ward/below/weir.yml"),
        ("../weir.yaml", "clinic/weir.yaml"),
        ("../ward/weir.yaml", "clinic/ward/weir.yaml"),
    ] {
        let scene = scene(naming);
        scene.write(place, no_logo().as_bytes());
        let done = check(&scene);
        assert_eq!(done.code, 0, "{}", done.stderr);
        let told = format!(
            "clinic/ward/case.yaml: from the clinic's profile clinic/ward/{naming}: clinic.name, clinic.phone, \
             clinic.therapist, clinic.page, case.language, "
        );
        assert!(done.stderr.contains(&told), "{}", done.stderr);
    }
    for (naming, cure) in [
        ("/etc/weir.yaml", "Write the way from the folder of this file"),
        ("~/weir.yaml", "Write the way from the folder of this file"),
        ("C:/weir.yaml", "Write the way from the folder of this file"),
        ("../../weir.yaml", "Put it at most one folder up"),
        ("below/../weir.yaml", "Put it at most one folder up"),
        ("below\\weir.yaml", "Part folders by `/`"),
        ("weir", "Write the whole name of a file that ends in `.yaml`"),
        ("./weir.yaml", "Write folder and file names with one `/` between them"),
        (
            "absent.yaml",
            "Cannot read clinic/ward/absent.yaml: there is no such file or folder; put the profile there",
        ),
    ] {
        let done = check(&scene(naming));
        assert_eq!(done.code, 2, "{naming}");
        assert!(
            done.stderr.contains(&format!("`clinic.profile` reads `{naming}`.")),
            "{}",
            done.stderr
        );
        assert!(done.stderr.contains(cure), "{naming}: {}", done.stderr);
        assert!(done.stderr.contains(": 1 fault;"), "{}", done.stderr);
    }
    let scene = scene("folder.yaml");
    fs::create_dir(scene.path("clinic/ward/folder.yaml")).unwrap();
    let done = check(&scene);
    assert!(done.code == 2 && done.stderr.contains("it is a folder"), "{}", done.stderr);
}

/// A link may lead to the folder above, and no further.
#[cfg(unix)]
#[test]
fn a_link_out_is_not_followed() {
    let scene = scene("weir.yaml");
    scene.write("clinic/own.yaml", no_logo().as_bytes());
    scene.write("out.yaml", no_logo().as_bytes());
    let link = scene.path("clinic/ward/weir.yaml");
    std::os::unix::fs::symlink(scene.path("clinic/own.yaml"), &link).unwrap();
    assert_eq!(check(&scene).code, 0);
    fs::remove_file(&link).unwrap();
    std::os::unix::fs::symlink(scene.path("out.yaml"), &link).unwrap();
    let done = check(&scene);
    assert_eq!(done.code, 2);
    assert!(done.stderr.contains("is a link out of the folder above"), "{}", done.stderr);
}

/// The same papers to the byte, whichever way the clinic's data come: in the case, named by it, or by `--clinic`.
#[test]
fn papers_are_the_same_to_the_byte() {
    let scene = scene("../weir.yaml");
    scene.write("clinic/weir.yaml", no_logo().as_bytes());
    let mut whole = inline();
    whole["clinic"].as_mapping_mut().unwrap().remove("logo");
    scene.write("inline.yaml", text(&whole).as_bytes());
    scene.write("none.yaml", text(&bare()).as_bytes());
    let print = |case: &str, more: &[&str], out: &str| {
        let done = run(&scene, &[&["print", case, "--attach", "--out", out], more].concat());
        assert_eq!(done.code, 0, "{}", done.stderr);
        done.stdout.lines().map(|it| fs::read(scene.path(it)).unwrap()).collect::<Vec<_>>()
    };
    let wanted = print("inline.yaml", &[], "a");
    assert_eq!(wanted.len(), 7);
    assert!(print("clinic/ward/case.yaml", &[], "b") == wanted);
    assert!(print("none.yaml", &["--clinic", "clinic/weir.yaml"], "c") == wanted);
    // The file given stands in place of the one named.
    scene.write("other.yaml", no_logo().replace("555-0171", "555-0188").as_bytes());
    let done =
        run(&scene, &["check", "--normalised", "clinic/ward/case.yaml", "--clinic", "other.yaml"]);
    assert!(done.stdout.contains("phone: 555-0188"), "{}{}", done.stdout, done.stderr);
    let figures = |more: &[&str]| run(&scene, &[&["figures", "--json"], more].concat()).stdout;
    assert_eq!(figures(&["none.yaml", "--clinic", "clinic/weir.yaml"]), figures(&["inline.yaml"]));
    let absent = run(&scene, &["figures", "none.yaml", "--clinic", "absent.yaml"]);
    assert!(
        absent.code == 3 && absent.stderr.contains("cannot read absent.yaml"),
        "{}",
        absent.stderr
    );
}

/// Logo and words lie beside the profile; a change of any of them is seen.
#[test]
fn what_lies_beside_the_profile_is_found_and_its_changes_are_seen() {
    let scene = scene("../weir.yaml");
    let picture = |shade: u8| {
        let mut bytes = std::io::Cursor::new(Vec::new());
        image::RgbImage::from_pixel(20, 10, image::Rgb([shade, 90, 90]))
            .write_to(&mut bytes, image::ImageFormat::Png)
            .unwrap();
        bytes.into_inner()
    };
    scene.write("clinic/logo.png", &picture(10));
    let words =
        |points: &str| format!("language: es\nhandout:\n  care:\n    points:\n      - {points}\n");
    scene.write("clinic/own.yaml", words("Lávela con agua.").as_bytes());
    scene.write("clinic/weir.yaml", format!("{WHOLE}words: own.yaml\n").as_bytes());
    let print = || {
        let done =
            run(&scene, &["print", "clinic/ward", "--only", "handout", "--only-changed", "--json"]);
        assert!(!done.stderr.contains("passed over"), "{}", done.stderr);
        let line: serde_json::Value =
            serde_json::from_str(done.stdout.lines().next().unwrap()).unwrap();
        line["outcome"].as_str().unwrap().to_owned()
    };
    assert_eq!(print(), "printed");
    assert_eq!(print(), "up to date");
    scene.write(
        "clinic/weir.yaml",
        format!("# another remark\n{WHOLE}words: own.yaml\n").as_bytes(),
    );
    assert_eq!(print(), "up to date", "a remark changes no paper");
    let renamed = WHOLE.replace("555-0171", "555-0172");
    scene.write("clinic/weir.yaml", format!("{renamed}words: own.yaml\n").as_bytes());
    assert_eq!(print(), "printed");
    scene.write("clinic/own.yaml", words("Lávela con agua fría.").as_bytes());
    assert_eq!(print(), "printed");
    scene.write("clinic/logo.png", &picture(200));
    assert_eq!(print(), "printed");
    assert_eq!(print(), "up to date");
    // Words given with the call stand in place of the profile's.
    let normal = fs::read(scene.path("papers/SM-0418-handout.pdf")).unwrap();
    scene.write("given.yaml", words("Otra cosa.").as_bytes());
    run(&scene, &["print", "clinic/ward", "--only", "handout", "--words", "given.yaml"]);
    assert!(fs::read(scene.path("papers/SM-0418-handout.pdf")).unwrap() != normal);
    fs::remove_file(scene.path("clinic/logo.png")).unwrap();
    scene.write("clinic/own.yaml", b"language: es\nhandout: 3\n");
    let done = check(&scene);
    assert!(
        done.stderr.contains("clinic/ward/../own.yaml:2:10: `handout` holds"),
        "{}",
        done.stderr
    );
    assert_eq!(done.code, 2);
}

/// In a folder a profile and its words are no case; one that no case names is told.
#[test]
fn a_profile_among_the_cases_is_passed_over_in_silence() {
    let scene = scene("weir.yaml");
    scene.write("clinic/ward/weir.yaml", format!("{}words: own.yaml\n", no_logo()).as_bytes());
    scene.write("clinic/ward/own.yaml", b"language: es\n");
    let print = || run(&scene, &["print", "clinic", "--only", "brief"]);
    let done = print();
    assert_eq!(done.code, 0, "{}", done.stderr);
    assert!(!done.stderr.contains("passed over"), "{}", done.stderr);
    scene.write("clinic/ward/left.yaml", no_logo().as_bytes());
    let told = print().stderr;
    assert_eq!(told.matches("passed over").count(), 1, "{told}");
    assert!(told.contains("clinic/ward/left.yaml: no `case:` in it"), "{told}");
}

/// The demo: a case, its profile and the words that this names.
#[test]
fn the_demo_case_with_a_profile_reads_well() {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/demo-cases/quarry-bend");
    let path = format!("{folder}/stonemason.yaml");
    let done = run(&Scene::new(), &["check", &path]);
    assert_eq!(done.code, 0, "{}", done.stderr);
    assert!(done.stderr.contains(
        "quarry-bend.yaml: clinic.name, clinic.phone, clinic.page, orthosis.sheet.thickness, measuring_error.raters, \
         stock.lines, stock.hook_widths, words (quarry-bend-words.yaml)\n"
    ));
    let normalised = run(&Scene::new(), &["check", "--normalised", &path]).stdout;
    assert_eq!(demo::read(&normalised).clinic.therapist, "Jonah Brandvold, OTR/L");
}

/// Watching sees a save of the profile, also one that mends a fault in it.
#[cfg(unix)]
#[test]
fn watching_sees_the_profile() {
    let scene = scene("../weir.yaml");
    let save = |text: &str| scene.write("clinic/weir.yaml", text.as_bytes());
    save(&no_logo());
    let mut child = Running::start(
        Command::new(env!("CARGO_BIN_EXE_tautline"))
            .args(["print", "clinic/ward/case.yaml", "--json", "--watch", "--only", "brief"])
            .current_dir(scene.path("")),
    );
    assert_eq!(child.json()["outcome"], "printed");
    save(&no_logo().replace("phone: 555-0171", "fone: 555-0171"));
    let faulty = child.json();
    assert_eq!(faulty["outcome"], "faulty");
    assert!(faulty["told"].to_string().contains("`clinic.fone` is not a key"), "{faulty}");
    save(&no_logo().replace("Weir Street Hand Rooms", "Weir Street Rooms"));
    assert_eq!(child.json()["outcome"], "printed");
    child.interrupt();
    assert_eq!(child.end().1, Some(0));
}
