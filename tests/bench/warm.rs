//! The program warm: one process, the work of each storey, of each paper, of a packet (handout, card, summary) and of many by
//! two workers. One core (`RAYON_NUM_THREADS=1`) shows the work itself.

use std::hint::black_box;
use std::thread;

use divan::Bencher;
use divan::counter::ItemsCount;
use tautline::calc::{self, Plan};
use tautline::case::{self, Case, PageSize};
use tautline::sheets::{self, Paper};

fn main() {
    divan::main();
}

const DEMO: &str = include_str!("../../demo-cases/quarry-bend-left-flexion.yaml");

/// Patients of several clinics who differ in name, limb and stiffness; what their papers share is laid out once.
const PATIENTS: usize = 24;

fn patient(number: usize) -> Case {
    let own = [
        ("T. Marlow", format!("Patient {number}")),
        ("Quarry Bend Hand Therapy", format!("Clinic {}", number % 4)),
        ("555-0142", format!("555-01{}", 40 + number % 4)),
        ("forearm_length: 24.5 cm", format!("forearm_length: {} mm", 235 + number)),
        ("hand_length: 18.4 cm", format!("hand_length: {} mm", 180 + number % 9)),
        ("force: 11 N", format!("force: {}.{} N", 10 + number % 3, number % 10)),
        ("wrist_depth: 40 mm", format!("wrist_depth: {}.{} mm", 38 + number / 10, number % 10)),
    ];
    let text = own.iter().fold(DEMO.to_owned(), |text, (demos, own)| {
        assert!(text.contains(demos), "the demo case has no `{demos}`");
        text.replace(demos, own)
    });
    case::read(text.as_bytes()).expect("a sound case").case
}

#[divan::bench]
fn read(bencher: Bencher<'_, '_>) {
    bencher.bench(|| case::read(black_box(DEMO.as_bytes())));
}

#[divan::bench]
fn plan(bencher: Bencher<'_, '_>) {
    let case = patient(0);
    bencher.bench(|| calc::plan(black_box(&case)));
}

fn patients() -> Vec<(Case, Plan)> {
    let planned = |number| {
        let case = patient(number);
        let plan = calc::plan(&case);
        (case, plan)
    };
    (0..PATIENTS).map(planned).collect()
}

/// What a visit takes home, keeps at the bench and files.
const PACKET: [Paper; 3] = [Paper::Handout, Paper::Card, Paper::Summary];

#[divan::bench]
fn packet(bencher: Bencher<'_, '_>) {
    let all = patients();
    let mut next = all.iter().cycle();
    bencher.bench_local(|| {
        let (case, plan) = next.next().expect("a cycle");
        sheets::typeset(&PACKET, case, plan, PageSize::Letter)
    });
}

/// Each worker's own half of the patients; the counter gives packets a second.
#[divan::bench(max_time = 20)]
fn packets_by_two_workers(bencher: Bencher<'_, '_>) {
    let all = patients();
    bencher.counter(ItemsCount::new(PATIENTS)).bench_local(|| {
        thread::scope(|scope| {
            for half in all.chunks(PATIENTS / 2) {
                scope.spawn(move || {
                    for (case, plan) in half {
                        sheets::typeset(&PACKET, case, plan, PageSize::Letter).expect("a packet");
                    }
                });
            }
        });
    });
}

#[divan::bench(args = Paper::ALL.map(Paper::name))]
fn paper(bencher: Bencher<'_, '_>, name: &str) {
    let paper = Paper::ALL.into_iter().find(|it| it.name() == name).expect("a paper's name");
    let all = patients();
    let mut next = all.iter().cycle();
    bencher.bench_local(|| {
        let (case, plan) = next.next().expect("a cycle");
        sheets::typeset(&[paper], case, plan, PageSize::Letter)
    });
}
