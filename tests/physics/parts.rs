//! Parts, lines, leaks, fuel and spark against figures of the trade and against themselves.

use boostwright::physics::Refusal;
use boostwright::physics::actuator::{
    blow_open_difference, closing_force, opening_pressure, preload_change,
};
use boostwright::physics::atmosphere::standard_pressure;
use boostwright::physics::charge::cooler_outlet_temperature;
use boostwright::physics::circle::{circle_area, circle_diameter, curtain_area, open_area};
use boostwright::physics::correction::{power_correction_iso1585, power_correction_j1349};
use boostwright::physics::engine::{engine_air_flow, road_speed, shaft_power};
use boostwright::physics::flap::{
    flap_lift_from, hot_clearance, hot_size, rod_travel_for, seat_land,
};
use boostwright::physics::fuel::{
    fuel_flow, injected_fuel, injector_duty, injector_flow, lambda_of_flows, stoichiometric_ratio,
};
use boostwright::physics::leak::{
    decay_time_adiabatic, decay_time_isothermal, leak_area_adiabatic, leak_area_isothermal,
    leak_flow,
};
use boostwright::physics::nozzle::nozzle_flow;
use boostwright::physics::plate::{
    clamped_plate_deflection, clamped_plate_stress, deflection_remarks, supported_plate_deflection,
    supported_plate_stress,
};
use boostwright::physics::pneumatics::{canister_pressure, pneumatic_flow};
use boostwright::physics::restriction::drop_at_flow;
use boostwright::physics::spark::miss_boost;
use boostwright::quantity::{AbsolutePressure, Area, Length, Quantity, Temperature, Time, Volume};
use proptest::prelude::{prop_assert, proptest};

use super::{BAR, near, si, wide};

const PRACTICE: &str = "common practice";

#[test]
fn a_quarter_of_the_diameter_opens_the_whole_port_and_more_lift_gains_nothing() {
    let source = "Heywood, Internal Combustion Engine Fundamentals, 6.3.2";
    let port: Length = si(0.025);
    let whole = circle_area(port).unwrap().si();
    near(source, curtain_area(port, si(0.025 / 4.0)).unwrap().si(), whole, 1e-18);
    near(source, open_area(port, si(0.012)).unwrap().si(), whole, 0.0);
    assert!(open_area(port, si(0.004)).unwrap().si() < whole);
    near("geometry", circle_diameter(si(whole)).unwrap().si(), 0.025, 1e-16);
}

#[test]
fn swings_of_flaps_of_15_and_25_mm_need_the_rod_travel_known_in_the_trade() {
    for (port, travel) in [(0.015, 4.8e-3), (0.025, 8.0e-3)] {
        let found = rod_travel_for(si(port / 4.0), si(0.022), si(0.028)).unwrap();
        near(PRACTICE, found.si(), travel, 0.05e-3);
        let back = flap_lift_from(found, si(0.028), si(0.022)).unwrap();
        near("geometry", back.si(), port / 4.0, 1e-15);
    }
}

#[test]
fn land_is_what_the_flap_overlaps_less_its_play() {
    near("geometry", seat_land(si(0.034), si(0.028), si(0.0005)).unwrap().si(), 0.0025, 1e-15);
    assert!(seat_land(si(0.028), si(0.028), si(0.001)).unwrap().si() < 0.0);
}

#[test]
fn a_hot_flap_of_3_mm_and_a_millimetre_of_clearance_are_enough_at_the_load_of_a_bored_port() {
    // 304 flap of 28 mm at 850 °C in an iron pocket at 750 °C; means from 20 °C of typical handbooks.
    let cold: Temperature = si(293.15);
    let flap = hot_size(si(0.028), si(19.5e-6), cold, si(1123.15)).unwrap();
    near("typical handbook values", (flap.si() - 0.028) * 1e3, 0.453, 0.001);
    let left = hot_clearance(
        si(0.030),
        si(13.5e-6),
        si(1023.15),
        si(0.028),
        si(19.5e-6),
        si(1123.15),
        cold,
    )
    .unwrap()
    .si();
    assert!(left > 0.9e-3, "{PRACTICE}: more than 1 mm cold is enough: {left} m left hot");
    // 1.5 bar on a seat circle of 13 mm radius: both bounds of the stress stay below the 1000 h
    // rupture stress of 304 at 815 °C, 27 MPa.
    let clamped = clamped_plate_stress(si(1.5 * BAR), si(0.013), si(0.003)).unwrap().si();
    let supported = supported_plate_stress(si(1.5 * BAR), si(0.013), si(0.003), 0.3).unwrap().si();
    near(PRACTICE, supported / 1e6, 3.5, 0.05);
    assert!(clamped < supported && supported < 27e6);
}

#[test]
fn supported_plates_bend_four_times_as_much_as_clamped_ones() {
    let source =
        "Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells, §16: ν 0.3, about 4";
    let clamped = clamped_plate_deflection(si(3e5), si(0.017), si(0.003), si(150e9), 0.3).unwrap();
    let supported =
        supported_plate_deflection(si(3e5), si(0.017), si(0.003), si(150e9), 0.3).unwrap();
    near(source, supported.si() / clamped.si(), 5.3 / 1.3, 1e-12);
}

#[test]
fn a_thick_plate_is_told_that_shear_adds_to_its_deflection() {
    let (pressure, modulus) = (si(3e5), si(150e9));
    assert!(deflection_remarks(pressure, si(0.017), si(0.003), modulus, 0.3).is_empty());
    let told = deflection_remarks(pressure, si(0.017), si(0.005), modulus, 0.3);
    assert!(told[0].contains("shear"), "{told:?}");
}

#[test]
fn the_gas_lowers_the_opening_point_as_much_as_the_trade_knows() {
    // 40 mm diaphragm, arm ratio 0.8, 0.5 bar across the flap: 0.16 bar on a 25 mm circle.
    let diaphragm: Area = circle_area(si(0.040)).unwrap();
    let opens = opening_pressure(si(0.5 * BAR), si(0.5 * BAR), si(0.025), 0.8, diaphragm).unwrap();
    near(PRACTICE, 0.5 - opens.si() / BAR, 0.16, 0.005);
    let small = opening_pressure(si(0.5 * BAR), si(0.5 * BAR), si(0.015), 0.8, diaphragm).unwrap();
    near(PRACTICE, 0.5 - small.si() / BAR, 0.06, 0.005);
}

#[test]
fn the_difference_that_blows_a_flap_open_is_the_one_that_leaves_no_opening_pressure() {
    let diaphragm: Area = si(2e-3);
    let opens = blow_open_difference(si(0.5 * BAR), diaphragm, 0.85, si(0.028), 1.0).unwrap();
    let left = opening_pressure(si(0.5 * BAR), opens, si(0.028), 0.85, diaphragm).unwrap();
    near("balance of moments", left.si(), 0.0, 1e-9);
    let pulsing = blow_open_difference(si(0.5 * BAR), diaphragm, 0.85, si(0.028), 1.3).unwrap();
    near("balance of moments", pulsing.si() * 1.3, opens.si(), 1e-9);
    let force = closing_force(si(0.5 * BAR), diaphragm, 0.85).unwrap();
    near("balance of moments", force.si(), 0.5 * BAR * 2e-3 / 0.85, 1e-9);
}

#[test]
fn turns_of_the_rod_move_the_crack_pressure_by_spring_and_area() {
    let change = preload_change(2.0, si(0.001), si(6000.0), si(2e-3)).unwrap();
    near("balance of forces: 2 mm of 6 N/mm on 20 cm²", change.si(), 6000.0, 1e-9);
    assert_eq!(preload_change(-2.0, si(0.001), si(6000.0), si(2e-3)).unwrap().si(), -change.si());
}

#[test]
fn a_choked_component_passes_its_sonic_conductance() {
    let source = "ISO 6358-1: 1 dm³/(s bar) at 6 bar and 20 °C passes 6 dm³/s of reference air";
    let flow = pneumatic_flow(si(1e-8), 0.3, si(6e5), si(1e5), si(293.15)).unwrap();
    near(source, flow.si(), 6e-3 * 1.185, 1e-15);
    let still = pneumatic_flow(si(1e-8), 0.3, si(6e5), si(6e5), si(293.15)).unwrap();
    assert_eq!(still.si(), 0.0);
}

#[test]
fn a_canister_without_vent_or_supply_has_the_pressure_of_the_other() {
    let (source, ambient): (AbsolutePressure, AbsolutePressure) = (si(1.8e5), si(1e5));
    let between = |supply: f64, vent: f64| {
        canister_pressure(si(supply), 0.4, si(vent), 0.4, source, ambient, si(300.0)).unwrap().si()
    };
    assert_eq!(between(1e-9, 0.0), 1.8e5);
    assert_eq!(between(0.0, 1e-9), 1e5);
}

#[test]
fn drops_go_with_the_square_of_the_flow() {
    let drop = drop_at_flow(si(12e3), si(0.15), si(0.30)).unwrap();
    near("Darcy–Weisbach", drop.si(), 48e3, 1e-9);
}

#[test]
fn ten_square_millimetres_of_leak_lose_3_8_grams_a_second_at_0_7_bar() {
    let flow = leak_flow(si(10e-6), si(1.7e5), si(323.0), si(1e5)).unwrap();
    near(PRACTICE, flow.si() * 1e3, 3.8, 0.05);
    let same = nozzle_flow(si(10e-6), si(1.7e5), si(323.0), si(1e5), 1.4, si(287.05)).unwrap();
    assert_eq!(flow.si(), same.si());
}

#[test]
fn isothermal_and_adiabatic_decay_differ_by_1_31_to_1_39_in_a_leak_test() {
    for end in [1.1e5, 1.3e5, 1.45e5] {
        let time = |adiabatic: bool| {
            let decay: Decay = if adiabatic { decay_time_adiabatic } else { decay_time_isothermal };
            decay(si(0.01), si(293.0), si(1.5e5), si(end), si(1e5), si(1e-6)).unwrap().si()
        };
        let ratio = time(false) / time(true);
        assert!((1.31..1.40).contains(&ratio), "{ratio}");
    }
}

type Decay = fn(
    Volume,
    Temperature,
    AbsolutePressure,
    AbsolutePressure,
    AbsolutePressure,
    Area,
) -> Result<Time, Refusal>;

proptest! {
    #![proptest_config(wide())]

    #[test]
    fn leak_area_and_decay_time_undo_each_other(
        start in 1.1e5..8e5f64,
        way in 0.01..0.99f64,
        area in 1e-7..1e-4f64,
    ) {
        let ambient = 1e5;
        let end = start + way * (ambient - start);
        let time =
            decay_time_isothermal(si(0.02), si(293.0), si(start), si(end), si(ambient), si(area));
        let back =
            leak_area_isothermal(si(0.02), si(293.0), si(start), si(end), si(ambient), time.unwrap());
        prop_assert!((back.unwrap().si() / area - 1.0).abs() < 1e-12);
        let time =
            decay_time_adiabatic(si(0.02), si(293.0), si(start), si(end), si(ambient), si(area));
        let back =
            leak_area_adiabatic(si(0.02), si(293.0), si(start), si(end), si(ambient), time.unwrap());
        prop_assert!((back.unwrap().si() / area - 1.0).abs() < 1e-12);
    }

    #[test]
    fn decay_times_add_up_over_a_pressure_between(
        start in 2.5e5..8e5f64,
        between in 1.3e5..2.4e5f64,
    ) {
        let isothermal: Decay = decay_time_isothermal;
        for (decay, cools) in [(isothermal, false), (decay_time_adiabatic, true)] {
            let time = |temperature: f64, from: f64, to: f64| {
                decay(si(0.02), si(temperature), si(from), si(to), si(1e5), si(1e-6)).unwrap().si()
            };
            let whole = time(293.0, start, 1.2e5);
            let first = time(293.0, start, between);
            let by_then = if cools { 293.0 * (between / start).powf(2.0 / 7.0) } else { 293.0 };
            let rest = time(by_then, between, 1.2e5);
            prop_assert!((first + rest - whole).abs() < 1e-9 * whole);
        }
    }
}

#[test]
fn petrol_and_alcohol_need_the_air_that_textbooks_say() {
    // Within 1 %: the book gives nitrogen and argon together 28.16 g/mol.
    let source = "Heywood, Internal Combustion Engine Fundamentals, appendix D";
    near(source, stoichiometric_ratio(8.0, 18.0, 0.0).unwrap(), 15.13, 0.15);
    near(source, stoichiometric_ratio(1.0, 4.0, 0.0).unwrap(), 17.23, 0.17);
    near(source, stoichiometric_ratio(2.0, 6.0, 1.0).unwrap(), 9.00, 0.09);
    near(source, stoichiometric_ratio(1.0, 4.0, 1.0).unwrap(), 6.47, 0.065);
}

#[test]
fn fuel_follows_air_and_injectors_follow_the_root_of_their_difference() {
    let fuel = fuel_flow(si(0.147), 0.8, 14.7).unwrap();
    near("definition of lambda", fuel.si(), 0.0125, 1e-15);
    near("definition of lambda", lambda_of_flows(si(0.147), fuel, 14.7).unwrap(), 0.8, 1e-15);
    let flow = injector_flow(si(1e-5), si(3e5), si(3e5 * 4.0 / 9.0)).unwrap();
    near("orifice", flow.si(), 2e-5 / 3.0, 1e-18);
    let most = injected_fuel(4.0, flow, si(740.0), 1.0).unwrap();
    let duty = injector_duty(fuel, 4.0, flow, si(740.0)).unwrap();
    near("continuity", duty * most.si(), fuel.si(), 1e-15);
}

#[test]
fn closing_the_gap_from_0_80_to_0_65_mm_moves_the_miss_from_0_70_to_1_1_bar() {
    let moved = miss_boost(si(0.70 * BAR), si(101_325.0), si(0.80e-3), si(0.65e-3)).unwrap();
    near(PRACTICE, moved.si() / BAR, 1.1, 0.02);
}

#[test]
fn a_pull_to_6500_rpm_in_a_common_third_gear_ends_at_137_km_h() {
    let speed = road_speed(si(6500.0 / 60.0), 1.35, 4.1, si(1.95)).unwrap();
    near(PRACTICE, speed.si() * 3.6, 137.0, 0.5);
}

#[test]
fn torque_times_speed_is_power() {
    // 5252 is 33 000 ft lbf/min over 2π: 1 lbf ft at 5252 rpm is 1 hp.
    let foot_pound = 0.453_592_37 * 9.806_65 * 0.3048;
    let power = shaft_power(si(foot_pound), si(5252.0 / 60.0)).unwrap();
    near("33 000 ft lbf/min over 2π", power.si() / (550.0 * foot_pound), 1.0, 2.5e-5);
}

#[test]
fn power_corrections_are_one_at_their_reference_weather() {
    let (warm, pressure): (Temperature, AbsolutePressure) = (si(298.15), si(99e3));
    near("SAE J1349", power_correction_j1349(warm, pressure).unwrap(), 1.0, 1e-12);
    near("ISO 1585", power_correction_iso1585(si(298.0), pressure).unwrap(), 1.0, 1e-12);
    assert!(power_correction_j1349(si(308.15), si(95e3)).unwrap() > 1.0);
}

#[test]
fn an_absolute_limit_moves_by_0_115_bar_gauge_in_the_first_kilometre() {
    let fall =
        standard_pressure(si(0.0)).unwrap().si() - standard_pressure(si(1000.0)).unwrap().si();
    near("ISO 2533", fall / BAR, 0.115, 0.001);
}

#[test]
fn nothing_in_gives_nothing_out_where_nothing_means_something() {
    let still = engine_air_flow(si(1e-3), si(0.0), 0.9, si(1e5), si(300.0)).unwrap();
    assert_eq!(still.si(), 0.0);
    let uncooled = cooler_outlet_temperature(si(400.0), si(300.0), 0.0).unwrap();
    assert_eq!(uncooled.si(), 400.0);
    let equal = nozzle_flow(si(1e-4), si(1e5), si(300.0), si(1e5), 1.4, si(287.0)).unwrap();
    assert!(equal.si() == 0.0 && equal.si().is_sign_positive());
    assert_eq!(fuel_flow(si(0.0), 1.0, 14.7).unwrap().si(), 0.0);
}

/// Common practice of the trade for arms of 22 and 28 mm: lifts of 15/4 and 25/4 mm need 4.8
/// and 8.0 mm of rod.
#[test]
fn lift_and_rod_travel_are_each_others_inverse() {
    for (lift, travel) in [(3.75e-3, 4.8e-3), (6.25e-3, 8.0e-3)] {
        let (flap, rod) = (Length::from_si(22e-3), Length::from_si(28e-3));
        let needed = rod_travel_for(Length::from_si(lift), flap, rod).unwrap();
        assert!((needed.si() - travel).abs() < 0.05e-3, "{needed:?}");
        let back = flap_lift_from(needed, rod, flap).unwrap();
        assert!((back.si() - lift).abs() < 1e-15);
    }
}
