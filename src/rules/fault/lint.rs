//! Faults of the pack as a whole: what makes it poor, or walks it in circles.

use super::code::Code;
use super::kind::{FaultKind, Told};

/// What is poor about the rules.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum LintFault {
    UnreachableStep {
        step: String,
    },
    IdleLoop {
        step: String,
    },
    DeadEnd {
        step: String,
    },
    ShadowedBranch,
    UnweighedFinding {
        finding: String,
    },
    UnseenCause {
        cause: String,
    },
    UnmendedCause {
        cause: String,
    },
    NoSource {
        cause: String,
    },
    TwinCauses {
        cause: String,
        other: String,
    },
    UnaskedQuestion {
        question: String,
    },
    /// `needs` is the car state or set-up.
    DangerousQuestion {
        question: String,
        needs: String,
    },
}

impl FaultKind for LintFault {
    fn told(&self) -> Told {
        match self {
            Self::UnreachableStep { step } => Told::warning(
                Code::UnreachableStep,
                format!("{step} is never reached"),
                "let a complaint start there, or a step go there",
            ),
            Self::IdleLoop { step } => Told::error(
                Code::IdleLoop,
                format!("{step} comes back to itself without asking anything"),
                "let a step on the way ask, or go to conclude",
            ),
            Self::DeadEnd { step } => Told::warning(
                Code::DeadEnd,
                format!("{step} goes nowhere where no branch holds"),
                "end then: with a go: without when:",
            ),
            Self::ShadowedBranch => Told::warning(
                Code::ShadowedBranch,
                "this branch is never taken: the one before it always holds",
                "put the branch without when: last",
            ),
            Self::UnweighedFinding { finding } => Told::warning(
                Code::UnweighedFinding,
                format!("no cause brings {finding}, so it decides nothing"),
                "name it under brings: of a cause",
            ),
            Self::UnseenCause { cause } => Told::warning(
                Code::UnseenCause,
                format!("no question can confirm {cause}"),
                "let it bring a finding that a question decides",
            ),
            Self::UnmendedCause { cause } => Told::warning(
                Code::UnmendedCause,
                format!("no repair mends {cause}"),
                "name it under mends: of a repair",
            ),
            Self::NoSource { cause } => Told::warning(
                Code::NoSource,
                format!("{cause} doesn't say where its numbers come from"),
                "add source: with a list of sources, even if it is memory",
            ),
            Self::TwinCauses { cause, other } => Told::warning(
                Code::TwinCauses,
                format!("no question can tell {other} from {cause}"),
                "give one of them a finding that the other doesn't bring",
            ),
            Self::UnaskedQuestion { question } => Told::warning(
                Code::UnaskedQuestion,
                format!("{question} is never asked: no step names it and nothing reads it"),
                "name it in a step, or let a finding read it",
            ),
            Self::DangerousQuestion { question, needs } => Told::warning(
                Code::DangerousQuestion,
                format!("{question} needs {needs}, and no caution goes with it"),
                "name what could hurt under cautions: here, or there; [] if nothing can",
            ),
        }
    }
}
