//! The conclusion as JSON: the contract that scripts rest on. Numbers are never rounded.

use super::model::Conclusion;

/// The conclusion as indented JSON.
#[must_use]
pub fn json(conclusion: &Conclusion) -> String {
    // Nothing in the model can fail to be written: keys are texts, numbers are finite.
    serde_json::to_string_pretty(conclusion).unwrap_or_default() + "\n"
}
