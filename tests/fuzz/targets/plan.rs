//! A demo case with any bytes put over a part of it, read and reckoned: every mark finite and in rising order.

#![no_main]

use libfuzzer_sys::fuzz_target;
use tautline::{calc, case};

const CASES: [&[u8]; 3] = [
    include_bytes!("../../../demo-cases/quarry-bend-left-flexion.yaml"),
    include_bytes!("../../../demo-cases/kiln-both-ways.yaml"),
    include_bytes!("../../../demo-cases/orchard-lane-new-loop.yaml"),
];

fuzz_target!(|input: (u8, u16, u8, &[u8])| {
    let (which, at, length, patch) = input;
    let case = CASES[usize::from(which) % CASES.len()];
    let from = usize::from(at) % case.len();
    let to = (from + usize::from(length)).min(case.len());
    let text = [&case[..from], patch, &case[to..]].concat();
    let Ok(sound) = case::read(&text) else { return };
    let plan = calc::plan(&sound.case);
    for made in plan.pulls.iter().flat_map(|it| &it.loops) {
        assert!(made.marks.iter().all(|it| it.place.to_mm().is_finite()));
        assert!(made.marks.windows(2).all(|pair| pair[0].place < pair[1].place));
    }
});
