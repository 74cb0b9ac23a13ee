//! The language of rule files: what it reads, refuses, works out, and how sure it is of it.

mod bands;
mod beyond;
mod chances;
mod drawn;
mod faults;
mod grammar;
mod hostile;
mod joint;
mod kinds;
mod memory;
mod names;
mod print;
mod slices;
mod standing;
mod trade_facts;
mod ways;
mod weights;
mod workbench;
