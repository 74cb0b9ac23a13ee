//! Why a relation gives no number.

use std::fmt;

/// A calculation refused: which quantity is at fault and why. Never replaced by a clipped number.
#[derive(Debug, Clone, PartialEq)]
pub struct Refusal {
    /// The argument or result at fault, in the name the formula language uses.
    pub quantity: &'static str,
    /// What is wrong with it, with its value where that helps.
    pub reason: String,
    /// What the result is known to lie above, SI, where a search ended before it was reached.
    pub above: Option<f64>,
}

impl Refusal {
    /// A refusal of `quantity` for `reason`.
    ///
    /// ```
    /// let refused = boostwright::physics::Refusal::new("lift", "must be above 0");
    /// assert_eq!(refused.to_string(), "lift: must be above 0");
    /// ```
    pub fn new(quantity: &'static str, reason: impl Into<String>) -> Self {
        Self { quantity, reason: reason.into(), above: None }
    }

    /// The same of a result that is known to lie above `limit`, SI.
    #[must_use]
    pub(crate) fn above(self, limit: f64) -> Self {
        Self { above: Some(limit), ..self }
    }
}

impl fmt::Display for Refusal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: {}", self.quantity, self.reason)
    }
}

impl std::error::Error for Refusal {}
