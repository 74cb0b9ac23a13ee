//! Neighbouring causes of "boost too high with the controller off": one measurement, taken one way or
//! the other, puts the one or the other in the lead, as a mechanic expects (common practice). All
//! readings are invented.

mod air;
mod by_the_model;
mod gauges;
mod line;
mod numbers;
mod pair;
mod road;
