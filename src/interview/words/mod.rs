//! What is known, in words: answers as a person would say them, texts and formulas with their values put
//! in.

pub(super) mod formula_text;
pub(super) mod shown;
mod turned;
pub(super) mod working_text;
