//! What gives first: the largest torque that every limit allows, and which limit it is.

use super::geometry::Geometry;
use super::line::TautLine;
use super::load::{Load, load};
use crate::case::{Case, Limits, SKIN_PLAN, SKIN_STOP, SKIN_WARN, Sensation, Skin};
use crate::units::{Force, Pressure, Torque};

/// Something that gives.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Limit {
    /// Skin under the cuff.
    Cuff,
    /// Skin under the forearm piece.
    Forearm,
    /// Skin behind the elbow.
    Elbow,
    /// The line at its crimp.
    Line,
    /// The tab on the strip.
    Tab,
}

impl Limit {
    /// All of them.
    pub const ALL: [Self; 5] = [Self::Cuff, Self::Forearm, Self::Elbow, Self::Line, Self::Tab];
}

/// What skin, line and tab may bear in one case.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Allowed {
    /// Skin: plan at or under this.
    pub skin_plan: Pressure,
    /// Skin: with care up to this.
    pub skin_warn: Pressure,
    /// Skin: stop above this.
    pub skin_stop: Pressure,
    /// Whether the skin limits were lowered for sensation or skin.
    pub is_lowered: bool,
    /// Each strand, safety factor included; nothing where the line's strength is not known.
    pub strand: Option<Force>,
    /// Each strand, wet at its crimp, before it breaks.
    pub strand_breaks: Option<Force>,
    /// Shear on the tab, safety factor included.
    pub tab: Pressure,
}

/// Skin that is fragile, or that cannot warn, is planned for half as much (ours).
const LOWERED: f64 = 0.5;

impl Allowed {
    /// The limits of a case for a line of known strength.
    #[must_use]
    pub fn of(case: &Case, strength: Option<Force>) -> Self {
        let limits = &case.limits;
        let is_lowered = case.sensation() != Sensation::Normal || case.history.skin != Skin::Intact;
        let factor = if is_lowered { LOWERED } else { 1.0 };
        let skin = |own: Option<Pressure>, usual: Pressure| own.unwrap_or(usual * factor);
        let breaks = strength.map(|it| it * limits.crimp_efficiency * limits.wet_strength);
        Self {
            skin_plan: skin(limits.skin_plan, SKIN_PLAN),
            skin_warn: skin(limits.skin_warn, SKIN_WARN),
            skin_stop: skin(limits.skin_stop, SKIN_STOP),
            is_lowered,
            strand: breaks.map(|it| it / limits.line_safety),
            strand_breaks: breaks,
            tab: tab(limits),
        }
    }

    /// How much of a limit a load uses: 1 is all of it. Skin counts against the plan value. Nothing
    /// where the limit is not known.
    #[must_use]
    pub fn use_of(&self, limit: Limit, load: &Load) -> Option<f64> {
        Some(match limit {
            Limit::Cuff => load.cuff.peak / self.skin_plan,
            Limit::Forearm => load.forearm.peak / self.skin_plan,
            Limit::Elbow => load.elbow / self.skin_plan,
            Limit::Line => load.strand / self.strand?,
            Limit::Tab => load.tab / self.tab,
        })
    }
}

/// Shear that the tab may bear: strength of the worn tape over its safety factor.
#[must_use]
pub fn tab(limits: &Limits) -> Pressure {
    limits.hook_shear / limits.hook_safety
}

/// The largest torque that every limit allows at a mark.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ceiling {
    /// The torque.
    pub torque: Torque,
    /// The tension then.
    pub tension: Force,
    /// Which limit it is.
    pub limit: Limit,
}

/// The ceiling at a mark. Every load grows in step with the torque, so the limit that is used most
/// at 1 N·m gives first: τ = 1 N·m / (largest use).
#[must_use]
pub fn ceiling(geometry: &Geometry, line: &TautLine, allowed: &Allowed) -> Option<Ceiling> {
    let one = Torque::newton_metres(1.0);
    let unit = load(geometry, line, one)?;
    let (limit, used) = Limit::ALL
        .into_iter()
        .filter_map(|limit| Some((limit, allowed.use_of(limit, &unit)?)))
        .max_by(|one, other| one.1.total_cmp(&other.1))?;
    Some(Ceiling { torque: one / used, tension: unit.tension / used, limit })
}
