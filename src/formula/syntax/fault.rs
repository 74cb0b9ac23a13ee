//! What is wrong with a formula, and where in its text.

use std::ops::Range;

/// Byte range in the text of one formula.
pub type Span = Range<usize>;

/// One mistake in a formula.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fault {
    /// Where, as bytes of the formula's own text.
    pub span: Span,
    /// What is wrong.
    pub message: String,
    /// What stands at the spot, for the mark under it.
    pub label: String,
    /// The other side of a clash: its span and what stands there. Boxed, since few faults have one
    /// and every result of the parser carries room for a fault.
    pub other: Option<Box<(Span, String)>>,
    /// How to mend it.
    pub help: String,
}

impl Fault {
    pub(crate) fn new(span: Span, message: impl Into<String>, help: impl Into<String>) -> Self {
        Self { span, message: message.into(), label: String::new(), other: None, help: help.into() }
    }

    #[must_use]
    pub(crate) fn labelled(mut self, label: impl Into<String>) -> Self {
        self.label = label.into();
        self
    }

    #[must_use]
    pub(crate) fn against(mut self, span: Span, label: impl Into<String>) -> Self {
        self.other = Some(Box::new((span, label.into())));
        self
    }
}
