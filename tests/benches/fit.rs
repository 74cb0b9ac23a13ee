//! How long one match of engine, turbine and gate takes, a curve of them with its band, and a Monte
//! Carlo of match and forecast.
//!
//! `cargo bench --bench fit`. Typical values of an invented two-litre car.

use std::sync::Arc;

use boostwright::formula::{
    BandFrom, DRAWS, Evaluator, Formula, Input, InputValue, Meaning, Names, VarId, check,
};
use boostwright::physics::fit::{
    Flap, Gate, MatchedEngine, creep_boost, gate_area_needed, held_boost, turbine_area_from,
};
use boostwright::physics::spool::{Pull, SpoolEngine, speed_at_boost, threshold_speed};
use boostwright::quantity::{read_unsettled, si};
use divan::{Bencher, black_box};

fn main() {
    divan::main();
}

#[divan::bench]
fn area_needed(bencher: Bencher<'_, '_>) {
    bencher.bench(|| gate_area_needed(si(50e3), black_box(&MatchedEngine::example())));
}

/// To stay under 100 µs.
#[divan::bench]
fn creep(bencher: Bencher<'_, '_>) {
    bencher.bench(|| creep_boost(si(250e-6), black_box(&MatchedEngine::example())));
}

#[divan::bench]
fn held(bencher: Bencher<'_, '_>) {
    let gate = Gate {
        port_diameter: si(0.024),
        lift: si(0.008),
        wide_open_at: si(80e3),
        flap: Flap {
            contact_diameter: si(0.028),
            cracks_at: si(50e3),
            diaphragm_area: si(2e-3),
            arm_ratio: 0.85,
        },
    };
    bencher.bench(|| held_boost(&gate, &black_box(MatchedEngine::example())));
}

/// To stay under 20 µs.
#[divan::bench]
fn boost_begins(bencher: Bencher<'_, '_>) {
    bencher.bench(|| threshold_speed(si(40e3), black_box(&SpoolEngine::example())));
}

/// To stay under 60 µs.
#[divan::bench]
fn boost_builds(bencher: Bencher<'_, '_>) {
    let pull = Pull::example();
    bencher.bench(|| speed_at_boost(si(40e3), black_box(&pull), &SpoolEngine::example()));
}

/// To stay under 300 µs.
#[divan::bench]
fn turbine_area(bencher: Bencher<'_, '_>) {
    bencher.bench(|| {
        turbine_area_from(si(90e3), si(177e-6), black_box(&MatchedEngine::example().engine))
    });
}

/// What was measured or supposed, as a person types it.
struct Car(&'static [(&'static str, &'static str)]);

/// Known as closely as can be: the first order holds.
const MEASURED: Car = Car(&[
    ("throat", "500 mm2 ± 2"),
    ("behind", "25 kPa ± 0.3"),
    ("efficiency", "0.62 ± 0.003"),
    ("compressor", "0.7 ± 0.004"),
    ("hot", "1213.15 K ± 5"),
]);
/// Guessed: it doesn't.
const GUESSED: Car = Car(&[
    ("seen", "0.74 bar ± 0.03"),
    ("port", "18 mm ± 0.25"),
    ("behind", "25 kPa ± 8"),
    ("efficiency", "0.62 ± 0.05"),
    ("compressor", "0.7 ± 0.04"),
    ("hot", "1213.15 K ± 40"),
]);

impl Names for Car {
    fn find(&self, name: &str) -> Option<Meaning<'_>> {
        let place = self.0.iter().position(|(known, _)| *known == name)?;
        let (_, kind) = read_unsettled(self.0[place].1).ok()?;
        Some(Meaning::Value { variable: VarId(place), kind })
    }

    fn all(&self) -> Vec<&str> {
        self.0.iter().map(|(name, _)| *name).collect()
    }
}

impl Car {
    /// None where the text is faulty, which the benches see by the band they lack.
    fn formula(&self, text: &str) -> Option<Formula> {
        check(text, self, None).ok()
    }

    fn evaluator(&self) -> Evaluator<'static> {
        let cell = |(_, text): &(&str, &str)| {
            let entry = read_unsettled(text).ok().map(|(entry, _)| InputValue::Number {
                value: entry.si,
                uncertainty: entry.uncertainty.unwrap_or(0.0),
            });
            Input { value: entry, known: true, ..Input::default() }
        };
        Evaluator::new(self.0.iter().map(cell).collect(), Vec::new(), &[], Arc::default())
    }
}

fn band_from(evaluator: &Evaluator<'_>, formula: &Formula, draws: usize) -> Option<BandFrom> {
    Some(evaluator.estimate_by(formula, draws).ok()?.band.from)
}

/// The engine behind its speed and its turbine.
const ENGINE: &str = "0.75, 5 mm2, 1 L, 0.87, 0.83, 101.325 kPa, 293.15 K, 15 K, 6 kPa, 12 kPa, \
    behind, 0.15 kg/s, compressor, 0.75, efficiency, 0.97, hot";

/// What that port lets boost creep to, with a turbine given or matched.
fn forecast(port: &str, turbine: &str) -> String {
    format!("creep_boost(circle_area({port}), 6000 rpm, {turbine}, {ENGINE})")
}

/// To stay under 150 ms: 17 ports, each with its first-order band.
#[divan::bench]
fn curve_with_its_band(bencher: Bencher<'_, '_>) {
    let ports = (16..=32).map(|port| MEASURED.formula(&forecast(&format!("{port} mm"), "throat")));
    let curve: Vec<Option<Formula>> = ports.collect();
    bencher.bench_local(|| {
        let evaluator = black_box(&MEASURED).evaluator();
        for formula in &curve {
            let from = formula.as_ref().and_then(|formula| band_from(&evaluator, formula, DRAWS));
            assert_eq!(from, Some(BandFrom::FirstOrder));
        }
    });
}

/// To stay under 4 s: 10,000 draws of the match on one port and the forecast for another.
#[divan::bench(sample_count = 10)]
fn match_and_forecast_by_draws(bencher: Bencher<'_, '_>) {
    let matched = format!("turbine_area_from(seen, circle_area(port), 6000 rpm, {ENGINE})");
    let formula = GUESSED.formula(&forecast("22 mm", &matched));
    bencher.bench_local(|| {
        let evaluator = black_box(&GUESSED).evaluator();
        let from = formula.as_ref().and_then(|formula| band_from(&evaluator, formula, 10_000));
        assert!(matches!(from, Some(BandFrom::MonteCarlo { .. })));
    });
}
