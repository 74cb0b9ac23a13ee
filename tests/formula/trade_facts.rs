//! Facts that the trade knows (common practice, no published source), through the formula language.

use super::workbench::{close, value};

const MM2: f64 = 1e-6;

/// "About 175", "a bit over 300", "about 500, nearly three times the first".
#[test]
fn round_ports_of_15_20_and_25_mm_have_the_areas_known_in_the_trade() {
    close(value("circle_area(15 mm)"), 175.0 * MM2, 0.02);
    let middle = value("circle_area(20 mm)");
    assert!(middle > 300.0 * MM2 && middle < 330.0 * MM2, "{middle}");
    close(value("circle_area(25 mm)"), 500.0 * MM2, 0.02);
    close(value("circle_area(25 mm) / circle_area(15 mm)"), 3.0, 0.1);
}

#[test]
fn past_a_lift_of_a_quarter_of_the_port_more_lift_gains_nothing() {
    let port = value("circle_area(24 mm)");
    close(value("open_area(24 mm, 6 mm)"), port, 1e-12);
    close(value("open_area(24 mm, 9 mm)"), port, 1e-12);
    close(value("open_area(24 mm, 3 mm)"), port / 2.0, 1e-12);
}

/// A bleed can only keep pressure from the actuator, so that boost must rise further before it opens.
#[test]
fn a_controllers_bleed_never_gives_the_actuator_more_than_the_boost() {
    let bled = |vent: &str| {
        value(&format!(
            "canister_pressure(supply_conductance = 0.1 dm3/(s bar), supply_critical_ratio = 0.4, \
             vent_conductance = {vent}, vent_critical_ratio = 0.4, source = 160 kPa, \
             ambient = 100 kPa, temperature = 300 K)"
        ))
    };
    let pressures = ["0.01 dm3/(s bar)", "0.05 dm3/(s bar)", "0.2 dm3/(s bar)"].map(bled);
    assert!(pressures[0] < 160e3, "{pressures:?}");
    assert!(pressures.is_sorted_by(|wider, narrower| wider > narrower), "{pressures:?}");
}
