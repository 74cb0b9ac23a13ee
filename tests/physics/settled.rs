//! The boost behind a fixed gate, against a plain search.

use boostwright::physics::Refusal;
use boostwright::physics::fit::{
    Engine, MAX_BOOST_PA, MatchedEngine, creep_boost, gate_area_needed,
};
use boostwright::quantity::Quantity;
use proptest::prelude::{ProptestConfig, prop_assert, prop_assert_eq, proptest};

use super::si;

/// Halvings of 4 bar that leave less than a thousandth of a pascal.
const HALVINGS: usize = 30;

/// Where a search ends.
#[derive(Debug)]
enum End {
    At(f64),
    Above,
    /// At a jump, where no state exists.
    NoState,
    Refused(Refusal),
}

/// What is known of the gate at one boost.
enum Needed {
    Area(f64),
    /// More than any gate: there is power to spare.
    Any,
    /// Not even a shut gate will do.
    Less,
    None(Refusal),
}

fn needed(boost: f64, matched: &MatchedEngine) -> Needed {
    match gate_area_needed(si(boost), matched) {
        Ok(area) => Needed::Area(area.si()),
        Err(why) if why.reason.contains("no gate is large enough") => Needed::Any,
        Err(why) if why.reason.contains("even with the gate shut") => Needed::Less,
        Err(why) => Needed::None(why),
    }
}

/// The boost at which the gate needed, which falls as boost rises, is the open one.
fn searched(open: f64, matched: &MatchedEngine) -> End {
    // Where no state exists, boost is out of reach: its power grows past all bounds before.
    let rises = |boost: f64| match needed(boost, matched) {
        Needed::Area(area) => area > open,
        Needed::Any => true,
        Needed::Less | Needed::None(_) => false,
    };
    if let Needed::None(why) = needed(0.0, matched) {
        return End::Refused(why);
    }
    if !rises(0.0) {
        return End::At(0.0);
    }
    if rises(MAX_BOOST_PA) {
        return End::Above;
    }
    let (mut low, mut high) = (0.0, MAX_BOOST_PA);
    for _ in 0..HALVINGS {
        let middle = 0.5 * (low + high);
        if rises(middle) {
            low = middle;
        } else {
            high = middle;
        }
    }
    if matches!(needed(high, matched), Needed::None(_)) { End::NoState } else { End::At(high) }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 5_000, failure_persistence: None, ..Default::default() })]

    /// For engines far beyond those of cars, but for turbochargers that could feed themselves.
    #[test]
    fn a_search_gives_the_same_boost_and_the_same_refusals(
        (speed, volume) in (0.0..300.0f64, 1e-5..5e-3f64),
        (area, gate, leak) in (-6.5..-2.0f64, -7.0..-1.0f64, 0.0..2e-5f64),
        (inlet, charge, exhaust) in (0.0..30e3f64, 0.0..40e3f64, 0.0..80e3f64),
        (compressor, turbine, cooler) in (0.2..0.85f64, 0.05..0.8f64, 0.0..1.0f64),
        (lambda, hot, reference) in (0.8..1.15f64, 400.0..1500.0f64, 0.02..0.5f64),
    ) {
        let example = MatchedEngine::example().engine;
        let matched = MatchedEngine {
            turbine_area: si(10.0_f64.powf(area)),
            engine: Engine {
                speed: si(speed),
                leak_area: si(leak),
                volume_per_turn: si(volume),
                lambda,
                inlet_drop: si(inlet),
                charge_drop: si(charge),
                exhaust_drop: si(exhaust),
                reference_flow: si(reference),
                compressor_efficiency: compressor,
                cooler_effectiveness: cooler,
                turbine_efficiency: turbine,
                mechanical_efficiency: 1.0,
                turbine_inlet_temperature: si(hot),
                ..example
            },
        };
        let open = 10.0_f64.powf(gate);
        let found = creep_boost(si(open), &matched).map(|boost| boost.si());
        if speed == 0.0 {
            prop_assert_eq!(found, Ok(0.0));
            return Ok(());
        }
        match (found, searched(open, &matched)) {
            (Ok(found), End::At(boost)) => {
                prop_assert!((found - boost).abs() < 1e-3, "{found} Pa, not {boost} Pa");
            }
            (Err(why), End::Above) => prop_assert_eq!(why.above, Some(MAX_BOOST_PA)),
            (Err(why), End::NoState) => prop_assert!(why.reason.contains("balances"), "{why}"),
            (Err(why), End::Refused(wanted)) => prop_assert_eq!(why, wanted),
            (found, end) => prop_assert!(false, "{found:?}, not {end:?}"),
        }
    }
}
