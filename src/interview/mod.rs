//! The interview as a fold: what is known, what it speaks for, which question is due.
//!
//! Knows nothing of terminals or files.

mod again;
mod ahead;
mod answer;
mod choose;
mod danger;
mod denied;
mod doubts;
mod earlier;
mod evidence;
mod facts;
mod fold;
mod in_play;
mod known;
mod lead;
mod numbers;
mod observe;
mod person;
mod put_off;
mod reasons;
mod round;
mod rows;
mod said;
mod settled;
mod simulate;
mod trial;
mod unanswerable;
mod verdict;
mod walk;
mod words;

pub use again::due_again;
pub use ahead::{Task, Work, alternatives, work_ahead};
pub use answer::{
    Answer, AnswerError, CANT_SAY, LATER, Reading, RowProblem, read_answer, read_measure,
};
pub use danger::{Danger, cautions_with, could_stop};
pub use denied::Denied;
pub use doubts::{Doubt, doubts};
pub use evidence::Evidence;
pub use facts::{Facts, says_something};
pub use fold::{Ranked, State, fold, fold_with};
pub use numbers::with_numbers;
pub use reasons::{Reason as FindingReason, reasons, without};
pub use round::{Answers, Held, Refused, Round};
pub use simulate::{Bin, Conditions, Outcomes, simulate};
pub use trial::{Difference, Trial, try_case};
pub use unanswerable::unanswerable;
pub use verdict::{Anew, Figure, Incomparable, Outcome, Verdict, verdict};
pub use walk::{Next, Reason, Walk};
