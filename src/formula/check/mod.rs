//! A tree to a checked formula: names looked up, kinds of quantities checked, units brought to SI.

mod arrange;
mod calls;
mod checker;
mod kinds;
mod names;
pub(crate) mod node;
mod operators;

pub use calls::{OWN, is_function, nearest_function};
pub use checker::{check, check_tree};
pub use names::{Meaning, Names, Unusable, nearest, unusable};
pub use node::{Formula, Math, Node, TruthId, Type, VarId};
