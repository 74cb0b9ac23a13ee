//! The interview as a fold: what is known, what it speaks for, which question is due.
//!
//! | folder | what is in it |
//! | --- | --- |
//! | `answers` | what was answered, read and kept in rounds |
//! | `evidence` | what follows from it: facts, findings as evidence, which answers the lead rests on |
//! | `walk` | which question is due |
//! | `advice` | dangers, the work next, the verdict after a repair |
//! | `words` | what is known, in words |
//! | `bench` | trying a pack out: its cases, simulated persons |
//!
//! `fold` brings them together into a `state`. Knows nothing of terminals or files.

mod advice;
mod answers;
mod bench;
mod evidence;
mod fold;
mod internal_error;
mod state;
mod walk;
mod words;

pub use advice::alternatives::alternatives;
pub use advice::danger::{Danger, cautions_with, could_stop};
pub use advice::figure::Figure;
pub use advice::forecast::Fell;
pub use advice::in_place::in_place;
pub use advice::next_work::{Task, Work, next_work, workshop_check};
pub use advice::planned::{open_needs, planned_work};
pub use advice::verdict::{Incomparable, Outcome, Verdict, verdict};
pub use answers::answer::{Answer, Reading, read_answer, read_measure};
pub use answers::answer_error::{AnswerError, CANT_SAY, LATER, NONE, RowProblem};
pub use answers::round::{Answers, Held, Refused, Round, keep_answer, says_something};
pub use bench::series::{Interviewed, Leads, Series, ToldBy};
pub use bench::simulate::{Bin, Conditions, Outcomes, simulate};
pub use bench::trial::{Difference, Trial, try_case};
pub use bench::unanswerable::unanswerable;
pub use evidence::denied::Denied;
pub use evidence::doubts::{Doubt, doubts};
pub use evidence::factors::Evidence;
pub use evidence::facts::Facts;
pub use evidence::lesson::{Clash, Learnt, Lesson};
pub use evidence::reasons::{FindingReason, reasons, without};
pub use fold::{fold, fold_with};
pub use internal_error::InternalError;
pub use state::{Ranked, State};
pub use walk::due_after_repair::due_after_repair;
pub use walk::walker::{Next, Reason, Walk};
pub use words::formula_text::{Origin, origin, with_numbers};
