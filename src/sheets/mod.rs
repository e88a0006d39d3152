//! Plan → PDF.
pub mod figures;
mod wording;
