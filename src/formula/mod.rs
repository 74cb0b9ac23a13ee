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
    Formula, Math, Meaning, Names, Node, OWN, TruthId, Type, Unusable, VarId, check, check_tree,
    is_function, nearest, nearest_function, unusable,
};
pub use evaluate::{
    ANYWHERE, EvalError, Input, InputValue, Kleene, Logic, Plain, Reach, UncertainInput, Worked,
    constant_refusal, fixed_truth, reach, truth,
};
pub use syntax::{
    Argument, Arithmetic, Clash, Comparison, Expression, Fault, Form, Found, Headline, MAX_BYTES,
    MAX_NESTING, MAX_TOKENS, Mark, Mistake, Printer, RESERVED, Span, Spread, draw, on_letters,
    parse, shortened,
};
pub use uncertainty::{
    Band, BandFrom, Basis, Borders, COVERAGE, CURVE_DRAWS, DRAWS, Doubtful, Estimate, Evaluator,
    FEW_DRAWS, JointDraws, Memo, Settled, Standing, Weight, normal, single_basis, stream,
};
