//! A tree to a checked formula: names looked up, kinds of quantities checked, units brought to SI.

mod arguments;
mod calls;
mod checked;
mod checker;
mod context;
mod kinds;
mod leaf;
mod names;
pub(crate) mod node;
mod operators;
mod results;

pub use calls::{OWN, is_function, nearest_function};
pub use checker::{check, check_tree};
pub use names::{Meaning, Names, Unusable, nearest, unusable};
pub use node::{Formula, Math, Node, TruthId, Type, VarId};
