//! What a person should do or leave: dangers and cautions, the work next, ways out beside it, and the
//! verdict after a repair.

pub(super) mod alternatives;
pub(super) mod danger;
pub(super) mod figure;
pub(super) mod forecast;
pub(super) mod in_place;
pub(super) mod next_work;
pub(super) mod planned;
pub(super) mod verdict;
