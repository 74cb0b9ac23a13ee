//! Everything that can be wrong with a formula, each with what is known of it; and its words. Where
//! it stands is the [`super::Fault`]'s.

use super::clash::{Clash, Found};
use super::limits::MAX_BYTES;
use crate::quantity::{Kind, unit_examples};

/// What is wrong with a formula.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Mistake {
    TooLong {
        bytes: usize,
    },
    TooManyTokens,
    TooNested,
    TooManySteps {
        most: usize,
    },
    TooManyPieces {
        most: usize,
    },
    ClosesNothing,
    NeverClosed,
    AssignOutsideCall,
    CommaOutsideCall,
    NoOperator,
    NoOperatorOrClose,
    NoValue,
    NoValueBefore {
        word: String,
    },
    NoEnd,
    NoThen,
    NoElse,
    ChainedComparisons,
    Number,
    NumberTooLarge,
    NoUnit {
        word: String,
        near: Option<&'static str>,
    },
    /// A unit that can't stand right behind a number.
    MisplacedUnit {
        word: String,
        near: Option<&'static str>,
    },
    StrayLetter {
        letter: char,
    },
    NoSpread,
    SpreadTooLarge,
    ShareOfPoint,
    SpreadOfOtherDimension,
    /// Two kinds that don't go together, and what stands at the spot.
    Clash {
        clash: Clash,
        found: Kind,
    },
    /// A kind that can't stand where another is wanted.
    Misfit {
        clash: Clash,
        found: Kind,
        wanted: Kind,
    },
    UnitForgotten {
        wanted: Kind,
    },
    UnitInExponent {
        found: Kind,
    },
    /// A power that is worked out, of something with a unit.
    UnitInBase {
        found: Kind,
    },
    NoNumber {
        found: Found,
    },
    NoQuantity {
        wanted: Kind,
        found: Found,
    },
    NoTruth {
        found: Found,
    },
    NotPlain {
        function: String,
        found: Kind,
    },
    ComparedTable,
    ComparedChoice,
    Incomparable,
    OrderedChoice,
    NoOption {
        options: Vec<String>,
    },
    UnknownOption {
        word: String,
        near: Option<String>,
        options: Vec<String>,
    },
    UnlikeBranches,
    UnknownName {
        name: String,
        help: String,
    },
    UnknownFunction {
        name: String,
        near: Option<String>,
    },
    CalledValue {
        name: String,
    },
    UncalledRelation {
        name: String,
        given: Vec<String>,
    },
    CallsItself {
        relation: String,
    },
    /// A set of arguments outside the brackets of a call that takes some of them.
    LooseArguments {
        set: String,
    },
    IdleArguments {
        set: String,
        function: String,
    },
    /// A finding, or what reads one, in a formula that findings may read.
    RestsOnFindings {
        name: String,
    },
    RelationsTooDeep,
    GivenTwice {
        argument: String,
    },
    TooManyArguments {
        function: String,
        wanted: Vec<String>,
    },
    MissingArguments {
        function: String,
        missing: Vec<String>,
        wanted: Vec<String>,
    },
    UnknownArgument {
        function: String,
        word: String,
        near: Option<String>,
        wanted: Vec<String>,
    },
    NamedArgument {
        function: String,
        word: String,
    },
    TooFewValues {
        function: String,
    },
    KnownOfWhat,
    AsOfWhat,
    AtFirstWhat,
    InterpolatesWhat,
    NoTable,
    NoColumn {
        columns: Vec<String>,
    },
    UnknownColumn {
        word: String,
        columns: Vec<String>,
    },
    ChanceOfWhat,
    ReadsAsWhat,
}

/// The near name, or else what to do without one.
fn did_you_mean(near: Option<&str>, otherwise: impl Into<String>) -> String {
    near.map_or_else(|| otherwise.into(), |near| format!("did you mean {near}?"))
}

/// How a call is written.
fn call(function: &str, arguments: &[String]) -> String {
    format!("write {function}({})", arguments.join(", "))
}

impl Mistake {
    /// What is wrong, in a line.
    #[must_use]
    pub fn message(&self) -> String {
        let message = match self {
            Self::TooLong { bytes } => {
                return format!("the formula is {bytes} bytes long, more than {MAX_BYTES}");
            }
            Self::TooManySteps { most } => {
                return format!("the formula expands to more than {most} steps inside one another");
            }
            Self::TooManyPieces { most } => {
                return format!("the formula expands to more than {most} pieces");
            }
            Self::NoValueBefore { word } => return format!("a value is expected before {word}"),
            Self::NoUnit { word, .. } => return format!("not a unit: {word}"),
            Self::MisplacedUnit { word, .. } => {
                return format!("a unit can't stand here: {word}");
            }
            Self::StrayLetter { letter } => {
                return format!("{} has no meaning in a formula", letter.escape_debug());
            }
            Self::NoQuantity { wanted, .. } => return format!("a {wanted} is wanted here"),
            Self::UnknownOption { word, .. } => {
                return format!("{word} is not an option of this choice");
            }
            Self::UnknownName { name, .. } => return format!("unknown name {name}"),
            Self::UnknownFunction { name, .. } => return format!("unknown function {name}"),
            Self::CalledValue { name } => return format!("{name} is a value, not a function"),
            Self::UncalledRelation { name, .. } => {
                return format!("{name} is a relation and needs its arguments");
            }
            Self::LooseArguments { set } => {
                return format!("{set} is a set of arguments, not a value");
            }
            Self::IdleArguments { set, function } => {
                return format!("{function} takes none of the arguments of {set}");
            }
            Self::RestsOnFindings { name } => {
                return format!("{name} depends on findings, and a working can't read those");
            }
            Self::CallsItself { relation } => return format!("relation {relation} calls itself"),
            Self::GivenTwice { argument } => return format!("argument {argument} is given twice"),
            Self::TooManyArguments { function, wanted } => {
                return match wanted.len() {
                    1 => format!("{function} takes one argument"),
                    count => format!("{function} takes {count} arguments"),
                };
            }
            Self::MissingArguments { function, missing, .. } => {
                return format!("{function} is missing {}", missing.join(", "));
            }
            Self::UnknownArgument { function, word, .. }
            | Self::NamedArgument { function, word } => {
                return format!("{function} has no argument {word}");
            }
            Self::TooFewValues { function } => {
                return format!("{function} takes two values or more");
            }
            Self::UnknownColumn { word, .. } => {
                return format!("{word} is not a column of this table");
            }
            Self::TooManyTokens => "the formula has too many parts",
            Self::TooNested => "the formula is nested too deep",
            Self::ClosesNothing => "this bracket closes nothing",
            Self::NeverClosed => "this bracket is never closed",
            Self::AssignOutsideCall => "= names an argument inside a call",
            Self::CommaOutsideCall => "a comma separates arguments",
            Self::NoOperator => "an operator is missing before this",
            Self::NoOperatorOrClose => "an operator or ) is expected here",
            Self::NoValue => "a value is expected here",
            Self::NoEnd => "the formula ends where a value is expected",
            Self::NoThen => "then is expected here",
            Self::NoElse => "else is expected here",
            Self::ChainedComparisons => "comparisons can't be chained",
            Self::Number => "not a usable number",
            Self::NumberTooLarge => "too large to calculate with",
            Self::NoSpread => "± is followed by one standard uncertainty",
            Self::SpreadTooLarge => "the ± is too large to calculate with",
            Self::ShareOfPoint => "the ± of a temperature can't be a percentage",
            Self::SpreadOfOtherDimension => "the ± differs in dimension from its value",
            Self::Clash { clash, .. } | Self::Misfit { clash, .. } => clash.message(),
            Self::UnitForgotten { .. } => "the unit is missing",
            Self::UnitInExponent { .. } => "an exponent has no unit",
            Self::UnitInBase { .. } => "the base has a unit",
            Self::NoNumber { .. } | Self::ChanceOfWhat => "a number is wanted here",
            Self::NoTruth { .. } => "yes or no is wanted here",
            Self::NotPlain { .. } => "a plain number is wanted here",
            Self::ComparedTable => "a table is not a number",
            Self::ComparedChoice | Self::Incomparable => "these can't be compared",
            Self::OrderedChoice => "a choice has no less or more",
            Self::NoOption { .. } => "an option of the choice is wanted here",
            Self::UnlikeBranches => "the branches differ in what they give",
            Self::RelationsTooDeep => "relations call one another too deep",
            Self::KnownOfWhat => "known asks about one name",
            Self::AsOfWhat => "as_of takes a value and names of questions",
            Self::AtFirstWhat => "at_first takes the name of a measured question",
            Self::ReadsAsWhat => {
                "reads_as takes a measured question, and a fixed error of its unit"
            }
            Self::InterpolatesWhat => "interpolate takes a table and one named column",
            Self::NoTable => "a table is wanted here",
            Self::NoColumn { .. } => "interpolate goes along one column of a two-column table",
        };
        message.to_owned()
    }

    /// What stands at the spot, for the mark under it; empty where the message says it all.
    #[must_use]
    pub fn label(&self) -> String {
        let label = match self {
            Self::Clash { found, .. }
            | Self::UnitInExponent { found }
            | Self::UnitInBase { found }
            | Self::NotPlain { found, .. } => return found.to_string(),
            Self::Misfit { found, wanted, .. } => {
                return format!("{found}, but {wanted} is wanted");
            }
            Self::NoNumber { found } | Self::NoQuantity { found, .. } => found.called(),
            Self::UnitForgotten { .. } => "a plain number",
            Self::ComparedTable => "a table",
            Self::UnknownOption { .. } => "no such option",
            Self::UnknownArgument { .. } => "no such argument",
            Self::UnknownName { .. } | Self::UnknownFunction { .. } => "not known",
            _ => "",
        };
        label.to_owned()
    }

    /// How to mend it.
    #[must_use]
    pub fn help(&self) -> String {
        let help = match self {
            Self::NoUnit { near, .. } | Self::MisplacedUnit { near, .. } => {
                return did_you_mean(*near, "a unit or an operator must follow a number");
            }
            Self::Clash { clash, .. } | Self::Misfit { clash, .. } => return clash.help(),
            Self::UnitForgotten { wanted } => {
                return format!("{wanted} is given in {}", unit_examples(*wanted));
            }
            Self::NotPlain { function, .. } => {
                return format!("{function} takes a plain number, for example a ratio");
            }
            Self::NoOption { options } => {
                return format!("its options are {}", options.join(", "));
            }
            Self::UnknownOption { near, options, .. } => {
                let otherwise = format!("its options are {}", options.join(", "));
                return did_you_mean(near.as_deref(), otherwise);
            }
            Self::UnknownName { help, .. } => return help.clone(),
            Self::UnknownFunction { near, .. } => {
                return did_you_mean(near.as_deref(), "calc --list names every function");
            }
            Self::UncalledRelation { name, given } => return call(name, given),
            Self::TooManyArguments { function, wanted }
            | Self::MissingArguments { function, wanted, .. } => return call(function, wanted),
            Self::UnknownArgument { function, near, wanted, .. } => {
                return did_you_mean(near.as_deref(), call(function, wanted));
            }
            Self::TooFewValues { function } => return format!("write {function}(a, b)"),
            Self::NoColumn { columns } | Self::UnknownColumn { columns, .. } => {
                return format!("name one of its columns: {}", columns.join(", "));
            }
            Self::TooLong { .. } | Self::TooNested => "split it into workings or relations",
            Self::TooManyTokens => "split it into workings",
            Self::TooManySteps { .. } | Self::TooManyPieces { .. } => {
                "split it into workings: a working is worked out once"
            }
            Self::ClosesNothing => "remove it",
            Self::NeverClosed => "add ) where it ends",
            Self::AssignOutsideCall => "compare with ==",
            Self::CommaOutsideCall => "write decimals with a point inside formulas",
            Self::NoOperator => "join the two with + - * / or a comparison",
            Self::NoOperatorOrClose => "close the bracket, or join the two with an operator",
            Self::NoValue | Self::NoValueBefore { .. } => "write a number, a name or a bracket",
            Self::NoEnd => "complete it",
            Self::NoThen => "if … then … else …",
            Self::NoElse => "every if has its else: if … then … else …",
            Self::ChainedComparisons => "join two comparisons with and",
            Self::Number => "write it as 12.5 or 1.25e1",
            Self::NumberTooLarge | Self::SpreadTooLarge => "check its exponent",
            Self::StrayLetter { letter } => instead_of(*letter),
            Self::NoSpread => "write 0.85 bar ± 0.02 bar",
            Self::ShareOfPoint => "give it in K: the zero of this scale is arbitrary",
            Self::SpreadOfOtherDimension => "give both in units of the same dimension",
            Self::UnitInExponent { .. } => {
                "the exponent is a plain number: divide it by something of its kind"
            }
            Self::UnitInBase { .. } => {
                "only a plain number can be raised to a power that is worked out"
            }
            Self::NoNumber { found } | Self::NoQuantity { found, .. } => found.to_number(),
            Self::NoTruth { found } => found.to_truth(),
            Self::ComparedTable => "read a value from it: interpolate(table, column = value)",
            Self::ComparedChoice => "a choice is compared with one of its options by == or !=",
            Self::Incomparable => "compare numbers with numbers; yes and no only with == or !=",
            Self::OrderedChoice => "options have no order: use == or !=",
            Self::UnlikeBranches => {
                "make both branches give the same kind of number, or both yes or no"
            }
            Self::CalledValue { .. } => "an operator is missing between it and the bracket",
            Self::CallsItself { .. } => "a relation may only call others",
            Self::LooseArguments { .. } => {
                "name it inside the brackets of a function or relation that takes its arguments"
            }
            Self::RestsOnFindings { .. } => "write out the part that depends on answers",
            Self::IdleArguments { .. } => "remove it, or name another set",
            Self::RelationsTooDeep => "make one of them a working",
            Self::GivenTwice { .. } => "keep one of them",
            Self::NamedArgument { .. } => "give its values without names",
            Self::KnownOfWhat => "write known(id) with the id of a question",
            Self::AsOfWhat => {
                "write as_of(value, question, kept): kept, and any after it, are optional"
            }
            Self::AtFirstWhat => "write at_first(question)",
            Self::InterpolatesWhat => "write interpolate(table, column = value)",
            Self::NoTable => "the first argument is the id of a question with a table",
            Self::ChanceOfWhat => "give a number and its limits",
            Self::ReadsAsWhat => {
                "write reads_as(measured question, with = formula, without = formula, good_to = amount)"
            }
        };
        help.to_owned()
    }
}

/// What to write in place of a letter that means nothing in a formula.
fn instead_of(letter: char) -> &'static str {
    match letter {
        '&' | '|' | '!' => "use the words and, or, not",
        '{' | '}' | '[' | ']' => "use round brackets",
        '\'' | '"' => "formulas hold no text; write the option of a choice without quotes",
        ':' => "an argument is named with =",
        '±' => "± follows a number: 0.85 bar ± 0.02 bar",
        _ => "remove it",
    }
}
