//! Formats of session files, and how an older one becomes the present one.
//!
//! | format | what it is |
//! | --- | --- |
//! | 0 | an answers file, without a number: `complaint` and `answers` at the top, or `rounds` |
//! | 1 | a session: `pack`, `car`, `rounds` |

use super::format::FORMAT;
use super::written::{Written, WrittenRound};

/// What takes a file of each older format, by its number, to the next one.
const STEPS: [fn(Written) -> Written; FORMAT] = [rounds_of_answers];

/// Takes a file of a known format to the present one.
pub(super) fn migrate(written: Written, format: usize) -> Written {
    STEPS.iter().skip(format).fold(written, |written, step| step(written))
}

/// From 0 to 1: complaint and answers become the first round. Where there are rounds as well, both
/// are left for the check to name.
fn rounds_of_answers(mut written: Written) -> Written {
    if written.rounds.is_none() && (written.complaint.is_some() || written.answers.is_some()) {
        written.rounds = Some(vec![WrittenRound {
            complaint: written.complaint.take(),
            answers: written.answers.take(),
            ..WrittenRound::default()
        }]);
    }
    written
}
