//! How a command ends.

use std::process::ExitCode;

use crate::text::Clean;

/// The exit codes, as scripts rest on them.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Exit {
    /// 0
    Done,
    /// 1: ran, and what it looked for failed.
    Failed,
    /// 2: could not run.
    CouldNotRun,
    /// 130: ended from outside, as by Ctrl-C.
    Interrupted,
}

impl From<Exit> for ExitCode {
    fn from(exit: Exit) -> Self {
        Self::from(match exit {
            Exit::Done => 0,
            Exit::Failed => 1,
            Exit::CouldNotRun => 2,
            Exit::Interrupted => 130,
        })
    }
}

/// Why a command could not run, in words with a way out.
#[derive(Debug)]
pub(super) struct Failure(pub(super) Clean);

impl Failure {
    pub(super) fn new(message: impl Into<Clean>) -> Self {
        Self(message.into())
    }
}
