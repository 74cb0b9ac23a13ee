//! What the answers speak for: the facts at the end of a round, with everything worked out from them; the
//! findings as factors for the ranking; and which answers and findings the lead rests on.

pub(super) mod denied;
pub(super) mod doubts;
pub(super) mod earlier;
pub(super) mod factors;
pub(super) mod facts;
pub(super) mod inputs;
pub(super) mod reasons;
