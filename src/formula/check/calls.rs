//! Calls: the language's own functions, the physics table, relations. Their arguments are brought
//! into their places by [`super::arguments`]. What a call gives, once they are checked, is left to
//! [`super::results`].

use super::arguments::{Argument, Wanted, Written};
use super::context::Context;
use super::names::{Meaning, nearest};
use super::node::{Math, VarId};
use crate::formula::functions::{FUNCTIONS, Function, find};
use crate::formula::syntax::Mistake;
use crate::formula::syntax::expression::{self, Expression, Form};
use crate::formula::syntax::fault::Span;
use crate::quantity::Kind;

/// The language's own functions: name, arguments as shown in help, what it gives.
pub const OWN: [(&str, &str, &str); 15] = [
    ("min", "a, b, ...", "the smallest of several values of one kind"),
    ("least_known", "a, b, ...", "the smallest of those values that are known"),
    ("max", "a, b, ...", "the largest of several values of one kind"),
    ("abs", "x", "the size of a value without its sign"),
    ("sqrt", "x", "the square root"),
    ("ln", "x", "the natural logarithm of a plain number"),
    ("exp", "x", "e raised to a plain number"),
    ("only_if", "condition, value", "the value if the condition holds, otherwise not known"),
    ("known", "question", "yes if the question was answered (an assumed value does not count)"),
    (
        "at_first",
        "question",
        "the value measured when the question was first answered, whatever a repair has changed \
         since",
    ),
    (
        "as_of",
        "value, question, kept, ...",
        "the value as it was when the question was last answered, in an earlier round too, unless a \
         repair made one of the questions kept stale since",
    ),
    ("chance_below", "value, limit", "the chance that the value is below the limit (JCGM 106)"),
    (
        "chance_between",
        "value, lower, upper",
        "the chance that the value is between the limits (JCGM 106)",
    ),
    (
        "reads_as",
        "reading, with, without, good_to",
        "whether the reading is as with a cause rather than as without it, by the densities of both",
    ),
    (
        "interpolate",
        "table, column = value",
        "the other column's value where this column has the value given",
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

/// What is called.
pub(super) enum Callee<'a> {
    Math(Math),
    OnlyIf,
    Known,
    AsOf,
    AtFirst,
    Interpolate { table: VarId, along: usize, gives: Kind },
    Chance,
    ReadsAs,
    Physics(&'static Function),
    Relation { name: &'a str, given: &'a [String], body: &'a Expression },
}

/// A call whose arguments are in their places.
pub(super) struct Call<'a> {
    pub(super) callee: Callee<'a>,
    pub(super) name: &'a str,
    pub(super) arguments: Vec<Argument<'a>>,
    pub(super) span: &'a Span,
}

/// Looks a call's name up and brings its arguments into their places.
pub(super) fn arrange<'a>(
    context: &mut Context<'a>,
    name: &'a str,
    name_span: &'a Span,
    arguments: &'a [expression::Argument],
    span: &'a Span,
) -> Option<Call<'a>> {
    let written = Written { name, arguments, span };
    match name {
        "min" => written.of_one_kind(context, Math::Least),
        "least_known" => written.of_one_kind(context, Math::LeastKnown),
        "max" => written.of_one_kind(context, Math::Greatest),
        "abs" => written.math(context, Math::Magnitude),
        "sqrt" => written.math(context, Math::SquareRoot),
        "ln" => written.math(context, Math::NaturalLogarithm),
        "exp" => written.math(context, Math::Exponential),
        "only_if" => {
            let wanted = [("condition", Wanted::Truth), ("value", Wanted::Number)];
            written.named(context, Callee::OnlyIf, &wanted)
        }
        "known" => written.named(context, Callee::Known, &[("question", Wanted::Any)]),
        "as_of" => written.as_of(context),
        "at_first" => written.at_first(context),
        "interpolate" => written.interpolate(context),
        "chance_below" => {
            let wanted = [("value", Wanted::Any), ("limit", Wanted::Any)];
            written.named(context, Callee::Chance, &wanted)
        }
        "chance_between" => {
            let wanted = ["value", "lower", "upper"].map(|name| (name, Wanted::Any));
            written.named(context, Callee::Chance, &wanted)
        }
        "reads_as" => {
            let wanted = ["reading", "with", "without", "good_to"];
            written.named(context, Callee::ReadsAs, &wanted.map(|name| (name, Wanted::Number)))
        }
        _ => match find(name) {
            Some(function) => {
                let wanted = function.arguments.iter();
                let wanted: Vec<(&str, Wanted)> =
                    wanted.map(|one| (one.name, Wanted::Kind(one.kind))).collect();
                let arguments = written.placed_with_sets(context, &wanted)?;
                written.call(Callee::Physics(function), arguments)
            }
            None => written.relation(context, name_span),
        },
    }
}

impl<'a> Written<'a> {
    fn call(&self, callee: Callee<'a>, arguments: Vec<Argument<'a>>) -> Option<Call<'a>> {
        Some(Call { callee, name: self.name, arguments, span: self.span })
    }

    /// A call of a function whose arguments have names.
    fn named(
        &self,
        context: &mut Context<'a>,
        callee: Callee<'a>,
        wanted: &[(&str, Wanted)],
    ) -> Option<Call<'a>> {
        self.call(callee, self.placed(context, wanted)?)
    }

    fn math(&self, context: &mut Context<'a>, operation: Math) -> Option<Call<'a>> {
        self.named(context, Callee::Math(operation), &[("x", Wanted::Number)])
    }

    fn of_one_kind(&self, context: &mut Context, operation: Math) -> Option<Call<'a>> {
        if self.arguments.len() < 2 {
            let function = self.name.to_owned();
            return context.refuse(self.span, Mistake::TooFewValues { function });
        }
        let arguments = self.arguments.iter();
        let arguments: Option<Vec<Argument>> =
            arguments.map(|argument| self.unnamed(context, argument, Wanted::Number)).collect();
        self.call(Callee::Math(operation), arguments?)
    }

    fn as_of(&self, context: &mut Context) -> Option<Call<'a>> {
        let [value, questions @ ..] = self.arguments else {
            return context.refuse(self.span, Mistake::AsOfWhat);
        };
        if questions.is_empty() {
            return context.refuse(self.span, Mistake::AsOfWhat);
        }
        let mut arguments = vec![self.unnamed(context, value, Wanted::Number)?];
        for question in questions {
            arguments.push(self.unnamed(context, question, Wanted::Any)?);
        }
        self.call(Callee::AsOf, arguments)
    }

    fn at_first(&self, context: &mut Context) -> Option<Call<'a>> {
        let [question] = self.arguments else {
            return context.refuse(self.span, Mistake::AtFirstWhat);
        };
        let argument = self.unnamed(context, question, Wanted::Number)?;
        self.call(Callee::AtFirst, vec![argument])
    }

    fn interpolate(&self, context: &mut Context<'a>) -> Option<Call<'a>> {
        let [table, at] = self.arguments else {
            return context.refuse(self.span, Mistake::InterpolatesWhat);
        };
        let meaning = match &table.value.form {
            Form::Name(name) if table.name.is_none() => context.meaning(name),
            _ => None,
        };
        let Some(Meaning::Table { variable, columns }) = meaning else {
            return context.refuse(&table.value.span, Mistake::NoTable);
        };
        let named = at.name.as_ref();
        let along =
            named.and_then(|(word, _)| columns.iter().position(|(column, _)| column == word));
        let (Some(along), [_, _]) = (along, columns.as_slice()) else {
            let columns = columns.iter().map(|(column, _)| (*column).to_owned()).collect();
            return match named {
                Some((word, place)) => {
                    let word = word.clone();
                    context.refuse(place, Mistake::UnknownColumn { word, columns })
                }
                None => context.refuse(&at.value.span, Mistake::NoColumn { columns }),
            };
        };
        let gives = columns[1 - along].1;
        let argument =
            Argument { tree: &at.value, wanted: Wanted::Kind(columns[along].1), set: None };
        self.call(Callee::Interpolate { table: variable, along, gives }, vec![argument])
    }

    fn relation(&self, context: &mut Context<'a>, name_span: &Span) -> Option<Call<'a>> {
        let name = self.name;
        match context.meaning(name) {
            Some(Meaning::Faulty) => context.depends_on_error(),
            Some(Meaning::Relation { given, body }) => {
                let wanted: Vec<(&str, Wanted)> =
                    given.iter().map(|name| (name.as_str(), Wanted::Any)).collect();
                let arguments = self.placed_with_sets(context, &wanted)?;
                self.call(Callee::Relation { name, given, body }, arguments)
            }
            meaning if meaning.is_some() || context.is_parameter(name) => {
                context.refuse(name_span, Mistake::CalledValue { name: name.to_owned() })
            }
            _ => {
                let near = nearest_function(name, context.names()).map(str::to_owned);
                let name = name.to_owned();
                context.refuse(name_span, Mistake::UnknownFunction { name, near })
            }
        }
    }
}
