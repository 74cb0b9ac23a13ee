//! Random draws of uncertain inputs, spread evenly: a Latin hypercube.
//!
//! Each input takes the middle of every one of n slices of equal chance once, in an order of its own
//! at random: a result that one input rules is so found almost exactly, one that many rule as well as
//! by independent draws (McKay, Beckman and Conover, *Technometrics* 21 (1979) 239–245).
//!
//! Scrambled Sobol' points were tried in its place and place the ends of a band hardly better: where a
//! forecast rests on a dozen inputs that matter and a third of the draws is refused, 1,000 slices are
//! out by 0.14 standard uncertainties and 1,024 points by 0.11, 250 of either by 0.2.
//!
//! The order comes from the input's name alone. The same input is drawn alike in every calculation
//! that it is part of, so that what several of them share is worked out once a draw.

use rand_xoshiro::Xoshiro256PlusPlus;
use rand_xoshiro::rand_core::{Rng, SeedableRng};

use super::normal::{below, density};

/// One fixed seed: the same answers give the same band, on every machine.
const SEED: u64 = 0x00b0_0573;

/// A name as a number that starts a input's order: FNV-1a (Fowler, Noll and Vo), which no version of
/// a library changes.
#[must_use]
pub fn stream(name: &str) -> u64 {
    continued(0xcbf2_9ce4_8422_2325, name.as_bytes())
}

/// The stream of one of several things under a name.
pub(crate) fn within(stream: u64, number: usize) -> u64 {
    continued(stream, &(number as u64).to_le_bytes())
}

fn continued(start: u64, bytes: &[u8]) -> u64 {
    bytes
        .iter()
        .fold(start, |hash, byte| (hash ^ u64::from(*byte)).wrapping_mul(0x0000_0100_0000_01b3))
}

/// The draws of an input with this stream, in its standard uncertainties; `slices` as [`slices`]
/// gives them.
pub(crate) fn permuted(slices: &[f64], stream: u64) -> Box<[f64]> {
    let mut order: Box<[f64]> = slices.into();
    let mut generator = Xoshiro256PlusPlus::seed_from_u64(SEED ^ stream);
    for place in (1..order.len()).rev() {
        // Below 2⁻⁴⁰ of bias for the few thousand places there are.
        #[expect(clippy::cast_possible_truncation, reason = "the product's upper half is below it")]
        let other = ((u128::from(generator.next_u64()) * (place as u128 + 1)) >> 64) as usize;
        order.swap(place, other);
    }
    order
}

/// The middles of so many slices of equal chance of the standard normal distribution, rising.
pub(crate) fn slices(count: usize) -> Box<[f64]> {
    let mut found = vec![0.0; count];
    let mut at = 0.0;
    // From the middle outwards, each from the one before; the lower half mirrors the upper.
    for place in count.div_ceil(2)..count {
        #[expect(clippy::cast_precision_loss, reason = "some thousands")]
        let wanted = (place as f64 + 0.5) / count as f64;
        at = quantile(wanted, at);
        found[place] = at;
        found[count - 1 - place] = -at;
    }
    found.into()
}

/// Below which a standard normal variable lies with this chance, ½ to 1, by Newton's method from
/// below: the distribution bends down there, so no step goes beyond the root.
fn quantile(chance: f64, mut from: f64) -> f64 {
    loop {
        let step = (chance - below(from)) / density(from);
        from += step;
        if step.abs() < 1e-12 * from.abs() + 1e-14 || !step.is_finite() {
            return from;
        }
    }
}
