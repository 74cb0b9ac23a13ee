//! The small total language of rule files: text to spans, kinds checked, evaluated, what it reads
//! listed; and the one table that gives physics functions their names, arguments, units, sources.
//!
//! Knows nothing of rule files or terminals.

mod apply;
mod band;
mod calls;
mod chance;
mod check;
mod column;
mod could_hold;
mod drawing;
mod drawn;
mod evaluate;
mod fault;
pub mod functions;
mod joint;
mod kinds;
mod lock;
mod memo;
mod moved;
mod names;
mod node;
pub mod normal;
mod operators;
mod parse;
mod remarks;
mod sample;
mod sheet;
mod syntax;
mod token;
mod ways;
mod weigh;

pub use band::{Band, BandFrom, COVERAGE, CURVE_DRAWS, DRAWS, FEW_DRAWS};
pub use calls::{OWN, is_function, nearest_function};
pub use check::{check, check_tree};
pub use drawing::{Headline, Mark, draw, on_letters};
pub use evaluate::{Data, Datum, Evaluation, Gap};
pub use fault::{Fault, Span};
pub use memo::Memo;
pub use names::{Meaning, Names, RESERVED, Unusable, nearest, unusable};
pub use node::{Formula, Math, Node, Slot, Type};
pub use parse::{DEEPEST, LONGEST, MOST_TOKENS, parse};
pub use sample::stream;
pub use sheet::{Cell, Entry, Piece, RootId, Sheet, Worked};
pub use syntax::{Argument, Arithmetic, Comparison, Expression, Form, Spread};
pub use weigh::{Variable, Weight, single_variable};
