//! What is refused, by the name of the quantity at fault.

use boostwright::physics::Refusal;
use boostwright::physics::actuator::{blow_open_difference, raised_boost};
use boostwright::physics::atmosphere::{absolute, air_density, standard_pressure};
use boostwright::physics::burned::{burned_gas_constant, burned_gas_gamma};
use boostwright::physics::charge::{compressor_outlet_temperature, cooler_outlet_temperature};
use boostwright::physics::circle::circle_area;
use boostwright::physics::fit::{
    Engine, Flap, Gate, MatchedEngine, creep_boost, gate_area_needed, held_boost, turbine_area_from,
};
use boostwright::physics::fuel::injector_flow;
use boostwright::physics::leak::{
    decay_time_adiabatic, decay_time_isothermal, leak_area_isothermal,
};
use boostwright::physics::nozzle::nozzle_flow;
use boostwright::physics::plate::{clamped_plate_deflection, clamped_plate_stress};
use boostwright::physics::pneumatics::canister_pressure;
use boostwright::physics::turbo::turbine_expansion_ratio;
use boostwright::quantity::Quantity;

use super::{BAR, PSI, si};

/// The result is a refusal of this quantity, and says why.
#[track_caller]
fn refused<T: std::fmt::Debug>(result: Result<T, Refusal>, quantity: &str, why: &str) {
    let refusal = result.unwrap_err();
    assert_eq!(refusal.quantity, quantity, "{refusal}");
    assert!(refusal.reason.contains(why), "{refusal}");
}

fn with(change: impl FnOnce(&mut Engine)) -> MatchedEngine {
    let mut matched = MatchedEngine::example();
    change(&mut matched.engine);
    matched
}

#[test]
fn pressures_below_vacuum_are_refused() {
    refused(absolute(si(-1.1 * BAR), si(BAR)), "gauge", "below vacuum");
    assert_eq!(absolute(si(-BAR), si(BAR)).unwrap().si(), 0.0);
    refused(air_density(si(-1.0), si(300.0)), "pressure", "negative");
}

/// A controller bleeds the canister's signal away and can add nothing to it (common practice).
#[test]
fn a_boost_under_the_spring_is_refused_and_the_spring_s_own_is_not() {
    refused(raised_boost(si(0.35 * BAR), si(0.5 * BAR)), "boost", "can only raise boost");
    refused(raised_boost(si(0.35 * BAR), si(-0.1 * BAR)), "spring", "negative");
    refused(raised_boost(si(f64::NAN), si(0.5 * BAR)), "boost", "");
    assert_eq!(raised_boost(si(0.5 * BAR), si(0.5 * BAR)).unwrap().si(), 0.5 * BAR);
}

#[test]
fn zero_kelvin_and_below_is_refused() {
    refused(air_density(si(BAR), si(0.0)), "temperature", "above 0");
    refused(cooler_outlet_temperature(si(300.0), si(-5.0), 0.7), "coolant_temperature", "-5 K");
}

#[test]
fn efficiencies_outside_their_range_are_refused() {
    for efficiency in [0.0, -0.5, 1.0001, f64::NAN, f64::INFINITY] {
        refused(compressor_outlet_temperature(si(300.0), 2.0, efficiency), "efficiency", "");
    }
    assert!(compressor_outlet_temperature(si(300.0), 2.0, 1.0).is_ok());
    refused(cooler_outlet_temperature(si(400.0), si(300.0), 1.1), "effectiveness", "0 to 1");
    refused(cooler_outlet_temperature(si(400.0), si(300.0), -0.1), "effectiveness", "0 to 1");
}

#[test]
fn a_back_pressure_above_the_supply_is_refused() {
    let flow = nozzle_flow(si(1e-4), si(BAR), si(300.0), si(1.1 * BAR), 1.4, si(287.0));
    refused(flow, "back_pressure", "1.1 bar is above the supply");
}

#[test]
fn an_injector_without_a_pressure_difference_is_refused() {
    refused(injector_flow(si(1e-5), si(3e5), si(0.0)), "difference", "above 0");
}

#[test]
fn a_power_that_the_turbine_cannot_give_is_refused() {
    let ratio =
        turbine_expansion_ratio(si(200e3), si(0.1), si(1200.0), 0.6, 0.97, si(1300.0), 1.29);
    refused(ratio, "compressor_power", "more than this gas stream can give");
}

#[test]
fn plates_beyond_the_stated_theory_are_refused() {
    refused(clamped_plate_stress(si(BAR), si(0.01), si(0.0051)), "thickness", "half the radius");
    assert!(clamped_plate_stress(si(BAR), si(0.01), si(0.005)).is_ok());
    let soft = clamped_plate_deflection(si(BAR), si(0.05), si(0.001), si(2e9), 0.3);
    refused(soft, "clamped_plate_deflection", "half the thickness");
}

#[test]
fn leak_tests_that_prove_nothing_are_refused() {
    let test = |start: f64, end: f64| {
        leak_area_isothermal(si(0.01), si(293.0), si(start), si(end), si(BAR), si(30.0))
    };
    refused(test(1.5e5, 1.5e5), "end", "where the test began");
    refused(test(1.5e5, 1.6e5), "end", "further from ambient");
    refused(test(1.5e5, 0.9e5), "end", "beyond ambient");
    refused(test(0.5e5, 0.4e5), "end", "further from ambient");
    refused(test(BAR, 1.1e5), "start", "nothing drives a leak");
    let filling = decay_time_adiabatic(si(0.01), si(293.0), si(5e4), si(8e4), si(BAR), si(1e-6));
    refused(filling, "start", "below ambient");
    assert!(
        decay_time_isothermal(si(0.01), si(293.0), si(5e4), si(8e4), si(BAR), si(1e-6)).is_ok()
    );
}

#[test]
fn mixtures_and_temperatures_outside_the_gas_tables_are_refused() {
    refused(burned_gas_constant(0.79), "lambda", "0.8 to 1.15");
    refused(burned_gas_gamma(1.0, si(1501.0)), "temperature", "300 K to 1500 K");
    let hot = with(|engine| engine.turbine_inlet_temperature = si(1600.0));
    refused(gate_area_needed(si(5e4), &hot), "turbine_inlet_temperature", "1600 K");
}

#[test]
fn altitudes_outside_the_troposphere_are_refused() {
    refused(standard_pressure(si(12_000.0)), "altitude", "-2000 m to 11000 m");
}

#[test]
fn a_canister_between_two_shut_lines_is_refused() {
    let between = canister_pressure(si(0.0), 0.3, si(0.0), 0.3, si(2e5), si(1e5), si(300.0));
    refused(between, "supply_conductance", "is 0");
}

#[test]
fn pulses_weaker_than_their_mean_are_refused() {
    let blown = blow_open_difference(si(5e4), si(2e-3), 0.8, si(0.028), 0.9);
    refused(blown, "pulsation", "below 1");
}

#[test]
fn a_boost_that_the_turbine_cannot_make_is_refused() {
    refused(
        gate_area_needed(si(2.5 * BAR), &MatchedEngine::example()),
        "boost",
        "even with the gate shut",
    );
    refused(gate_area_needed(si(-1.0), &MatchedEngine::example()), "boost", "0 bar to 4 bar");
    refused(gate_area_needed(si(4.1 * BAR), &MatchedEngine::example()), "boost", "0 bar to 4 bar");
    let still = with(|engine| engine.speed = si(0.0));
    refused(gate_area_needed(si(5e4), &still), "speed", "a stopped engine");
}

#[test]
fn an_observation_that_no_turbine_explains_points_at_the_actuator() {
    let wide = circle_area(si(0.035)).unwrap();
    let area = turbine_area_from(si(13.0 * PSI), wide, &MatchedEngine::example().engine);
    refused(area, "turbine_area_from", "the actuator, not the port, held it");
    let cold = with(|engine| {
        engine.turbine_inlet_temperature = si(300.0);
        engine.turbine_efficiency = 0.2;
    });
    let area = turbine_area_from(si(2.0 * BAR), si(1e-4), &cold.engine);
    refused(area, "turbine_area_from", "no turbine gives the power");
}

#[test]
fn creep_beyond_the_end_of_the_search_is_refused_and_never_clipped() {
    let strong = MatchedEngine {
        turbine_area: si(200e-6),
        ..with(|engine| {
            engine.turbine_efficiency = 0.75;
            engine.compressor_efficiency = 0.8;
            engine.inlet_drop = si(1e3);
            engine.charge_drop = si(2e3);
            engine.exhaust_drop = si(1e3);
        })
    };
    refused(creep_boost(si(2e-5), &strong), "creep_boost", "above 4 bar");
}

#[test]
fn a_gate_that_holds_any_boost_down_gives_0() {
    assert_eq!(creep_boost(si(3e-3), &MatchedEngine::example()).unwrap().si(), 0.0);
    let still = with(|engine| engine.speed = si(0.0));
    assert_eq!(creep_boost(si(1e-4), &still).unwrap().si(), 0.0);
}

#[test]
fn a_flap_that_would_drop_into_its_port_and_an_actuator_that_never_opens_are_refused() {
    let held = |contact: f64, wide: f64| {
        let gate = Gate {
            port_diameter: si(0.024),
            lift: si(0.008),
            wide_open_at: si(wide),
            flap: Flap {
                contact_diameter: si(contact),
                cracks_at: si(5e4),
                diaphragm_area: si(2e-3),
                arm_ratio: 0.85,
            },
        };
        held_boost(&gate, &MatchedEngine::example())
    };
    refused(held(0.023, 8e4), "contact_diameter", "drop into it");
    refused(held(0.028, 5e4), "wide_open_at", "above cracks_at");
    assert!(held(0.024, 8e4).is_ok());
}

#[test]
fn an_inlet_that_is_sucked_empty_is_refused_and_no_root_is_made_of_it() {
    let choked = with(|engine| {
        engine.inlet_drop = si(90e3);
        engine.reference_flow = si(0.02);
        engine.cooler_effectiveness = 1.0;
    });
    refused(gate_area_needed(si(5e4), &choked), "inlet_drop", "no pressure before the compressor");
}

#[test]
fn an_inlet_that_would_be_empty_far_above_the_answer_does_not_spoil_it() {
    let large = with(|engine| {
        engine.volume_per_turn = si(1.31e-3);
        engine.speed = si(7000.0 / 60.0);
        engine.cooler_effectiveness = 1.0;
    });
    let port = circle_area(si(0.025)).unwrap();
    refused(gate_area_needed(si(4e5), &large), "inlet_drop", "no pressure");
    let boost = creep_boost(port, &large).unwrap();
    let needed = gate_area_needed(boost, &large).unwrap();
    assert!((needed.si() / port.si() - 1.0).abs() < 1e-9);
}
