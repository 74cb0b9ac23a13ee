//! Where answers go, so that nothing said is lost.

use std::error::Error;

use crate::rules::Given;

/// Why something could not be kept, with a way out.
pub type NotKept = Box<dyn Error>;

/// Keeps answers as the person gave them.
pub trait AnswerStore {
    /// Keeps an answer to a question of the present round. One that was given before is replaced:
    /// in its place where it is only corrected, else at the end.
    ///
    /// # Errors
    /// Why it could not be kept, with a way out; nothing has changed then.
    fn keep(&mut self, question: &str, given: &Given, corrected: bool) -> Result<(), NotKept>;

    /// Keeps that a set-up was put back, or made again.
    ///
    /// # Errors
    /// Why it could not be kept, with a way out; nothing has changed then.
    fn put_back(&mut self, setup: &str, is_back: bool) -> Result<(), NotKept>;

    /// What the person gave in the present round.
    fn given(&self, question: &str) -> Option<&Given>;
}
