//! Units, reading and printing.

mod reading;
