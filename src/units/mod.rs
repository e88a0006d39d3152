//! Quantities that know their unit, and the one place where transcendental functions are called.
//!
//! Each quantity is a newtype over `f64` with constructors and readers named by unit and only the
//! operators that mean something. `f64::sin` and its kin differ in their last bits from one
//! platform to the next; [`math`] goes through `libm`, so the same case gives the same bytes.

pub mod math;
mod quantity;

pub use quantity::{Angle, AngleRate, Area, Force, Length, Pressure, Torque};
