//! Why a ranking gives no numbers.

use std::fmt;

/// Where a factor stands: the round it was given in, counted from 0, and its index there.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct FactorAt {
    /// The round, the first being 0.
    pub round: usize,
    /// Index in the list of factors of that round.
    pub index: usize,
}

/// What stands in the way of an answer.
#[derive(Debug, Clone, PartialEq)]
pub enum Refusal {
    /// A number that must lie from 0 to 1 does not.
    NotAChance {
        /// Which number.
        what: String,
        /// What it is.
        value: f64,
    },
    /// A number that must be finite and not negative is not.
    NotAWeight {
        /// Which number.
        what: String,
        /// What it is.
        value: f64,
    },
    /// No cause has this index.
    UnknownCause {
        /// The index asked for.
        cause: usize,
    },
    /// No finding has this index.
    UnknownFinding {
        /// The index asked for.
        finding: usize,
    },
    /// A finding names the same cause twice.
    CauseTwice {
        /// The finding.
        finding: usize,
        /// The cause named twice.
        cause: usize,
    },
    /// The patterns of a group do not fit its findings.
    BadGroup {
        /// What is wrong with them.
        reason: &'static str,
    },
    /// What was seen cannot all be true: these factors clash, and without any one of them the others
    /// do not.
    Contradiction {
        /// The clashing factors, in order.
        factors: Vec<FactorAt>,
    },
}

impl fmt::Display for Refusal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NotAChance { what, value } => {
                write!(f, "{what} is {value}, not a chance from 0 to 1")
            }
            Self::NotAWeight { what, value } => {
                write!(f, "{what} is {value}, not a finite number from 0 up")
            }
            Self::UnknownCause { cause } => write!(f, "there is no cause {cause}"),
            Self::UnknownFinding { finding } => write!(f, "there is no finding {finding}"),
            Self::CauseTwice { finding, cause } => {
                write!(f, "finding {finding} names cause {cause} twice")
            }
            Self::BadGroup { reason } => write!(f, "group of findings: {reason}"),
            Self::Contradiction { factors } => {
                write!(f, "what was seen cannot all be true: factors ")?;
                for (place, factor) in factors.iter().enumerate() {
                    let comma = if place == 0 { "" } else { ", " };
                    write!(f, "{comma}{} of round {}", factor.index, factor.round)?;
                }
                Ok(())
            }
        }
    }
}

impl std::error::Error for Refusal {}
