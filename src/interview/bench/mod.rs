//! Trying a pack out: its own cases, simulated persons, and cases whose answers can't be taken.

pub(super) mod person;
pub(super) mod simulate;
pub(super) mod trial;
pub(super) mod unanswerable;
