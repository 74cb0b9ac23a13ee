//! Faults of entries by themselves: fields, names, numbers.

use super::code::Code;
use super::kind::{FaultKind, Told, did_you_mean};
use super::table::fault_table;
use crate::quantity::{Dimension, Kind};
use crate::text::{Clean, either, excerpt};

fault_table! {
    /// What is wrong with an entry or a field of it.
    LinkFault;

    NoComplaint => warning NoComplaint
        "the pack has no complaint to start from", "add a complaints: section";
    /// What can't happen.
    Internal { what: String } => error Internal
        format!("the checked numbers don't go together: {what}"),
        "this is a fault of boostwright itself: please report it, with these rules";

    MissingField { id: String, field: String } => error MissingField
        format!("{id} has no {field}"), format!("add {field}: to this entry");
    /// `so` is what comes of it.
    LackingField { id: String, field: String, so: &'static str } => warning LackingField
        format!("{id} has no {field}, so {so}"), format!("add {field}: to this entry");
    MarkNowhere => warning LackingField
        "a mark stands nowhere, so it is passed over", "add at: with a measurement or a working";
    BranchNowhere => warning LackingField
        "a branch goes nowhere, so it is passed over", "add go: with a step, or conclude";
    NoAccuracy { instrument: String } => warning LackingField
        format!("nothing tells how well {instrument} reads, so it is taken as exact"),
        "add class: and span:, or uncertainty:";
    NothingToPutBack { setup: String } => warning NothingToPutBack
        format!("{setup} doesn't say what to put back"),
        "add put_back: what to undo before the next drive";
    SilentCaution { caution: String } => warning SilentCaution
        format!("{caution} says nothing"), "add text:";
    AlwaysForbidden => warning AlwaysForbidden
        "a caution without when: forbids nothing", "add when:, or take forbids: out";
    LongText { bytes: usize, most: usize } => error LongText
        format!("the text is {bytes} bytes long, more than {most}"),
        "shorten it, or split it over several fields";
    OpenBrace => error Brace "this brace is never closed", "write {name} to show a value";

    UnknownName { id: String, near: Option<String>, what: &'static str } => error UnknownName
        format!("{id} is no {}", bare(what)),
        did_you_mean(near.as_deref(), format!("give the id of {what}, or add one with this id")),
        "not known";
    UnknownWord { word: String, near: Option<String>, known: Vec<String>, what: &'static str }
        => error UnknownWord
        format!("{} is no {what}", shown(word)),
        did_you_mean(near.as_deref(), format!("write {}", either(known))),
        "not known";
    UnitAsId { id: String } => error UnitAsId
        format!("{id} is a unit and can't be an id"), LONGER;
    ReservedWordAsId { id: String } => error Id
        format!("{id} is a word of the formula language"), LONGER;
    UnreadableId { id: String } => error Id
        format!("{} can't be read as a name in formulas", id.escape_debug()), LETTERS;
    FunctionAsId { id: String } => warning Id
        format!("{id} is a function of the formula language too"),
        "give it another name, so that nobody takes one for the other";
    CapitalId { id: String } => warning Id format!("{id} has capital letters"), LETTERS;
    ReservedId { id: &'static str } => error ReservedId
        format!("{id} is the reserved last step"), "give this step another id";

    Minutes { text: String } => error Number
        format!("{} is no number of minutes", shown(text)),
        "write a number of minutes, for example 10";
    Count { text: String, least: usize, most: usize } => error Number
        format!("{} is out of bounds", shown(text)),
        format!("write a whole number from {least} to {most}");
    /// `meant` is what it most likely was to be.
    Chance { text: String, meant: Option<String> } => error Chance
        format!("{} is no chance", shown(text)),
        did_you_mean(meant.as_deref(), "write 3 in 100, or a number from 0 to 1");
    Strength { text: String, meant: Option<String>, known: Vec<String> } => error Strength
        format!("{} is no strength", shown(text)),
        did_you_mean(
            meant.as_deref(),
            format!("write a number from 0 to 1, or one of {}", known.join(", ")),
        );
    NoValue => error Value "a number with its unit is wanted here", "write 1.6 bar";
    NoPercentage => error Value "this is no percentage", "write uncertainty: 2 %";
    NegativeUncertainty => error Value "an uncertainty is not negative", "give its size";

    NotAnUncertainty { wanted: Kind } => error Value
        format!("this is not an uncertainty of {wanted}"),
        "give one standard uncertainty above 0, in a unit of the answer";

    UnitDimension { unit: String, given: Dimension, wanted: Kind } => error Dimension
        format!("{unit} is a unit of {given}, not of {wanted}"),
        format!("give a unit of {}", wanted.dimension);
    InstrumentDimension { instrument: String, wanted: Kind } => error Dimension
        format!("{instrument} reads no {wanted}"), "name an instrument for this kind";
    UncertaintyDimension { given: Dimension, wanted: Kind } => error Dimension
        format!("the uncertainty is given as {given}, the answer is {wanted}"),
        "give it in a unit of the answer";
    AmountDimension { given: Dimension, wanted: Kind } => error Dimension
        format!("the amount is {given}, the answer is {wanted}"),
        "give it in a unit of the answer";
    CurveEnds { wanted: Kind } => error Dimension
        "the ends of the curve differ in dimension", format!("give both as {wanted}");
    OffAxis { name: String, given: Kind, axis: Kind } => error Dimension
        format!("{name} is {given}, and the curve has {axis} there"),
        "name a measurement or a working of that kind";

    EmptyCurve => error Range
        "the curve ends where it begins, or before", "let to: be more than from:";
    EmptyRange => error Range
        "the range ends where it begins, or before", "let to: be more than from:";
    TypicalOutside => error Range
        "the typical value lies outside the range", "widen from: and to:, or look at its unit";
    TooUncertain => error Range
        "this is less certain than the whole range is wide, so it says nothing",
        "give one standard uncertainty, and look at its unit and that of from: and to:";

    /// `workings`: whether one would do.
    NotANumber { name: String, workings: bool } => error NotANumber
        format!("{name} gives no number"),
        if *workings { "name a measurement or a working" } else { "name a measurement" };
    NotMeasured { question: String } => error NotANumber
        format!("{question} is not measured"), "name a question with measure:";
    NotATruth => error NotATruth
        "this gives no yes or no", "compare it with a limit, for example > 0.5 bar", "a value";
    CallsItself { id: String, does: &'static str } => error Circle
        format!("{id} {does} itself"),
        "nothing can be worked out from itself: put in what it is made of";
    Circle { id: String, other: String, does: &'static str } => error Circle
        format!("{id} {does} itself, by way of {other}"),
        "break the circle: one of them must do without the others";

    ReadsItself { question: String } => error ReadsItself
        format!("what {question} should read rests on {question} itself"),
        "leave it out of the formula: a reading is held against what else is known";
    TeachesNothing => warning TeachesNothing
        "nothing that goes into this is uncertain, so the reading teaches nothing",
        "give what goes into it a typical: value with its ±, or an uncertainty:";
    /// `first`: the reading it is already.
    ReadTwice { question: String, first: String } => error ReadTwice
        format!("{question} is a reading of {first} already"),
        "keep one of them, or join them with if … then … else …";

    IdleLeak { finding: String } => warning IdleLeak
        format!("every car shows {finding}, so it decides nothing"),
        "give a chance below 1: of cars without any such cause, how many show it?";
    SettledCause { certain: bool } => warning SettledCause
        format!("{} car has it, so no answer can change that", if *certain { "every" } else { "no" }),
        "give a chance between the two, for example 1 in 100";
    IdleStrength { cause: String, finding: String } => warning IdleStrength
        format!("a strength of 0: {cause} doesn't bring {finding}"),
        "take the line out, or give a chance above 0";
    MendsNothing { repair: String } => warning MendsNothing
        format!("{repair} mends no cause"),
        "add mends: [cause], or name it under alternatives: of the repair it stands in for";

    RepeatedDefault => warning RepeatedDefault
        "this only repeats the default", "take it out: left out, it means the same";
    RepeatedUsual => warning RepeatedDefault
        "this only repeats what the head of the pack says",
        "take it out: left out, it means the same";
    UnusedSure => warning UnusedSure
        "sure: is for what is told or chosen, and this is measured: nobody reads it",
        "take it out; how often a reading is off altogether stands as slips: under answer:";
    UnknownForm { word: String, near: Option<String> } => error AnswerForm
        format!("{word} is no form of answer"),
        did_you_mean(
            near.as_deref(),
            "write yes_or_no, or a mapping with measure, choose or table",
        );
    SeveralForms => error AnswerForm
        "an answer is one of measure, choose and table", "keep one of the three";
    OptionCount { given: usize, most: usize } => error AnswerForm
        format!("a choice of {given} is no choice"), format!("give 2 to {most} options");
    ColumnCount => error AnswerForm
        "a table has two columns", "give two columns with their kinds";
    UnusableOption { option: String } => warning Option
        format!("no formula can compare with {}", option.escape_debug()),
        "use letters, digits and _, and no unit and no word of the formula language";
    UnknownKind { word: String, near: Option<String> } => error UnknownKind
        format!("{word} is nothing that can be measured"), kind_meant(word, near.as_deref());
    NoGone { question: String } => error NoVerdict
        format!("{question} can't tell that the complaint is gone"),
        "name a choice with an option gone";
}

const LONGER: &str = "give it a longer name";
const LETTERS: &str = "use small letters, digits and _, and start with a letter";

fn bare(what: &str) -> String {
    let what = what.strip_prefix("a ").or_else(|| what.strip_prefix("an ")).unwrap_or(what);
    what.replace(" or a ", " or ")
}

/// The start of what was written, fit to stand in a message.
fn shown(text: &str) -> Clean {
    excerpt(text, 40)
}

fn kind_meant(word: &str, near: Option<&str>) -> String {
    if word == "pressure" {
        return "say which: gauge_pressure, absolute_pressure or pressure_difference".to_owned();
    }
    did_you_mean(near, format!("known: {}", Kind::words().collect::<Vec<&str>>().join(", ")))
}
