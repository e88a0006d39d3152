//! How the orthosis is put on and taken off, drawn step by step from one build.

mod arrow;
mod cuff;
mod forearm_piece;
mod hand;
mod limb;
mod line;
mod panels;
mod pose;
mod straps;
mod view;

pub use panels::{Wearing, doffing_sequence, donning_sequence};
