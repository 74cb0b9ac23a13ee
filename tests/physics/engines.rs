//! Any plausible engine, for the properties.

use boostwright::physics::fit::{Engine, MatchedEngine};
use proptest::prelude::{Just, Strategy};

use super::si;

/// Any plausible petrol engine with its turbocharger on any plausible day. The drops are those at
/// about the engine's own full flow, as a person would read them.
pub(super) fn any_engine() -> impl Strategy<Value = MatchedEngine> {
    let engine = (3000.0..7500.0f64, 0.6e-3..1.5e-3f64, 0.75..1.0f64, 0.8..1.1f64);
    let day = (80e3..104e3f64, 255.0..310.0f64);
    let drops = (1e3..8e3f64, 3e3..15e3f64, 3e3..40e3f64);
    let turbo = (0.6..0.8f64, 0.5..0.9f64, 0.5..0.7f64, 1150.0..1290.0f64, 280e-6..800e-6f64);
    (engine, day, drops, turbo, 0.6..0.9f64, Just(MatchedEngine::example())).prop_map(
        |(engine, day, drops, turbo, discharge, example)| MatchedEngine {
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
                ..example.engine
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
