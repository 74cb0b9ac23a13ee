//! Why a relation gives no number.

use std::fmt;

/// A calculation refused: which quantity is at fault and why. Never replaced by a clipped number.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Refusal {
    /// The argument or result at fault, in the name the formula language uses.
    pub quantity: &'static str,
    /// What is wrong with it, with its value where that helps.
    pub reason: String,
}

impl Refusal {
    /// A refusal of `quantity` for `reason`.
    pub fn new(quantity: &'static str, reason: impl Into<String>) -> Self {
        Self { quantity, reason: reason.into() }
    }
}

impl fmt::Display for Refusal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: {}", self.quantity, self.reason)
    }
}

impl std::error::Error for Refusal {}
