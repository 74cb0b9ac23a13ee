//! The match of engine, turbine and gate: a function's own arguments first, then those of the gate
//! where it takes one, then those of the engine.

use super::entry::{Argument, Function, joined, next};
use super::whole_engine::{Arguments, arguments, functions_of_an_engine};
use crate::physics::Refusal;
use crate::physics::fit::{self, Engine, Flap, Gate, MatchedEngine};
use crate::quantity::{
    AbsolutePressure, Area, GaugePressure, Length, MassFlow, PressureDifference, Quantity,
    Rotation, Temperature,
};

arguments! {
    Flap = Self { contact_diameter, cracks_at, diaphragm_area, arm_ratio };
    contact_diameter: Length = "above 0",
    cracks_at: GaugePressure = "0 or more",
    diaphragm_area: Area = "above 0",
    arm_ratio: f64 = "0 or more, flap arm over rod arm",
}

arguments! {
    Gate = {
        let flap = Flap { contact_diameter, cracks_at, diaphragm_area, arm_ratio };
        Self { port_diameter, lift, wide_open_at, flap }
    };
    port_diameter: Length = "above 0",
    contact_diameter: Length = "the port's or more",
    lift: Length = "above 0, of the flap wide open",
    cracks_at: GaugePressure = "0 or more",
    wide_open_at: GaugePressure = "above cracks_at",
    diaphragm_area: Area = "above 0",
    arm_ratio: f64 = "0 or more, flap arm over rod arm; 0 leaves out the gas's push",
}

/// The turbine's area stands second, behind the speed.
const MATCHED: [Argument; Engine::ARGUMENTS.len() + 1] = {
    let turbine_area =
        Argument { name: "turbine_area", kind: Area::KIND, range: "above 0, effective" };
    let (speed, rest) = Engine::ARGUMENTS.split_at(1);
    joined(&[speed, &[turbine_area], rest])
};

impl Arguments for MatchedEngine {
    const ARGUMENTS: &'static [Argument] = &MATCHED;

    fn read(mut given: &mut dyn Iterator<Item = f64>) -> Self {
        let speed: Rotation = next(&mut given);
        let turbine_area = next(&mut given);
        let engine = Engine::read(&mut std::iter::once(speed.si()).chain(given));
        Self { turbine_area, engine }
    }
}

const SOURCE: &str = "Heywood, Internal Combustion Engine Fundamentals, 2.7, 6.8, appendix C; \
    Watson and Janota, Turbocharging the Internal Combustion Engine; gas after NASA/TP-2002-211556";

functions_of_an_engine! {
    "match of engine, turbine and gate" {
        gate_area_needed(boost: GaugePressure = "0 to 4 bar, at the plenum"; MatchedEngine)
            -> Area = fit::gate_area_needed,
            "area that the gate must open to hold this boost";
        turbine_area_from(
            boost: GaugePressure = "above 0, at most 4 bar",
            port_area: Area = "above 0, the gate truly wide open";
            Engine
        ) -> Area = fit::turbine_area_from, remarks fit::turbine_area_remarks,
            "effective turbine area, from one pull with the gate wide open";
        creep_boost(port_area: Area = "0 or more"; MatchedEngine)
            -> GaugePressure = fit::creep_boost, remarks fit::creep_boost_remarks,
            "boost at which the engine settles with the gate wide open at this area; 0 to 4 bar";
        held_boost(; Gate, MatchedEngine)
            -> GaugePressure = fit::held_boost, remarks fit::held_boost_remarks,
            "boost that gate and actuator hold: the higher of creep line and actuator line";
        actuator_line_shift(
            boost: GaugePressure = "0 to 4 bar, held by the actuator";
            Gate, MatchedEngine
        ) -> PressureDifference = fit::actuator_line_shift,
            "how far the actuator's line must be above the bench line to hold this boost";
        opening_boost(; Flap, MatchedEngine) -> GaugePressure = fit::opening_boost,
            "boost at which the flap starts to lift on the running engine, the gas helping";
        blow_open_boost(; Flap, MatchedEngine) -> GaugePressure = fit::blow_open_boost,
            "boost at which the gas alone lifts the flap: the highest that a controller can hold";
        turbine_inlet_pressure(boost: GaugePressure = "0 to 4 bar"; MatchedEngine)
            -> AbsolutePressure = fit::turbine_inlet_pressure,
            "pressure before the turbine at a boost that the gate holds";
        gate_share(boost: GaugePressure = "0 to 4 bar"; MatchedEngine)
            -> f64 = fit::gate_share,
            "share of the gas that bypasses the turbine at a boost that the gate holds";
        air_flow_at(boost: GaugePressure = "0 to 4 bar"; MatchedEngine)
            -> MassFlow = fit::air_flow_at, "air that the engine takes in at a boost";
        charge_temperature_at(boost: GaugePressure = "0 to 4 bar"; MatchedEngine)
            -> Temperature = fit::charge_temperature_at,
            "temperature of the charge in the plenum at a boost";
        boost_at_air_flow(
            air_flow: MassFlow = "what the engine takes at 0 to 4 bar";
            MatchedEngine
        ) -> GaugePressure = fit::boost_at_air_flow,
            "boost at which the engine takes this air flow, such as the most that the fuel allows";
    }
    "where the compressor works" {
        compressor_ratio_at(boost: GaugePressure = "0 to 4 bar"; MatchedEngine)
            -> f64 = fit::compressor_ratio_at,
            "pressure ratio of the compressor at a boost, with the losses before and behind it";
        compressor_flow_at(
            boost: GaugePressure = "0 to 4 bar",
            reference_temperature: Temperature = "above 0 K, of the map",
            reference_pressure: AbsolutePressure = "above 0, of the map";
            MatchedEngine
        ) -> MassFlow = fit::compressor_flow_at,
            "flow through the compressor at a boost, corrected as its map prints it";
        compressor_outlet_at(boost: GaugePressure = "0 to 4 bar"; MatchedEngine)
            -> Temperature = fit::compressor_outlet_at,
            "temperature at the compressor's outlet at a boost, before the cooler";
    }
}
