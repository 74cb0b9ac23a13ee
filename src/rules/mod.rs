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
mod stack;
mod table;
mod text;
pub mod written;
pub mod yaml;

pub use fault::{Fault, Faults, FileText, Mark, Position, Severity};
pub use load::{Loaded, PackSource, Unreadable, load};
pub use pack::*;
pub use table::*;
pub use text::{Piece, Template};
pub use written::{Given, OneOrMore};
