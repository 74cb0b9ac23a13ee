//! The leaves of a formula: literals with their units, and what names stand for.

use super::checked::Checked;
use super::context::Context;
use super::names::{Meaning, nearest};
use super::node::{Node, Type};
use crate::formula::functions::find;
use crate::formula::syntax::Mistake;
use crate::formula::syntax::expression::Spread;
use crate::formula::syntax::fault::Span;
use crate::quantity::{Kind, Unit, is_symbol};

pub(super) fn literal(
    context: &mut Context,
    value: f64,
    unit: Option<&Unit>,
    uncertainty: Option<&Spread>,
    span: &Span,
) -> Option<Checked> {
    let kind = literal_kind(unit);
    let si = unit.map_or(value, |unit| unit.to_si(value));
    if !si.is_finite() {
        return context.refuse(span, Mistake::NumberTooLarge);
    }
    let Some(spread) = uncertainty else {
        return Some(Checked::quantity(Node::Number(si), kind));
    };
    let uncertainty = match spread {
        Spread::Relative(_) if unit.is_some_and(Unit::is_point) => {
            return context.refuse(span, Mistake::ShareOfPoint);
        }
        Spread::Relative(fraction) => (value * fraction).abs() * unit.map_or(1.0, Unit::scale),
        Spread::Amount { size, unit: own } => {
            let own = own.as_ref().or(unit);
            if own.map_or(Kind::NUMBER.dimension, Unit::dimension) != kind.dimension {
                return context.refuse(span, Mistake::SpreadOfOtherDimension);
            }
            size * own.map_or(1.0, Unit::scale)
        }
    };
    if !uncertainty.is_finite() {
        return context.refuse(span, Mistake::SpreadTooLarge);
    }
    let index = context.spreads.len();
    context.spreads.push((si, uncertainty));
    Some(Checked::quantity(Node::Spread { value: si, uncertainty, index }, kind))
}

fn literal_kind(unit: Option<&Unit>) -> Kind {
    match unit {
        None => Kind::NUMBER,
        Some(unit) if unit.is_point() => Kind::TEMPERATURE,
        Some(unit) => Kind::plain(unit.dimension()),
    }
}

pub(super) fn name(context: &mut Context, name: &str, span: &Span) -> Option<Checked> {
    if let Some(value) = context.parameter(name) {
        // A parameter whose argument was faulty has been reported at the call.
        return context.inline(&value?, span);
    }
    match context.meaning(name) {
        Some(Meaning::Value { variable, kind }) => {
            Some(Checked::quantity(Node::Read(variable), kind))
        }
        Some(Meaning::Bool { variable }) => Some(Checked::truth(Node::Answered(variable))),
        Some(Meaning::Choice { variable, .. }) => {
            Some(Checked { node: Node::Read(variable), gives: Type::Choice(variable) })
        }
        Some(Meaning::Table { variable, .. }) => {
            Some(Checked { node: Node::Read(variable), gives: Type::Table(variable) })
        }
        Some(Meaning::Inline { node, id }) => {
            let truth = context.inline(&Checked::truth(node.clone()), span)?;
            let node = renumbered(context, truth.node);
            Some(Checked::truth(match id {
                Some(name) => Node::Named { name, truth: Box::new(node) },
                None => node,
            }))
        }
        Some(Meaning::Faulty) => context.depends_on_error(),
        Some(Meaning::Later) => {
            context.refuse(span, Mistake::RestsOnFindings { name: name.to_owned() })
        }
        Some(Meaning::Arguments { .. }) => {
            context.refuse(span, Mistake::LooseArguments { set: name.to_owned() })
        }
        Some(Meaning::Relation { given, .. }) => {
            let (name, given) = (name.to_owned(), given.to_vec());
            context.refuse(span, Mistake::UncalledRelation { name, given })
        }
        None => unknown(context, name, span),
    }
}

/// A node of another formula, its literals with `±` and its chances numbered behind our own.
fn renumbered(context: &mut Context, mut node: Node) -> Node {
    let (first_spread, first_chance) = (context.spreads.len(), context.chances);
    node.walk_mut(&mut |part| match part {
        Node::Spread { value, uncertainty, index } => {
            *index += first_spread;
            if context.spreads.len() <= *index {
                context.spreads.resize(*index + 1, (0.0, 0.0));
            }
            context.spreads[*index] = (*value, *uncertainty);
        }
        Node::Chance { index, .. } => {
            *index += first_chance;
            context.chances = context.chances.max(*index + 1);
        }
        _ => {}
    });
    node
}

fn unknown<T>(context: &mut Context, name: &str, span: &Span) -> Option<T> {
    let help = if is_symbol(name) {
        format!("{name} is a unit: write a number before it")
    } else if let Some(function) = find(name) {
        format!("it is a function: write {}", function.call_form())
    } else {
        match nearest(name, context.names_here()) {
            Some(near) => format!("did you mean {near}?"),
            None if matches!(name, "true" | "false") => "write yes or no".to_owned(),
            None => context.advice(),
        }
    };
    context.refuse(span, Mistake::UnknownName { name: name.to_owned(), help })
}
