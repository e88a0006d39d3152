//! Pictures: upright, small, on white, without what a camera wrote into them; only from below the case file's folder.

use std::fs;
use std::io::Cursor;

use image::{DynamicImage, GrayImage, ImageFormat, Luma, Rgb, RgbImage, Rgba, RgbaImage};
use page_validation::{ValidationOptions, ValidationProfile, validate_pdf_bytes};
use tautline::case::{self, Kind};
use tautline::sheets::{Use, ready};

use crate::cli::{Scene, run};
use crate::demo;
use crate::pdf::Pdf;

const BASE: &str = "quarry-bend-left-flexion";
const SECRET: &[u8] = b"51.4778 N 0.0014 W, 4 Garden Steps";

/// Twice as wide as high, red at the left.
fn picture() -> DynamicImage {
    let half = |x: u32, _| if x < 40 { Rgb([200, 20, 20]) } else { Rgb([20, 20, 200]) };
    DynamicImage::ImageRgb8(RgbImage::from_fn(80, 40, half))
}

fn saved(image: &DynamicImage, format: ImageFormat) -> Vec<u8> {
    let mut bytes = Cursor::new(Vec::new());
    image.write_to(&mut bytes, format).unwrap();
    bytes.into_inner()
}

/// A JPEG as a phone saves it: which way up, and where it was taken (Exif 2.32, JEITA CP-3451, from memory: tags 0x0112
/// and 0x8825, and in the latter's directory 0x001b, the name of the place).
fn from_a_phone(orientation: u16) -> Vec<u8> {
    let entry = |tag: u16, kind: u16, count: u32, value: u32| {
        let (tag, kind) = (tag.to_le_bytes(), kind.to_le_bytes());
        [&tag[..], &kind, &count.to_le_bytes(), &value.to_le_bytes()].concat()
    };
    let secret = u32::try_from(SECRET.len()).unwrap();
    // The first directory ends at byte 38, the second at 56.
    let tiff = [
        b"II*\0\x08\0\0\0",
        &2_u16.to_le_bytes()[..],
        &entry(0x0112, 3, 1, u32::from(orientation)),
        &entry(0x8825, 4, 1, 38),
        &[0; 4],
        &1_u16.to_le_bytes(),
        &entry(0x001b, 7, secret, 56),
        &[0; 4],
        SECRET,
    ]
    .concat();
    let exif = [b"Exif\0\0", &tiff[..]].concat();
    let length = u16::try_from(exif.len() + 2).unwrap().to_be_bytes();
    let plain = saved(&picture(), ImageFormat::Jpeg);
    [&plain[..2], b"\xff\xe1", &length, &exif, &plain[2..]].concat()
}

fn holds(bytes: &[u8], part: &[u8]) -> bool {
    bytes.windows(part.len()).any(|it| it == part)
}

/// Exif's eight ways up: 1 as it is, 3 upside down, 6 and 8 on a side; where the red half then lies.
#[test]
fn photos_are_turned_upright() {
    for (orientation, size, red) in [
        (1, (80, 40), (10, 20)),
        (3, (80, 40), (70, 20)),
        (6, (40, 80), (20, 10)),
        (8, (40, 80), (20, 70)),
    ] {
        let upright =
            image::load_from_memory(&ready(&from_a_phone(orientation), Use::Photo).unwrap())
                .unwrap();
        assert_eq!((upright.width(), upright.height()), size, "{orientation}");
        let Rgb([r, _, b]) = *upright.to_rgb8().get_pixel(red.0, red.1);
        assert!(r > 150 && b < 90, "{orientation}: {r} {b}");
    }
}

#[test]
fn what_a_camera_wrote_is_left_out() {
    let taken = from_a_phone(6);
    assert!(holds(&taken, SECRET));
    for what in [Use::Photo, Use::Logo] {
        let bytes = ready(&taken, what).unwrap();
        assert!(!holds(&bytes, SECRET) && !holds(&bytes, b"Exif"), "{what:?}");
    }
}

#[test]
fn every_kind_is_read_and_made_small() {
    let large = DynamicImage::ImageRgb8(RgbImage::from_pixel(1600, 1200, Rgb([90, 120, 60])));
    for format in [ImageFormat::Png, ImageFormat::Jpeg, ImageFormat::WebP] {
        let photo =
            image::load_from_memory(&ready(&saved(&large, format), Use::Photo).unwrap()).unwrap();
        assert_eq!((photo.width(), photo.height()), (567, 425), "{format:?}");
        let small = image::load_from_memory(&ready(&saved(&picture(), format), Use::Logo).unwrap())
            .unwrap();
        assert_eq!((small.width(), small.height()), (80, 40), "{format:?}");
    }
    // What lets light through lies on white paper.
    let clear = DynamicImage::ImageRgba8(RgbaImage::from_pixel(4, 4, Rgba([0, 0, 0, 128])));
    let logo = ready(&saved(&clear, ImageFormat::Png), Use::Logo).unwrap();
    assert_eq!(
        *image::load_from_memory(&logo).unwrap().to_rgb8().get_pixel(1, 1),
        Rgb([127, 127, 127])
    );
}

/// CRC-32 of PNG (ISO/IEC 15948:2004, annex D).
fn crc(bytes: &[u8]) -> u32 {
    !bytes.iter().fold(!0, |crc, byte| {
        (0..8).fold(crc ^ u32::from(*byte), |it, _| {
            (it >> 1) ^ (0xedb8_8320 & (it & 1).wrapping_neg())
        })
    })
}

/// A PNG that says it is so large and holds nothing.
fn bomb(side: u32) -> Vec<u8> {
    let chunk = |name: &[u8], data: &[u8]| {
        let named = [name, data].concat();
        let length = u32::try_from(data.len()).unwrap().to_be_bytes();
        [&length[..], &named, &crc(&named).to_be_bytes()].concat()
    };
    let head = [&side.to_be_bytes()[..], &side.to_be_bytes(), &[8, 2, 0, 0, 0]].concat();
    [
        &b"\x89PNG\r\n\x1a\n"[..],
        &chunk(b"IHDR", &head),
        &chunk(b"IDAT", &[0x78, 0x9c]),
        &chunk(b"IEND", &[]),
    ]
    .concat()
}

#[test]
fn bombs_and_damage_are_refused() {
    let refused = |bytes: &[u8]| ready(bytes, Use::Photo).expect_err("a fault").to_string();
    for side in [5_000, 19_000, 50_000, 2_000_000_000] {
        let why = refused(&bomb(side));
        assert!(why.contains("million pixels") || why.contains("damaged"), "{side}: {why}");
    }
    assert!(refused(&bomb(5_000)).contains("more than 24 million pixels"));
    assert!(refused(&bomb(100)).contains("damaged"));
    let many = DynamicImage::ImageLuma8(GrayImage::from_pixel(6_000, 4_001, Luma([7])));
    assert!(refused(&saved(&many, ImageFormat::Png)).contains("more than 24 million pixels"));
    let whole = saved(&picture(), ImageFormat::Png);
    assert!(refused(&whole[..whole.len() / 2]).contains("damaged"));
    for stranger in [
        &b""[..],
        b"GIF89a\x01\0\x01\0\0\0\0;",
        b"<svg xmlns='http://www.w3.org/2000/svg'/>",
        b"BM\x3a\0",
    ] {
        assert!(refused(stranger).contains("no PNG, JPEG or WebP"), "{stranger:?}");
    }
}

fn with_pictures(logo: &str, photos: &str) -> String {
    let logo = format!("  phone: 555-0142\n  logo: {logo}");
    demo::edited(BASE, &[("  phone: 555-0142", &logo)]) + &format!("photos: [ {photos} ]\n")
}

#[test]
fn a_picture_lies_beside_the_case_or_below() {
    for file in [
        "../logo.png",
        "photos/../../logo.png",
        "/etc/logo.png",
        "~/logo.png",
        "'C:/logo.png'",
        "'file:logo.png'",
        "'photos\\logo.png'",
        "photos//logo.png",
        "./logo.png",
        "logo.gif",
        "logo",
        "logo.png.exe",
        "'photos /logo.png'",
        "''",
        &format!("{}.png", "x".repeat(200)),
    ] {
        let unsound = case::read(with_pictures(file, "").as_bytes()).expect_err(file);
        let [fault] = &unsound.faults[..] else { panic!("{file}: {:?}", unsound.faults) };
        assert!(
            matches!(&fault.kind, Kind::NotAccepted { key, .. } if key == "clinic.logo"),
            "{file}: {fault:?}"
        );
    }
    let five = ["{ file: a.jpg, shows: x }"; 5].join(", ");
    let unsound = case::read(with_pictures("logo.png", &five).as_bytes()).expect_err("five photos");
    assert_eq!(unsound.faults.len(), 1);
    let sound = case::read(
        with_pictures("logo.png", "{ file: photos/Vorn.JPG, shows: Palm side }").as_bytes(),
    )
    .unwrap();
    assert_eq!(sound.case.photos[0].file, "photos/Vorn.JPG");
    let again = case::read(case::normalised(&sound.case).as_bytes()).unwrap();
    assert_eq!(again.case, sound.case);
}

/// Logo and photos on paper: named, conforming, without the place where a photo was taken.
#[test]
fn pictures_stand_on_the_papers() {
    let scene = Scene::new();
    fs::create_dir(scene.path("photos")).unwrap();
    scene.write("photos/palm.jpg", &from_a_phone(6));
    scene.write("photos/back.webp", &saved(&picture(), ImageFormat::WebP));
    scene.write("logo.png", &saved(&picture(), ImageFormat::Png));
    let photos = "{ file: photos/palm.jpg, shows: Palm side of the cuff }, { file: photos/back.webp, shows: Back }";
    scene.write("case.yaml", with_pictures("logo.png", photos).as_bytes());
    assert_eq!(run(&scene, &["check", "case.yaml"]).code, 0);
    let done = run(&scene, &["print", "case.yaml"]);
    assert_eq!(done.code, 0, "{}", done.stderr);
    for paper in ["handout", "card", "summary", "brief", "workings", "pattern", "labels"] {
        let bytes = fs::read(scene.path(&format!("papers/QB-2207-{paper}.pdf"))).unwrap();
        let pdf = Pdf::read(&bytes);
        let images = pdf.document().objects.values().filter_map(|it| it.as_stream().ok());
        let images = images.filter(|it| {
            it.dict.get(b"Subtype").is_ok_and(|it| it.as_name().is_ok_and(|it| it == b"Image"))
        });
        let wanted = if paper == "summary" { 3 } else { 1 };
        assert_eq!(images.clone().count(), wanted, "{paper}");
        for image in images {
            assert!(!holds(&image.content, SECRET) && !holds(&image.content, b"Exif"), "{paper}");
        }
        assert!(!holds(&bytes, SECRET), "{paper}");
        for profile in [ValidationProfile::PdfUa1, ValidationProfile::PdfA2a] {
            let report =
                validate_pdf_bytes(&bytes, &ValidationOptions::default().profile(profile)).unwrap();
            let broken: Vec<String> = report.failures.iter().map(|it| it.rule_id.clone()).collect();
            let broken: Vec<&String> =
                broken.iter().filter(|it| !it.ends_with(":6.1.7.1:1")).collect();
            assert!(broken.is_empty(), "{paper} {profile:?}: {broken:?}");
        }
    }
    let summary = Pdf::read(&fs::read(scene.path("papers/QB-2207-summary.pdf")).unwrap());
    assert!(summary.text().contains("Palm side of the cuff"));
    assert!(
        summary.strings().iter().any(|it| it == "Palm side of the cuff"),
        "as words read aloud"
    );
    assert!(summary.page_count() <= 4, "{}", summary.page_count());
}

/// A picture that is not there, is none or lies elsewhere: every one is told, and nothing is printed.
#[test]
fn a_picture_that_cannot_be_had_stops_the_print() {
    let scene = Scene::new();
    scene.write("secret.jpg", &saved(&picture(), ImageFormat::Jpeg));
    fs::create_dir(scene.path("ward")).unwrap();
    fs::create_dir(scene.path("ward/folder.png")).unwrap();
    scene.write("ward/text.png", b"no picture at all");
    #[cfg(unix)]
    std::os::unix::fs::symlink("../secret.jpg", scene.path("ward/link.jpg")).unwrap();
    let photos = "{ file: text.png, shows: a }, { file: link.jpg, shows: b }, { file: folder.png, shows: c }";
    scene.write("ward/case.yaml", with_pictures("absent.png", photos).as_bytes());
    for command in ["print", "check"] {
        let done = run(&scene, &[command, "ward/case.yaml"]);
        assert_eq!(done.code, 3, "{}", done.stderr);
        for part in [
            "`clinic.logo`, absent.png: there is no such file",
            "`photos[1].file`, text.png: it is no PNG, JPEG or WebP picture",
            "`photos[2].file`, link.jpg: a link leads out of the case file's folder",
            "`photos[3].file`, folder.png: it is no file",
        ] {
            assert!(
                cfg!(not(unix)) && part.contains("link") || done.stderr.contains(part),
                "`{part}` in {}",
                done.stderr
            );
        }
    }
    assert!(!scene.path("papers").exists());
}
