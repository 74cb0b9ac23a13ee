//! The small total language of rule files: text to spans, kinds checked, evaluated, what it reads
//! listed; and the one table that gives physics functions their names, arguments, units, sources.
//!
//! Knows nothing of rule files or terminals.

mod check;
mod evaluate;
pub mod functions;
mod syntax;
mod uncertainty;

pub use check::{
    Formula, Math, Meaning, Names, Node, OWN, Slot, Type, Unusable, check, check_tree, is_function,
    nearest, nearest_function, unusable,
};
pub use evaluate::{Cell, Data, Datum, Entry, Evaluation, Gap, Piece, RootId, Sheet, Worked};
pub use syntax::{
    Argument, Arithmetic, Comparison, DEEPEST, Expression, Fault, Form, Headline, LONGEST,
    MOST_TOKENS, Mark, RESERVED, Span, Spread, draw, on_letters, parse,
};
pub use uncertainty::{
    Band, BandFrom, COVERAGE, CURVE_DRAWS, DRAWS, FEW_DRAWS, Memo, Variable, Weight, normal,
    single_variable, stream,
};
