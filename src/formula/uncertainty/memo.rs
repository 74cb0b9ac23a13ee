//! What was worked out before with the same values below it. A fold is a pure function; this only
//! spares it from doing the same sum twice.
//!
//! A result is found by two 64-bit hashes (SipHash), of the piece and of the inputs below it, and
//! nothing is compared behind them: the pieces would cost more to keep than the results. Where one of
//! the two is rightly the same, the other must tell results apart: among the 2 × 10⁸ pairs of at most
//! 20,000 results the odds of a single mistake are below 2 × 10⁸ / 2⁶⁴, one in 10¹¹. The hash has no
//! secret key, so that a rule file could be made to collide on purpose, to the harm of its own numbers.

use std::collections::HashMap;
use std::hash::{DefaultHasher, Hash, Hasher};
use std::sync::Mutex;

use super::estimate::Estimate;
use super::lock::lock;
use crate::formula::evaluate::{EvalError, Input, InputValue};

/// The most results that are kept.
const MAX_RESULTS: usize = 20_000;

/// A piece of a formula and the state of everything below it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub(crate) struct Key {
    /// The fingerprint of the piece: two equal pieces share their result.
    piece: u64,
    below: u64,
}

/// Results by piece and by what lies below it.
#[derive(Debug, Default)]
pub struct Memo {
    estimates: Mutex<HashMap<Key, Result<Estimate, EvalError>>>,
    values: Mutex<HashMap<Key, Result<f64, EvalError>>>,
}

impl Memo {
    pub(crate) fn estimate(&self, key: Key) -> Option<Result<Estimate, EvalError>> {
        lock(&self.estimates).get(&key).cloned()
    }

    pub(crate) fn keep_estimate(&self, key: Key, estimate: &Result<Estimate, EvalError>) {
        keep(&self.estimates, key, estimate);
    }

    pub(crate) fn value(&self, key: Key) -> Option<Result<f64, EvalError>> {
        lock(&self.values).get(&key).cloned()
    }

    pub(crate) fn keep_value(&self, key: Key, value: &Result<f64, EvalError>) {
        keep(&self.values, key, value);
    }
}

fn keep<T: Clone>(kept: &Mutex<HashMap<Key, T>>, key: Key, result: &T) {
    let mut kept = lock(kept);
    if kept.len() >= MAX_RESULTS {
        kept.clear();
    }
    kept.insert(key, result.clone());
}

/// The key of a piece with this fingerprint over the inputs below it.
pub(crate) fn key<'c>(piece: u64, below: impl Iterator<Item = (usize, &'c Input)>) -> Key {
    let mut state = DefaultHasher::new();
    for (variable, input) in below {
        variable.hash(&mut state);
        input.known.hash(&mut state);
        match &input.value {
            None => 0_u8.hash(&mut state),
            Some(InputValue::Number { value, uncertainty }) => {
                (1_u8, value.to_bits(), uncertainty.to_bits()).hash(&mut state);
            }
            Some(InputValue::Bool(truth)) => (2_u8, truth).hash(&mut state),
            Some(InputValue::Option(option)) => (3_u8, option).hash(&mut state),
            Some(InputValue::Table(rows)) => {
                4_u8.hash(&mut state);
                for cell in rows.iter().flatten() {
                    cell.to_bits().hash(&mut state);
                }
            }
        }
    }
    Key { piece, below: state.finish() }
}
