//! Which format of session files this program writes.

/// The number that a session file opens with. `migrate` says what each format is, and has a step from
/// each older one to the next.
pub const FORMAT: usize = 1;
