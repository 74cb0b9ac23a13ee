//! The gas over the logarithm of its expansion, against the relations of the pocket calculator, which take
//! pressures.

#[allow(dead_code, reason = "the program uses more of it")]
#[path = "../../src/physics/fit/expansion.rs"]
mod expansion;

use boostwright::physics::nozzle::nozzle_flow;
use boostwright::physics::turbo::turbine_outlet_temperature;
use boostwright::quantity::Quantity;
use expansion::{Expansion, MAX_LOG_RATIO};

use super::si;

const GAMMA: f64 = 1.29;

/// Share of the heat that an ideal turbine takes, by the temperature behind it.
fn share_taken(ratio: f64) -> f64 {
    let hot = 1000.0;
    1.0 - turbine_outlet_temperature(si(hot), ratio, 1.0, GAMMA).unwrap().si() / hot
}

/// Flow function of a nozzle of 1 m², at 1 Pa, 1 K and a gas constant of 1 J/(kg K).
fn flow_function(ratio: f64) -> f64 {
    nozzle_flow(si(1.0), si(1.0), si(1.0), si(1.0 / ratio), GAMMA, si(1.0)).unwrap().si()
}

#[test]
fn work_and_flow_are_those_of_the_nozzle_and_the_turbine() {
    let expansion = Expansion::of(GAMMA);
    for at in [1e-6, 0.01, 0.3, 0.6, 0.7, 2.0, 13.0] {
        let share = share_taken(f64::exp(at));
        assert!((expansion.share(at) / share - 1.0).abs() < 1e-9, "{at}");
        let flow = flow_function(f64::exp(at));
        assert!((expansion.flow(at) / flow - 1.0).abs() < 1e-9, "{at}");
        let half_flow = flow_function(f64::exp(at / 2.0));
        let stage = expansion.stage(at);
        assert!((stage.ratio / at.exp() - 1.0).abs() < 1e-12, "{at}");
        assert!((stage.share / share - 1.0).abs() < 1e-9, "{at}");
        assert!((stage.flow / flow - 1.0).abs() < 1e-9, "{at}");
        assert!((stage.half_flow / half_flow - 1.0).abs() < 1e-9, "{at}");
    }
}

#[test]
fn the_expansion_that_gives_a_power_gives_that_power() {
    let expansion = Expansion::of(GAMMA);
    for at in [1e-9, 1e-4, 0.02, 0.5, 1.0, 1.19, 1.21, 3.0, 13.7] {
        let power = |at: f64| at.exp() * expansion.flow(at / 2.0) * expansion.share(at);
        for near in
            [None, Some(0.0), Some(1e-6), Some(at), Some(0.9 * at), Some(5.0), Some(MAX_LOG_RATIO)]
        {
            let found = expansion.giving(power(at), near).unwrap();
            assert!((found / at - 1.0).abs() < 1e-12, "{at} from {near:?}: {found}");
        }
    }
}

#[test]
fn no_power_needs_no_expansion_and_too_much_has_none() {
    let expansion = Expansion::of(GAMMA);
    assert_eq!(expansion.giving(0.0, None), Some(0.0));
    for wanted in [1e9, f64::INFINITY, f64::NAN, -1.0] {
        assert_eq!(expansion.giving(wanted, None), None);
    }
}
