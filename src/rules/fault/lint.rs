//! Faults of the pack as a whole: what makes it poor, or walks it in circles.

use super::code::Code;
use super::kind::{FaultKind, Told};
use super::table::fault_table;

fault_table! {
    /// What is poor about the rules.
    LintFault;

    UnreachableStep { step: String } => warning UnreachableStep
        format!("{step} is never reached"), "make a complaint start there, or a step go there";
    IdleLoop { step: String } => error IdleLoop
        format!("{step} comes back to itself without asking anything"),
        "make a step on the way ask something, or go to conclude";
    DeadEnd { step: String } => warning DeadEnd
        format!("{step} leads nowhere if no branch holds"),
        "end then: with a go: that has no when:";
    ShadowedBranch => warning ShadowedBranch
        "this branch is never taken: the one before it always holds",
        "put the branch without when: last";
    UnweighedFinding { finding: String } => warning UnweighedFinding
        format!("no cause brings {finding}, so it decides nothing"),
        "name it under brings: of a cause";
    TypedStrength { finding: String } => warning TypedStrength
        format!("{finding} is worked out by reads_as, yet has a strength of its own"),
        "let reads_as stand alone, bring it always, and give it a leak of at most 1 in 100";
    CountedTwice { cause: String, typed: String, worked_out: String } => warning CountedTwice
        format!("{cause} brings {typed}, which looks at nothing that {worked_out} hasn't weighed"),
        "let the typed one go, or leave it out with only_if where the other can be worked out";
    UnseenCause { cause: String } => warning UnseenCause
        format!("no question can confirm {cause}"),
        "make it bring a finding that a question decides";
    UnmendedCause { cause: String } => warning UnmendedCause
        format!("no repair mends {cause}"), "name it under mends: of a repair";
    NoSource { cause: String } => warning NoSource
        format!("{cause} doesn't say where its numbers come from"),
        "add source: with a list of sources, even if it is memory";
    TwinCauses { cause: String, other: String } => warning TwinCauses
        format!("no question can tell {other} from {cause}"),
        "give one of them a finding that the other doesn't bring";
    UnaskedQuestion { question: String } => warning UnaskedQuestion
        format!("{question} is never asked: no step names it and nothing reads it"),
        "name it in a step, or make a finding read it";
    UnusedName { name: String } => warning UnusedName
        format!("no formula uses {name}"), "use its name where it is meant, or remove it";
    /// `within`: an answer enters, but none within its range decides it.
    FixedTruth { holds: bool, within: bool } => warning FixedTruth
        format!(
            "this {} holds{}",
            if *holds { "always" } else { "never" },
            if *within { ", whatever is answered within the plausible range" } else { "" }
        ),
        "compare an answer with a limit inside its range, or remove it";
    NeverWorks { why: String } => error Refused
        format!("this can't be worked out: {why}"), "correct the numbers in it";
    UnreadName { name: String } => warning UnusedName
        format!("the formula doesn't read {name}"), "use it in the formula, or remove it";
    /// `needs` is the car state or set-up.
    DangerousQuestion { question: String, needs: String } => warning DangerousQuestion
        format!("{question} needs {needs}, and no caution goes with it"),
        "name what could hurt under cautions: here, or there; [] if nothing can";
}
