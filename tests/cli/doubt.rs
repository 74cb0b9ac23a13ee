//! An uncertainty past any sense is refused, and none is ever so large that it counts as certainty.

use super::bench::Bench;

#[test]
fn a_reading_less_certain_than_all_that_is_plausible_is_refused_with_the_reason() {
    let bench = Bench::begun();
    let before = bench.read("boost.yaml");
    for spread in ["5", "1e10 bar", "1e144", "9000 %"] {
        let answer = format!("boost_seen=1.05 bar ± {spread}");
        let ran = bench.run(&["answer", "boost.yaml", &answer]);
        ran.refused_with(&[
            "boost_seen",
            "the uncertainty in 1.05 bar ±",
            "the reading tells nothing",
        ]);
        assert_eq!(bench.read("boost.yaml"), before);
    }
    for spread in ["1e149", "1e150 bar", "1e300", "1e308 %"] {
        let answer = format!("boost_seen=1.05 bar ± {spread}");
        bench.run(&["answer", "boost.yaml", &answer]).refused_with(&["boost_seen", "too large"]);
    }
    // Wide, but a reading.
    let ran = bench.run(&["answer", "boost.yaml", "boost_seen=1.05 bar ± 0.5"]);
    assert_eq!(ran.code, Some(0), "{ran:?}");
}

#[test]
fn calc_never_takes_a_huge_uncertainty_for_certainty() {
    let bench = Bench::new();
    for spread in ["1e100", "1e140", "1e144"] {
        let ran = bench.run(&[
            "calc",
            "b > 0.9 bar",
            &format!("b=1.05 bar ± {spread}"),
            "--form",
            "json",
        ]);
        assert_eq!(ran.code, Some(0), "{ran:?}");
        let told: serde_json::Value = serde_json::from_str(&ran.stdout).unwrap();
        let chance = told["value"].as_f64().unwrap();
        // The reading may lie on either side by as much: the limit of Φ(0.15 / u) is a half.
        assert!((chance - 0.5).abs() < 1e-9, "{spread}: {chance}");
    }
    for spread in ["1e149", "1e150", "1e200", "1e308"] {
        let ran = bench.run(&["calc", "b > 0.9 bar", &format!("b=1.05 bar ± {spread}")]);
        ran.refused_with(&["too large"]);
    }
}

#[test]
fn a_product_of_wide_values_is_no_certainty() {
    let bench = Bench::new();
    let values: Vec<String> = ["a", "b", "c", "d"].map(|name| format!("{name}=1 ± 1e140")).into();
    let mut arguments = vec!["calc", "a * b * c * d"];
    arguments.extend(values.iter().map(String::as_str));
    let ran = bench.run(&arguments);
    // Either a band as wide as that or a refusal, never a bare number.
    assert!(ran.code == Some(2) || ran.stdout.contains('±'), "{ran:?}");
}

#[test]
fn a_pack_whose_uncertainty_is_wider_than_its_range_is_refused() {
    let bench = Bench::new();
    let question = |answer: &str| {
        format!(
            "instruments:\n  stick: {{title: a stick, uncertainty: 4 bar}}\n\
             questions:\n  mine: {{text: How much?, answer: {{measure: gauge_pressure, from: 0 bar, \
             to: 3 bar, {answer}}}}}\n"
        )
    };
    for answer in ["uncertainty: 4 bar", "typical: 1 bar ± 4 bar", "read_with: [stick]"] {
        bench.write("odd/rules.yaml", &question(answer));
        let ran = bench.run(&["pack", "check", "--only", "odd"]);
        assert_eq!(ran.code, Some(1), "{answer}: {ran:?}");
        ran.says(&["exceeds the whole range"]);
    }
    bench.write("odd/rules.yaml", &question("uncertainty: 0.4 bar"));
    assert_eq!(bench.run(&["pack", "check", "--only", "odd"]).code, Some(0));
}
