//! The suite: one binary, data in folders beside it.

mod contract;
mod demo;
