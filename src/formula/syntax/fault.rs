//! What is wrong with a formula, and where in its text.

use std::ops::Range;

use super::mistake::Mistake;

/// Byte range in the text of one formula.
pub type Span = Range<usize>;

/// One mistake in a formula.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fault {
    /// Where, as bytes of the formula's own text.
    pub span: Span,
    /// What is wrong. Boxed, since every result of the parser carries room for a fault.
    pub mistake: Box<Mistake>,
    /// What it lies in, where the span is that of the call that puts it in: `relation creep`.
    pub within: Option<String>,
    /// The other side of a clash: its span and what stands there.
    pub other: Option<Box<(Span, String)>>,
}

impl Fault {
    pub(crate) fn new(span: Span, mistake: Mistake) -> Self {
        Self { span, mistake: Box::new(mistake), within: None, other: None }
    }

    #[must_use]
    pub(crate) fn against(mut self, span: Span, label: impl Into<String>) -> Self {
        self.other = Some(Box::new((span, label.into())));
        self
    }

    /// What is wrong, in a line.
    #[must_use]
    pub fn message(&self) -> String {
        let message = self.mistake.message();
        match &self.within {
            Some(within) => format!("in {within}: {message}"),
            None => message,
        }
    }

    /// What stands at the spot, for the mark under it.
    #[must_use]
    pub fn label(&self) -> String {
        self.mistake.label()
    }

    /// How to mend it.
    #[must_use]
    pub fn help(&self) -> String {
        self.mistake.help()
    }
}
