//! `boostwright calc` as a person or a script runs it.

use assert_cmd::Command;
use boostwright::formula::OWN;
use boostwright::formula::functions::FUNCTIONS;
use serde_json::Value;

/// One run: exit code, stdout, stderr.
struct Run {
    code: i32,
    out: String,
    err: String,
}

fn calc(arguments: &[&str]) -> Run {
    let mut command = Command::cargo_bin("boostwright").expect("the program");
    let output = command.env_clear().arg("calc").args(arguments).output().expect("a run");
    let text = |bytes: &[u8]| String::from_utf8(bytes.to_vec()).expect("UTF-8");
    Run {
        code: output.status.code().expect("an exit code"),
        out: text(&output.stdout),
        err: text(&output.stderr),
    }
}

/// Stdout of a run that goes well and has nothing else to say.
#[track_caller]
fn text(arguments: &[&str]) -> String {
    let run = calc(arguments);
    assert_eq!((run.code, run.err.as_str()), (0, ""), "{arguments:?}: {}", run.out);
    run.out
}

#[track_caller]
fn json(arguments: &[&str]) -> Value {
    let mut all = arguments.to_vec();
    all.extend(["--form", "json"]);
    serde_json::from_str(&text(&all)).expect("JSON")
}

/// Stderr of a run that is refused.
#[track_caller]
fn refused(arguments: &[&str]) -> String {
    let run = calc(arguments);
    assert_eq!((run.code, run.out.as_str()), (2, ""), "{arguments:?}: {}", run.err);
    assert!(!run.err.is_empty(), "{arguments:?} says nothing");
    run.err
}

#[track_caller]
fn gives(arguments: &[&str], value: f64, unit: &str, uncertainty: f64) {
    let record = json(arguments);
    let keys: Vec<&String> = record.as_object().expect("a record").keys().collect();
    assert_eq!(keys.len(), 3, "{record}");
    let near = |key: &str, expected: f64| {
        let found = record[key].as_f64().expect(key);
        // A central difference costs digits of the uncertainty.
        let within = if key == "value" { 1e-12 } else { 1e-8 };
        assert!((found - expected).abs() <= within * expected.abs(), "{arguments:?}: {record}");
    };
    near("value", value);
    near("standard_uncertainty", uncertainty);
    assert_eq!(record["unit"], unit);
}

#[test]
fn a_formula_gives_its_value_in_readable_digits() {
    // 27² / 19² = 2.0194
    assert_eq!(
        text(&["circle_area(27 mm) / circle_area(19 mm)"]),
        "2.019\ncircle_area: geometry\n"
    );
    assert_eq!(text(&["20 °C - 5 K"]), "15 °C\n");
    assert_eq!(text(&["30 °C - 20 °C"]), "10 K\n");
    assert_eq!(text(&["0,85 bar"]), "0.85 bar\n");
}

#[test]
fn an_uncertain_result_shows_its_band_and_where_it_comes_from() {
    let out = text(&["boost - spring", "boost=0,92 bar ± 0.03", "spring=0.8 bar ± 0.04"]);
    // √(0.03² + 0.04²) = 0.05; 1.96 of it to either side; 9 and 16 parts of 25.
    assert_eq!(
        out,
        "0.12 ± 0.05 bar\n95 %: 0.02 to 0.22 bar\nuncertainty from spring 64 %, boost 36 %\n"
    );
}

#[test]
fn random_draws_are_told_with_those_that_could_not_be_calculated() {
    let out = text(&["sqrt(x)", "x=0.1 ± 0.1"]);
    assert!(out.contains("band from 10000 random draws, "), "{out}");
    assert!(out.contains("of which could not be calculated"), "{out}");
}

#[test]
fn json_gives_the_coherent_unit_where_none_is_asked() {
    gives(&["0.85 bar ± 0.02"], 85e3, "Pa", 2e3);
    gives(&["20 °C ± 2"], 293.15, "K", 2.0);
    gives(&["5500 rpm"], 5500.0, "rpm", 0.0);
    gives(&["50 %"], 0.5, "1", 0.0);
    gives(&["300 J/(kg K)"], 300.0, "J/(kg K)", 0.0);
}

#[test]
fn json_gives_the_unit_that_is_asked() {
    gives(&["0.5 ± 0.1", "--in", "%"], 50.0, "%", 10.0);
    gives(&["293.15 K ± 1", "--in", "°C"], 20.0, "°C", 1.0);
    gives(&["20 °C ± 5", "--in", "degF"], 68.0, "degF", 9.0);
    gives(&["30 °C - 20 °C", "--in", "°C"], 10.0, "°C", 0.0);
    gives(&["1 in", "--in", "mm"], 25.4, "mm", 0.0);
}

#[test]
fn json_is_never_rounded() {
    assert_eq!(json(&["1 / 3"])["value"].as_f64(), Some(1.0 / 3.0));
}

#[test]
fn a_comparison_gives_its_probability_and_no_uncertainty() {
    // One uncertainty above the limit: Φ(1).
    let record = json(&["boost > 0.9 bar", "boost=0.92 bar ± 0.02"]);
    let value = record["value"].as_f64().expect("a number");
    assert!((value - 0.841_344_746_068_5).abs() < 1e-9, "{record}");
    assert_eq!(record["standard_uncertainty"].as_f64(), Some(0.0));
    gives(&["yes and not no", "--in", "%"], 100.0, "%", 0.0);
}

#[test]
fn a_formula_may_begin_with_a_minus() {
    gives(&["-20 inHg", "--in", "inHg"], -20.0, "inHg", 0.0);
    gives(&["--in", "kPa", "-60 kPa"], -60.0, "kPa", 0.0);
    gives(&["-x", "x=-3"], 3.0, "1", 0.0);
    gives(&["--2"], 2.0, "1", 0.0);
}

#[test]
fn named_values_are_read_as_a_person_types_them() {
    for (typed, value, unit, uncertainty) in [
        ("x=0,85 bar", 85e3, "Pa", 0.0),
        ("x=5/8 in", 0.015_875, "m", 0.0),
        ("x=1 5/8 in", 0.041_275, "m", 0.0),
        ("x=12 kPa ± 0.5", 12e3, "Pa", 500.0),
        ("x=24 ± 0.2 mm", 0.024, "m", 0.2e-3),
        // Mean and s/√n of three readings (JCGM 100, 4.2.3): 0.02 bar/√3.
        ("x=0.92; 0.94; 0.90 bar", 92e3, "Pa", 2e3 / 3_f64.sqrt()),
        ("x = 3", 3.0, "1", 0.0),
        ("x=-20 °C", 253.15, "K", 0.0),
        ("x=yes", 1.0, "1", 0.0),
    ] {
        gives(&["x", typed], value, unit, uncertainty);
    }
}

#[test]
fn a_named_pressure_takes_the_kind_its_place_asks_for() {
    gives(&["absolute(boost, outside)", "boost=0.8 bar", "outside=1013 hPa"], 181_300.0, "Pa", 0.0);
}

#[test]
fn the_unit_of_a_result_is_one_that_the_person_wrote() {
    assert_eq!(text(&["x + 1 bar", "x=14.5 psi"]), "29 psi\n");
    assert_eq!(text(&["2 * 1 in"]), "2 in\n");
    assert!(text(&["circle_area(20 mm)"]).starts_with("314.2 mm2\n"));
}

#[test]
fn bad_named_values_are_refused_with_the_way_out() {
    for (arguments, message) in [
        (&["x", "x"] as &[&str], "write it as boost="),
        (&["2 bar", "+", "1 bar"], "put the whole formula in quotes"),
        (&["x", "x=1", "x=2"], "x is given twice"),
        (&["2", "bar=3"], "bar\" is a unit"),
        (&["2", "then=3"], "word of the formula language"),
        (&["2", "2x=3"], "letters, digits and _"),
        (&["2", "=3"], "letters, digits and _"),
        (&["x", "x="], "x: nothing was typed"),
        (&["x", "x=nan"], "x: nan is not a number"),
        (&["x", "x=12 baar"], "did you mean bar?"),
        (&["x", "x=20 C"], "did you mean °C?"),
        (&["x", "x=12 psia"], "absolute pressure"),
        (&["x", "x=1 bar 2 psi"], "x: "),
        (&["x", "x=-300 °C"], "below absolute zero"),
    ] {
        let err = refused(arguments);
        assert!(err.contains(message), "{arguments:?}: {err}");
    }
}

#[test]
fn a_name_that_is_not_used_is_told() {
    let run = calc(&["2", "x=3"]);
    assert_eq!((run.code, run.out.as_str()), (0, "2\n"));
    assert!(run.err.contains("x is not used"), "{}", run.err);
}

#[test]
fn faults_of_a_formula_are_drawn_with_a_caret() {
    let err = refused(&["1 bar + nozle_flow(2)"]);
    let lines: Vec<&str> = err.lines().collect();
    let line = lines.iter().position(|line| line.contains("1 bar + noz")).expect("the formula");
    assert_eq!(lines[line].find("nozle_flow"), lines[line + 1].find("^^^^^^^^^^"), "{err}");
    assert!(err.contains("did you mean nozzle_flow?"), "{err}");
}

#[test]
fn a_refused_calculation_names_the_quantity() {
    let err = refused(&["nozzle_flow(300 mm2, 1 bar, 900 K, 2 bar, 1.3, 287 J/(kg K))"]);
    assert!(err.contains("back_pressure"), "{err}");
    assert!(refused(&["ln(x)", "x=0"]).contains("ln: its argument is not above 0"));
}

#[test]
fn a_unit_that_does_not_fit_the_result_is_refused() {
    let err = refused(&["3 bar", "--in", "mm"]);
    assert!(err.contains("mm is a unit of length") && err.contains("bar"), "{err}");
    assert!(refused(&["3 bar", "--in", "baar"]).contains("did you mean bar?"));
    assert!(refused(&["x > 2", "x=3", "--in", "bar"]).contains("--in: bar"));
    assert!(refused(&["3", "--in", ""]).contains("--in: "));
}

#[test]
fn nothing_is_colder_than_absolute_zero() {
    // Zero kelvin is -273.15 °C by definition: BIPM, The International System of Units, 9th edition, 2.3.1.
    assert_eq!(text(&["-273.15 °C", "--in", "K"]), "0 K\n");
    for formula in ["-273.16 °C", "-300 °C", "20 °C - 294 K"] {
        let err = refused(&[formula]);
        assert!(err.contains("below absolute zero (−273.15 °C)"), "{formula}: {err}");
    }
    // A difference may be of any size.
    assert_eq!(text(&["20 °C - 50 °C"]), "-30 K\n");
}

#[test]
fn hostile_formulas_end_with_a_message() {
    refused(&[&"(".repeat(100_000)]);
    refused(&[&("1+".repeat(50_000) + "1")]);
    refused(&["\u{1b}[31m"]);
    refused(&[""]);
    refused(&[]);
    assert!(refused(&[&"x".repeat(100_000)]).len() < 1000);
}

#[test]
fn remarks_of_a_function_go_to_stderr() {
    let run = calc(&["clamped_plate_deflection(3 bar, 20 mm, 5 mm, 200 GPa, 0.3)"]);
    assert_eq!(run.code, 0);
    assert!(run.err.contains("shear adds"), "{}", run.err);
    let run =
        calc(&["if no then clamped_plate_deflection(3 bar, 20 mm, 5 mm, 200 GPa, 0.3) else 1 mm"]);
    assert_eq!((run.code, run.err.as_str()), (0, ""), "a branch not taken has nothing to say");
}

#[test]
fn the_list_names_every_function_with_its_arguments_and_source() {
    let list = text(&["--list"]);
    for function in FUNCTIONS {
        assert!(list.contains(&format!("  {}(", function.name)), "{}", function.name);
        assert!(list.contains(&function.subject.to_uppercase()), "{}", function.subject);
        for argument in function.arguments {
            assert!(list.contains(&format!("      {}: ", argument.name)), "{}", argument.name);
        }
    }
    for (name, _, _) in OWN {
        assert!(list.contains(&format!("  {name}(")), "{name}");
    }
    assert_eq!(list.matches("      Source: ").count(), FUNCTIONS.len());
    for line in list.lines() {
        assert!(line.chars().count() <= 80, "{line}");
    }
}

#[test]
fn the_list_is_there_for_programs_too() {
    let list = json(&["--list"]);
    let functions = list["functions"].as_array().expect("functions");
    assert_eq!(functions.len(), FUNCTIONS.len());
    for (listed, function) in functions.iter().zip(FUNCTIONS) {
        assert_eq!(listed["name"], function.name);
        assert_eq!(listed["source"], function.source);
        assert_eq!(listed["arguments"].as_array().map(Vec::len), Some(function.arguments.len()));
    }
}

#[test]
fn the_list_takes_no_formula() {
    refused(&["1 + 1", "--list"]);
}
