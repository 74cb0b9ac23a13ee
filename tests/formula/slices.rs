//! The draws of uncertain inputs: slices of the normal distribution, in orders at random.

#[allow(dead_code, unreachable_pub, reason = "the program uses more of it")]
#[path = "../../src/formula/uncertainty/latin_hypercube.rs"]
mod latin_hypercube;

use boostwright::formula::normal;
use latin_hypercube::{permuted, slices, stream};

#[test]
fn slices_are_those_of_the_normal_distribution() {
    let found = slices(1000);
    // z at 0.9755, 0.5005 and 0.9995 by Python's statistics.NormalDist (Wichura's AS 241).
    for (place, z) in [(975, 1.968_591_669), (500, 0.001_253_314), (999, 3.290_526_731)] {
        assert!((found[place] - z).abs() < 1e-8, "{place}: {}", found[place]);
        assert!((found[999 - place] + z).abs() < 1e-8, "{place}");
    }
    assert_eq!(slices(3)[1], 0.0);
    assert!(slices(0).is_empty());
}

#[test]
fn every_input_takes_each_slice_once_in_an_order_of_its_own() {
    let slices = slices(200);
    let one = permuted(&slices, stream("one"));
    let other = permuted(&slices, stream("other"));
    assert_ne!(one, other);
    let product: f64 = one.iter().zip(&other).map(|(a, b)| a * b).sum();
    // Correlation of unrelated orders: 1/√200 is one standard deviation.
    assert!((product / 200.0).abs() < 4.0 / 200_f64.sqrt(), "{product}");
    let mut sorted = one.clone();
    sorted.sort_by(f64::total_cmp);
    assert_eq!(sorted, slices);
}

#[test]
fn a_stream_is_the_published_hash() {
    // Fowler–Noll–Vo, 64-bit FNV-1a test vectors: "" and "a".
    assert_eq!(stream(""), 0xcbf2_9ce4_8422_2325);
    assert_eq!(stream("a"), 0xaf63_dc4c_8601_ec8c);
}
