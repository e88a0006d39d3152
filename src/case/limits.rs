//! How much skin, line and tab may bear, and how stretchy and rough the line is.
//!
//! Every value is a field with a default; where a default is ours or from memory, the papers say so.

use super::bounds;
use super::fields::{Form, group, list};
use super::forms::{length, out_of_bounds, refuse, with_unit};
use super::quantity::{Written, number};
use super::shape::{Shape, Span};
use crate::units::{Force, Length, Pressure};

/// Plan: the trade's guideline of 50 gf/cm² (from memory; nearly the measured arteriolar pressure
/// in a nail fold, Williams SA et al. Clin Sci 1988;74:507-512).
pub const SKIN_PLAN: Pressure = Pressure::kpa(4.9);
/// Warn: the lowest pressure that halved blood flow in the skin of the hand (Johansson L, Hagg G,
/// Fischer T. Eur J Appl Physiol 2002;86:394-400).
pub const SKIN_WARN: Pressure = Pressure::kpa(15.0);
/// Stop: where flow fell by 85 % in the same study; muscle of rats died above 32 kPa within the hour
/// (Linder-Ganz E et al. J Biomech 2006;39:2725-32).
pub const SKIN_STOP: Pressure = Pressure::kpa(30.0);
/// Limits of skin, line and tab.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Limits {
    /// Skin: plan at or under this; nothing where the default holds.
    pub skin_plan: Option<Pressure>,
    /// Skin: go on with care up to this.
    pub skin_warn: Option<Pressure>,
    /// Skin: stop above this.
    pub skin_stop: Option<Pressure>,
    /// Share of the line's strength that a crimp keeps.
    pub crimp_efficiency: f64,
    /// Share of the line's strength that is left when it is wet.
    pub wet_strength: f64,
    /// Safety factor of the line.
    pub line_safety: f64,
    /// Shear strength of the hook-and-loop, worn.
    pub hook_shear: Pressure,
    /// Safety factor of the tab.
    pub hook_safety: f64,
    /// Young's modulus of the line.
    pub line_modulus: Pressure,
    /// Friction of the line on an edge of the pieces.
    pub friction: f64,
}

impl Default for Limits {
    fn default() -> Self {
        Self {
            skin_plan: None,
            skin_warn: None,
            skin_stop: None,
            // Good-looking crimps failed at 40 % in practitioners' tests: the worst case.
            crimp_efficiency: 0.4,
            // 85 to 90 % of dry, from memory.
            wet_strength: 0.85,
            // No published figure for orthoses; at least 5 is our proposal.
            line_safety: 5.0,
            // 7 N/cm² of woven nylon tape, from memory, halved for wear; ASTM D5169 is the test.
            hook_shear: Pressure::kpa(35.0),
            // Ours.
            hook_safety: 3.0,
            // Drawn nylon 2 to 4 GPa, from memory; the low end stretches most.
            line_modulus: Pressure::kpa(2.0e6),
            // Nothing found for nylon on thermoplastic; 0.2 to 0.3 is assumed.
            friction: 0.25,
        }
    }
}

/// What the clinic has on the shelf.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Stock {
    /// Lines, in file order.
    pub lines: Vec<StockLine>,
    /// Widths of hook tape, in file order.
    pub hook_widths: Vec<Length>,
}

/// A line on the shelf.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StockLine {
    /// Its diameter.
    pub diameter: Length,
    /// Its breaking strength.
    pub strength: Force,
}

pub(super) fn limits() -> Form<Limits> {
    group(|f| {
        let usual = Limits::default();
        let skin_plan = f.may("skin_plan", skin());
        let skin_warn = f.may("skin_warn", skin());
        let skin_stop = f.may("skin_stop", skin());
        let crimp_efficiency = f.may("crimp_efficiency", factor(0.1, 1.0));
        let wet_strength = f.may("wet_strength", factor(0.3, 1.0));
        let line_safety = f.may("line_safety", factor(1.0, 20.0));
        let hook_shear = f.may("hook_shear", pressure("0.5 N/cm2 to 40 N/cm2", 5.0, 400.0));
        let hook_safety = f.may("hook_safety", factor(1.0, 20.0));
        let line_modulus = f.may("line_modulus", pressure("0.1 GPa to 200 GPa", 1e5, 2e8));
        let friction = f.may("friction", factor(0.0, 1.0));
        Some(Limits {
            skin_plan,
            skin_warn,
            skin_stop,
            crimp_efficiency: crimp_efficiency.unwrap_or(usual.crimp_efficiency),
            wet_strength: wet_strength.unwrap_or(usual.wet_strength),
            line_safety: line_safety.unwrap_or(usual.line_safety),
            hook_shear: hook_shear.unwrap_or(usual.hook_shear),
            hook_safety: hook_safety.unwrap_or(usual.hook_safety),
            line_modulus: line_modulus.unwrap_or(usual.line_modulus),
            friction: friction.unwrap_or(usual.friction),
        })
    })
}

/// A pressure on skin: at most 50 kPa, above which blood flow in the skin of a hand stops
/// (Johansson L, Hagg G, Fischer T. Eur J Appl Physiol 2002;86:394-400).
fn skin() -> Form<Pressure> {
    pressure("0.5 kPa to 50 kPa", 0.5, 50.0)
}

fn pressure(bounds: &'static str, min_kpa: f64, max_kpa: f64) -> Form<Pressure> {
    const HINT: &str = "check the number and its unit";
    let ends = [Pressure::kpa(min_kpa), Pressure::kpa(max_kpa)];
    let shape =
        move || Shape::Quantity { spans: Span::of(ends), bounds: bounds.into(), hint: HINT };
    Form::new(Pressure::ACCEPTED, shape, move |field| {
        let value: Pressure = with_unit(field)?;
        // A hair of slack, since a unit conversion may miss the bound by the last bit.
        if (min_kpa * (1.0 - 1e-9)..=max_kpa * (1.0 + 1e-9)).contains(&value.to_kpa()) {
            return Some(value);
        }
        let read = field.scalar(Pressure::ACCEPTED)?.trim();
        out_of_bounds(field, read, bounds.into(), HINT)
    })
}

fn factor(min: f64, max: f64) -> Form<f64> {
    let accepted = format!("a plain number, {min} to {max}");
    Form::new(
        accepted.clone(),
        move || Shape::Number { min, max },
        move |field| {
            let read = field.scalar(&accepted)?.trim();
            match number(read) {
                Some(value) if (min..=max).contains(&value) => Some(value),
                _ => refuse(field, read, &accepted, "write the number alone, with a point"),
            }
        },
    )
}

pub(super) fn stock() -> Form<Stock> {
    fn line() -> Form<StockLine> {
        group(|f| {
            let diameter = f.need("diameter", length(bounds::LINE_DIAMETER));
            let strength = f.need("strength", super::forms::force(super::orthosis::STRENGTH_MAX));
            Some(StockLine { diameter: diameter?, strength: strength? })
        })
    }
    group(|f| {
        let lines = f.may("lines", list(line()));
        let hook_widths = f.may("hook_widths", list(length(bounds::TAB_WIDTH)));
        Some(Stock {
            lines: lines.unwrap_or_default(),
            hook_widths: hook_widths.unwrap_or_default(),
        })
    })
}
