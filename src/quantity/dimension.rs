//! Dimensions as exponents over the base quantities.

use std::fmt;

/// The base quantities. `Turn` and `Angle` stand beside the SI bases on purpose: an engine speed
/// is no angular velocity (torque times rpm is off from power by 2π), so a turn never cancels
/// against a radian.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Base {
    Length,
    Mass,
    Time,
    Temperature,
    Current,
    Turn,
    Angle,
}

const BASES: usize = 7;

/// Exponents are kept in twelfths so that square and cube roots stay exact.
const UNIT: i16 = 12;

/// Exponents beyond this are refused: nothing in the trade needs them, and the sums stay small.
const MAX_EXPONENT: i16 = 24 * UNIT;

/// The dimension of a quantity: one exponent for each [`Base`].
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub struct Dimension([i16; BASES]);

impl Dimension {
    /// A plain number.
    pub const NONE: Self = Self([0; BASES]);

    /// From whole exponents of length, mass, time, temperature, current, turn, angle.
    ///
    /// ```
    /// # use boostwright::quantity::Dimension;
    /// assert_eq!(Dimension::of([2, 0, 0, 0, 0, 0, 0]), Dimension::AREA);
    /// ```
    #[must_use]
    pub const fn of(exponents: [i16; BASES]) -> Self {
        let mut twelfths = [0; BASES];
        let mut i = 0;
        while i < BASES {
            twelfths[i] = exponents[i] * UNIT;
            i += 1;
        }
        Self(twelfths)
    }

    pub const LENGTH: Self = Self::of([1, 0, 0, 0, 0, 0, 0]);
    pub const AREA: Self = Self::of([2, 0, 0, 0, 0, 0, 0]);
    pub const VOLUME: Self = Self::of([3, 0, 0, 0, 0, 0, 0]);
    pub const MASS: Self = Self::of([0, 1, 0, 0, 0, 0, 0]);
    pub const TIME: Self = Self::of([0, 0, 1, 0, 0, 0, 0]);
    pub const TEMPERATURE: Self = Self::of([0, 0, 0, 1, 0, 0, 0]);
    pub const CURRENT: Self = Self::of([0, 0, 0, 0, 1, 0, 0]);
    pub const ROTATION: Self = Self::of([0, 0, -1, 0, 0, 1, 0]);
    pub const ANGLE: Self = Self::of([0, 0, 0, 0, 0, 0, 1]);
    pub const PRESSURE: Self = Self::of([-1, 1, -2, 0, 0, 0, 0]);
    pub const FORCE: Self = Self::of([1, 1, -2, 0, 0, 0, 0]);
    pub const STIFFNESS: Self = Self::of([0, 1, -2, 0, 0, 0, 0]);
    /// Also the dimension of torque.
    pub const ENERGY: Self = Self::of([2, 1, -2, 0, 0, 0, 0]);
    pub const POWER: Self = Self::of([2, 1, -3, 0, 0, 0, 0]);
    pub const MASS_FLOW: Self = Self::of([0, 1, -1, 0, 0, 0, 0]);
    pub const VOLUME_FLOW: Self = Self::of([3, 0, -1, 0, 0, 0, 0]);
    pub const DENSITY: Self = Self::of([-3, 1, 0, 0, 0, 0, 0]);
    pub const VOLTAGE: Self = Self::of([2, 1, -3, 0, -1, 0, 0]);
    pub const RESISTANCE: Self = Self::of([2, 1, -3, 0, -2, 0, 0]);
    /// J/kg.
    pub const SPECIFIC_ENERGY: Self = Self::of([2, 0, -2, 0, 0, 0, 0]);
    /// J/(kg K): heat capacity and gas constant.
    pub const SPECIFIC_HEAT: Self = Self::of([2, 0, -2, -1, 0, 0, 0]);
    /// m³/(s Pa): sonic conductance.
    pub const CONDUCTANCE: Self = Self::of([4, -1, 1, 0, 0, 0, 0]);
    /// 1/K.
    pub const EXPANSION: Self = Self::of([0, 0, 0, -1, 0, 0, 0]);
    pub const SPEED: Self = Self::of([1, 0, -1, 0, 0, 0, 0]);
    /// Torque times rotation: looks like a power and is wrong by 2π, so no formula may make it.
    pub const TORQUE_TIMES_ROTATION: Self = Self::of([2, 1, -3, 0, 0, 1, 0]);

    /// The dimension of a product; `None` when an exponent grows beyond all use.
    ///
    /// ```
    /// # use boostwright::quantity::Dimension;
    /// assert_eq!(Dimension::LENGTH.times(Dimension::LENGTH), Some(Dimension::AREA));
    /// ```
    #[must_use]
    pub fn times(self, other: Self) -> Option<Self> {
        self.combine(other, 1)
    }

    /// The dimension of a quotient; `None` when an exponent grows beyond all use.
    ///
    /// ```
    /// # use boostwright::quantity::Dimension;
    /// assert_eq!(Dimension::FORCE.over(Dimension::AREA), Some(Dimension::PRESSURE));
    /// ```
    #[must_use]
    pub fn over(self, other: Self) -> Option<Self> {
        self.combine(other, -1)
    }

    fn combine(self, other: Self, sign: i16) -> Option<Self> {
        let mut out = self.0;
        for (exponent, add) in out.iter_mut().zip(other.0) {
            *exponent += sign * add;
            if exponent.abs() > MAX_EXPONENT {
                return None;
            }
        }
        Some(Self(out))
    }

    /// The dimension of a power; `None` when an exponent is no multiple of a twelfth (a cube root
    /// of a length is fine, a 0.286th power is not) or grows beyond all use.
    ///
    /// ```
    /// # use boostwright::quantity::Dimension;
    /// assert_eq!(Dimension::AREA.power(0.5), Some(Dimension::LENGTH));
    /// assert_eq!(Dimension::LENGTH.power(0.286), None);
    /// ```
    #[must_use]
    pub fn power(self, exponent: f64) -> Option<Self> {
        let mut out = [0; BASES];
        for (new, old) in out.iter_mut().zip(self.0) {
            let scaled = f64::from(old) * exponent;
            let whole = scaled.round();
            // 1e-6 of a twelfth lets 1/3, which no float holds exactly, pass.
            if !scaled.is_finite()
                || (scaled - whole).abs() > 1e-6
                || whole.abs() > f64::from(MAX_EXPONENT)
            {
                return None;
            }
            #[expect(clippy::cast_possible_truncation, reason = "bounded by MAX_EXPONENT above")]
            {
                *new = whole as i16;
            }
        }
        Some(Self(out))
    }

    /// Whether this is a plain number.
    ///
    /// ```
    /// # use boostwright::quantity::Dimension;
    /// assert!(Dimension::AREA.over(Dimension::AREA).unwrap().is_none());
    /// ```
    #[must_use]
    pub fn is_none(self) -> bool {
        self == Self::NONE
    }

    /// The exponent of one base quantity.
    ///
    /// ```
    /// # use boostwright::quantity::{Base, Dimension};
    /// assert_eq!(Dimension::VOLUME.exponent(Base::Length), 3.0);
    /// ```
    #[must_use]
    pub fn exponent(self, base: Base) -> f64 {
        f64::from(self.0[base as usize]) / f64::from(UNIT)
    }

    /// What the trade calls this dimension, where it has a name.
    ///
    /// ```
    /// # use boostwright::quantity::Dimension;
    /// assert_eq!(Dimension::MASS_FLOW.name(), Some("mass flow"));
    /// ```
    #[must_use]
    pub fn name(self) -> Option<&'static str> {
        NAMES.iter().find(|(dimension, _, _)| *dimension == self).map(|(_, name, _)| *name)
    }

    /// The coherent SI unit as text that the unit reader reads back: `Pa`, `J/(kg K)`. Rotation
    /// is given in rpm, the only unit the trade reads it in; a plain number has the unit `1`.
    ///
    /// ```
    /// # use boostwright::quantity::Dimension;
    /// assert_eq!(Dimension::SPECIFIC_HEAT.coherent_unit(), "J/(kg K)");
    /// ```
    #[must_use]
    pub fn coherent_unit(self) -> String {
        if let Some((_, _, unit)) = NAMES.iter().find(|(dimension, _, _)| *dimension == self) {
            return (*unit).to_owned();
        }
        let mut over = Vec::new();
        let mut under = Vec::new();
        for (exponent, symbol) in self.0.iter().zip(["m", "kg", "s", "K", "A", "turn", "rad"]) {
            let size = f64::from(exponent.abs()) / f64::from(UNIT);
            let text = match size {
                0.0 => continue,
                1.0 => symbol.to_owned(),
                _ if size.fract() == 0.0 => format!("{symbol}{size}"),
                _ => format!("{symbol}^{size}"),
            };
            if *exponent > 0 { over.push(text) } else { under.push(text) }
        }
        let side = |parts: &[String]| match parts {
            [] => "1".to_owned(),
            [one] => one.clone(),
            many => format!("({})", many.join(" ")),
        };
        if under.is_empty() { side(&over) } else { format!("{}/{}", side(&over), side(&under)) }
    }
}

/// Dimension, name, coherent unit.
const NAMES: [(Dimension, &str, &str); 25] = [
    (Dimension::NONE, "number", "1"),
    (Dimension::LENGTH, "length", "m"),
    (Dimension::AREA, "area", "m2"),
    (Dimension::VOLUME, "volume", "m3"),
    (Dimension::MASS, "mass", "kg"),
    (Dimension::TIME, "time", "s"),
    (Dimension::TEMPERATURE, "temperature", "K"),
    (Dimension::CURRENT, "current", "A"),
    (Dimension::ROTATION, "rotation", "rpm"),
    (Dimension::ANGLE, "angle", "rad"),
    (Dimension::PRESSURE, "pressure", "Pa"),
    (Dimension::FORCE, "force", "N"),
    (Dimension::STIFFNESS, "stiffness", "N/m"),
    (Dimension::ENERGY, "energy or torque", "J"),
    (Dimension::POWER, "power", "W"),
    (Dimension::MASS_FLOW, "mass flow", "kg/s"),
    (Dimension::VOLUME_FLOW, "volume flow", "m3/s"),
    (Dimension::DENSITY, "density", "kg/m3"),
    (Dimension::VOLTAGE, "voltage", "V"),
    (Dimension::RESISTANCE, "resistance", "ohm"),
    (Dimension::SPECIFIC_ENERGY, "energy per mass", "J/kg"),
    (Dimension::SPECIFIC_HEAT, "heat capacity or gas constant", "J/(kg K)"),
    (Dimension::CONDUCTANCE, "flow conductance", "m3/(s Pa)"),
    (Dimension::EXPANSION, "expansion coefficient", "1/K"),
    (Dimension::SPEED, "speed", "m/s"),
];

impl fmt::Display for Dimension {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.name() {
            Some(name) => f.write_str(name),
            None => write!(f, "a quantity in {}", self.coherent_unit()),
        }
    }
}
