//! Reckons a custom static progressive wrist orthosis from one case file and prints its papers.
//!
//! The storeys, lowest first; a module may use its own storey and those below:
//!
//! 1. [`units`]: quantities with units; [`sources`]: every cited work once; [`fonts`]: what prints.
//! 2. [`case`]: text → case, or every fault in it.
//! 3. [`calc`]: case → plan; pure and total.
//! 4. [`sheets`]: plan → PDF.
//! 5. [`cli`]: files and terminal.

pub mod calc;
pub mod case;
pub mod cli;
pub mod fonts;
pub mod sheets;
pub mod sources;
pub mod units;
