//! The physics: printed examples, directions, balances, refusals. Independent tables are held
//! against it in `reference`.

mod balances;
mod calls;
mod directions;
mod engines;
mod expansions;
mod gas;
mod integrator;
mod parts;
mod polynomials;
mod printed;
mod refusals;
mod roots;
mod settled;
mod spool;
mod table;

use boostwright::quantity::si;
use proptest::prelude::ProptestConfig;

const BAR: f64 = 1e5;
/// NIST SP 811, appendix B: lbf/in² from its definition.
const PSI: f64 = 0.453_592_37 * 9.806_65 / (0.025_4 * 0.025_4);
const INCH: f64 = 0.025_4;

/// `value` lies within `tolerance` of `expected`, which `source` prints.
#[track_caller]
fn near(source: &str, value: f64, expected: f64, tolerance: f64) {
    let off = (value - expected).abs();
    assert!(off <= tolerance, "{source}: {value} instead of {expected} ± {tolerance}");
}

/// Many engines have no operating point where a property looks, so many are passed over.
fn wide() -> ProptestConfig {
    ProptestConfig {
        max_global_rejects: 50_000,
        failure_persistence: None,
        ..ProptestConfig::default()
    }
}
