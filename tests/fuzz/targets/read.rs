//! Any bytes through the reader: a case or at least one fault, each with a place in the file.

#![no_main]

use libfuzzer_sys::fuzz_target;
use tautline::case;

fuzz_target!(|bytes: &[u8]| {
    if let Err(unsound) = case::read(bytes) {
        assert!(!unsound.faults.is_empty());
        assert!(unsound.faults.iter().all(|it| it.place.line > 0 && it.place.column > 0));
    }
});
