//! The conclusion as JSON: the contract that scripts rest on. Numbers are never rounded.

use super::model::{Conclusion, ReasonLine};

/// Causes less likely than this are listed without their reasons.
const WORTH_REASONS: f64 = 1e-3;
/// A reason that changes the odds by less than this factor either way is left out.
const MIN_TIMES: f64 = 1.05;

/// The conclusion as indented JSON: of causes from 0.1 % on the reasons that change the odds by a
/// twentieth or more.
#[must_use]
pub fn json_in_brief(conclusion: &Conclusion) -> String {
    let mut brief = conclusion.clone();
    for cause in &mut brief.causes {
        let worth = cause.probability >= WORTH_REASONS;
        let tells = |reason: &ReasonLine| {
            worth && reason.times.is_none_or(|times| !(1.0 / MIN_TIMES..MIN_TIMES).contains(&times))
        };
        cause.speaks_for.retain(tells);
        cause.against.retain(tells);
    }
    json(&brief)
}

/// The conclusion as indented JSON, with all there is.
#[must_use]
pub fn json(conclusion: &Conclusion) -> String {
    // Nothing in the model can fail to be written: keys are texts, numbers are finite.
    serde_json::to_string_pretty(conclusion).unwrap_or_default() + "\n"
}
