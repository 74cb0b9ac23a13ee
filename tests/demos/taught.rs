//! What each kind of reading in the built-in rules teaches, of the invented car of one recording with
//! other readings added. What a reading should be is held against the handbook's formulas by hand.

use serde_json::Value;

use super::recording::Recording;

const PLATEAU: &str = "plateau_boost: 0.46 bar\n      speed_at_plateau: 3000 rpm";

/// The recording with these answers in place of its reading of the plateau.
fn with(answers: &[&str]) -> Value {
    let answers = [&["plateau_boost: unknown"], answers].concat().join("\n      ");
    Recording::altered("port_planned", &[(PLATEAU, &answers)]).told(1)
}

fn reading<'v>(told: &'v Value, id: &str) -> Option<&'v Value> {
    told["readings"].as_array().unwrap().iter().find(|line| line["id"] == id)
}

/// What it should have been by the other readings.
fn expected(told: &Value, id: &str) -> f64 {
    let line = reading(told, id).unwrap_or_else(|| panic!("no {id}"));
    line["expected"].as_f64().unwrap()
}

fn worked(told: &Value, id: &str) -> [f64; 3] {
    let lines = told["workings"].as_array().unwrap();
    let line = lines.iter().find(|line| line["id"] == id).unwrap_or_else(|| panic!("no {id}"));
    ["value", "low", "high"].map(|key| line[key].as_f64().unwrap())
}

/// 2.3 L four-stroke, filled to 0.87, behind a cooler that takes off three quarters: Heywood,
/// *Internal Combustion Engine Fundamentals*, 2.7 and 6.8. Air at 12 °C, 1000 hPa, 15 K warmer at the
/// compressor, whose efficiency is 0.67; charge in kelvin, air in kg/s.
fn charge_and_air(boost: f64, losses: f64, suction: f64, rpm: f64) -> (f64, f64) {
    let (outside, inlet) = (285.15, 300.15);
    let ratio: f64 = (100e3 + boost + losses) / (100e3 - suction);
    let outlet = inlet * (1.0 + (ratio.powf(0.4 / 1.4) - 1.0) / 0.67);
    let charge = outlet - 0.75 * (outlet - outside);
    (charge, 0.87 * 1.15e-3 * rpm / 60.0 * (100e3 + boost) / (287.05 * charge))
}

#[test]
fn boost_held_before_the_climb_teaches_when_the_flap_lifts() {
    let [without, ..] = worked(&with(&[]), "opening_at_new_port");
    let told = |plateau: &str| {
        let other = format!("plateau_boost: {plateau}\n      speed_at_plateau: 3000 rpm");
        Recording::altered("port_planned", &[(PLATEAU, &other)]).told(1)
    };
    let (weak, strong) = (told("0.37 bar"), told("0.53 bar"));
    assert!(reading(&weak, "held_before_the_climb").is_some());
    let [weaker, ..] = worked(&weak, "opening_at_new_port");
    let [stronger, ..] = worked(&strong, "opening_at_new_port");
    // The low one is near what the others make it, so that draws may lie to either side of it.
    assert!(weaker < 1.01 * without && without < stronger, "{weaker} {without} {stronger}");
    assert!(weaker < 0.99 * stronger, "{weaker} {stronger}");
    // Between the first movement of the rod at 0.38 bar, less the push, and its stop at 0.62.
    let should_be = expected(&weak, "held_before_the_climb");
    assert!((0.30e5..0.62e5).contains(&should_be), "{should_be}");
    let width = |told: &Value| {
        let [_, low, high] = worked(told, "opening_at_new_port");
        high - low
    };
    assert!(width(&told("0.45 bar")) < 0.97 * width(&with(&[])));
}

#[test]
fn a_plateau_is_no_reading_where_the_signal_is_not_proved() {
    let proved = "hose_taken_from: from_compressor";
    let from_plenum = (proved, "hose_taken_from: from_plenum");
    let told = Recording::altered("port_planned", &[from_plenum]).told(1);
    assert!(reading(&told, "held_before_the_climb").is_none());
    let stuck = (PLATEAU, "plateau_boost: 0.80 bar\n      speed_at_plateau: 3000 rpm");
    let told = Recording::altered("port_planned", &[stuck]).told(1);
    assert!(reading(&told, "held_before_the_climb").is_none());
}

#[test]
fn boost_at_two_places_teaches_what_is_lost_on_the_way() {
    let opening = |lost: &str| {
        let told = with(&[&format!("pressure_lost_to_plenum: {lost}")]);
        worked(&told, "opening_at_new_port")[0]
    };
    // The more is lost behind it, the more pressure the actuator sees at one boost of the plenum.
    let (little, much) = (opening("0.05 bar"), opening("0.20 bar"));
    assert!(much < little, "{much} {little}");
    // By typical values alone: 12 kPa at the flow of 0.48 bar, grown with the square of the flow at 0.8 bar.
    let alone = [
        (PLATEAU, "plateau_boost: unknown\n      pressure_lost_to_plenum: 0.05 bar"),
        ("boost_with_gate_tied_open: 0.70; 0.69; 0.71 bar", "boost_with_gate_tied_open: unknown"),
        ("witness_travel: 8.2 mm", "witness_travel: unknown"),
    ];
    let told = Recording::altered("port_planned", &alone).told(1);
    let (_, built_for) = charge_and_air(0.48e5, 12e3, 6e3, 5900.0);
    let (_, then) = charge_and_air(0.80e5, 17e3, 8.5e3, 5900.0);
    let by_hand = 12e3 * (then / built_for).powi(2);
    let should_be = expected(&told, "boost_at_two_places");
    assert!((should_be / by_hand - 1.0).abs() < 0.12, "{should_be} {by_hand}");
    // More than any sound cooler loses is a fault to be mended.
    let blocked = with(&["pressure_lost_to_plenum: 0.50 bar"]);
    assert!(reading(&blocked, "boost_at_two_places").is_none());
}

#[test]
fn pressure_before_the_turbine_teaches_its_area() {
    let area = |pressure: &str| {
        let pressure = format!("pressure_before_turbine: {pressure}");
        worked(&with(&["boost_at_top: 0.78 bar", &pressure]), "turbine_area_used")
    };
    let ([wide, low, high], [narrow, ..]) = (area("0.95 bar"), area("1.5 bar"));
    assert!(narrow < 0.9 * wide, "{narrow} {wide}");
    let [_, low_without, high_without] = worked(&with(&[]), "turbine_area_used");
    assert!(high - low < 0.8 * (high_without - low_without));
}

#[test]
fn charge_temperature_teaches_how_warm_the_charge_gets() {
    let told = |seen: &str| with(&[&format!("charge_temperature_seen: {seen}")]);
    let (warm, cool) = (told("58 °C"), told("35 °C"));
    let ([warmer, ..], [cooler, ..]) =
        (worked(&warm, "charge_at_high"), worked(&cool, "charge_at_high"));
    assert!(warmer > cooler + 3.0, "{warmer} {cooler}");
    let (by_hand, _) = charge_and_air(0.80e5, 17e3, 8.5e3, 5900.0);
    let should_be = expected(&warm, "charge_as_warm");
    assert!((should_be - by_hand).abs() < 5.0, "{should_be} {by_hand}");
    // Far hotter than a sound cooler leaves it.
    assert!(reading(&told("95 °C"), "charge_as_warm").is_none());
}

#[test]
fn metered_air_teaches_the_filling() {
    let by_air_meter = ("air_metering_kind: by_pressure", "air_metering_kind: by_air_meter");
    let told = |flow: &str| {
        let metered =
            format!("{PLATEAU}\n      metered_flow: {flow}\n      boost_at_4000: 0.58 bar");
        Recording::altered("port_planned", &[by_air_meter, (PLATEAU, &metered)]).told(1)
    };
    let (much, little) = (told("128 g/s"), told("400 kg/h"));
    let (_, by_hand) = charge_and_air(0.58e5, 8e3, 4e3, 4000.0);
    let should_be = expected(&much, "air_as_metered");
    assert!((should_be / by_hand - 1.0).abs() < 0.03, "{should_be} {by_hand}");
    // The fuller it gets, the less boost the same injectors can feed.
    let [fuller, ..] = worked(&much, "ceiling_of_injectors");
    let [emptier, ..] = worked(&little, "ceiling_of_injectors");
    assert!(fuller < emptier - 5e3, "{fuller} {emptier}");
    assert!(reading(&told("60 g/s"), "air_as_metered").is_none());
}

#[test]
fn injectors_tell_the_air_as_well() {
    let told = |duty: &str| with(&[&format!("injector_duty_seen: {duty}")]);
    let (much, little) = (told("76 %"), told("58 %"));
    // Petrol at λ 0.81 and 14.7, 745 kg/m³, five injectors of 440 cm³/min; each loses 5 % of the time.
    let (_, air) = charge_and_air(0.80e5, 17e3, 8.5e3, 5900.0);
    let by_hand = air / (0.81 * 14.7) / (5.0 * 440e-6 / 60.0 * 745.0) + 0.05 * 5900.0 / 6500.0;
    let should_be = expected(&much, "air_by_injectors");
    assert!((should_be / by_hand - 1.0).abs() < 0.04, "{should_be} {by_hand}");
    let ([fuller, ..], [emptier, ..]) =
        (worked(&much, "ceiling_of_injectors"), worked(&little, "ceiling_of_injectors"));
    assert!(fuller < emptier - 5e3, "{fuller} {emptier}");
    // Open nearly all the time they can't show more air than they feed.
    assert!(reading(&told("110 %"), "air_by_injectors").is_none());
}

/// The port is bored from 18 to 22 mm: the pull after it is a reading of the new one.
#[test]
fn the_pull_after_a_repair_is_a_reading_of_what_is_fitted_then() {
    let told = Recording::of("port_too_small").told(2);
    let pulls: Vec<&Value> = told["readings"]
        .as_array()
        .unwrap()
        .iter()
        .filter(|line| line["id"] == "ordinary_pull")
        .collect();
    let rounds: Vec<u64> = pulls.iter().map(|line| line["round"].as_u64().unwrap()).collect();
    assert_eq!(rounds, [1, 2]);
    let foretold = told["verdict"]["predicted"]["value"].as_f64().unwrap();
    let should_be = pulls[1]["expected"].as_f64().unwrap();
    assert!((should_be - foretold).abs() < 6e3, "{should_be} {foretold}");
    // It lies under what was foretold, and so does what is foretold of the same port now.
    let read = pulls[1]["value"].as_f64().unwrap();
    let [now, ..] = worked(&told, "boost_at_new_port");
    assert!(read < now && now < foretold, "{read} {now} {foretold}");
}

#[test]
fn where_the_passage_is_too_narrow_the_best_port_is_named_with_what_limits_it() {
    let narrow = ("passage_diameter: 25 mm", "passage_diameter: 16 mm");
    let told = Recording::altered("port_planned", &[narrow]).told(1);
    // Openings in series, 1/A² = 1/A₁² + 1/A₂²: with 2.065 times its area before it a passage passes
    // 2.065/√(1 + 2.065²) = 0.9 of what it could alone. It acts like 0.9 of a bore of 16 mm.
    let [port, ..] = worked(&told, "port_wanted");
    let by_hand = 16e-3 * (0.9 * 2.065_f64).sqrt();
    assert!((port / by_hand - 1.0).abs() < 0.03, "{port} {by_hand}");
    let [least, ..] = worked(&told, "least_boost_of_any_port");
    assert!(least > 0.48e5, "{least}");
    let cautions = told["cautions"].as_array().unwrap();
    assert!(cautions.iter().any(|line| line["id"] == "passage_measured_is_the_limit"));
}
