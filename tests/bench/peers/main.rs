//! The same three papers' words and tables made with general libraries from the Python index, side by side with the program:
//! `cargo bench --bench peers`. It installs them below `target/tools` and needs `pdfinfo` (poppler).

use std::process::Command;

fn main() {
    let script = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/bench/peers/run.sh");
    let status = Command::new(script).arg(env!("CARGO_BIN_EXE_tautline")).status();
    assert!(status.expect("a shell").success(), "the comparison failed");
}
