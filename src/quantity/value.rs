//! A quantity that somebody measured, supposed or worked out.

use std::fmt;

use super::{Kind, Unit, print_value};

/// A value with its standard uncertainty, and the unit in which to show it.
#[derive(Debug, Clone, PartialEq)]
pub struct Value {
    /// In coherent SI; finite.
    pub si: f64,
    /// One standard uncertainty (JCGM 100, 2.3.1) in coherent SI; 0 for an exact value.
    pub uncertainty: f64,
    /// What the number means.
    pub kind: Kind,
    /// The person's own unit.
    pub unit: Unit,
}

impl fmt::Display for Value {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&print_value(self.si, self.uncertainty, &self.unit, self.kind))
    }
}
