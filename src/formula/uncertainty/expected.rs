//! What readings should be by formulas, at each draw: kept for as long as the answers stay what they are.

use std::collections::HashMap;
use std::sync::{Arc, Mutex};

use super::lock::lock;
use crate::formula::check::VarId;

/// At each draw what a reading should be; none where that is refused.
pub(super) type AtDraws = Arc<[Option<f64>]>;

/// By the reading and the fingerprint of the formula.
#[derive(Default)]
pub(super) struct Expected(Mutex<HashMap<(VarId, u64), AtDraws>>);

impl Expected {
    /// What was worked out before, or is now. At worst two threads work out the same.
    pub(super) fn of(&self, key: (VarId, u64), make: impl FnOnce() -> AtDraws) -> AtDraws {
        if let Some(known) = lock(&self.0).get(&key) {
            return Arc::clone(known);
        }
        let made = make();
        lock(&self.0).insert(key, Arc::clone(&made));
        made
    }
}
