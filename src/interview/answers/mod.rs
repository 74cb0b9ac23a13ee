//! What a person answers: read and checked against its question, kept in rounds with a repair between
//! each two.

pub(super) mod answer;
pub(super) mod answer_error;
pub(super) mod round;
pub(super) mod table_rows;
