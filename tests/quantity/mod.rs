//! Units, reading and printing.

mod printing;
mod properties;
mod reading;
mod refusals;
mod spellings;
mod typeset;
mod unit_prefix;
mod units;
