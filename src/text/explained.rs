//! A mistake in words.

use std::fmt;

/// What is wrong, and the way out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Explained {
    pub message: String,
    pub help: String,
}

impl Explained {
    pub fn new(message: impl Into<String>, help: impl Into<String>) -> Self {
        Self { message: message.into(), help: help.into() }
    }
}

impl fmt::Display for Explained {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: {}", self.message, self.help)
    }
}
