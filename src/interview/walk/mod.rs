//! The way through the decision graph, and which question is due next: what is still open, what it would
//! show, which causes it has to tell apart, what is due again after a repair.

pub(super) mod candidates;
pub(super) mod choose;
pub(super) mod clear_lead;
pub(super) mod due_after_repair;
pub(super) mod implied_kinds;
pub(super) mod known;
pub(super) mod observe;
pub(super) mod put_off;
pub(super) mod walker;
