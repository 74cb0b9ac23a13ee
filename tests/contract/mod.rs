//! The contract of rule files, answers, JSON and exit codes, held from the outside: small packs and
//! answers as a stranger would write them, and an enumeration that shares nothing with the program.

mod advice;
mod bench;
mod enumeration;
mod exit_codes;
mod faults;
mod forecasts;
mod groups;
mod impossible;
mod internal;
mod mended;
mod odd_one;
mod packs;
mod random_packs;
mod readings;
mod reads_as;
mod rounds;
mod shared;
mod soft_evidence;
mod told;
mod truth;
mod walk;
mod workings;
mod worth_asking;
mod written_once;
