//! What a fault is, apart from where: each room that finds some has an enum of its own kinds, which
//! keep what is known and put it into words only for whoever reads it.

use std::fmt;

use super::code::Code;
use crate::formula;
use crate::quantity::{ReadError, UnitError};
use crate::text::Explained;

/// Whether the pack can't be used, or is only poorer for it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Severity {
    Error,
    Warning,
}

/// A kind of fault with what is known of it.
pub trait FaultKind: fmt::Debug + Send + Sync {
    /// In words.
    fn told(&self) -> Told;
}

/// A kind of fault in words.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Told {
    pub code: Code,
    pub severity: Severity,
    /// What is wrong, in a line.
    pub message: String,
    /// What stands at the mark; empty where the message says it all.
    pub label: String,
    /// The way out.
    pub help: String,
}

impl Told {
    /// A fault that makes the pack unusable.
    pub fn error(code: Code, message: impl Into<String>, help: impl Into<String>) -> Self {
        Self {
            code,
            severity: Severity::Error,
            message: message.into(),
            label: String::new(),
            help: help.into(),
        }
    }

    /// A fault that makes the pack unusable, explained where it was found.
    pub fn explained(code: Code, explained: Explained) -> Self {
        Self::error(code, explained.message, explained.help)
    }

    /// A fault that the pack is only poorer for.
    pub fn warning(code: Code, message: impl Into<String>, help: impl Into<String>) -> Self {
        Self { severity: Severity::Warning, ..Self::error(code, message, help) }
    }

    /// The same with what stands at the mark.
    #[must_use]
    pub fn labelled(self, label: impl Into<String>) -> Self {
        Self { label: label.into(), ..self }
    }
}

impl FaultKind for formula::Fault {
    fn told(&self) -> Told {
        Told::error(Code::Formula, self.message(), self.help()).labelled(self.label())
    }
}

impl FaultKind for ReadError {
    fn told(&self) -> Told {
        Told::explained(Code::Value, self.explained())
    }
}

impl FaultKind for UnitError {
    fn told(&self) -> Told {
        Told::explained(Code::Unit, self.explained())
    }
}

/// The near name, or else what to do without one.
pub(in crate::rules) fn did_you_mean(near: Option<&str>, otherwise: impl Into<String>) -> String {
    near.map_or_else(|| otherwise.into(), |near| format!("did you mean {near}?"))
}
