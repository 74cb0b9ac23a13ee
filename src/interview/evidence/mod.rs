//! What the answers speak for: the facts at the end of a round, with everything worked out from them; the
//! findings as factors for the ranking; what readings teach of the engine; and which answers and findings the lead rests on.

pub(super) mod cluster;
pub(super) mod denied;
pub(super) mod doubts;
pub(super) mod earlier;
pub(super) mod factors;
pub(super) mod facts;
pub(super) mod inputs;
pub(super) mod learning;
pub(super) mod lesson;
pub(super) mod misread;
pub(super) mod read_round;
pub(super) mod reasons;
pub(super) mod shared;
pub(super) mod told;
pub(super) mod unit;
