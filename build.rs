//! Tells cargo that layouts and fonts are part of the program, added files included.

fn main() {
    println!("cargo::rerun-if-changed=layouts");
    println!("cargo::rerun-if-changed=fonts");
}
