//! Metal parts: port and flap, plates, growth by heat, actuator.

use super::entry::{Argument, Function, functions, next};
use crate::physics::{actuator, circle, flap, plate};
use crate::quantity::{
    Angle, Area, Expansion, Force, GaugePressure, Length, PressureDifference, Quantity, Stiffness,
    Temperature,
};

const PLATES: &str = "Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells, §16";

functions! {
    "port and flap" {
        circle_area(diameter: Length = "0 or more") -> Area = circle::circle_area,
            "area of a round hole", "geometry";
        circle_diameter(area: Area = "0 or more") -> Length = circle::circle_diameter,
            "diameter of a round hole of this area", "geometry";
        next_size(diameter: Length = "0 or more", step: Length = "above 0") -> Length
            = circle::next_size,
            "next size of a tool that is no smaller than a bore", "arithmetic";
        sine(angle: Angle = "any") -> f64 = circle::sine, "sine of an angle", "geometry";
        cosine(angle: Angle = "any") -> f64 = circle::cosine, "cosine of an angle", "geometry";
        arcsine(sine: f64 = "-1 to 1") -> Angle = circle::arcsine,
            "angle of this sine, from -90° to 90°", "geometry";
        curtain_area(diameter: Length = "0 or more", lift: Length = "0 or more") -> Area
            = circle::curtain_area,
            "curtain area between port and flap; beyond a lift of d/4 the port is smaller",
            "Heywood, Internal Combustion Engine Fundamentals, 6.3.2";
        open_area(port_diameter: Length = "0 or more", lift: Length = "0 or more") -> Area
            = circle::open_area,
            "area that a flap leaves open: the curtain or the port, whichever is smaller",
            "Heywood, Internal Combustion Engine Fundamentals, 6.3.2";
        flap_lift_from(
            rod_travel: Length = "0 up to a swing of 90°",
            rod_arm: Length = "above 0",
            flap_arm: Length = "above 0",
        ) -> Length = flap::flap_lift_from,
            "mean lift of a hinged flap from the travel of its rod", "geometry: a sin θ, 2 b sin(θ/2)";
        rod_travel_for(
            lift: Length = "0 up to the flap's arm",
            flap_arm: Length = "above 0",
            rod_arm: Length = "above 0",
        ) -> Length = flap::rod_travel_for,
            "rod travel that gives a hinged flap its mean lift", "geometry: a sin θ, 2 b sin(θ/2)";
        seat_land(
            flap_diameter: Length = "above 0",
            port_diameter: Length = "above 0",
            side_play: Length = "0 or more",
        ) -> Length = flap::seat_land,
            "land on which a flap seats all round, after its side play", "geometry";
    }
    "plates" {
        clamped_plate_stress(
            pressure: PressureDifference = "0 or more",
            radius: Length = "above 0",
            thickness: Length = "above 0, at most half the radius",
        ) -> PressureDifference = plate::clamped_plate_stress,
            "largest stress of a round plate held at its rim, at the rim",
            PLATES;
        supported_plate_stress(
            pressure: PressureDifference = "0 or more",
            radius: Length = "above 0",
            thickness: Length = "above 0, at most half the radius",
            poisson: f64 = "0 to 0.5",
        ) -> PressureDifference = plate::supported_plate_stress,
            "largest stress of a round plate resting on its rim, at the centre",
            PLATES;
        clamped_plate_deflection(
            pressure: PressureDifference = "0 or more",
            radius: Length = "above 0",
            thickness: Length = "above 0, at most half the radius",
            modulus: PressureDifference = "above 0",
            poisson: f64 = "0 to 0.5",
        ) -> Length = plate::clamped_plate_deflection, remarks plate::deflection_remarks,
            "deflection of a round plate held at its rim; up to half its thickness",
            PLATES;
        supported_plate_deflection(
            pressure: PressureDifference = "0 or more",
            radius: Length = "above 0",
            thickness: Length = "above 0, at most half the radius",
            modulus: PressureDifference = "above 0",
            poisson: f64 = "0 to 0.5",
        ) -> Length = plate::supported_plate_deflection, remarks plate::deflection_remarks,
            "deflection of a round plate resting on its rim; up to half its thickness",
            PLATES;
    }
    "hot parts" {
        hot_size(
            size: Length = "above 0",
            expansion: Expansion = "0 to 0.001 1/K, mean between the two temperatures",
            from: Temperature = "above 0 K",
            to: Temperature = "above 0 K",
        ) -> Length = flap::hot_size,
            "size of a part at another temperature", "definition of the mean expansion coefficient";
        hot_clearance(
            pocket_diameter: Length = "above 0",
            pocket_expansion: Expansion = "0 to 0.001 1/K",
            pocket_temperature: Temperature = "above 0 K",
            flap_diameter: Length = "above 0",
            flap_expansion: Expansion = "0 to 0.001 1/K",
            flap_temperature: Temperature = "above 0 K",
            cold: Temperature = "above 0 K",
        ) -> Length = flap::hot_clearance,
            "clearance all round a hot flap in its hot pocket; negative: it binds",
            "definition of the mean expansion coefficient";
    }
    "actuator" {
        preload_change(
            turns: f64 = "any; shortening the rod is positive",
            thread_pitch: Length = "above 0",
            spring_rate: Stiffness = "above 0",
            diaphragm_area: Area = "above 0",
        ) -> PressureDifference = actuator::preload_change,
            "change in crack pressure from turns of the rod's thread", "balance of forces";
        closing_force(
            cracks_at: GaugePressure = "0 or more",
            diaphragm_area: Area = "above 0",
            arm_ratio: f64 = "above 0, flap arm over rod arm",
        ) -> Force = actuator::closing_force,
            "force with which the preload holds the flap on its seat", "balance of moments";
        blow_open_difference(
            cracks_at: GaugePressure = "0 or more",
            diaphragm_area: Area = "above 0",
            arm_ratio: f64 = "above 0, flap arm over rod arm",
            contact_diameter: Length = "above 0",
            pulsation: f64 = "1 or more, peak over mean",
        ) -> PressureDifference = actuator::blow_open_difference,
            "mean pressure difference across the flap that lifts it without a signal",
            "balance of moments";
        opening_pressure(
            cracks_at: GaugePressure = "0 or more",
            difference: PressureDifference = "0 or more",
            contact_diameter: Length = "above 0",
            arm_ratio: f64 = "0 or more, flap arm over rod arm",
            diaphragm_area: Area = "above 0",
        ) -> GaugePressure = actuator::opening_pressure,
            "canister pressure at which the flap lifts with the gas pushing; negative: it opens alone",
            "balance of moments";
        raised_boost(
            boost: GaugePressure = "the spring's own or more",
            spring: GaugePressure = "0 or more, what the spring holds alone",
        ) -> GaugePressure = actuator::raised_boost,
            "boost that a controller can hold above the spring: it can only raise it",
            "common practice: a controller bleeds the signal, and can't add to it";
    }
}
