//! Operators: which kinds they take and what they make of them; choices and their options.

use super::checked::{Checked, Operand, owned};
use super::context::Context;
use super::kinds;
use super::names::{Meaning, nearest};
use super::node::{Node, Type, VarId};
use crate::formula::syntax::expression::{Arithmetic, Comparison, Expression, Form};
use crate::formula::syntax::fault::{Fault, Span};
use crate::formula::syntax::{Clash, Mistake};
use crate::quantity::Kind;

/// A piece of a formula and the kind of number it gives.
type Side<'a> = (&'a Expression, Kind);

pub(super) fn arithmetic(
    context: &mut Context,
    operator: Arithmetic,
    left: Operand<'_, Kind>,
    right: Operand<'_, Kind>,
) -> Option<Checked> {
    let kind = match operator {
        Arithmetic::Power => Ok(power(context, &left, &right)?),
        Arithmetic::Add | Arithmetic::Subtract => kinds::sum(operator, left.gives, right.gives),
        _ => kinds::product(operator, left.gives, right.gives),
    };
    let sides = ((left.tree, left.gives), (right.tree, right.gives));
    let kind = agreed(context, kind, sides)?;
    let (left, right) = (Box::new(left.node), Box::new(right.node));
    Some(Checked::quantity(Node::Arithmetic { operator, left, right }, kind))
}

fn power(
    context: &mut Context,
    base: &Operand<'_, Kind>,
    exponent: &Operand<'_, Kind>,
) -> Option<Kind> {
    let found = base.gives;
    if exponent.gives != Kind::NUMBER {
        let mistake = Mistake::UnitInExponent { found: exponent.gives };
        return context.refuse(&exponent.tree.span, mistake);
    }
    if found == Kind::NUMBER {
        return Some(Kind::NUMBER);
    }
    let mistake = match exponent.node.fixed().map(|exponent| kinds::power(found, exponent)) {
        Some(Ok(kind)) => return Some(kind),
        Some(Err(clash)) => Mistake::Clash { clash, found },
        None => Mistake::UnitInBase { found },
    };
    context.refuse(&base.tree.span, mistake)
}

pub(super) fn comparison(
    context: &mut Context,
    operator: Comparison,
    left: Operand<'_>,
    right: Operand<'_>,
) -> Option<Checked> {
    let equality = matches!(operator, Comparison::Equal | Comparison::Unequal);
    let span = left.tree.span.start..right.tree.span.end;
    match (left.gives, right.gives) {
        (Type::Quantity(left_kind), Type::Quantity(right_kind)) => {
            let kind = kinds::unify(left_kind, right_kind);
            agreed(context, kind, ((left.tree, left_kind), (right.tree, right_kind)))?;
            let (left, right) = (Box::new(left.node), Box::new(right.node));
            Some(Checked::truth(Node::Compared { operator, left, right }))
        }
        (Type::Bool, Type::Bool) if equality => {
            let same = Node::Iff { left: Box::new(left.node), right: Box::new(right.node) };
            Some(Checked::truth(negated_if(operator == Comparison::Unequal, same)))
        }
        (Type::Table(_), _) => context.refuse(&left.tree.span, Mistake::ComparedTable),
        (_, Type::Table(_)) => context.refuse(&right.tree.span, Mistake::ComparedTable),
        (Type::Choice(_), _) | (_, Type::Choice(_)) => {
            context.refuse(&span, Mistake::ComparedChoice)
        }
        _ => context.refuse(&span, Mistake::Incomparable),
    }
}

/// The kind that both sides agree on. Where they don't, a unit was forgotten or they clash.
fn agreed(
    context: &mut Context,
    kind: Result<Kind, Clash>,
    (left, right): (Side, Side),
) -> Option<Kind> {
    let clash = match kind {
        Ok(kind) => return Some(kind),
        Err(clash) => clash,
    };
    let fault = unit_forgotten(left, right).unwrap_or_else(|| clash_between(clash, left, right));
    context.report(fault);
    None
}

/// A number without its unit where a unit belongs, the commonest slip of all.
fn unit_forgotten(left: Side, right: Side) -> Option<Fault> {
    fn unitless(form: &Form) -> bool {
        match form {
            Form::Literal { unit, .. } => unit.is_none(),
            Form::Negated(inner) => unitless(&inner.form),
            _ => false,
        }
    }
    let bare = |(tree, kind): Side| kind == Kind::NUMBER && unitless(&tree.form);
    let (number, other) = match (bare(left), bare(right)) {
        (false, true) => (right, left),
        (true, false) => (left, right),
        _ => return None,
    };
    let fault = Fault::new(number.0.span.clone(), Mistake::UnitForgotten { wanted: other.1 });
    Some(fault.against(other.0.span.clone(), other.1.to_string()))
}

fn clash_between(clash: Clash, left: Side, right: Side) -> Fault {
    let fault = Fault::new(right.0.span.clone(), Mistake::Clash { clash, found: right.1 });
    fault.against(left.0.span.clone(), left.1.to_string())
}

/// `choice == option`, either way round; `None` when neither side is a bare choice.
pub(super) fn chosen(
    context: &mut Context,
    operator: Comparison,
    left: &Expression,
    right: &Expression,
) -> Option<Option<Checked>> {
    let (variable, options, other) = match (bare_choice(context, left), bare_choice(context, right))
    {
        (Some((variable, options)), _) => (variable, options, right),
        (None, Some((variable, options))) => (variable, options, left),
        (None, None) => return None,
    };
    let span: Span = left.span.start..right.span.end;
    Some(option_chosen(context, operator, (variable, &options), other, &span))
}

fn option_chosen(
    context: &mut Context,
    operator: Comparison,
    (variable, options): (VarId, &[&str]),
    other: &Expression,
    span: &Span,
) -> Option<Checked> {
    let unequal = match operator {
        Comparison::Equal => false,
        Comparison::Unequal => true,
        _ => return context.refuse(span, Mistake::OrderedChoice),
    };
    let Form::Name(word) = &other.form else {
        return context.refuse(&other.span, Mistake::NoOption { options: owned(options) });
    };
    let Some(option) = options.iter().position(|option| option == word) else {
        let near = nearest(word, options.iter().copied()).map(str::to_owned);
        let (word, options) = (word.clone(), owned(options));
        return context.refuse(&other.span, Mistake::UnknownOption { word, near, options });
    };
    Some(Checked::truth(negated_if(unequal, Node::Chosen { variable, option })))
}

fn bare_choice<'a>(context: &Context<'a>, tree: &Expression) -> Option<(VarId, Vec<&'a str>)> {
    let Form::Name(name) = &tree.form else { return None };
    if context.is_parameter(name) {
        return None;
    }
    match context.meaning(name) {
        Some(Meaning::Choice { variable, options }) => Some((variable, options)),
        _ => None,
    }
}

pub(super) fn branch(
    context: &mut Context,
    condition: Node,
    then: Operand<'_>,
    otherwise: Operand<'_>,
) -> Option<Checked> {
    let gives = match (then.gives, otherwise.gives) {
        (Type::Quantity(left), Type::Quantity(right)) => match kinds::unify(left, right) {
            Ok(kind) => Type::Quantity(kind),
            Err(clash) => {
                context.report(clash_between(clash, (then.tree, left), (otherwise.tree, right)));
                return None;
            }
        },
        (Type::Bool, Type::Bool) => Type::Bool,
        _ => return context.refuse(&otherwise.tree.span, Mistake::UnlikeBranches),
    };
    let node = Node::IfElse {
        condition: Box::new(condition),
        then: Box::new(then.node),
        otherwise: Box::new(otherwise.node),
    };
    Some(Checked { node, gives })
}

fn negated_if(negate: bool, node: Node) -> Node {
    if negate { Node::Not(Box::new(node)) } else { node }
}
