//! Nothing lies off the paper: office printers leave some millimetres at each edge white.

use crate::demo;
use crate::papers::{Printed, all, typeset};
use crate::pdf::Pdf;

/// Lasers leave up to 6 mm white (common practice, no source); 2 mm more for paper that lies askew.
const WHITE: f64 = 8.0;

/// Every start and end of a line of text and every corner of a drawing keeps the white edge.
fn keeps_the_edge(printed: &Printed) {
    let pdf = Pdf::read(&printed.bytes);
    for index in 0..pdf.page_count() {
        let (width, height) = pdf.page_size_mm(index);
        let drawn = pdf.drawn(index);
        let name = format!("{} page {}", printed.name, index + 1);
        assert!(drawn.texts.len() > 10, "{name}: {} texts", drawn.texts.len());
        let ends = drawn.texts.iter().flat_map(|(from, to)| [from, to]);
        let strokes = drawn.strokes.iter().flat_map(|it| [&it.from, &it.to]);
        for (x, y) in ends.chain(strokes).chain(&drawn.corners) {
            let inside =
                (WHITE..=width - WHITE).contains(x) && (WHITE..=height - WHITE).contains(y);
            assert!(inside, "{name}: something at {x:.1}, {y:.1} mm of {width:.0} × {height:.0}");
        }
    }
}

#[test]
fn nothing_of_a_demo_lies_in_the_white_edge() {
    all().iter().for_each(keeps_the_edge);
}

/// The longest names, and as much of everything as a case can hold, still keep the edge.
#[test]
fn nothing_of_a_crowded_case_lies_in_the_white_edge() {
    let long = "Maximiliana-Theodora Wolkenstein-Fitzgerald von und zu Niederachern am See 12345";
    assert_eq!(long.chars().count(), 80);
    let mut text = demo::text("kiln-both-ways");
    for (from, to) in [
        ("name: Wren Halloran", format!("name: {long}")),
        ("name: Kiln Yard Hand Unit", format!("name: {long}")),
        ("phone: 555-0126", "phone: 555-0126 extension 1234567".into()),
        ("therapist: Teodora Ilić, OT", format!("therapist: {long}")),
        ("id: KY-118", format!("id: {}", "KY-118.".repeat(5))),
        ("conditions: []", "conditions: [diabetes, blood_thinners, nerve_compression]".into()),
    ] {
        assert!(text.contains(from), "{from}");
        text = text.replacen(from, &to, 1);
    }
    typeset("crowded", &text).iter().for_each(keeps_the_edge);
}

/// A step a day for eight weeks: the schedule goes on overleaf and not off the page.
#[test]
fn nothing_of_a_long_schedule_lies_in_the_white_edge() {
    typeset("long schedule", &demo::long_schedule()).iter().for_each(keeps_the_edge);
}

/// The reader of text knows how far a line runs: the two rows of the header end at one place.
#[test]
fn text_is_measured_to_its_end() {
    for printed in all() {
        let mut texts = Pdf::read(&printed.bytes).drawn(0).texts;
        texts.sort_by(|one, other| other.0.1.total_cmp(&one.0.1));
        let rows: Vec<f64> = texts
            .chunk_by(|one, next| (one.0.1 - next.0.1).abs() < 0.1)
            .map(|row| row.iter().map(|it| it.1.0).fold(0.0, f64::max))
            .collect();
        assert!((rows[0] - rows[1]).abs() < 0.05, "{}: {:?}", printed.name, &rows[..2]);
    }
}
