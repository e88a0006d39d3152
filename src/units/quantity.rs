//! The quantities themselves.

use std::ops::{Add, Div, Mul, Neg, Sub};

/// Newtons in one kilogram-force. Exact by definition; 9.80665 m/s².
const NEWTONS_PER_KGF: f64 = 9.806_65;
/// Newtons in one pound-force. Exact: 0.453 592 37 kg · 9.80665 m/s².
const NEWTONS_PER_LBF: f64 = 4.448_221_615_260_5;
/// Kilopascals in one millimetre of mercury.
const KPA_PER_MMHG: f64 = 0.133_322_387_415;
/// Millimetres in one inch. Exact since 1959.
const MM_PER_INCH: f64 = 25.4;

macro_rules! quantity {
    ($(#[$doc:meta])* $name:ident) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Default)]
        pub struct $name(f64);

        impl $name {
            /// Nothing of this quantity.
            pub const ZERO: Self = Self(0.0);

            /// The size without its sign.
            #[must_use]
            pub fn abs(self) -> Self {
                Self(self.0.abs())
            }

            /// The smaller of two.
            #[must_use]
            pub fn min(self, other: Self) -> Self {
                Self(self.0.min(other.0))
            }

            /// The larger of two.
            #[must_use]
            pub fn max(self, other: Self) -> Self {
                Self(self.0.max(other.0))
            }

            /// Orders two finite values.
            #[must_use]
            pub fn total_cmp(&self, other: &Self) -> std::cmp::Ordering {
                self.0.total_cmp(&other.0)
            }
        }

        impl Add for $name {
            type Output = Self;
            fn add(self, other: Self) -> Self {
                Self(self.0 + other.0)
            }
        }

        impl Sub for $name {
            type Output = Self;
            fn sub(self, other: Self) -> Self {
                Self(self.0 - other.0)
            }
        }

        impl Neg for $name {
            type Output = Self;
            fn neg(self) -> Self {
                Self(-self.0)
            }
        }

        impl Mul<f64> for $name {
            type Output = Self;
            fn mul(self, factor: f64) -> Self {
                Self(self.0 * factor)
            }
        }

        impl Div<f64> for $name {
            type Output = Self;
            fn div(self, divisor: f64) -> Self {
                Self(self.0 / divisor)
            }
        }

        impl Div for $name {
            type Output = f64;
            fn div(self, other: Self) -> f64 {
                self.0 / other.0
            }
        }
    };
}

quantity! {
    /// A length. Base unit millimetre.
    Length
}
quantity! {
    /// A plane angle. Base unit radian; positive toward the pull where a wrist is meant.
    Angle
}
quantity! {
    /// An angle gained in a time. Base unit radian per week.
    AngleRate
}
quantity! {
    /// A force. Base unit newton.
    Force
}
quantity! {
    /// A torque. Base unit newton metre. Torques about different points are not told apart.
    Torque
}
quantity! {
    /// A pressure. Base unit kilopascal.
    Pressure
}
quantity! {
    /// An area. Base unit square millimetre.
    Area
}

impl Length {
    /// From millimetres.
    #[must_use]
    pub const fn mm(value: f64) -> Self {
        Self(value)
    }

    /// From centimetres.
    #[must_use]
    pub const fn cm(value: f64) -> Self {
        Self(value * 10.0)
    }

    /// From inches; 1 in = 25.4 mm.
    #[must_use]
    pub const fn inches(value: f64) -> Self {
        Self(value * MM_PER_INCH)
    }

    /// In millimetres.
    #[must_use]
    pub const fn to_mm(self) -> f64 {
        self.0
    }

    /// In centimetres.
    #[must_use]
    pub const fn to_cm(self) -> f64 {
        self.0 / 10.0
    }
}

impl Angle {
    /// From degrees.
    #[must_use]
    pub const fn degrees(value: f64) -> Self {
        Self(value.to_radians())
    }

    /// From radians.
    #[must_use]
    pub const fn radians(value: f64) -> Self {
        Self(value)
    }

    /// In degrees.
    #[must_use]
    pub const fn to_degrees(self) -> f64 {
        self.0.to_degrees()
    }

    /// In radians.
    #[must_use]
    pub const fn to_radians(self) -> f64 {
        self.0
    }
}

impl AngleRate {
    /// From degrees per week.
    #[must_use]
    pub const fn degrees_per_week(value: f64) -> Self {
        Self(value.to_radians())
    }

    /// In degrees per week.
    #[must_use]
    pub const fn to_degrees_per_week(self) -> f64 {
        self.0.to_degrees()
    }
}

impl Force {
    /// From newtons.
    #[must_use]
    pub const fn newtons(value: f64) -> Self {
        Self(value)
    }

    /// From kilograms-force; 1 kgf = 9.80665 N.
    #[must_use]
    pub const fn kgf(value: f64) -> Self {
        Self(value * NEWTONS_PER_KGF)
    }

    /// From pounds-force; 1 lbf = 4.4482216152605 N.
    #[must_use]
    pub const fn lbf(value: f64) -> Self {
        Self(value * NEWTONS_PER_LBF)
    }

    /// In newtons.
    #[must_use]
    pub const fn to_newtons(self) -> f64 {
        self.0
    }
}

impl Torque {
    /// From newton metres.
    #[must_use]
    pub const fn newton_metres(value: f64) -> Self {
        Self(value)
    }

    /// In newton metres.
    #[must_use]
    pub const fn to_newton_metres(self) -> f64 {
        self.0
    }
}

impl Pressure {
    /// From kilopascals.
    #[must_use]
    pub const fn kpa(value: f64) -> Self {
        Self(value)
    }

    /// From millimetres of mercury.
    #[must_use]
    pub const fn mmhg(value: f64) -> Self {
        Self(value * KPA_PER_MMHG)
    }

    /// In kilopascals.
    #[must_use]
    pub const fn to_kpa(self) -> f64 {
        self.0
    }

    /// In millimetres of mercury; 1 mmHg = 133.322387415 Pa.
    #[must_use]
    pub const fn to_mmhg(self) -> f64 {
        self.0 / KPA_PER_MMHG
    }
}

impl Area {
    /// From square millimetres.
    #[must_use]
    pub const fn mm2(value: f64) -> Self {
        Self(value)
    }

    /// In square millimetres.
    #[must_use]
    pub const fn to_mm2(self) -> f64 {
        self.0
    }
}

/// Length × length = area.
impl Mul for Length {
    type Output = Area;
    fn mul(self, other: Self) -> Area {
        Area(self.0 * other.0)
    }
}

/// Force × lever = torque, the lever square to the force.
impl Mul<Length> for Force {
    type Output = Torque;
    fn mul(self, lever: Length) -> Torque {
        Torque(self.0 * lever.0 / 1000.0)
    }
}

/// Torque / moment arm = force.
impl Div<Length> for Torque {
    type Output = Force;
    fn div(self, arm: Length) -> Force {
        Force(self.0 / arm.0 * 1000.0)
    }
}

/// Force / area = pressure; 1 N/mm² = 1000 kPa.
impl Div<Area> for Force {
    type Output = Pressure;
    fn div(self, area: Area) -> Pressure {
        Pressure(self.0 / area.0 * 1000.0)
    }
}
