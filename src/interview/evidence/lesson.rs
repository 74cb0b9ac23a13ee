//! What was learnt from readings, and how each of them fits the engine.

use std::sync::Arc;

use crate::formula::JointDraws;
use crate::rules::{QuestionId, ReadingId};

/// What all readings so far teach.
#[derive(Debug, Clone)]
pub struct Learnt {
    /// The uncertain inputs of the present round; none where the readings can't be, whatever the engine.
    pub joint: Option<Arc<JointDraws>>,
    /// For readings that findings judge: the same as it is by all others, since a reading that has
    /// taught what it should be fits that.
    pub besides: Vec<(QuestionId, Arc<JointDraws>)>,
    /// The readings, in the order they were taken.
    pub lessons: Vec<Lesson>,
}

/// One reading, and how it fits the others.
#[derive(Debug, Clone, PartialEq)]
pub struct Lesson {
    pub reading: ReadingId,
    /// The answer that it is, and its round, from 0.
    pub of: QuestionId,
    pub round: usize,
    pub value: f64,
    /// Of the answer and the formula together.
    pub uncertainty: f64,
    /// What it should have been by the other readings, with that value's standard deviation.
    pub expected: Option<(f64, f64)>,
    /// Chance of a reading as far off as this or farther.
    pub chance: f64,
    pub clash: Option<Clash>,
}

/// A reading that the engine can hardly explain.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Clash {
    /// The uncertainty that it is taken with in place of its own.
    pub widened_to: f64,
    /// The other answer whose absence would explain it best.
    pub doubt: Option<QuestionId>,
}
