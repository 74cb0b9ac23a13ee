//! A port bored out, as owners tell it (common practice, no published source): an engine crept to
//! 13 psi with a 15 mm port wide open, its actuator cracking at about 5.5 psi and wide open at 10;
//! bored to a little over 25 mm it peaked at about 8 psi. Whether it is one engine or another isn't
//! told, so the match is tried on all that it may have been.

use boostwright::physics::circle::circle_area;
use boostwright::physics::fit::{Engine, Flap, Gate, MatchedEngine, held_boost, turbine_area_from};
use boostwright::quantity::Quantity;

use super::{PSI, si};

/// Typical values of a two-rotor engine with a free exhaust, its gauge teed into the actuator's hose
/// as is usual, so that nothing is lost between the two.
fn engine(litres_a_turn: f64, rpm: f64) -> Engine {
    Engine {
        speed: si(rpm / 60.0),
        volume_per_turn: si(litres_a_turn / 1000.0),
        volumetric_efficiency: 0.90,
        lambda: 0.80,
        charge_drop: si(0.0),
        exhaust_drop: si(9e3),
        compressor_efficiency: 0.67,
        turbine_inlet_temperature: si(1273.15),
        ..MatchedEngine::example().engine
    }
}

/// Lowest and highest held boost, psi, with the larger port: crack and wide-open pressure half a psi
/// either way, with and without the gas's push.
fn band(engine: Engine) -> (f64, f64) {
    let small = circle_area(si(0.015)).unwrap();
    let turbine_area = turbine_area_from(si(13.0 * PSI), small, &engine).unwrap();
    let matched = MatchedEngine { turbine_area, engine };
    let (mut low, mut high) = (f64::INFINITY, 0.0f64);
    for (cracks, wide) in [(5.0, 9.5), (5.0, 10.5), (6.0, 9.5), (6.0, 10.5)] {
        for arm_ratio in [0.0, 0.85] {
            let gate = Gate {
                port_diameter: si(0.0254),
                // Open as far as it counts: a quarter of the port.
                lift: si(0.0254 / 4.0),
                wide_open_at: si(wide * PSI),
                flap: Flap {
                    contact_diameter: si(0.029),
                    cracks_at: si(cracks * PSI),
                    diaphragm_area: circle_area(si(0.050)).unwrap(),
                    arm_ratio,
                },
            };
            let held = held_boost(&gate, &matched).unwrap().si() / PSI;
            (low, high) = (low.min(held), high.max(held));
        }
    }
    (low, high)
}

const SPEEDS: [f64; 4] = [5500.0, 6000.0, 6500.0, 7000.0];

#[test]
fn bored_from_15_to_25_mm_the_boost_is_predicted_below_11_psi_for_any_such_engine() {
    for litres in [0.65, 0.8, 0.95, 1.1, 1.2, 1.31] {
        for rpm in SPEEDS {
            let (_, high) = band(engine(litres, rpm));
            assert!(high < 11.0, "common practice: {litres} L a turn, {rpm} rpm: up to {high} psi");
        }
    }
}

#[test]
fn the_prediction_for_large_engines_takes_in_the_8_psi_seen_but_not_the_later_creep_to_10() {
    for litres in [1.2, 1.25, 1.31] {
        for rpm in SPEEDS {
            let (low, high) = band(engine(litres, rpm));
            let told = format!("common practice: {litres} L, {rpm} rpm: {low} to {high} psi");
            assert!(low < 8.0 && 8.0 < high, "{told}");
            assert!(high < 10.0, "{told}");
        }
    }
}
