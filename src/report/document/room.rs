//! How much a page may say.

/// How much a page may say, down to what can't be left out.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(in crate::report) enum Room {
    Scarce,
    Tight,
    Ample,
}

impl Room {
    /// The most first.
    pub(in crate::report) const ALL: [Self; 3] = [Self::Ample, Self::Tight, Self::Scarce];
}
