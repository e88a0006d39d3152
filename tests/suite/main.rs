//! The suite: one binary, so that the typesetter is linked once; data in folders beside it.
//!
//! `README.md` beside this folder says how to run a part of it and how to renew references.

#![expect(unreachable_pub, reason = "helpers are shared between the modules of one binary")]

mod anthropometry;
mod as_built;
mod attach;
mod bench;
mod better;
mod boxes;
mod brief;
mod checker;
mod cli;
mod contract;
mod course;
mod course_findings;
mod demo;
mod donning;
mod doubted;
mod estimates;
mod faults;
mod figure;
mod glyphs;
mod handout;
mod hostile;
mod in_use;
mod ink;
mod labels;
mod lanes;
mod length;
mod limbs;
mod line;
mod load;
mod margins;
mod names;
mod outlines;
mod own_words;
mod packets;
mod papers;
mod pattern;
mod pdf;
mod precautions;
mod prose;
mod quads;
mod readability;
mod reading;
mod shapes;
mod spread;
mod stand_ins;
mod storeys;
mod stretch;
mod structure;
mod summary;
mod survives;
mod syllables;
mod tags;
mod tidy;
mod tiles;
mod tree;
mod trend;
mod true_size;
mod variants;
mod visits;
mod wear;
mod words;
mod worked;
