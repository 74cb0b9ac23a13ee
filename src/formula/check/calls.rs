//! Calls: the language's own functions, the physics table, relations; arguments by name or place.

use super::arrange::{Given, arranged, arranged_with_sets};
use super::checker::{Checked, Checker};
use super::kinds;
use super::names::{Meaning, nearest};
use super::node::{Math, Node, Type};
use crate::formula::functions::{FUNCTIONS, Function, find};
use crate::formula::syntax::Mistake;
use crate::formula::syntax::expression::{Argument, Expression, Form};
use crate::formula::syntax::fault::Span;
use crate::quantity::Kind;

/// The language's own functions: name, arguments as shown in help, what it gives.
pub const OWN: [(&str, &str, &str); 14] = [
    ("min", "a, b, ...", "the least of values of one kind"),
    ("least_known", "a, b, ...", "the least of those that are known, of one kind"),
    ("max", "a, b, ...", "the greatest of values of one kind"),
    ("abs", "x", "the size of a value without its sign"),
    ("sqrt", "x", "the square root"),
    ("ln", "x", "the natural logarithm of a plain number"),
    ("exp", "x", "e raised to a plain number"),
    ("only_if", "condition, value", "the value where the condition holds, else not known"),
    ("known", "question", "yes where a person answered the question (not for assumptions)"),
    (
        "at_first",
        "question",
        "the measured value as it was when the question was first answered, whatever a repair has made of it",
    ),
    (
        "as_of",
        "value, question, kept, ...",
        "the value as it was when the question was last answered, in an earlier round too, unless a \
         repair made one of the questions kept stale since",
    ),
    ("chance_below", "value, limit", "the chance that the value lies below the limit (JCGM 106)"),
    (
        "chance_between",
        "value, lower, upper",
        "the chance that the value lies between the limits (JCGM 106)",
    ),
    (
        "interpolate",
        "table, column = value",
        "the table's other column where this one has that value",
    ),
];

/// Whether a function has this name: one of the language's own, or of the physics.
#[must_use]
pub fn is_function(name: &str) -> bool {
    OWN.iter().any(|(own, _, _)| *own == name) || find(name).is_some()
}

/// The function or relation that a name nobody knows may have been meant for.
#[must_use]
pub fn nearest_function<'n>(
    name: &str,
    relations: impl IntoIterator<Item = &'n str>,
) -> Option<&'n str> {
    let known = FUNCTIONS.iter().map(|function| function.name);
    let own = OWN.iter().map(|(own, _, _)| *own);
    nearest(name, known.chain(own).chain(relations))
}

pub(crate) fn call<'a>(
    checker: &mut Checker<'a>,
    name: &'a str,
    name_span: &Span,
    arguments: &'a [Argument],
    span: &Span,
) -> Option<Checked> {
    match name {
        "min" => of_one_kind(checker, Math::Least, name, arguments, span),
        "least_known" => of_one_kind(checker, Math::LeastKnown, name, arguments, span),
        "max" => of_one_kind(checker, Math::Greatest, name, arguments, span),
        "abs" => single(checker, Math::Magnitude, name, arguments, span),
        "sqrt" => single(checker, Math::SquareRoot, name, arguments, span),
        "ln" => single(checker, Math::NaturalLogarithm, name, arguments, span),
        "exp" => single(checker, Math::Exponential, name, arguments, span),
        "only_if" => only_if(checker, arguments, span),
        "known" => known(checker, arguments, span),
        "as_of" => as_of(checker, arguments, span),
        "at_first" => at_first(checker, arguments, span),
        "interpolate" => interpolate(checker, arguments, span),
        "chance_below" => chance(checker, name, &["value", "limit"], arguments, span),
        "chance_between" => chance(checker, name, &["value", "lower", "upper"], arguments, span),
        _ => match find(name) {
            Some(function) => physics(checker, function, arguments, span),
            None => relation(checker, name, name_span, arguments, span),
        },
    }
}

/// A physics function with the names of its arguments.
pub(crate) fn form(function: &Function) -> String {
    let names: Vec<&str> = function.arguments.iter().map(|argument| argument.name).collect();
    format!("{}({})", function.name, names.join(", "))
}

fn physics<'a>(
    checker: &mut Checker<'a>,
    function: &'static Function,
    arguments: &'a [Argument],
    span: &Span,
) -> Option<Checked> {
    let wanted: Vec<&str> = function.arguments.iter().map(|argument| argument.name).collect();
    let arranged = arranged_with_sets(checker, function.name, &wanted, arguments, span)?;
    let mut nodes = Vec::with_capacity(arranged.len());
    for (given, argument) in arranged.into_iter().zip(function.arguments) {
        let node = checker.argument(given.set, span, |checker| {
            let checked = checker.expression(given.tree)?;
            checker.fit(&checked, argument.kind, &given.tree.span);
            Some(checked.node)
        });
        nodes.extend(node);
    }
    (nodes.len() == function.arguments.len())
        .then(|| Checked::quantity(Node::Call { function, arguments: nodes }, function.gives))
}

fn relation<'a>(
    checker: &mut Checker<'a>,
    name: &'a str,
    name_span: &Span,
    arguments: &'a [Argument],
    span: &Span,
) -> Option<Checked> {
    let names = checker.names;
    let meaning = names.find(name);
    if matches!(meaning, Some(Meaning::Faulty)) {
        return checker.depends_on_error();
    }
    let Some(Meaning::Relation { given, body }) = meaning else {
        if meaning.is_some() || checker.is_parameter(name) {
            return checker.refuse(name_span, Mistake::CalledValue { name: name.to_owned() });
        }
        let near = nearest_function(name, names.all()).map(str::to_owned);
        return checker.refuse(name_span, Mistake::UnknownFunction { name: name.to_owned(), near });
    };
    let wanted: Vec<&str> = given.iter().map(String::as_str).collect();
    let arranged = arranged_with_sets(checker, name, &wanted, arguments, span)?;
    let mut value = |given: Given<'a>| {
        checker.argument(given.set, span, |checker| checker.expression(given.tree))
    };
    let values = arranged.into_iter().map(&mut value).collect();
    checker.relation(name, given, body, values, span)
}

fn of_one_kind<'a>(
    checker: &mut Checker<'a>,
    operation: Math,
    name: &str,
    arguments: &'a [Argument],
    span: &Span,
) -> Option<Checked> {
    if arguments.len() < 2 {
        return checker.refuse(span, Mistake::TooFewValues { function: name.to_owned() });
    }
    let mut kind: Option<Kind> = None;
    let mut nodes = Vec::with_capacity(arguments.len());
    for argument in arguments {
        let tree = unnamed(checker, name, argument)?;
        let (node, found) = checker.number(tree)?;
        let joined = kinds::unify(kind.unwrap_or(found), found);
        match joined {
            Ok(joined) => kind = Some(joined),
            Err(clash) => return checker.refuse(&tree.span, Mistake::Clash { clash, found }),
        }
        nodes.push(node);
    }
    kind.map(|kind| Checked::quantity(Node::Math { operation, arguments: nodes }, kind))
}

fn unnamed<'a>(
    checker: &mut Checker<'a>,
    name: &str,
    argument: &'a Argument,
) -> Option<&'a Expression> {
    let Some((word, at)) = &argument.name else { return Some(&argument.value) };
    let (function, word) = (name.to_owned(), word.clone());
    checker.refuse(at, Mistake::NamedArgument { function, word })
}

fn single<'a>(
    checker: &mut Checker<'a>,
    operation: Math,
    name: &str,
    arguments: &'a [Argument],
    span: &Span,
) -> Option<Checked> {
    let arranged = arranged(checker, name, &["x"], arguments, span)?;
    let tree = arranged.first()?;
    let (node, kind) = checker.number(tree)?;
    let gives = match operation {
        Math::Magnitude => Some(kind),
        Math::SquareRoot => kinds::power(kind, 0.5).ok(),
        _ => (kind == Kind::NUMBER).then_some(kind),
    };
    let Some(gives) = gives else {
        let function = name.to_owned();
        return checker.refuse(&tree.span, Mistake::NotPlain { function, found: kind });
    };
    Some(Checked::quantity(Node::Math { operation, arguments: vec![node] }, gives))
}

fn only_if<'a>(
    checker: &mut Checker<'a>,
    arguments: &'a [Argument],
    span: &Span,
) -> Option<Checked> {
    let arranged = arranged(checker, "only_if", &["condition", "value"], arguments, span)?;
    let [condition, value] = arranged.as_slice() else { return None };
    let condition = checker.truth(condition);
    let (value, kind) = checker.number(value)?;
    let node = Node::IfElse {
        condition: Box::new(condition?),
        then: Box::new(value),
        otherwise: Box::new(Node::LeftOut),
    };
    Some(Checked::quantity(node, kind))
}

fn known<'a>(checker: &mut Checker<'a>, arguments: &'a [Argument], span: &Span) -> Option<Checked> {
    let arranged = arranged(checker, "known", &["question"], arguments, span)?;
    let tree = *arranged.first()?;
    let checked = checker.expression(tree)?;
    match checked.node {
        Node::Read(variable) | Node::Answered(variable) => {
            Some(Checked::truth(Node::Known(variable)))
        }
        _ => checker.refuse(&tree.span, Mistake::KnownOfWhat),
    }
}

fn as_of<'a>(checker: &mut Checker<'a>, arguments: &'a [Argument], span: &Span) -> Option<Checked> {
    let [value, questions @ ..] = arguments else {
        return checker.refuse(span, Mistake::AsOfWhat);
    };
    if questions.is_empty() {
        return checker.refuse(span, Mistake::AsOfWhat);
    }
    let value = unnamed(checker, "as_of", value)?;
    let (value, kind) = checker.number(value)?;
    let mut variables = Vec::with_capacity(questions.len());
    for question in questions {
        let tree = unnamed(checker, "as_of", question)?;
        match checker.expression(tree)?.node {
            Node::Read(variable) | Node::Answered(variable) => variables.push(variable),
            _ => return checker.refuse(&tree.span, Mistake::AsOfWhat),
        }
    }
    let of = variables.remove(0);
    Some(Checked::quantity(Node::AsOf { value: Box::new(value), of, kept: variables }, kind))
}

fn at_first<'a>(
    checker: &mut Checker<'a>,
    arguments: &'a [Argument],
    span: &Span,
) -> Option<Checked> {
    let [question] = arguments else {
        return checker.refuse(span, Mistake::AtFirstWhat);
    };
    let tree = unnamed(checker, "at_first", question)?;
    let (value, kind) = checker.number(tree)?;
    let Node::Read(of) = value else {
        return checker.refuse(&tree.span, Mistake::AtFirstWhat);
    };
    Some(Checked::quantity(Node::AtFirst { value: Box::new(value), of }, kind))
}

fn interpolate<'a>(
    checker: &mut Checker<'a>,
    arguments: &'a [Argument],
    span: &Span,
) -> Option<Checked> {
    let [table, at] = arguments else {
        return checker.refuse(span, Mistake::InterpolatesWhat);
    };
    let names = checker.names;
    let meaning = match &table.value.form {
        Form::Name(name) if table.name.is_none() => names.find(name),
        _ => None,
    };
    let Some(Meaning::Table { variable, columns }) = meaning else {
        return checker.refuse(&table.value.span, Mistake::NoTable);
    };
    let named = at.name.as_ref();
    let along = named.and_then(|(word, _)| columns.iter().position(|(column, _)| column == word));
    let (Some(along), [_, _]) = (along, columns.as_slice()) else {
        let columns = columns.iter().map(|(column, _)| (*column).to_owned()).collect();
        return match named {
            Some((word, place)) => {
                checker.refuse(place, Mistake::UnknownColumn { word: word.clone(), columns })
            }
            None => checker.refuse(&at.value.span, Mistake::NoColumn { columns }),
        };
    };
    let checked = checker.expression(&at.value)?;
    checker.fit(&checked, columns[along].1, &at.value.span);
    let node = Node::Interpolate { table: variable, along, at: Box::new(checked.node) };
    Some(Checked::quantity(node, columns[1 - along].1))
}

fn chance<'a>(
    checker: &mut Checker<'a>,
    name: &str,
    wanted: &[&str],
    arguments: &'a [Argument],
    span: &Span,
) -> Option<Checked> {
    let arranged = arranged(checker, name, wanted, arguments, span)?;
    let mut kind: Option<Kind> = None;
    let mut nodes = Vec::new();
    for tree in arranged {
        let checked = checker.expression(tree)?;
        let Type::Quantity(found) = checked.gives else {
            return checker.refuse(&tree.span, Mistake::ChanceOfWhat);
        };
        match kinds::unify(kind.unwrap_or(found), found) {
            Ok(joined) => kind = Some(joined),
            Err(clash) => return checker.refuse(&tree.span, Mistake::Clash { clash, found }),
        }
        nodes.push(Box::new(checked.node));
    }
    let index = checker.chances;
    checker.chances += 1;
    let mut nodes = nodes.into_iter();
    let value = nodes.next()?;
    let (lower, upper) = match (nodes.next(), nodes.next()) {
        (limit, None) => (None, limit),
        limits => limits,
    };
    Some(Checked::quantity(Node::Chance { value, lower, upper, index }, Kind::NUMBER))
}
