//! What is given to a calculation from outside: values, who they come from, how uncertain they are.

use crate::formula::check::VarId;

/// A value that was given.
#[derive(Debug, Clone, PartialEq)]
pub enum InputValue {
    /// Value and one standard uncertainty, SI.
    Number {
        value: f64,
        uncertainty: f64,
    },
    Bool(bool),
    /// Index of the chosen option.
    Option(usize),
    /// Rows of a two-column table, SI.
    Table(Vec<[f64; 2]>),
}

/// What stands behind a variable that no formula gives.
#[derive(Debug, Clone, PartialEq)]
pub struct Input {
    pub value: Option<InputValue>,
    /// A person answered it; otherwise it is assumed or missing.
    pub known: bool,
    /// How often such an answer is right, 0 to 1.
    pub sure: f64,
    /// How many options a choice has.
    pub options: usize,
    /// What starts its random draws, [`crate::formula::stream`] of its name; 0 where its place does.
    pub stream: u64,
}

impl Default for Input {
    fn default() -> Self {
        Self { value: None, known: false, sure: 1.0, options: 0, stream: 0 }
    }
}

/// An uncertain number at the bottom of a calculation: what JCGM 100:2008 (GUM), 4.1, calls an input
/// quantity.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum UncertainInput {
    /// A given value.
    Given(VarId),
    /// The n-th literal with `±` of the formula behind a variable.
    Literal { variable: VarId, index: usize },
    /// The n-th literal with `±` of the formula that is asked for.
    Own { index: usize },
}

/// An input estimate with its standard uncertainty (JCGM 100:2008, 4.1.4).
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct InputEstimate {
    pub(crate) value: f64,
    /// One standard uncertainty; 0 where it is exact.
    pub(crate) uncertainty: f64,
}

impl InputEstimate {
    pub(crate) const NOTHING: Self = Self { value: 0.0, uncertainty: 0.0 };
}
