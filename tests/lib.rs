//! One integration binary; one module a subject.

// A test that cannot go on has failed: the message is all it owes.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod calc;
mod formula;
mod physics;
mod quantity;
mod ranking;
mod reference;
mod session;
