//! How long and deep a formula may be that is read: rule files come from strangers.

/// The longest formula that is read, in bytes.
pub const MAX_BYTES: usize = 4096;
/// The deepest nesting that is read.
pub const MAX_NESTING: usize = 64;
/// The most tokens that are read: a chain of sums builds a tree as deep as it is long.
pub const MAX_TOKENS: usize = 1000;
