//! Rule packs: as written (YAML, texts), then checked and linked; laid over one another; linted.
//! Every mistake is found at load, with its place and a way out.
//!
//! Knows nothing of terminals or sessions.

mod fault;
mod fields;
mod forms;
mod link;
mod lint;
mod load;
mod pack;
mod read;
pub mod shape;
mod stack;
mod table;
mod text;
pub mod written;
pub mod yaml;

pub use fault::{Fault, Faults, FileText, Mark, Place as FaultPlace, Position, Severity};
pub use fields::fields_of;
pub use load::{Loaded, PackSource, Unreadable, load};
pub use pack::*;
pub use table::*;
pub use text::{Piece, Template};
pub use written::{Given, OneOrMore};
