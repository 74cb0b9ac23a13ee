//! A result with its band and what the uncertainty in it owes to which input.

use super::band::Band;
use crate::formula::evaluate::UncertainInput;

/// A band with the inputs that its shares belong to.
#[derive(Debug, Clone, PartialEq)]
pub struct Estimate {
    pub band: Band,
    pub inputs: Vec<UncertainInput>,
}

impl Estimate {
    /// What the uncertainty owes to each input, as a unit vector; empty where there is none of first
    /// order.
    pub(crate) fn directions(&self) -> Vec<(UncertainInput, f64)> {
        let length = self.band.shares.iter().map(|share| share * share).sum::<f64>().sqrt();
        if length <= 0.0 {
            return Vec::new();
        }
        let parts = self.band.shares.iter().map(|share| share / length);
        self.inputs.iter().copied().zip(parts).collect()
    }
}
