//! Quantities as Rust types, for the physics floor: the compiler keeps gauge from absolute and a
//! temperature from a difference, and the formula table takes each argument's kind from here, so
//! that table and code can't disagree. (No units library keeps gauge and absolute apart; one set
//! of kinds for both floors is simpler than two and a bridge.)

use super::{Dimension, Kind};

/// A Rust type that stands for one [`Kind`].
pub trait Quantity: Copy {
    /// The kind this type stands for.
    const KIND: Kind;
    /// From the coherent SI unit (Pa, K, m, kg/s; rotation in turns a second).
    fn from_si(si: f64) -> Self;
    /// In the coherent SI unit.
    fn si(self) -> f64;
}

impl Quantity for f64 {
    const KIND: Kind = Kind::NUMBER;
    fn from_si(si: f64) -> Self {
        si
    }
    fn si(self) -> f64 {
        self
    }
}

/// A quantity from its coherent SI value, its type told by where it goes.
///
/// ```
/// use boostwright::quantity::{GaugePressure, Quantity, si};
///
/// let boost: GaugePressure = si(80e3);
/// assert_eq!(boost.si(), 80e3);
/// ```
pub fn si<Q: Quantity>(value: f64) -> Q {
    Q::from_si(value)
}

macro_rules! quantities {
    ($($(#[$doc:meta])* $name:ident = $kind:expr;)*) => {$(
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
        pub struct $name(f64);

        impl Quantity for $name {
            const KIND: Kind = $kind;
            fn from_si(si: f64) -> Self {
                Self(si)
            }
            fn si(self) -> f64 {
                self.0
            }
        }
    )*};
}

quantities! {
    /// Pressure from vacuum upward, Pa.
    AbsolutePressure = Kind::ABSOLUTE_PRESSURE;
    /// Pressure against the air outside, Pa.
    GaugePressure = Kind::GAUGE_PRESSURE;
    /// Difference of two pressures, Pa; also stress and elastic modulus.
    PressureDifference = Kind::PRESSURE_DIFFERENCE;
    /// Thermodynamic temperature, K.
    Temperature = Kind::TEMPERATURE;
    /// Difference of two temperatures, K.
    TemperatureDifference = Kind::TEMPERATURE_DIFFERENCE;
    /// m.
    Length = Kind::plain(Dimension::LENGTH);
    /// m².
    Area = Kind::plain(Dimension::AREA);
    /// m³; also a volume per turn of the shaft.
    Volume = Kind::plain(Dimension::VOLUME);
    /// rad.
    Angle = Kind::plain(Dimension::ANGLE);
    /// kg.
    Mass = Kind::plain(Dimension::MASS);
    /// s.
    Time = Kind::plain(Dimension::TIME);
    /// Turns a second (1 rpm is 1/60).
    Rotation = Kind::plain(Dimension::ROTATION);
    /// m/s.
    Speed = Kind::plain(Dimension::SPEED);
    /// kg/s.
    MassFlow = Kind::plain(Dimension::MASS_FLOW);
    /// m³/s.
    VolumeFlow = Kind::plain(Dimension::VOLUME_FLOW);
    /// kg/m³.
    Density = Kind::plain(Dimension::DENSITY);
    /// N.
    Force = Kind::plain(Dimension::FORCE);
    /// N/m.
    Stiffness = Kind::plain(Dimension::STIFFNESS);
    /// N m.
    Torque = Kind::plain(Dimension::ENERGY);
    /// W.
    Power = Kind::plain(Dimension::POWER);
    /// J/kg.
    SpecificEnergy = Kind::plain(Dimension::SPECIFIC_ENERGY);
    /// J/(kg K): specific heat capacity or specific gas constant.
    SpecificHeat = Kind::plain(Dimension::SPECIFIC_HEAT);
    /// m³/(s Pa): sonic conductance of ISO 6358-1.
    Conductance = Kind::plain(Dimension::CONDUCTANCE);
    /// 1/K: mean coefficient of linear expansion.
    Expansion = Kind::plain(Dimension::EXPANSION);
    /// V.
    Voltage = Kind::plain(Dimension::VOLTAGE);
    /// A.
    Current = Kind::plain(Dimension::CURRENT);
    /// Ω.
    Resistance = Kind::plain(Dimension::RESISTANCE);
}

impl GaugePressure {
    /// The absolute pressure, given the air outside.
    ///
    /// ```
    /// # use boostwright::quantity::{AbsolutePressure, GaugePressure, Quantity};
    /// let boost = GaugePressure::from_si(80e3);
    /// assert_eq!(boost.absolute(AbsolutePressure::from_si(100e3)).si(), 180e3);
    /// ```
    #[must_use]
    pub fn absolute(self, ambient: AbsolutePressure) -> AbsolutePressure {
        AbsolutePressure(self.0 + ambient.0)
    }
}

impl AbsolutePressure {
    /// The gauge pressure, given the air outside.
    ///
    /// ```
    /// # use boostwright::quantity::{AbsolutePressure, Quantity};
    /// let inside = AbsolutePressure::from_si(180e3);
    /// assert_eq!(inside.gauge(AbsolutePressure::from_si(100e3)).si(), 80e3);
    /// ```
    #[must_use]
    pub fn gauge(self, ambient: AbsolutePressure) -> GaugePressure {
        GaugePressure(self.0 - ambient.0)
    }
}
