//! One integration binary; one module a subject.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "a test that cannot go on has failed: the message is all it owes"
)]
#![allow(clippy::cast_precision_loss, reason = "tests count to thousands")]

mod asking;
mod broken;
mod built_in;
mod calc;
mod calibration;
mod cli;
mod clock;
mod contract;
mod demos;
mod docs;
mod formula;
mod fuzz;
mod licences;
mod neighbours;
mod pack_verbs;
mod physics;
mod plans;
mod project;
mod quantity;
mod ranking;
mod reference;
mod report;
mod rooms;
mod rules;
mod safe_side;
mod session;
mod simulate;
mod sizes;
mod terminal;
mod text;
mod trust;
