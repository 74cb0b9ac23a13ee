//! What calls give whose arguments were checked.

use super::arguments::Argument;
use super::calls::{Call, Callee};
use super::checked::Checked;
use super::context::Context;
use super::kinds;
use super::node::{Math, Node, Type, VarId};
use crate::formula::syntax::Mistake;
use crate::quantity::Kind;

/// What a call gives. A relation gives what its body does, which is left to whoever checks that.
pub(super) fn result(context: &mut Context, call: &Call, values: Vec<Checked>) -> Option<Checked> {
    match call.callee {
        Callee::Math(operation) => math(context, call, operation, values),
        Callee::OnlyIf => only_if(values),
        Callee::Known => {
            let variables = variables(context, &call.arguments, &values, &Mistake::KnownOfWhat)?;
            Some(Checked::truth(Node::Known(*variables.first()?)))
        }
        Callee::AsOf => as_of(context, call, values),
        Callee::AtFirst => at_first(context, call, values),
        Callee::Interpolate { table, along, gives } => {
            let at = Box::new(values.into_iter().next()?.node);
            Some(Checked::quantity(Node::Interpolate { table, along, at }, gives))
        }
        Callee::Chance => chance(context, call, values),
        Callee::ReadsAs => reads_as(context, call, values),
        Callee::Physics(function) => {
            let node = Node::Call { function, arguments: nodes(values) };
            Some(Checked::quantity(node, function.gives))
        }
        Callee::Relation { .. } => None,
    }
}

fn nodes(values: Vec<Checked>) -> Vec<Node> {
    values.into_iter().map(|value| value.node).collect()
}

/// The kind of number that all arguments share.
fn shared_kind(context: &mut Context, call: &Call, values: &[Checked]) -> Option<Kind> {
    let mut shared: Option<Kind> = None;
    for (argument, value) in call.arguments.iter().zip(values) {
        let span = &argument.tree.span;
        let Type::Quantity(found) = value.gives else {
            return context.refuse(span, Mistake::ChanceOfWhat);
        };
        match kinds::unify(shared.unwrap_or(found), found) {
            Ok(kind) => shared = Some(kind),
            Err(clash) => return context.refuse(span, Mistake::Clash { clash, found }),
        }
    }
    shared
}

fn math(
    context: &mut Context,
    call: &Call,
    operation: Math,
    values: Vec<Checked>,
) -> Option<Checked> {
    let kind = shared_kind(context, call, &values)?;
    let gives = match operation {
        Math::Least | Math::LeastKnown | Math::Greatest | Math::Magnitude => Some(kind),
        Math::SquareRoot => kinds::power(kind, 0.5).ok(),
        Math::NaturalLogarithm | Math::Exponential => (kind == Kind::NUMBER).then_some(kind),
    };
    let Some(gives) = gives else {
        let function = call.name.to_owned();
        let span = &call.arguments.first()?.tree.span;
        return context.refuse(span, Mistake::NotPlain { function, found: kind });
    };
    Some(Checked::quantity(Node::Math { operation, arguments: nodes(values) }, gives))
}

fn only_if(values: Vec<Checked>) -> Option<Checked> {
    let [condition, value] = <[Checked; 2]>::try_from(values).ok()?;
    let node = Node::IfElse {
        condition: Box::new(condition.node),
        then: Box::new(value.node),
        otherwise: Box::new(Node::LeftOut),
    };
    Some(Checked { node, gives: value.gives })
}

/// The variables of arguments that must be questions.
fn variables(
    context: &mut Context,
    arguments: &[Argument],
    values: &[Checked],
    mistake: &Mistake,
) -> Option<Vec<VarId>> {
    let questions = arguments.iter().zip(values);
    let variables = questions.map(|(argument, value)| match value.node {
        Node::Read(variable) | Node::Answered(variable) => Some(variable),
        _ => context.refuse(&argument.tree.span, mistake.clone()),
    });
    variables.collect()
}

fn as_of(context: &mut Context, call: &Call, mut values: Vec<Checked>) -> Option<Checked> {
    let questions = values.split_off(1);
    let Checked { node, gives } = values.pop()?;
    let mut kept = variables(context, &call.arguments[1..], &questions, &Mistake::AsOfWhat)?;
    let of = kept.remove(0);
    Some(Checked { node: Node::AsOf { value: Box::new(node), of, kept }, gives })
}

fn at_first(context: &mut Context, call: &Call, values: Vec<Checked>) -> Option<Checked> {
    let Checked { node, gives } = values.into_iter().next()?;
    let Node::Read(of) = node else {
        return context.refuse(&call.arguments.first()?.tree.span, Mistake::AtFirstWhat);
    };
    Some(Checked { node: Node::AtFirst { value: Box::new(node), of }, gives })
}

fn chance(context: &mut Context, call: &Call, values: Vec<Checked>) -> Option<Checked> {
    shared_kind(context, call, &values)?;
    let index = context.chances;
    context.chances += 1;
    let mut nodes = values.into_iter().map(|value| Box::new(value.node));
    let value = nodes.next()?;
    let (lower, upper) = match (nodes.next(), nodes.next()) {
        (limit, None) => (None, limit),
        limits => limits,
    };
    Some(Checked::quantity(Node::Chance { value, lower, upper, index }, Kind::NUMBER))
}

/// The error may be written as a pressure difference where the reading is a gauge pressure: it is a
/// difference, whatever the reading's kind.
fn reads_as(context: &mut Context, call: &Call, values: Vec<Checked>) -> Option<Checked> {
    shared_kind(context, call, values.get(..3)?)?;
    let [reading, with, without, error] = <[Checked; 4]>::try_from(values).ok()?;
    let wrong = |place: usize| call.arguments.get(place).map(|argument| &argument.tree.span);
    let Node::Read(read) = reading.node else {
        return context.refuse(wrong(0)?, Mistake::ReadsAsWhat);
    };
    let alike = matches!((reading.gives, error.gives), (Type::Quantity(own), Type::Quantity(error))
        if own.dimension == error.dimension);
    let good_to = error.node.fixed().filter(|good_to| alike && *good_to > 0.0);
    let Some(good_to) = good_to else { return context.refuse(wrong(3)?, Mistake::ReadsAsWhat) };
    let (with, without) = (Box::new(with.node), Box::new(without.node));
    Some(Checked::truth(Node::ReadsAs { reading: read, with, without, good_to }))
}
