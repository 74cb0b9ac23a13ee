//! How long one match of engine, turbine and gate takes: a curve with its band needs hundreds of
//! them, a Monte Carlo tens of thousands.
//!
//! `cargo bench --bench fit`. Typical values of an invented two-litre car.

use boostwright::physics::fit::{
    Engine, MatchedEngine, creep_boost, gate_area_needed, held_boost, turbine_area_from,
};
use boostwright::quantity::Quantity;
use divan::{Bencher, black_box};

fn main() {
    divan::main();
}

fn si<Q: Quantity>(value: f64) -> Q {
    Q::from_si(value)
}

fn car() -> MatchedEngine {
    MatchedEngine {
        turbine_area: si(500e-6),
        engine: Engine {
            speed: si(100.0),
            discharge_coefficient: 0.75,
            leak_area: si(5e-6),
            volume_per_turn: si(1e-3),
            volumetric_efficiency: 0.87,
            lambda: 0.83,
            ambient: si(101_325.0),
            ambient_temperature: si(293.15),
            inlet_heating: si(15.0),
            inlet_drop: si(6e3),
            charge_drop: si(12e3),
            exhaust_drop: si(25e3),
            reference_flow: si(0.15),
            compressor_efficiency: 0.70,
            cooler_effectiveness: 0.75,
            turbine_efficiency: 0.62,
            mechanical_efficiency: 0.97,
            turbine_inlet_temperature: si(1213.15),
        },
    }
}

#[divan::bench]
fn area_needed(bencher: Bencher<'_, '_>) {
    bencher.bench(|| gate_area_needed(si(50e3), black_box(&car())));
}

/// To stay under 100 µs.
#[divan::bench]
fn creep(bencher: Bencher<'_, '_>) {
    bencher.bench(|| creep_boost(si(250e-6), black_box(&car())));
}

#[divan::bench]
fn held(bencher: Bencher<'_, '_>) {
    let diaphragm = si(2e-3);
    bencher.bench(|| {
        let (port, contact, lift) = (si(0.024), si(0.028), si(0.008));
        let car = black_box(car());
        held_boost(port, contact, lift, si(50e3), si(80e3), diaphragm, 0.85, &car)
    });
}

/// To stay under 300 µs.
#[divan::bench]
fn turbine_area(bencher: Bencher<'_, '_>) {
    bencher.bench(|| turbine_area_from(si(90e3), si(177e-6), black_box(&car().engine)));
}
