//! Gas through openings: nozzles, burned gas and turbine, small air lines, leaks.

use super::entry::{Argument, Function, functions, next};
use crate::physics::{burned, compressor, leak, nozzle, pneumatics, turbo};
use crate::quantity::{
    AbsolutePressure, Area, Conductance, Length, MassFlow, Power, Quantity, Rotation, SpecificHeat,
    Speed, Temperature, Time, Volume,
};

const POLYNOMIALS: &str = "NASA/TP-2002-211556 polynomials, from memory";

functions! {
    "gas flow" {
        critical_pressure_ratio(gamma: f64 = "1.001 to 2") -> f64 = nozzle::critical_pressure_ratio,
            "ratio of back pressure to supply pressure at which a restriction chokes",
            "NACA Report 1135; Heywood, Internal Combustion Engine Fundamentals, C.10";
        nozzle_flow(
            area: Area = "0 or more, the effective one",
            pressure: AbsolutePressure = "above 0",
            temperature: Temperature = "above 0 K",
            back_pressure: AbsolutePressure = "0 up to the pressure",
            gamma: f64 = "1.001 to 2",
            gas_constant: SpecificHeat = "above 0",
        ) -> MassFlow = nozzle::nozzle_flow,
            "isentropic flow through a restriction, choked or not",
            "Heywood, Internal Combustion Engine Fundamentals, eq. C.8 and C.9";
    }
    "burned gas and turbine" {
        burned_gas_heat_capacity(
            lambda: f64 = "0.8 to 1.15",
            temperature: Temperature = "300 to 1500 K",
        ) -> SpecificHeat = burned::burned_gas_heat_capacity,
            "heat capacity of burned petrol gas at constant pressure",
            POLYNOMIALS;
        burned_gas_gamma(lambda: f64 = "0.8 to 1.15", temperature: Temperature = "300 to 1500 K")
            -> f64 = burned::burned_gas_gamma,
            "ratio of the heat capacities of burned petrol gas",
            POLYNOMIALS;
        burned_gas_constant(lambda: f64 = "0.8 to 1.15") -> SpecificHeat
            = burned::burned_gas_constant,
            "gas constant of burned petrol gas",
            POLYNOMIALS;
        turbine_expansion_ratio(
            compressor_power: Power = "0 up to what the stream can give",
            gas_flow: MassFlow = "above 0",
            gas_temperature: Temperature = "above 0 K",
            turbine_efficiency: f64 = "above 0, at most 1",
            mechanical_efficiency: f64 = "above 0, at most 1; 1 where the turbine's map holds it",
            heat_capacity: SpecificHeat = "above 0",
            gamma: f64 = "1.001 to 2",
        ) -> f64 = turbo::turbine_expansion_ratio,
            "pressure ratio across the turbine that drives its compressor",
            "Heywood, Internal Combustion Engine Fundamentals, 6.8";
        turbine_outlet_temperature(
            inlet_temperature: Temperature = "above 0 K",
            expansion_ratio: f64 = "1 or more",
            efficiency: f64 = "above 0, at most 1",
            gamma: f64 = "1.001 to 2",
        ) -> Temperature = turbo::turbine_outlet_temperature,
            "temperature after the turbine",
            "Heywood, Internal Combustion Engine Fundamentals, 6.8";
    }
    "compressor" {
        corrected_flow(
            flow: MassFlow = "0 or more",
            inlet_temperature: Temperature = "above 0 K",
            inlet_pressure: AbsolutePressure = "above 0",
            reference_temperature: Temperature = "above 0 K, as the map says",
            reference_pressure: AbsolutePressure = "above 0, as the map says",
        ) -> MassFlow = compressor::corrected_flow,
            "flow as a compressor's map prints it",
            "SAE J1826; Watson and Janota, Turbocharging the Internal Combustion Engine";
        rim_speed(
            wheel_diameter: Length = "above 0",
            shaft_speed: Rotation = "0 or more",
        ) -> Speed = compressor::rim_speed,
            "speed of a wheel's rim", "geometry";
        compressor_rim_speed(
            pressure_ratio: f64 = "1 or more",
            inlet_temperature: Temperature = "above 0 K",
            head_coefficient: f64 = "0.3 to 0.9; 0.50 to 0.60 on most wheels",
        ) -> Speed = compressor::compressor_rim_speed,
            "rim speed that a compressor needs for a pressure ratio; cast wheels last to about 490 m/s",
            "Watson and Janota, Turbocharging the Internal Combustion Engine";
        compressor_choke_flow(
            inducer_diameter: Length = "above 0, the smaller diameter at the wheel's mouth",
            open_share: f64 = "above 0, at most 1; 0.62 to 0.78 on most wheels",
            inlet_temperature: Temperature = "above 0 K",
            inlet_pressure: AbsolutePressure = "above 0",
        ) -> MassFlow = compressor::compressor_choke_flow,
            "the most air that a compressor swallows",
            "Heywood, Internal Combustion Engine Fundamentals, eq. C.9; share from printed maps";
        compressor_surge_flow(
            wheel_diameter: Length = "above 0, outer",
            pressure_ratio: f64 = "1 or more; fitted from 1.4 to 2.9",
            surge_coefficient: f64 = "0.01 to 0.12; 0.033 to 0.057 on most wheels",
            inlet_temperature: Temperature = "above 0 K",
            inlet_pressure: AbsolutePressure = "above 0",
        ) -> MassFlow = compressor::compressor_surge_flow,
            "the least air that a compressor passes at a pressure ratio: below it, it surges",
            "similarity: Watson and Janota, Turbocharging the Internal Combustion Engine; coefficient: \
                one printed map and common practice";
    }
    "air lines" {
        pneumatic_flow(
            conductance: Conductance = "0 or more, dm3/(s bar)",
            critical_ratio: f64 = "0 up to below 1",
            pressure: AbsolutePressure = "above 0",
            back_pressure: AbsolutePressure = "0 up to the pressure",
            temperature: Temperature = "above 0 K",
        ) -> MassFlow = pneumatics::pneumatic_flow,
            "air through a pneumatic component, by its sonic conductance", "ISO 6358-1:2013";
        canister_pressure(
            supply_conductance: Conductance = "0 or more, dm3/(s bar)",
            supply_critical_ratio: f64 = "0 up to below 1",
            vent_conductance: Conductance = "0 or more, dm3/(s bar)",
            vent_critical_ratio: f64 = "0 up to below 1",
            source: AbsolutePressure = "ambient or more",
            ambient: AbsolutePressure = "0 up to the source",
            temperature: Temperature = "above 0 K",
        ) -> AbsolutePressure = pneumatics::canister_pressure,
            "pressure between a supply and a vent: what the actuator sees of a bled signal",
            "ISO 6358-1:2013, the same flow through both";
    }
    "leaks" {
        decay_time_isothermal(
            volume: Volume = "above 0",
            temperature: Temperature = "above 0 K",
            start: AbsolutePressure = "0 or more",
            end: AbsolutePressure = "between start and ambient",
            ambient: AbsolutePressure = "above 0",
            area: Area = "above 0",
        ) -> Time = leak::decay_time_isothermal,
            "time from start to end through a leak, air at constant temperature",
            "Heywood, Internal Combustion Engine Fundamentals, appendix C; emptying of a vessel";
        decay_time_adiabatic(
            volume: Volume = "above 0",
            temperature: Temperature = "above 0 K",
            start: AbsolutePressure = "above ambient",
            end: AbsolutePressure = "between start and ambient",
            ambient: AbsolutePressure = "above 0",
            area: Area = "above 0",
        ) -> Time = leak::decay_time_adiabatic,
            "time from start to end through a leak, air cooling as it expands",
            "Heywood, Internal Combustion Engine Fundamentals, appendix C; emptying of a vessel";
        leak_area_isothermal(
            volume: Volume = "above 0",
            temperature: Temperature = "above 0 K",
            start: AbsolutePressure = "0 or more",
            end: AbsolutePressure = "between start and ambient",
            ambient: AbsolutePressure = "above 0",
            time: Time = "above 0",
        ) -> Area = leak::leak_area_isothermal, remarks leak::leak_area_remarks,
            "effective leak area from a pressure test, air at constant temperature",
            "Heywood, Internal Combustion Engine Fundamentals, appendix C; emptying of a vessel";
        leak_area_adiabatic(
            volume: Volume = "above 0",
            temperature: Temperature = "above 0 K",
            start: AbsolutePressure = "above ambient",
            end: AbsolutePressure = "between start and ambient",
            ambient: AbsolutePressure = "above 0",
            time: Time = "above 0",
        ) -> Area = leak::leak_area_adiabatic, remarks leak::leak_area_remarks,
            "effective leak area from a pressure test, air cooling as it expands",
            "Heywood, Internal Combustion Engine Fundamentals, appendix C; emptying of a vessel";
        leak_flow(
            area: Area = "0 or more, the effective one",
            pressure: AbsolutePressure = "ambient or more",
            temperature: Temperature = "above 0 K",
            ambient: AbsolutePressure = "0 up to the pressure",
        ) -> MassFlow = leak::leak_flow,
            "air lost through a leak of this area",
            "Heywood, Internal Combustion Engine Fundamentals, appendix C";
    }
}
