//! What could be done.

/// A repair that could be done.
#[derive(Debug, Clone, PartialEq)]
pub struct Repair {
    /// The causes it mends.
    pub mends: Vec<usize>,
    /// Probability, 0 to 1, that it mends a cause that is present; each cause on its own.
    pub succeeds: f64,
    /// How long it takes, in minutes; above 0.
    pub minutes: f64,
    /// How long a check takes, in minutes, that shows beyond doubt whether any of the causes is
    /// present, if there is one; above 0.
    pub check: Option<f64>,
}
