//! Fuel and spark.

use super::entry::{Argument, Function, functions, next};
use crate::physics::{fuel, spark};
use crate::quantity::{
    AbsolutePressure, Density, GaugePressure, Length, MassFlow, PressureDifference, Quantity,
    VolumeFlow,
};

functions! {
    "fuel" {
        stoichiometric_ratio(
            carbon: f64 = "0 or more",
            hydrogen: f64 = "0 or more",
            oxygen: f64 = "0 or more",
        ) -> f64 = fuel::stoichiometric_ratio,
            "stoichiometric air-fuel ratio by mass, from the atoms of the fuel",
            "Heywood, Internal Combustion Engine Fundamentals, 3.4; air as O2 + 3.76 N2";
        fuel_flow(
            air_flow: MassFlow = "0 or more",
            lambda: f64 = "above 0",
            stoichiometric_ratio: f64 = "above 0",
        ) -> MassFlow = fuel::fuel_flow, "fuel flow needed for an air flow", "definition of lambda";
        lambda_of_flows(
            air_flow: MassFlow = "0 or more",
            fuel_flow: MassFlow = "above 0",
            stoichiometric_ratio: f64 = "above 0",
        ) -> f64 = fuel::lambda_of_flows,
            "lambda of an air flow with a fuel flow, as when a bank is cut", "definition of lambda";
        injector_flow(
            rated_flow: VolumeFlow = "above 0",
            rated_difference: PressureDifference = "above 0",
            difference: PressureDifference = "above 0, rail less manifold",
        ) -> VolumeFlow = fuel::injector_flow,
            "flow of an open injector at another pressure difference",
            "Heywood, Internal Combustion Engine Fundamentals, 7.3.2";
        injector_duty(
            fuel_flow: MassFlow = "0 or more",
            injectors: f64 = "1 or more",
            injector_flow: VolumeFlow = "above 0",
            density: Density = "above 0",
        ) -> f64 = fuel::injector_duty,
            "share of the time that injectors must stay open; above 1 they can\'t give it", "continuity";
        injected_fuel(
            injectors: f64 = "1 or more",
            injector_flow: VolumeFlow = "above 0",
            density: Density = "above 0",
            duty: f64 = "above 0, at most 1",
        ) -> MassFlow = fuel::injected_fuel, "fuel flow of injectors at a duty", "continuity";
    }
    "spark" {
        miss_boost(
            boost: GaugePressure = "above vacuum",
            ambient: AbsolutePressure = "above 0",
            gap: Length = "above 0",
            new_gap: Length = "above 0",
        ) -> GaugePressure = spark::miss_boost,
            "boost at which the spark fails after the plug gap was changed",
            "Paschen's law, pressure times gap constant; common practice";
    }
}
