//! How much a page may say.

/// How much a page may say, down to what can't be left out.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(in crate::report) enum Room {
    /// Of sizes and reasons no more than what the work begins with.
    Least,
    Scarce,
    Tight,
    /// For all that must be minded, but not for other ways to do it.
    Fair,
    Ample,
}

impl Room {
    /// The most first.
    pub(in crate::report) const ALL: [Self; 5] =
        [Self::Ample, Self::Fair, Self::Tight, Self::Scarce, Self::Least];
}
