//! What is known, measured or supposed of an engine, its turbocharger and the day.

use crate::quantity::{
    AbsolutePressure, Area, MassFlow, PressureDifference, Rotation, Temperature,
    TemperatureDifference, Volume, si,
};

/// Engine, turbocharger and day at full throttle, but for the size of the turbine. The drops are
/// those at `reference_flow` of air and go with the square of the flow.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Engine {
    /// Speed of the crankshaft (eccentric shaft), 0 or more.
    pub speed: Rotation,
    /// Of the open gate, on its geometric area; above 0, at most 1.
    pub discharge_coefficient: f64,
    /// Effective area of the leak of a shut gate, 0 or more.
    pub leak_area: Area,
    /// Taken in each turn: half the displacement of a four-stroke, a chamber a rotor of a rotary,
    /// the displacement of a two-stroke; for one turbocharger's share of the engine. Above 0.
    pub volume_per_turn: Volume,
    /// On the density in the manifold; above 0, at most 2.
    pub volumetric_efficiency: f64,
    /// Air ratio, 0.8 to 1.15.
    pub lambda: f64,
    /// Air outside, above 0.
    pub ambient: AbsolutePressure,
    /// Air outside, and coolant of the charge cooler; above 0 K.
    pub ambient_temperature: Temperature,
    /// Of the air on its way to the compressor.
    pub inlet_heating: TemperatureDifference,
    /// Ambient to compressor, 0 or more.
    pub inlet_drop: PressureDifference,
    /// Compressor to plenum, 0 or more.
    pub charge_drop: PressureDifference,
    /// Turbine to ambient, 0 or more.
    pub exhaust_drop: PressureDifference,
    /// Air flow at which the drops were read, above 0.
    pub reference_flow: MassFlow,
    /// Total to total, isentropic; above 0, at most 1.
    pub compressor_efficiency: f64,
    /// 0 to 1.
    pub cooler_effectiveness: f64,
    /// Total to static, isentropic; above 0, at most 1.
    pub turbine_efficiency: f64,
    /// Above 0, at most 1; 1 where the turbine's efficiency holds it already.
    pub mechanical_efficiency: f64,
    /// 300 to 1500 K.
    pub turbine_inlet_temperature: Temperature,
}

/// An engine whose turbine is known.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MatchedEngine {
    /// Effective area of the turbine's two restrictions in series, above 0.
    pub turbine_area: Area,
    /// All the rest.
    pub engine: Engine,
}

impl MatchedEngine {
    /// An invented car for examples and tests, typical all round: a four-stroke of two litres at
    /// 6000 rpm.
    ///
    /// ```
    /// # use boostwright::{physics::fit::MatchedEngine, quantity::Quantity};
    /// assert_eq!(MatchedEngine::example().engine.speed.si(), 100.0);
    /// ```
    #[must_use]
    pub fn example() -> Self {
        Self {
            turbine_area: si(500e-6),
            engine: Engine {
                speed: si(100.0),
                discharge_coefficient: 0.75,
                leak_area: si(5e-6),
                volume_per_turn: si(1e-3),
                volumetric_efficiency: 0.87,
                lambda: 0.83,
                ambient: si(101_325.0),
                ambient_temperature: si(293.15),
                inlet_heating: si(15.0),
                inlet_drop: si(6e3),
                charge_drop: si(12e3),
                exhaust_drop: si(25e3),
                reference_flow: si(0.15),
                compressor_efficiency: 0.70,
                cooler_effectiveness: 0.75,
                turbine_efficiency: 0.62,
                mechanical_efficiency: 0.97,
                turbine_inlet_temperature: si(1213.15),
            },
        }
    }
}
