//! Text to a tree: tokens, precedence, and where in the text each mistake stands.

pub(crate) mod clash;
mod drawing;
pub(crate) mod expression;
pub(crate) mod fault;
mod limits;
pub(crate) mod mistake;
mod parse;
mod print;
mod token;

pub use clash::{Clash, Found};
pub use drawing::{Headline, Mark, draw, on_letters};
pub use expression::{Argument, Arithmetic, Comparison, Expression, Form, Spread};
pub use fault::{Fault, Span};
pub use limits::{MAX_BYTES, MAX_NESTING, MAX_TOKENS};
pub use mistake::Mistake;
pub use parse::parse;
pub use print::{Printer, shortened};
pub use token::RESERVED;
