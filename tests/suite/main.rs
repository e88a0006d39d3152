//! The suite: one binary, so that the typesetter is linked once; data in folders beside it.
//!
//! `README.md` beside this folder says how to run a part of it and how to renew references.

#![expect(unreachable_pub, reason = "helpers are shared between the modules of one binary")]

mod anthropometry;
mod better;
mod checker;
mod cli;
mod contract;
mod demo;
mod faults;
mod figure;
mod glyphs;
mod handout;
mod hostile;
mod labels;
mod line;
mod load;
mod margins;
mod papers;
mod pdf;
mod precautions;
mod reading;
mod spread;
mod storeys;
mod structure;
mod survives;
mod tidy;
mod tiles;
mod true_size;
mod wear;
mod worked;
