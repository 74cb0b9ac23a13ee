//! Faults of entries by themselves: fields, names, numbers.

use super::code::Code;
use super::kind::{FaultKind, Severity, Told, did_you_mean};
use crate::formula::Unusable;
use crate::quantity::{Dimension, Kind};

/// What is wrong with an entry or a field of it.
#[derive(Debug, Clone, PartialEq)]
pub enum LinkFault {
    NoComplaint,
    /// What can't happen.
    Internal {
        what: String,
    },
    MissingField {
        id: String,
        field: String,
    },
    /// `so` is what comes of it.
    LackingField {
        id: String,
        field: String,
        so: &'static str,
    },
    MarkNowhere,
    BranchNowhere,
    NoAccuracy {
        instrument: String,
    },
    NothingToPutBack {
        setup: String,
    },
    SilentCaution {
        caution: String,
    },
    AlwaysForbidden,
    LongText {
        bytes: usize,
        most: usize,
    },
    OpenBrace,
    UnknownName {
        id: String,
        near: Option<String>,
        what: &'static str,
    },
    UnknownWord {
        word: String,
        near: Option<String>,
        known: Vec<String>,
        what: &'static str,
    },
    /// `severity` by whether formulas read the ids of that section.
    UnusableId {
        id: String,
        why: Unusable,
        severity: Severity,
    },
    FunctionAsId {
        id: String,
    },
    CapitalId {
        id: String,
    },
    ReservedId {
        id: &'static str,
    },
    Minutes {
        text: String,
    },
    Count {
        text: String,
        least: usize,
        most: usize,
    },
    /// `meant` is what it most likely was to be.
    Chance {
        text: String,
        meant: Option<String>,
    },
    Strength {
        text: String,
        near: Option<String>,
        meant: Option<String>,
        known: Vec<String>,
    },
    NoValue,
    NoPercentage,
    NegativeUncertainty,
    UnitDimension {
        unit: String,
        given: Dimension,
        wanted: Kind,
    },
    InstrumentDimension {
        instrument: String,
        wanted: Kind,
    },
    UncertaintyDimension {
        given: Dimension,
        wanted: Kind,
    },
    AmountDimension {
        given: Dimension,
        wanted: Kind,
    },
    CurveEnds {
        wanted: Kind,
    },
    OffAxis {
        name: String,
        given: Kind,
        axis: Kind,
    },
    EmptyCurve,
    EmptyRange,
    TypicalOutside,
    TooUncertain,
    NotANumber {
        name: String,
        workings: bool,
    },
    NotATruth,
    Circle {
        id: String,
        other: String,
        does: &'static str,
    },
    IdleLeak {
        finding: String,
    },
    SettledCause {
        certain: bool,
    },
    IdleStrength {
        cause: String,
        finding: String,
    },
    MendsNothing {
        repair: String,
    },
    UnusedSure,
    UnknownForm {
        word: String,
        near: Option<String>,
    },
    SeveralForms,
    OptionCount {
        given: usize,
        most: usize,
    },
    ColumnCount,
    UnusableOption {
        option: String,
    },
    UnknownKind {
        word: String,
        near: Option<String>,
    },
    NoGone {
        question: String,
    },
}

impl FaultKind for LinkFault {
    fn told(&self) -> Told {
        use Told as T;
        match self {
            Self::NoComplaint => T::warning(
                Code::NoComplaint,
                "the pack has no complaint to start from",
                "add a complaints: section",
            ),
            Self::Internal { what } => T::error(
                Code::Internal,
                format!("the checked numbers don't go together: {what}"),
                "this is a fault of boostwright itself: please report it, with these rules",
            ),
            Self::MissingField { id, field } => T::error(
                Code::MissingField,
                format!("{id} has no {field}"),
                format!("add {field}: to this entry"),
            ),
            Self::LackingField { id, field, so } => T::warning(
                Code::LackingField,
                format!("{id} has no {field}, so {so}"),
                format!("add {field}: to this entry"),
            ),
            Self::MarkNowhere => T::warning(
                Code::LackingField,
                "a mark stands nowhere, so it is passed over",
                "add at: with a measurement or a working",
            ),
            Self::BranchNowhere => T::warning(
                Code::LackingField,
                "a branch goes nowhere, so it is passed over",
                "add go: with a step, or conclude",
            ),
            Self::NoAccuracy { instrument } => T::warning(
                Code::LackingField,
                format!("nothing tells how well {instrument} reads, so it is taken as exact"),
                "add class: and span:, or uncertainty:",
            ),
            Self::NothingToPutBack { setup } => T::warning(
                Code::NothingToPutBack,
                format!("{setup} doesn't say what to put back"),
                "add put_back: what to undo before the next drive",
            ),
            Self::SilentCaution { caution } => {
                T::warning(Code::SilentCaution, format!("{caution} says nothing"), "add text:")
            }
            Self::AlwaysForbidden => T::warning(
                Code::AlwaysForbidden,
                "a caution without when: forbids nothing",
                "add when:, or take forbids: out",
            ),
            Self::LongText { bytes, most } => T::error(
                Code::LongText,
                format!("the text is {bytes} bytes long, more than {most}"),
                "shorten it, or split it over several fields",
            ),
            Self::OpenBrace => {
                T::error(Code::Brace, "this brace is never closed", "write {name} to show a value")
            }
            Self::UnknownName { id, near, what } => {
                let help = format!("give the id of {what}, or add one with this id");
                let help = did_you_mean(near.as_deref(), help);
                T::error(Code::UnknownName, format!("{id} is no {}", bare(what)), help)
                    .labelled("not known")
            }
            Self::UnknownWord { word, near, known, what } => {
                let words = match known.split_last() {
                    Some((last, rest)) if !rest.is_empty() => {
                        format!("write {} or {last}", rest.join(", "))
                    }
                    _ => format!("write {}", known.join(", ")),
                };
                let help = did_you_mean(near.as_deref(), words);
                T::error(Code::UnknownWord, format!("{} is no {what}", shortened(word)), help)
                    .labelled("not known")
            }
            Self::UnusableId { id, why, severity } => {
                let (code, message, help) = match why {
                    Unusable::Unit => {
                        (Code::UnitAsId, format!("{id} is a unit and can't be an id"), LONGER)
                    }
                    Unusable::Reserved => {
                        (Code::Id, format!("{id} is a word of the formula language"), LONGER)
                    }
                    Unusable::Letters => {
                        let id = id.escape_debug();
                        (Code::Id, format!("{id} can't be read as a name in formulas"), LETTERS)
                    }
                };
                T { severity: *severity, ..T::error(code, message, help) }
            }
            Self::FunctionAsId { id } => T::warning(
                Code::Id,
                format!("{id} is a function of the formula language too"),
                "give it another name, so that nobody takes one for the other",
            ),
            Self::CapitalId { id } => {
                T::warning(Code::Id, format!("{id} has capital letters"), LETTERS)
            }
            Self::ReservedId { id } => T::error(
                Code::ReservedId,
                format!("{id} is the reserved last step"),
                "give this step another id",
            ),
            Self::Minutes { text } => T::error(
                Code::Number,
                format!("{} is no number of minutes", shortened(text)),
                "write a number of minutes, for example 10",
            ),
            Self::Count { text, least, most } => T::error(
                Code::Number,
                format!("{} is out of bounds", shortened(text)),
                format!("write a whole number from {least} to {most}"),
            ),
            Self::Chance { text, meant } => {
                let message = format!("{} is no chance", shortened(text));
                let help = "write 3 in 100, or a number from 0 to 1";
                T::error(Code::Chance, message, did_you_mean(meant.as_deref(), help))
            }
            Self::Strength { text, near, meant, known } => {
                let message = format!("{} is no strength", shortened(text));
                let near = near.as_deref().or(meant.as_deref());
                let help = format!("write a number from 0 to 1, or one of {}", known.join(", "));
                T::error(Code::Strength, message, did_you_mean(near, help))
            }
            Self::NoValue => {
                T::error(Code::Value, "a number with its unit is wanted here", "write 1.6 bar")
            }
            Self::NoPercentage => {
                T::error(Code::Value, "this is no percentage", "write uncertainty: 2 %")
            }
            Self::NegativeUncertainty => {
                T::error(Code::Value, "an uncertainty is not negative", "give its size")
            }
            Self::UnitDimension { unit, given, wanted } => T::error(
                Code::Dimension,
                format!("{unit} is a unit of {given}, not of {wanted}"),
                format!("give a unit of {}", wanted.dimension),
            ),
            Self::InstrumentDimension { instrument, wanted } => T::error(
                Code::Dimension,
                format!("{instrument} reads no {wanted}"),
                "name an instrument for this kind",
            ),
            Self::UncertaintyDimension { given, wanted } => T::error(
                Code::Dimension,
                format!("the uncertainty is given as {given}, the answer is {wanted}"),
                UNIT_OF_THE_ANSWER,
            ),
            Self::AmountDimension { given, wanted } => T::error(
                Code::Dimension,
                format!("the amount is {given}, the answer is {wanted}"),
                UNIT_OF_THE_ANSWER,
            ),
            Self::CurveEnds { wanted } => T::error(
                Code::Dimension,
                "the ends of the curve differ in dimension",
                format!("give both as {wanted}"),
            ),
            Self::OffAxis { name, given, axis } => T::error(
                Code::Dimension,
                format!("{name} is {given}, and the curve has {axis} there"),
                "name a measurement or a working of that kind",
            ),
            Self::EmptyCurve => T::error(
                Code::Range,
                "the curve ends where it begins, or before",
                "let to: be more than from:",
            ),
            Self::EmptyRange => T::error(
                Code::Range,
                "the range ends where it begins, or before",
                "let to: be more than from:",
            ),
            Self::TypicalOutside => T::error(
                Code::Range,
                "the typical value lies outside the range",
                "widen from: and to:, or look at its unit",
            ),
            Self::TooUncertain => T::error(
                Code::Range,
                "this is less certain than the whole range is wide, so it says nothing",
                "give one standard uncertainty, and look at its unit and that of from: and to:",
            ),
            Self::NotANumber { name, workings } => T::error(
                Code::NotANumber,
                format!("{name} gives no number"),
                if *workings { "name a measurement or a working" } else { "name a measurement" },
            ),
            Self::NotATruth => T::error(
                Code::NotATruth,
                "this gives no yes or no",
                "compare it with a limit, for example > 0.5 bar",
            )
            .labelled("a value"),
            Self::Circle { id, other, does } if id == other => T::error(
                Code::Circle,
                format!("{id} {does} itself"),
                "nothing can be worked out from itself: put in what it is made of",
            ),
            Self::Circle { id, other, does } => T::error(
                Code::Circle,
                format!("{id} {does} itself, by way of {other}"),
                "break the circle: one of them must do without the others",
            ),
            Self::IdleLeak { finding } => T::warning(
                Code::IdleLeak,
                format!("every car shows {finding}, so it decides nothing"),
                "give a chance below 1: of cars without any such cause, how many show it?",
            ),
            Self::SettledCause { certain } => {
                let so = if *certain { "every car has it" } else { "no car has it" };
                T::warning(
                    Code::SettledCause,
                    format!("{so}, so no answer can change that"),
                    "give a chance between the two, for example 1 in 100",
                )
            }
            Self::IdleStrength { cause, finding } => T::warning(
                Code::IdleStrength,
                format!("a strength of 0: {cause} doesn't bring {finding}"),
                "take the line out, or give a chance above 0",
            ),
            Self::MendsNothing { repair } => T::warning(
                Code::MendsNothing,
                format!("{repair} mends no cause"),
                "add mends: [cause], or name it under alternatives: of the repair it stands in for",
            ),
            Self::UnusedSure => T::warning(
                Code::UnusedSure,
                "sure: is for what is told or chosen, and this is measured: nobody reads it",
                "take it out; how often a reading is off altogether stands as slips: under answer:",
            ),
            Self::UnknownForm { word, near } => {
                let help = "write yes_or_no, or a mapping with measure, choose or table";
                let help = did_you_mean(near.as_deref(), help);
                T::error(Code::AnswerForm, format!("{word} is no form of answer"), help)
            }
            Self::SeveralForms => T::error(
                Code::AnswerForm,
                "an answer is one of measure, choose and table",
                "keep one of the three",
            ),
            Self::OptionCount { given, most } => T::error(
                Code::AnswerForm,
                format!("a choice of {given} is no choice"),
                format!("give 2 to {most} options"),
            ),
            Self::ColumnCount => T::error(
                Code::AnswerForm,
                "a table has two columns",
                "give two columns with their kinds",
            ),
            Self::UnusableOption { option } => T::warning(
                Code::Option,
                format!("no formula can compare with {}", option.escape_debug()),
                "use letters, digits and _, and no unit and no word of the formula language",
            ),
            Self::UnknownKind { word, near } => {
                let help = if word == "pressure" {
                    "say which: gauge_pressure, absolute_pressure or pressure_difference".to_owned()
                } else {
                    let known: Vec<&str> = Kind::words().collect();
                    did_you_mean(near.as_deref(), format!("known: {}", known.join(", ")))
                };
                let message = format!("{word} is nothing that can be measured");
                T::error(Code::UnknownKind, message, help)
            }
            Self::NoGone { question } => T::error(
                Code::NoVerdict,
                format!("{question} can't tell that the complaint is gone"),
                "name a choice with an option gone",
            ),
        }
    }
}

const LONGER: &str = "give it a longer name";
const LETTERS: &str = "use small letters, digits and _, and start with a letter";
const UNIT_OF_THE_ANSWER: &str = "give it in a unit of the answer";

fn bare(what: &str) -> String {
    let what = what.strip_prefix("a ").or_else(|| what.strip_prefix("an ")).unwrap_or(what);
    what.replace(" or a ", " or ")
}

fn shortened(text: &str) -> String {
    text.chars().take(40).collect()
}
