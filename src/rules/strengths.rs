//! The words for how strongly a cause brings a finding.

/// The strengths a pack knows unless it says otherwise.
pub(super) const STRENGTHS: [(&str, f64); 6] = [
    ("always", 0.99),
    ("nearly_always", 0.95),
    ("usually", 0.8),
    ("often", 0.5),
    ("sometimes", 0.25),
    ("seldom", 0.05),
];

/// What a word that every pack knows is worth, unless a pack says otherwise.
pub(super) fn known_strength(word: &str) -> Option<f64> {
    STRENGTHS.iter().find(|(known, _)| *known == word).map(|(_, worth)| *worth)
}
