//! Engines for the tests: one of typical values (invented car), and any plausible one.

use boostwright::physics::fit::{Engine, MatchedEngine};
use proptest::prelude::{Just, Strategy};

use super::si;

/// A two-litre four-stroke at 6000 rpm, typical all round.
pub(super) fn typical() -> MatchedEngine {
    MatchedEngine {
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

/// Any plausible petrol engine with its turbocharger on any plausible day. The drops are those at
/// about the engine's own full flow, as a person would read them.
pub(super) fn any_engine() -> impl Strategy<Value = MatchedEngine> {
    let engine = (3000.0..7500.0f64, 0.6e-3..1.5e-3f64, 0.75..1.0f64, 0.8..1.1f64);
    let day = (80e3..104e3f64, 255.0..310.0f64);
    let drops = (1e3..8e3f64, 3e3..15e3f64, 3e3..40e3f64);
    let turbo = (0.6..0.8f64, 0.5..0.9f64, 0.5..0.7f64, 1150.0..1290.0f64, 280e-6..800e-6f64);
    (engine, day, drops, turbo, 0.6..0.9f64, Just(typical())).prop_map(
        |(engine, day, drops, turbo, discharge, typical)| MatchedEngine {
            turbine_area: si(turbo.4),
            engine: Engine {
                speed: si(engine.0 / 60.0),
                volume_per_turn: si(engine.1),
                volumetric_efficiency: engine.2,
                lambda: engine.3,
                ambient: si(day.0),
                ambient_temperature: si(day.1),
                inlet_drop: si(drops.0),
                charge_drop: si(drops.1),
                exhaust_drop: si(drops.2),
                // Charge of 1.7 kg/m³ fills it.
                reference_flow: si(1.7 * engine.1 * engine.0 / 60.0),
                compressor_efficiency: turbo.0,
                cooler_effectiveness: turbo.1,
                turbine_efficiency: turbo.2,
                turbine_inlet_temperature: si(turbo.3),
                discharge_coefficient: discharge,
                ..typical.engine
            },
        },
    )
}

/// Any engine that breathes freely: little is lost in filter, cooler and exhaust.
pub(super) fn any_free_engine() -> impl Strategy<Value = MatchedEngine> {
    (any_engine(), 1e3..4e3f64, 2e3..8e3f64, 2e3..9e3f64).prop_map(
        |(matched, inlet, charge, exhaust)| MatchedEngine {
            engine: Engine {
                inlet_drop: si(inlet),
                charge_drop: si(charge),
                exhaust_drop: si(exhaust),
                ..matched.engine
            },
            ..matched
        },
    )
}
