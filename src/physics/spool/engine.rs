//! What is known, measured or supposed of an engine whose turbocharger comes up to speed.

use super::super::Refusal;
use super::super::check::{above_zero, from_zero};
use super::super::fit::{CheckedEngine, Engine, MatchedEngine};
use super::wheels::{CheckedWheels, Wheels};
use crate::quantity::{Area, si};

/// An engine with its gate shut at full throttle. Of the [`Engine`], neither speed nor discharge
/// coefficient enter. Its efficiencies are those of the best points, its turbine inlet temperature that
/// at the reference flow, its volumetric efficiency that of the low speeds at which boost begins, and
/// its mechanical efficiency that of full load.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SpoolEngine {
    /// Effective area of the turbine's two restrictions in series, above 0.
    pub turbine_area: Area,
    /// Outer diameters, 25 to 150 mm.
    pub wheels: Wheels,
    /// Effective area of a leak between compressor and cylinders, 0 or more.
    pub charge_leak: Area,
    /// Effective area of a leak from before the turbine to the outside, 0 or more.
    pub exhaust_leak: Area,
    /// All the rest; its leak area is that of the shut gate.
    pub engine: Engine,
}

impl SpoolEngine {
    /// An invented car for examples and tests, typical all round: a four-stroke of two litres.
    ///
    /// ```
    /// # use boostwright::{physics::spool::SpoolEngine, quantity::Quantity};
    /// assert_eq!(SpoolEngine::example().charge_leak.si(), 0.0);
    /// ```
    #[must_use]
    pub fn example() -> Self {
        Self {
            turbine_area: si(420e-6),
            wheels: Wheels { compressor_diameter: si(0.056), turbine_diameter: si(0.052) },
            charge_leak: si(0.0),
            exhaust_leak: si(0.0),
            engine: Engine {
                compressor_efficiency: 0.72,
                turbine_efficiency: 0.68,
                volumetric_efficiency: 0.85,
                lambda: 0.9,
                ..MatchedEngine::example().engine
            },
        }
    }
}

/// A [`SpoolEngine`] whose every value was checked.
pub(super) struct CheckedSpool {
    pub(super) turbine_area_m2: f64,
    pub(super) charge_leak_m2: f64,
    pub(super) exhaust_leak_m2: f64,
    pub(super) wheels: CheckedWheels,
    /// At one turn a second, so that its flow is that of a turn.
    pub(super) engine: CheckedEngine,
    /// Flow at which the walls take the gas's heat down by the factor e, kg/s.
    pub(super) wall_flow_kg_s: f64,
}

/// Two dynamometer maps of four-cylinder engines of 2.0 and 2.3 litres (Linköping, course TSFS09) fit
/// T_3 − T_a ∝ exp(−ṁ_wall/ṁ) with 7.4 and 7.7 g/s: the wall of a pipe cools a stream so (Eriksson and
/// Nielsen, *Modeling and Control of Engines and Drivelines*, exhaust temperature drop).
const WALL_FLOW_KG_S: f64 = 7.5e-3;
/// Swept in a turn by the mean of those two; the wall goes with the volume to 2/3.
const WALL_VOLUME_M3: f64 = 1.075e-3;

impl CheckedSpool {
    pub(super) fn checked(spool: &SpoolEngine) -> Result<Self, Refusal> {
        let engine = Engine { speed: si(1.0), discharge_coefficient: 1.0, ..spool.engine };
        let volume = above_zero("volume_per_turn", engine.volume_per_turn)?;
        Ok(Self {
            turbine_area_m2: above_zero("turbine_area", spool.turbine_area)?,
            charge_leak_m2: from_zero("charge_leak", spool.charge_leak)?,
            exhaust_leak_m2: from_zero("exhaust_leak", spool.exhaust_leak)?,
            wheels: CheckedWheels::checked(&spool.wheels)?,
            engine: CheckedEngine::checked(&engine)?,
            wall_flow_kg_s: WALL_FLOW_KG_S * (volume / WALL_VOLUME_M3).powf(2.0 / 3.0),
        })
    }
}
