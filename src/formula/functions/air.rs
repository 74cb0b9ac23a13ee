//! The air's way to the engine: weather, charge side, the engine as a pump, correction of power.

use super::entry::{Argument, Function, functions, next};
use crate::physics::{atmosphere, charge, correction, engine, restriction};
use crate::quantity::{
    AbsolutePressure, Density, GaugePressure, Length, MassFlow, Power, PressureDifference,
    Quantity, Rotation, SpecificEnergy, Speed, Temperature, Torque, Volume,
};

functions! {
    "atmosphere" {
        standard_pressure(altitude: Length = "-2 to 11 km, geopotential") -> AbsolutePressure
            = atmosphere::standard_pressure,
            "pressure of the standard atmosphere", "ISO 2533:1975, eq. 12";
        standard_temperature(altitude: Length = "-2 to 11 km, geopotential") -> Temperature
            = atmosphere::standard_temperature,
            "temperature of the standard atmosphere", "ISO 2533:1975, eq. 5";
        pressure_altitude(pressure: AbsolutePressure = "22.7 to 127.8 kPa") -> Length
            = atmosphere::pressure_altitude,
            "geopotential altitude where the standard atmosphere has this pressure",
            "ISO 2533:1975, eq. 12";
        air_density(pressure: AbsolutePressure = "0 or more", temperature: Temperature = "above 0 K")
            -> Density = atmosphere::air_density,
            "density of dry air", "ideal gas, R 287.05 J/(kg K)";
        absolute(gauge: GaugePressure = "from vacuum up", ambient: AbsolutePressure = "above 0")
            -> AbsolutePressure = atmosphere::absolute,
            "absolute pressure for a gauge reading", "definition of gauge pressure";
        gauge(pressure: AbsolutePressure = "0 or more", ambient: AbsolutePressure = "above 0")
            -> GaugePressure = atmosphere::gauge,
            "gauge reading for an absolute pressure", "definition of gauge pressure";
    }
    "charge air" {
        compressor_outlet_temperature(
            inlet_temperature: Temperature = "above 0 K",
            pressure_ratio: f64 = "1 or more",
            efficiency: f64 = "above 0, at most 1",
        ) -> Temperature = charge::compressor_outlet_temperature,
            "temperature after the compressor",
            "Heywood, Internal Combustion Engine Fundamentals, 6.8";
        compressor_work(
            inlet_temperature: Temperature = "above 0 K",
            pressure_ratio: f64 = "1 or more",
            efficiency: f64 = "above 0, at most 1",
        ) -> SpecificEnergy = charge::compressor_work,
            "work of the compressor per kilogram of air",
            "Heywood, Internal Combustion Engine Fundamentals, 6.8";
        cooler_outlet_temperature(
            inlet_temperature: Temperature = "above 0 K",
            coolant_temperature: Temperature = "above 0 K",
            effectiveness: f64 = "0 to 1",
        ) -> Temperature = charge::cooler_outlet_temperature,
            "temperature after the charge cooler (intercooler)",
            "definition of effectiveness (Kays and London, Compact Heat Exchangers)";
        drop_at_flow(
            drop: PressureDifference = "0 or more",
            reference_flow: MassFlow = "above 0",
            flow: MassFlow = "0 or more",
        ) -> PressureDifference = restriction::drop_at_flow,
            "pressure drop at another air flow, by the square of the flow",
            "Heywood, Internal Combustion Engine Fundamentals, 6.2.2";
    }
    "engine" {
        engine_air_flow(
            volume_per_turn: Volume = "0 or more",
            speed: Rotation = "0 or more",
            volumetric_efficiency: f64 = "above 0, at most 2",
            pressure: AbsolutePressure = "0 or more",
            temperature: Temperature = "above 0 K",
        ) -> MassFlow = engine::engine_air_flow,
            "air flow of the engine; volumetric efficiency on manifold density",
            "Heywood, Internal Combustion Engine Fundamentals, eq. 2.27";
        rotary_chamber_volume(
            eccentricity: Length = "above 0",
            generating_radius: Length = "above 0",
            width: Length = "above 0",
        ) -> Volume = engine::rotary_chamber_volume,
            "swept volume of one chamber of a rotary engine", "K. Yamamoto, Rotary Engine (1981)";
        shaft_power(torque: Torque = "any", speed: Rotation = "0 or more") -> Power
            = engine::shaft_power,
            "power at a shaft", "definition of power: 2 pi times torque times turns a second";
        road_speed(
            speed: Rotation = "0 or more",
            gear_ratio: f64 = "above 0",
            final_drive: f64 = "above 0",
            tyre_circumference: Length = "above 0",
        ) -> Speed = engine::road_speed,
            "road speed at an engine speed in a gear, without slip", "kinematics of the drive line";
    }
    "comparing days" {
        power_correction_j1349(
            temperature: Temperature = "220 to 340 K; meant for 15 to 35 °C",
            dry_pressure: AbsolutePressure = "40 to 120 kPa; meant for 90 to 105 kPa",
        ) -> f64 = correction::power_correction_j1349, remarks correction::correction_remarks,
            "factor that corrects a measured power to 25 °C and 99 kPa of dry air",
            "SAE J1349 (1990), from memory";
        power_correction_iso1585(
            temperature: Temperature = "220 to 340 K; meant for 15 to 35 °C",
            dry_pressure: AbsolutePressure = "40 to 120 kPa; meant for 90 to 105 kPa",
        ) -> f64 = correction::power_correction_iso1585, remarks correction::correction_remarks,
            "factor that corrects a measured power to 298 K and 99 kPa of dry air",
            "ISO 1585:1992, from memory";
    }
}
