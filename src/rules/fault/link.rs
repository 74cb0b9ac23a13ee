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
        format!("the checked numbers are inconsistent: {what}"),
        "this is a fault of boostwright itself: please report it, with these rules";

    MissingField { id: String, field: String } => error MissingField
        format!("{id} has no {field}"), format!("add {field}: to this entry");
    /// `so` is what comes of it.
    LackingField { id: String, field: String, so: &'static str } => warning LackingField
        format!("{id} has no {field}, so {so}"), format!("add {field}: to this entry");
    MarkNowhere => warning LackingField
        "a mark has no place, so it is ignored", "add at: with a measurement or a working";
    BranchNowhere => warning LackingField
        "a branch leads nowhere, so it is ignored", "add go: with a step, or conclude";
    NoAccuracy { instrument: String } => warning LackingField
        format!("nothing says how accurate {instrument} is, so it is taken as exact"),
        "add class: and span:, or uncertainty:";
    NothingToPutBack { setup: String } => warning NothingToPutBack
        format!("{setup} doesn't say what to put back"),
        "add put_back: what to undo before the next drive";
    SilentCaution { caution: String } => warning SilentCaution
        format!("{caution} says nothing"), "add text:";
    AlwaysForbidden => warning AlwaysForbidden
        "a caution without when: forbids nothing", "add when:, or remove forbids:";
    LongText { bytes: usize, most: usize } => error LongText
        format!("the text is {bytes} bytes long, more than {most}"),
        "shorten it, or split it over several fields";
    OpenBrace => error Brace "this brace is never closed", "write {name} to show a value";

    UnknownName { id: String, near: Option<String>, what: &'static str } => error UnknownName
        format!("there is no {} called {id}", bare(what)),
        did_you_mean(near.as_deref(), format!("give the id of {what}, or add one with this id")),
        "not known";
    UnknownWord { word: String, near: Option<String>, known: Vec<String>, what: &'static str }
        => error UnknownWord
        format!("{} is not a {what}", shown(word)),
        did_you_mean(near.as_deref(), format!("write {}", either(known))),
        "not known";
    UnitAsId { id: String } => error UnitAsId
        format!("{id} is a unit and can't be an id"), LONGER;
    ReservedWordAsId { id: String } => error Id
        format!("{id} is a word of the formula language"), LONGER;
    UnreadableId { id: String } => error Id
        format!("{} can't be read as a name in formulas", id.escape_debug()), LETTERS;
    FunctionAsId { id: String } => warning Id
        format!("{id} is also a function of the formula language"),
        "give it another name, to avoid confusion";
    CapitalId { id: String } => warning Id format!("{id} has capital letters"), LETTERS;
    ReservedId { id: &'static str } => error ReservedId
        format!("{id} is the reserved last step"), "give this step another id";

    Minutes { text: String } => error Number
        format!("{} is not a number of minutes", shown(text)),
        "write a number of minutes, for example 10";
    Count { text: String, least: usize, most: usize } => error Number
        format!("{} is out of range", shown(text)),
        format!("write a whole number from {least} to {most}");
    /// `meant` is what it most likely was to be.
    Chance { text: String, meant: Option<String> } => error Chance
        format!("{} is not a chance", shown(text)),
        did_you_mean(meant.as_deref(), "write 3 in 100, or a number from 0 to 1");
    Strength { text: String, meant: Option<String>, known: Vec<String> } => error Strength
        format!("{} is not a strength", shown(text)),
        did_you_mean(
            meant.as_deref(),
            format!("write a number from 0 to 1, or one of {}", known.join(", ")),
        );
    NoValue => error Value "a number with its unit is wanted here", "write 1.6 bar";
    NoPercentage => error Value "not a percentage", "write uncertainty: 2 %";
    NegativeUncertainty => error Value "an uncertainty can't be negative", "remove the minus";

    NotAnUncertainty { wanted: Kind } => error Value
        format!("this is not an uncertainty of {wanted}"),
        "give one standard uncertainty above 0, in a unit of the answer";

    UnitDimension { unit: String, given: Dimension, wanted: Kind } => error Dimension
        format!("{unit} is a unit of {given}, not of {wanted}"),
        format!("give a unit of {}", wanted.dimension);
    InstrumentDimension { instrument: String, wanted: Kind } => error Dimension
        format!("{instrument} does not read {wanted}"), "name an instrument for this kind";
    UncertaintyDimension { given: Dimension, wanted: Kind } => error Dimension
        format!("the uncertainty is {given}, but the answer is {wanted}"),
        "give it in a unit of the answer";
    AmountDimension { given: Dimension, wanted: Kind } => error Dimension
        format!("the amount is {given}, but the answer is {wanted}"),
        "give it in a unit of the answer";
    CurveEnds { wanted: Kind } => error Dimension
        "the ends of the curve differ in dimension", format!("give both as {wanted}");
    OffForecast { question: String, wanted: Kind, given: Kind } => error Dimension
        format!("{question} is {wanted}, but what it is to read is {given}"),
        "name a measurement or a working of that kind";
    OffAxis { name: String, given: Kind, axis: Kind } => error Dimension
        format!("{name} is {given}, but that axis of the curve is {axis}"),
        "name a measurement or a working of that kind";

    EmptyCurve => error Range
        "the curve ends at or before its start", "make to: larger than from:";
    EmptyRange => error Range
        "the range ends at or before its start", "make to: larger than from:";
    TypicalOutside => error Range
        "the typical value is outside the range", "widen from: and to:, or check its unit";
    TooUncertain => error Range
        "the uncertainty exceeds the whole range, so the value says nothing",
        "give one standard uncertainty, and check its unit and those of from: and to:";

    /// `workings`: whether one would do.
    NotANumber { name: String, workings: bool } => error NotANumber
        format!("{name} does not give a number"),
        if *workings { "name a measurement or a working" } else { "name a measurement" };
    NotMeasured { question: String } => error NotANumber
        format!("{question} is not measured"), "name a question with measure:";
    NotHoles { question: String } => error NotANumber
        format!("{question} is no table of angles and lengths"),
        "name a question with table: {angle: angle, out: length}";
    NotATruth => error NotATruth
        "this does not give yes or no", "compare it with a limit, for example > 0.5 bar", "a value";
    CallsItself { id: String, does: &'static str } => error Circle
        format!("{id} {does} itself"),
        if *does == WAITS {
            "remove it: a question that waits for itself is never asked"
        } else {
            "nothing can be worked out from itself: write out what it is made of"
        };
    Circle { id: String, other: String, does: &'static str } => error Circle
        format!("{id} {does} itself, by way of {other}"),
        "break the circle: one of them must do without the others";

    ReadsItself { question: String } => error ReadsItself
        format!("what {question} should read depends on {question} itself"),
        "leave it out of the formula: a reading is compared with everything else known";
    TeachesNothing => warning TeachesNothing
        "nothing that goes into this is uncertain, so the reading teaches nothing",
        "give what goes into it a typical: value with its ±, or an uncertainty:";
    /// `first`: the reading it is already.
    ReadTwice { question: String, first: String } => error ReadTwice
        format!("{question} is already a reading of {first}"),
        "keep one of them, or join them with if … then … else …";

    IdleLeak { finding: String } => warning IdleLeak
        format!("every car shows {finding}, so it decides nothing"),
        "give a chance below 1: of cars without any such cause, how many show it?";
    SettledCause { certain: bool } => warning SettledCause
        format!("{} car has it, so no answer can change that", if *certain { "every" } else { "no" }),
        "give a chance between the two, for example 1 in 100";
    IdleStrength { cause: String, finding: String } => warning IdleStrength
        format!("a strength of 0: {cause} doesn't bring {finding}"),
        "remove the line, or give a chance above 0";
    MendsNothing { repair: String } => warning MendsNothing
        format!("{repair} mends no cause"),
        "add mends: [cause], or name it under alternatives: of the repair it replaces";

    RepeatedDefault => warning RepeatedDefault
        "this only repeats the default", "remove it: the meaning stays the same";
    RepeatedUsual => warning RepeatedDefault
        "this only repeats what the head of the pack says",
        "remove it: the meaning stays the same";
    UnusedReadWith => warning UnusedReadWith
        "read_with: doesn't say how accurate this is, since uncertainty: comes first",
        "keep one of the two";
    /// `options` are all that it may be, of which `sure` times in all it is the right one.
    WorseThanChance { options: usize } => warning Range
        format!("so an answer is wrong more often than one drawn from {options} at random"),
        "write how often it is right, for example 90 in 100";
    SameOption { first: String } => warning Option
        format!("this says the same as {first}"), "say what tells one from the other, or remove one";
    AskedTwice { question: String } => warning AskedTwice
        format!("the step asks {question} already"), "remove it here";
    UnusedSure => warning UnusedSure
        "sure: has no effect here: it is for answers that are told or chosen, and this is measured",
        "remove it; how often a reading is wrong altogether goes under answer: as slips:";
    UnusedOverlooked => warning UnusedOverlooked
        "overlooked: has no effect here: it is for lists, of which options may be left out",
        "remove it; how often another answer is right goes under sure:";
    UnknownForm { word: String, near: Option<String> } => error AnswerForm
        format!("{word} is not a form of answer"),
        did_you_mean(
            near.as_deref(),
            "write yes_or_no, or a mapping with measure, choose, any_of or table",
        );
    SeveralForms => error AnswerForm
        "an answer takes only one of measure, choose, any_of and table", "keep one of them";
    OptionCount { given: usize, most: usize } => error AnswerForm
        format!("it takes 2 to {most} options, not {given}"),
        format!("give 2 to {most} options");
    ColumnCount => error AnswerForm
        "a table has two columns", "give two columns with their kinds";
    UnusableOption { option: String } => warning Option
        format!("no formula can compare with {}", option.escape_debug()),
        "use letters, digits and _, but no unit and no word of the formula language";
    UnknownKind { word: String, near: Option<String> } => error UnknownKind
        format!("{word} is not something that can be measured"), kind_meant(word, near.as_deref());
    NoGone { question: String } => error NoVerdict
        format!("{question} can't tell that the complaint is gone"),
        "name a choice with an option gone";
}

/// What questions do that are asked only behind others.
pub(in crate::rules) const WAITS: &str = "waits for";

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
