//! Every root put back into the balance it came from, with the plain functions of the physics, and
//! mass and energy conserved to 1e-9.

use boostwright::physics::actuator::opening_pressure;
use boostwright::physics::burned::{
    burned_gas_constant, burned_gas_gamma, burned_gas_heat_capacity,
};
use boostwright::physics::charge::{
    compressor_outlet_temperature, compressor_work, cooler_outlet_temperature,
};
use boostwright::physics::circle::{circle_area, open_area};
use boostwright::physics::engine::engine_air_flow;
use boostwright::physics::fit::{
    Flap, Gate, MatchedEngine, OperatingPoint, actuator_line_shift, air_flow_at, blow_open_boost,
    boost_at_air_flow, charge_temperature_at, creep_boost, gate_area_needed, gate_share,
    held_boost, opening_boost, operating_point, turbine_areas, turbine_inlet_pressure,
};
use boostwright::physics::nozzle::nozzle_flow;
use boostwright::physics::pneumatics::{canister_pressure, pneumatic_flow};
use boostwright::physics::restriction::drop_at_flow;
use boostwright::physics::turbo::turbine_expansion_ratio;
use boostwright::quantity::{Area, GaugePressure, Length, Quantity};
use proptest::prelude::{prop_assert, prop_assume, proptest};

use super::engines::any_engine;
use super::{si, wide};

fn same(left: f64, right: f64) -> bool {
    (left - right).abs() <= 1e-9 * left.abs().max(right.abs())
}

/// Charge side, turbine and gate of an operating point, worked out again with plain functions.
fn closes(boost: GaugePressure, matched: &MatchedEngine, point: &OperatingPoint) -> bool {
    let engine = &matched.engine;
    let ambient = engine.ambient.si();
    let dropped = |drop| drop_at_flow(drop, engine.reference_flow, point.air_flow).unwrap().si();
    let inlet_pressure = ambient - dropped(engine.inlet_drop);
    let inlet_temperature = si(engine.ambient_temperature.si() + engine.inlet_heating.si());
    let outlet_pressure = ambient + boost.si() + dropped(engine.charge_drop);
    let ratio = outlet_pressure / inlet_pressure;
    let efficiency = engine.compressor_efficiency;
    let hot = compressor_outlet_temperature(inlet_temperature, ratio, efficiency).unwrap();
    let charge =
        cooler_outlet_temperature(hot, engine.ambient_temperature, engine.cooler_effectiveness)
            .unwrap();
    let air = engine_air_flow(
        engine.volume_per_turn,
        engine.speed,
        engine.volumetric_efficiency,
        boost.absolute(engine.ambient),
        charge,
    )
    .unwrap();
    let power = air.si() * compressor_work(inlet_temperature, ratio, efficiency).unwrap().si();
    let hot_gas = engine.turbine_inlet_temperature;
    let heat = burned_gas_heat_capacity(engine.lambda, hot_gas).unwrap();
    let gamma = burned_gas_gamma(engine.lambda, hot_gas).unwrap();
    let constant = burned_gas_constant(engine.lambda).unwrap();
    let expansion = turbine_expansion_ratio(
        si(power),
        point.turbine_flow,
        hot_gas,
        engine.turbine_efficiency,
        engine.mechanical_efficiency,
        heat,
        gamma,
    )
    .unwrap();
    let (before, behind) = (point.turbine_inlet_pressure, point.turbine_outlet_pressure);
    let between = si((before.si() * behind.si()).sqrt());
    let through = nozzle_flow(matched.turbine_area, before, hot_gas, between, gamma, constant);
    let open = gate_area_needed(boost, matched).unwrap().si() * engine.discharge_coefficient
        + engine.leak_area.si();
    let past = nozzle_flow(si(open), before, hot_gas, behind, gamma, constant).unwrap();
    let gas = air.si() * (1.0 + 1.0 / (engine.lambda * 14.7));
    same(air.si(), point.air_flow.si())
        && same(charge.si(), point.charge_temperature.si())
        && same(hot.si(), point.compressor_outlet_temperature.si())
        && same(outlet_pressure, point.compressor_outlet_pressure.si())
        && same(power, point.compressor_power.si())
        && same(ambient + dropped(engine.exhaust_drop), behind.si())
        && same(expansion, before.si() / behind.si())
        && same(through.unwrap().si(), point.turbine_flow.si())
        && same(gas, point.gas_flow.si())
        && same(gas, point.turbine_flow.si() + past.si())
        && same(past.si(), point.gate_flow.si())
}

proptest! {
    #![proptest_config(wide())]

    #[test]
    fn mass_and_energy_close_at_every_operating_point(
        matched in any_engine(),
        boost in 1e3..200e3f64,
    ) {
        let boost = si(boost);
        let point = operating_point(boost, &matched);
        prop_assume!(point.is_ok());
        prop_assert!(closes(boost, &matched, &point.unwrap()));
    }

    #[test]
    fn creep_boost_needs_just_the_gate_that_is_open(
        matched in any_engine(),
        diameter in 0.012..0.032f64,
    ) {
        let port = circle_area(si(diameter)).unwrap();
        let boost = creep_boost(port, &matched);
        prop_assume!(boost.as_ref().is_ok_and(|boost| boost.si() > 0.0));
        let needed = gate_area_needed(boost.unwrap(), &matched).unwrap();
        prop_assert!(same(needed.si(), port.si()));
    }

    #[test]
    fn both_turbines_of_an_observation_give_its_boost_again(
        matched in any_engine(),
        diameter in 0.012..0.026f64,
        boost in 30e3..120e3f64,
    ) {
        let (port, boost) = (circle_area(si(diameter)).unwrap(), si(boost));
        let areas = turbine_areas(boost, port, &matched.engine);
        prop_assume!(areas.is_ok());
        let areas = areas.unwrap();
        prop_assert!(areas.larger.si() >= areas.smaller.si());
        for turbine_area in [areas.larger, areas.smaller] {
            let needed = gate_area_needed(boost, &MatchedEngine { turbine_area, ..matched });
            prop_assert!(same(needed.unwrap().si(), port.si()));
        }
    }

    #[test]
    fn held_boost_needs_just_the_area_at_its_lift(
        matched in any_engine(),
        diameter in 0.014..0.030f64,
        cracks in 20e3..80e3f64,
        arm_ratio in 0.0..1.2f64,
    ) {
        let (port, contact, lift): (Length, Length, Length) =
            (si(diameter), si(diameter + 0.004), si(diameter / 3.0));
        let (cracks_at, diaphragm): (_, Area) = (si(cracks), si(2e-3));
        let gate = Gate {
            port_diameter: port,
            lift,
            wide_open_at: si(cracks + 30e3),
            flap: Flap { contact_diameter: contact, cracks_at, diaphragm_area: diaphragm, arm_ratio },
        };
        let held = held_boost(&gate, &matched);
        prop_assume!(held.as_ref().is_ok_and(|boost| boost.si() > 0.0));
        let held = held.unwrap();
        let point = operating_point(held, &matched);
        // A gate that is still shut needs an area of 0, which may come out a hair below.
        prop_assume!(point.is_ok());
        let point = point.unwrap();
        let difference =
            si(point.turbine_inlet_pressure.si() - point.turbine_outlet_pressure.si());
        let opens =
            opening_pressure(cracks_at, difference, contact, arm_ratio, diaphragm).unwrap();
        let signal = point.compressor_outlet_pressure.si() - matched.engine.ambient.si();
        let share = ((signal - opens.si()) / 30e3).clamp(0.0, 1.0);
        let area = open_area(port, si(lift.si() * share)).unwrap();
        let needed = gate_area_needed(held, &matched).unwrap();
        prop_assert!((area.si() - needed.si()).abs() < 1e-9 * 1e-3, "{area:?} {needed:?}");
        let creep = creep_boost(open_area(port, lift).unwrap(), &matched).unwrap();
        prop_assert!(held.si() >= creep.si() * (1.0 - 1e-9));
    }

    #[test]
    fn opening_points_balance_signal_and_push_against_the_spring(
        matched in any_engine(),
        cracks in 20e3..80e3f64,
        arm_ratio in 0.3..1.2f64,
    ) {
        let (contact, cracks_at, diaphragm) = (si(0.028), si(cracks), si(2e-3));
        let flap =
            Flap { contact_diameter: contact, cracks_at, diaphragm_area: diaphragm, arm_ratio };
        let opens = opening_boost(&flap, &matched).unwrap();
        let alone = blow_open_boost(&flap, &matched);
        // A large turbine may never push that hard.
        prop_assume!(alone.is_ok());
        let alone = alone.unwrap();
        prop_assert!(opens.si() <= alone.si());
        for (boost, with_signal) in [(opens, true), (alone, false)] {
            // A boost beyond what the turbine makes has no operating point to look at.
            let point = operating_point(boost, &matched);
            prop_assume!(boost.si() > 0.0 && point.is_ok());
            let point = point.unwrap();
            let difference =
                si(point.turbine_inlet_pressure.si() - point.turbine_outlet_pressure.si());
            let wanted =
                opening_pressure(cracks_at, difference, contact, arm_ratio, diaphragm).unwrap();
            let signal = point.compressor_outlet_pressure.si() - matched.engine.ambient.si();
            let there = if with_signal { signal } else { 0.0 };
            prop_assert!((there - wanted.si()).abs() < 1e-9 * 1e5);
        }
    }

    #[test]
    fn canister_passes_as_much_as_it_gets(
        supply in 1e-10..1e-7f64,
        vent in 1e-10..1e-7f64,
        boost in 1e3..250e3f64,
        critical in 0.1..0.6f64,
    ) {
        let (source, ambient) = (si(101e3 + boost), si(101e3));
        let between =
            canister_pressure(si(supply), critical, si(vent), 0.3, source, ambient, si(300.0))
                .unwrap();
        let gets = pneumatic_flow(si(supply), critical, source, between, si(300.0)).unwrap();
        let loses = pneumatic_flow(si(vent), 0.3, between, ambient, si(300.0)).unwrap();
        prop_assert!((gets.si() - loses.si()).abs() < 1e-7 * gets.si().max(loses.si()));
    }
}

/// The fit of the actuator's line turned round: bench pressures raised by it hold the boost.
#[test]
fn an_actuator_on_the_fitted_line_holds_the_boost_that_was_seen() {
    let matched = MatchedEngine::example();
    for boost in [40e3, 60e3, 90e3] {
        for arm_ratio in [0.0, 0.85] {
            let raised = |shift: f64| Gate {
                port_diameter: si(0.030),
                lift: si(0.010),
                wide_open_at: si(60e3 + shift),
                flap: Flap {
                    contact_diameter: si(0.034),
                    cracks_at: si(30e3 + shift),
                    diaphragm_area: si(2e-3),
                    arm_ratio,
                },
            };
            let shift = actuator_line_shift(si(boost), &raised(0.0), &matched).unwrap().si();
            let held = held_boost(&raised(shift), &matched).unwrap().si();
            assert!(same(held, boost), "{boost} {arm_ratio}: {shift}");
        }
    }
}

#[test]
fn no_line_of_the_actuator_explains_a_boost_that_the_port_holds() {
    let matched = MatchedEngine::example();
    let port = 0.018;
    let creeps_to = creep_boost(circle_area(si(port)).unwrap(), &matched).unwrap();
    let gate = Gate {
        port_diameter: si(port),
        lift: si(0.006),
        wide_open_at: si(60e3),
        flap: Flap {
            contact_diameter: si(0.022),
            cracks_at: si(30e3),
            diaphragm_area: si(2e-3),
            arm_ratio: 0.5,
        },
    };
    let shift = |boost: f64| actuator_line_shift(si(boost), &gate, &matched);
    assert!(shift(1.01 * creeps_to.si()).is_ok());
    let told = shift(0.99 * creeps_to.si()).unwrap_err().reason;
    assert!(told.contains("passes all it can"), "{told}");
}

#[test]
fn shares_and_flows_are_those_of_the_operating_point() {
    let (matched, boost) = (MatchedEngine::example(), si(50e3));
    let point = operating_point(boost, &matched).unwrap();
    let share = gate_share(boost, &matched).unwrap();
    assert!(same(share, point.gate_flow.si() / point.gas_flow.si()));
    assert_eq!(air_flow_at(boost, &matched).unwrap(), point.air_flow);
    assert_eq!(charge_temperature_at(boost, &matched).unwrap(), point.charge_temperature);
    assert_eq!(turbine_inlet_pressure(boost, &matched).unwrap(), point.turbine_inlet_pressure);
    let back = boost_at_air_flow(point.air_flow, &matched).unwrap();
    assert!(same(back.si(), 50e3));
}
