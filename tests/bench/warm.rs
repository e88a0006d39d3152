//! The program warm: one process, one core, the work of each storey and of each paper.

use std::hint::black_box;

use divan::Bencher;
use tautline::calc::{self, Plan};
use tautline::case::{self, Case, PageSize};
use tautline::sheets::{self, Paper};

fn main() {
    divan::main();
}

const DEMO: &str = include_str!("../../demo-cases/quarry-bend-left-flexion.yaml");

/// Patients who differ in name and limb: what was laid out for one is no help with the next.
const PATIENTS: usize = 24;

fn patient(number: usize) -> Case {
    let text = DEMO
        .replace("T. Marlow", &format!("Patient {number}"))
        .replace("forearm_length: 24.5 cm", &format!("forearm_length: {} mm", 235 + number))
        .replace(
            "wrist_depth: 40 mm",
            &format!("wrist_depth: {}.{} mm", 38 + number / 10, number % 10),
        );
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

#[divan::bench(args = Paper::ALL.map(Paper::name))]
fn paper(bencher: Bencher<'_, '_>, name: &str) {
    let paper = Paper::ALL.into_iter().find(|it| it.name() == name).expect("a paper's name");
    let all: Vec<(Case, Plan)> = (0..PATIENTS)
        .map(|number| {
            let case = patient(number);
            let plan = calc::plan(&case);
            (case, plan)
        })
        .collect();
    let mut next = all.iter().cycle();
    bencher.bench_local(|| {
        let (case, plan) = next.next().expect("a cycle");
        sheets::typeset(&[paper], case, plan, PageSize::Letter)
    });
}
