//! What becomes of kinds under the operators.

use boostwright::formula::Type;
use boostwright::quantity::{
    AbsolutePressure, GaugePressure, Kind, PressureDifference, Temperature, TemperatureDifference,
};

use super::workbench::{Bench, answer, close};

fn pressures() -> Bench {
    Bench(vec![
        answer::<GaugePressure>("boost", "0.8 bar"),
        answer::<GaugePressure>("spring", "0.5 bar"),
        answer::<AbsolutePressure>("before", "2 bar"),
        answer::<AbsolutePressure>("outside", "1 bar"),
        answer::<PressureDifference>("drop", "0.1 bar"),
        answer::<Temperature>("charge", "50 °C"),
        answer::<Temperature>("air", "20 °C"),
        answer::<TemperatureDifference>("rise", "10 K"),
    ])
}

#[test]
fn sums_products_and_alternatives_keep_or_change_the_kind() {
    for (formula, kind) in [
        ("boost - spring", Kind::PRESSURE_DIFFERENCE),
        ("before - outside", Kind::PRESSURE_DIFFERENCE),
        ("boost + drop", Kind::GAUGE_PRESSURE),
        ("boost - drop", Kind::GAUGE_PRESSURE),
        ("drop + boost", Kind::GAUGE_PRESSURE),
        ("boost - 0.2 bar", Kind::GAUGE_PRESSURE),
        ("boost + 0.2 bar", Kind::GAUGE_PRESSURE),
        ("1 bar - boost", Kind::PRESSURE_DIFFERENCE),
        ("2 * boost", Kind::GAUGE_PRESSURE),
        ("boost * 2", Kind::GAUGE_PRESSURE),
        ("boost / 2", Kind::GAUGE_PRESSURE),
        ("-boost", Kind::GAUGE_PRESSURE),
        ("before / outside", Kind::NUMBER),
        ("before / 1 bar", Kind::NUMBER),
        ("charge - air", Kind::TEMPERATURE_DIFFERENCE),
        ("charge + rise", Kind::TEMPERATURE),
        ("charge - rise", Kind::TEMPERATURE),
        ("charge - 5 K", Kind::TEMPERATURE),
        ("20 °C - 5 °C", Kind::TEMPERATURE_DIFFERENCE),
        ("20 °C - 5 K", Kind::TEMPERATURE),
        ("charge / air", Kind::NUMBER),
        ("min(boost, 0.3 bar)", Kind::GAUGE_PRESSURE),
        ("min(0.3 bar, boost)", Kind::GAUGE_PRESSURE),
        ("abs(boost - spring)", Kind::PRESSURE_DIFFERENCE),
        ("if boost > 0 bar then boost else 0 bar", Kind::GAUGE_PRESSURE),
        ("absolute(boost, outside) - outside", Kind::PRESSURE_DIFFERENCE),
        ("gauge(before, 1013 hPa)", Kind::GAUGE_PRESSURE),
        ("chance_below(boost, 1 bar)", Kind::NUMBER),
    ] {
        let found = pressures().sound(formula).gives;
        assert_eq!(found, Type::Quantity(kind), "{formula}");
    }
}

#[test]
fn kinds_that_do_not_go_together_are_refused() {
    for (formula, reason) in [
        ("boost + spring", "two readings on a scale can't be added"),
        ("before + outside", "two readings on a scale can't be added"),
        ("charge + air", "two readings on a scale can't be added"),
        ("boost + before", "gauge and absolute pressure meet"),
        ("boost - before", "gauge and absolute pressure meet"),
        ("boost / before", "gauge and absolute pressure meet"),
        ("boost > before", "gauge and absolute pressure meet"),
        ("min(boost, before)", "gauge and absolute pressure meet"),
        ("if yes then boost else before", "gauge and absolute pressure meet"),
        ("chance_below(boost, before)", "gauge and absolute pressure meet"),
        ("drop - boost", "can't be taken from a difference"),
        ("boost > drop", "a difference meets a reading"),
        ("charge - air > 20 °C", "a difference meets a reading"),
        ("air_density(boost, air)", "gauge where absolute is wanted"),
        ("absolute(before, outside)", "absolute where gauge is wanted"),
        ("air_density(drop, air)", "wrong kind"),
        ("air_density(outside, rise)", "wrong kind"),
        ("boost + charge", "differ in dimension"),
        ("boost + 1", "the unit is missing"),
        ("300 N m * 5000 rpm", "use shaft_power"),
        ("5000 rpm * 300 N m", "use shaft_power"),
        ("boost ^ 0.286", "can't be raised to this power"),
        ("ln(boost)", "a plain number is wanted"),
        ("2 ^ boost", "an exponent has no unit"),
        ("boost and yes", "yes or no is wanted"),
        ("(boost > 0 bar) + 1", "a number is wanted"),
        ("not boost", "yes or no is wanted"),
        ("if boost then 1 else 2", "yes or no is wanted"),
        ("if yes then 1 else no", "differ in what they give"),
        ("yes < no", "can't be compared"),
        ("5 bar ± 2 mm", "differs in dimension"),
        ("20 °C ± 2 %", "can't be a percentage"),
    ] {
        let told = match pressures().worked(formula) {
            Ok(worked) => panic!("{formula} gives {worked:?}"),
            Err(told) => told,
        };
        assert!(told.contains(reason), "{formula}: {told}");
    }
}

#[test]
fn a_literal_takes_the_kind_its_place_asks_for() {
    // 100 kPa / (287.05 × 293.15): the same literal is absolute here and gauge there.
    close(pressures().value("air_density(1 bar, 20 °C)"), 1e5 / (287.05 * 293.15), 1e-12);
    close(pressures().value("absolute(1 bar, 1 bar)"), 2e5, 0.0);
    close(pressures().value("-20 inHg + boost"), 8e4 - 67_727.772_806_82, 1e-12);
}

#[test]
fn ratios_of_temperatures_are_taken_in_kelvin() {
    close(pressures().value("charge / air"), 323.15 / 293.15, 1e-14);
}

#[test]
fn rotation_is_counted_in_turns_a_second() {
    close(pressures().value("6000 rpm"), 100.0, 0.0);
    // P = 2 pi n M.
    close(
        pressures().value("shaft_power(300 N m, 6000 rpm)"),
        2.0 * std::f64::consts::PI * 100.0 * 300.0,
        1e-14,
    );
}
