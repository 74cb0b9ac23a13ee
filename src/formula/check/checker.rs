//! A tree to a checked formula: every name looked up, every dimension and kind checked, relations
//! put in place of their calls, and arguments of sets into the calls that name them. All mistakes of
//! a formula are reported, not just the first.
//!
//! This is the one recursion. What is made of pieces that were checked is left to [`super::leaf`],
//! [`super::operators`], [`super::calls`] and [`super::results`].

use super::arguments::{Argument, Wanted};
use super::calls::{self, Call, Callee};
use super::checked::{Checked, Operand};
use super::context::{Context, PutIn};
use super::leaf;
use super::names::Names;
use super::node::{Formula, Node, Type};
use super::operators;
use super::results;
use crate::formula::syntax::expression::{Comparison, Expression, Form};
use crate::formula::syntax::fault::{Fault, Span};
use crate::formula::syntax::parse;
use crate::quantity::{Kind, Reference};

/// Reads and checks a formula.
///
/// # Errors
/// Every mistake found, each with its place in `text`; none where only something it reads is faulty.
pub fn check(text: &str, names: &dyn Names, wanted: Option<Kind>) -> Result<Formula, Vec<Fault>> {
    let tree = parse(text).map_err(|fault| vec![fault])?;
    check_tree(text, &tree, names, wanted)
}

/// Checks a formula that was read before.
///
/// # Errors
/// Every mistake found, each with its place in `text`.
pub fn check_tree(
    text: &str,
    tree: &Expression,
    names: &dyn Names,
    wanted: Option<Kind>,
) -> Result<Formula, Vec<Fault>> {
    let mut context = Context::new(names);
    let checked = expression(&mut context, tree);
    if let (Some(checked), Some(wanted)) = (&checked, wanted) {
        context.fit(checked, wanted, &tree.span);
    }
    let mut formula = context.formula(text, checked)?;
    formula.gives = kind_of_place(formula.gives, wanted);
    Ok(formula)
}

/// A result without a kind of its own takes the one its place asks for.
fn kind_of_place(gives: Type, wanted: Option<Kind>) -> Type {
    match (gives, wanted) {
        (Type::Quantity(kind), Some(wanted)) if kind.reference == Reference::Plain => {
            Type::Quantity(wanted)
        }
        (gives, _) => gives,
    }
}

fn expression<'a>(context: &mut Context<'a>, tree: &'a Expression) -> Option<Checked> {
    context.descend(&tree.span)?;
    let checked = piece(context, tree);
    context.ascend();
    checked
}

fn piece<'a>(context: &mut Context<'a>, tree: &'a Expression) -> Option<Checked> {
    match &tree.form {
        Form::Literal { value, unit, uncertainty } => {
            leaf::literal(context, *value, unit.as_ref(), uncertainty.as_ref(), &tree.span)
        }
        Form::Bool(truth) => Some(Checked::truth(Node::Bool(*truth))),
        Form::Name(name) => leaf::name(context, name, &tree.span),
        Form::Call { function, name_span, arguments } => {
            let called = calls::arrange(context, function, name_span, arguments, &tree.span)?;
            call(context, called)
        }
        Form::Negated(inner) => {
            let Operand { node, gives, .. } = number(context, inner)?;
            Some(Checked::quantity(Node::Negated(Box::new(node)), gives))
        }
        Form::Not(inner) => Some(Checked::truth(Node::Not(Box::new(truth(context, inner)?)))),
        Form::Arithmetic { operator, left, right } => {
            let (left, right) = (number(context, left), number(context, right));
            operators::arithmetic(context, *operator, left?, right?)
        }
        Form::Comparison { operator, left, right } => comparison(context, *operator, left, right),
        Form::And { left, right } => {
            let (left, right) = (truth(context, left), truth(context, right));
            Some(Checked::truth(Node::And(Box::new(left?), Box::new(right?))))
        }
        Form::Or { left, right } => {
            let (left, right) = (truth(context, left), truth(context, right));
            Some(Checked::truth(Node::Or(Box::new(left?), Box::new(right?))))
        }
        Form::IfElse { condition, then, otherwise } => {
            let condition = truth(context, condition);
            let (then, otherwise) = (operand(context, then), operand(context, otherwise));
            operators::branch(context, condition?, then?, otherwise?)
        }
    }
}

fn operand<'a>(context: &mut Context<'a>, tree: &'a Expression) -> Option<Operand<'a>> {
    let Checked { node, gives } = expression(context, tree)?;
    Some(Operand { tree, node, gives })
}

/// A piece that must give a number.
fn number<'a>(context: &mut Context<'a>, tree: &'a Expression) -> Option<Operand<'a, Kind>> {
    let checked = expression(context, tree)?;
    let (node, gives) = context.number(checked, &tree.span)?;
    Some(Operand { tree, node, gives })
}

/// A piece that must give yes or no.
fn truth<'a>(context: &mut Context<'a>, tree: &'a Expression) -> Option<Node> {
    let checked = expression(context, tree)?;
    context.truth(checked, &tree.span)
}

fn comparison<'a>(
    context: &mut Context<'a>,
    operator: Comparison,
    left: &'a Expression,
    right: &'a Expression,
) -> Option<Checked> {
    if let Some(chosen) = operators::chosen(context, operator, left, right) {
        return chosen;
    }
    let (left, right) = (operand(context, left), operand(context, right));
    operators::comparison(context, operator, left?, right?)
}

/// An argument of the call at `span`: the call's own, or one out of a set.
fn argument<'a>(
    context: &mut Context<'a>,
    argument: &Argument<'a>,
    span: &Span,
) -> Option<Checked> {
    let Some(set) = argument.set else { return value(context, argument) };
    context.enter(PutIn::Argument { set }, span)?;
    let checked = value(context, argument);
    context.leave();
    checked
}

fn value<'a>(context: &mut Context<'a>, argument: &Argument<'a>) -> Option<Checked> {
    let Argument { tree, wanted, .. } = argument;
    let checked = expression(context, tree)?;
    match wanted {
        Wanted::Any => Some(checked),
        Wanted::Number => {
            let (node, kind) = context.number(checked, &tree.span)?;
            Some(Checked::quantity(node, kind))
        }
        Wanted::Truth => context.truth(checked, &tree.span).map(Checked::truth),
        Wanted::Kind(kind) => {
            context.fit(&checked, *kind, &tree.span);
            Some(checked)
        }
    }
}

fn call<'a>(context: &mut Context<'a>, call: Call<'a>) -> Option<Checked> {
    let arguments = call.arguments.iter();
    let values: Vec<Option<Checked>> =
        arguments.map(|one| argument(context, one, call.span)).collect();
    if let Callee::Relation { name, given, body } = call.callee {
        context.enter(PutIn::Relation { name, given, values }, call.span)?;
        let checked = expression(context, body);
        context.leave();
        return checked;
    }
    let values: Option<Vec<Checked>> = values.into_iter().collect();
    results::result(context, &call, values?)
}
