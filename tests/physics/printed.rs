//! Worked examples that textbooks print, to their digits where the book reckons with our constants,
//! and otherwise within 0.3 %, what reading tables or another gas constant costs. Books that take
//! 0 °C as 273 K are followed.

use boostwright::physics::charge::{compressor_outlet_temperature, compressor_work};
use boostwright::physics::engine::{engine_air_flow, rotary_chamber_volume};
use boostwright::physics::leak::decay_time_isothermal;
use boostwright::physics::nozzle::nozzle_flow;
use boostwright::physics::plate::{clamped_plate_deflection, clamped_plate_stress};
use boostwright::physics::turbo::{turbine_expansion_ratio, turbine_outlet_temperature};
use boostwright::quantity::{Length, PressureDifference, Quantity, SpecificHeat};

use super::{BAR, INCH, PSI, near, si};

/// What the books call 0 °C, K.
const ZERO: f64 = 273.0;
/// What the books take for dry air, J/(kg K).
const AIR: f64 = 287.0;

fn air_constant() -> SpecificHeat {
    si(AIR)
}

#[test]
fn nag_power_plant_engineering_11_2_compressor_turbine_and_loss() {
    let source = "Nag, Power Plant Engineering, ex. 11.2";
    let hot = compressor_outlet_temperature(si(ZERO + 30.0), 2.1 / 0.97, 0.75).unwrap().si();
    near(source, hot - ZERO, 129.76, 0.005);
    let cool = turbine_outlet_temperature(si(ZERO + 580.0), 1.9 / 1.06, 0.85, 1.33).unwrap().si();
    near(source, cool - ZERO, 482.26, 0.005);
    let taken = 1.01 * (hot - ZERO - 30.0);
    let given = (1.0 + 1.0 / 18.0) * 1.15 * (580.0 + ZERO - cool);
    near(source, 100.0 * (1.0 - taken / given), 15.08, 0.02);
}

#[test]
fn nag_11_2_expansion_ratio_comes_back_from_the_power() {
    let gas = 1.0 + 1.0 / 18.0;
    let given = 0.85 * gas * 1150.0 * 853.0 * (1.0 - (1.06f64 / 1.9).powf(0.33 / 1.33));
    let ratio = turbine_expansion_ratio(si(given), si(gas), si(853.0), 0.85, 1.0, si(1150.0), 1.33)
        .unwrap();
    near("Nag, Power Plant Engineering, ex. 11.2", ratio, 1.9 / 1.06, 1e-12);
}

#[test]
fn gupta_fundamentals_15_6_compressor_turbine_and_mechanical_efficiency() {
    let source = "Gupta, Fundamentals of Internal Combustion Engines, ex. 15.6";
    let hot = compressor_outlet_temperature(si(290.0), 1.8 / 0.98, 0.80).unwrap().si();
    near(source, hot - ZERO, 86.0, 0.5);
    let cool = turbine_outlet_temperature(si(850.0), 1.6 / 1.03, 0.85, 1.33).unwrap().si();
    near(source, cool - ZERO, 502.0, 0.5);
    let taken = 1.005 * (hot - 290.0);
    let given = 1.05 * 1.15 * (850.0 - cool);
    // The book rounds both temperatures to a kelvin first: 0.5 K of 85 K.
    near(source, 100.0 * taken / given, 76.6, 0.5);
}

#[test]
fn gupta_fundamentals_15_5_heat_to_the_cooler_and_power_to_the_compressor() {
    let source = "Gupta, Fundamentals of Internal Combustion Engines, ex. 15.5";
    let air =
        engine_air_flow(si(4.5e-3 / 2.0), si(4000.0 / 60.0), 1.5, si(BAR), si(290.0)).unwrap();
    let hot = compressor_outlet_temperature(si(290.0), 1.8, 0.90).unwrap().si();
    near(source, air.si() * 1.005 * (hot - 330.0), 5.14, 0.005);
    let work = compressor_work(si(290.0), 1.8, 0.90).unwrap().si();
    near(source, air.si() * work / 1000.0 / 0.85, 18.8, 0.05);
}

#[test]
fn gupta_fundamentals_15_4_air_of_a_four_cylinder_engine() {
    let displacement = 4.0 * std::f64::consts::PI / 4.0 * 0.1 * 0.1 * 0.12;
    let air =
        engine_air_flow(si(displacement / 2.0), si(3000.0 / 60.0), 0.90, si(1.7 * BAR), si(328.0))
            .unwrap();
    // The book's gas constant is 287, ours 287.05.
    let flow = air.si() * 3600.0 * 287.05 / AIR;
    near("Gupta, Fundamentals of Internal Combustion Engines, ex. 15.4", flow, 551.5, 0.05);
}

#[test]
fn fox_fluid_mechanics_12_2_nozzle_that_is_not_choked() {
    let flow =
        nozzle_flow(si(10e-4), si(1000e3), si(333.0), si(591e3), 1.4, air_constant()).unwrap();
    near("Fox and McDonald, Introduction to Fluid Mechanics, ex. 12.2", flow.si(), 2.20, 0.005);
}

#[test]
fn cengel_fluid_mechanics_12_4_nozzle_with_and_without_choking() {
    let source = "Çengel and Cimbala, Fluid Mechanics, ex. 12-4, from three-figure tables";
    let supply = 873.0 + 150.0 * 150.0 / (2.0 * 1005.0);
    let pressure = 1e6 * (supply / 873.0f64).powf(3.5);
    for (back, printed) in [(0.7e6, 6.77), (0.4e6, 7.11)] {
        let flow = nozzle_flow(si(50e-4), si(pressure), si(supply), si(back), 1.4, air_constant());
        near(source, flow.unwrap().si(), printed, 0.003 * printed);
    }
}

#[test]
fn cengel_fluid_mechanics_12_5_air_out_of_a_tyre() {
    let hole = std::f64::consts::PI / 4.0 * 4e-3 * 4e-3;
    let flow = nozzle_flow(si(hole), si(314e3), si(298.0), si(94e3), 1.4, air_constant()).unwrap();
    near("Çengel and Cimbala, Fluid Mechanics, ex. 12-5", flow.si(), 0.00924, 0.000_005);
}

#[test]
fn murugaperumal_1_39_isothermal_emptying_of_a_tank() {
    let time = decay_time_isothermal(
        si(5.0),
        si(333.0),
        si(40.0 * BAR),
        si(2.0 * BAR),
        si(BAR),
        si(10e-4),
    );
    near("Murugaperumal, ex. 1.39", time.unwrap().si(), 70.76, 0.01);
}

#[test]
fn timoshenko_strength_of_materials_clamped_plate() {
    let source = "Timoshenko, Strength of Materials, part II: clamped plate, 40 in, 1 in, 6 psi";
    let (pressure, radius, thickness): (PressureDifference, Length, Length) =
        (si(6.0 * PSI), si(40.0 * INCH), si(INCH));
    let stress = clamped_plate_stress(pressure, radius, thickness).unwrap();
    near(source, stress.si() / PSI, 7200.0, 1e-6);
    let deflection = clamped_plate_deflection(pressure, radius, thickness, si(30e6 * PSI), 0.3);
    near(source, deflection.unwrap().si() / INCH, 0.0874, 0.000_05);
}

#[test]
fn boresi_advanced_mechanics_13_3_pressure_at_yield_and_its_deflection() {
    let source = "Boresi and Schmidt, Advanced Mechanics of Materials, ex. 13.3";
    let (radius, thickness): (Length, Length) = (si(0.1), si(0.01));
    let stress = clamped_plate_stress(si(4.20e6), radius, thickness).unwrap();
    near(source, stress.si() / 1e6, 315.0, 1e-6);
    let deflection = clamped_plate_deflection(si(4.20e6), radius, thickness, si(200e9), 0.29);
    near(source, deflection.unwrap().si() * 1e3, 0.36, 0.005);
}

#[test]
fn yamamoto_rotary_engine_chamber_volume() {
    let volume = rotary_chamber_volume(si(0.015), si(0.105), si(0.080)).unwrap();
    near("K. Yamamoto, Rotary Engine", volume.si() * 1e6, 654.7, 0.05);
}
