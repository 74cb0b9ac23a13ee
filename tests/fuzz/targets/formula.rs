#![no_main]
#![allow(dead_code, reason = "each target goes in by one door")]

#[path = "../doors.rs"]
mod doors;
#[path = "../seeds.rs"]
mod seeds;

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| doors::formula(bytes));
