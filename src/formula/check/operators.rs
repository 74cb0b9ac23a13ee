//! Operators: which kinds they take and what they make of them; choices and their options.

use super::checker::{Checked, Checker, owned};
use super::kinds;
use super::names::{Meaning, nearest};
use super::node::{Node, Type, VarId};
use crate::formula::syntax::expression::{Arithmetic, Comparison, Expression, Form};
use crate::formula::syntax::fault::{Fault, Span};
use crate::formula::syntax::{Clash, Mistake};
use crate::quantity::Kind;

impl<'a> Checker<'a> {
    /// A number without its unit where a unit belongs, the commonest slip of all.
    fn unit_forgotten(&mut self, left: (&Expression, Kind), right: (&Expression, Kind)) -> bool {
        fn unitless(form: &Form) -> bool {
            match form {
                Form::Literal { unit, .. } => unit.is_none(),
                Form::Negated(inner) => unitless(&inner.form),
                _ => false,
            }
        }
        let bare = |(tree, kind): (&Expression, Kind)| kind == Kind::NUMBER && unitless(&tree.form);
        let (number, other) = match (bare(left), bare(right)) {
            (false, true) => (right, left),
            (true, false) => (left, right),
            _ => return false,
        };
        let fault = Fault::new(number.0.span.clone(), Mistake::UnitForgotten { wanted: other.1 });
        self.report(fault.against(other.0.span.clone(), other.1.to_string()));
        true
    }

    fn clash_between(&mut self, clash: Clash, left: (&Span, Kind), right: (&Span, Kind)) {
        let fault = Fault::new(right.0.clone(), Mistake::Clash { clash, found: right.1 });
        self.report(fault.against(left.0.clone(), left.1.to_string()));
    }

    pub(crate) fn arithmetic(
        &mut self,
        operator: Arithmetic,
        left: &'a Expression,
        right: &'a Expression,
    ) -> Option<Checked> {
        if operator == Arithmetic::Power {
            return self.power(left, right);
        }
        let (a, b) = (self.number(left), self.number(right));
        let ((left_node, left_kind), (right_node, right_kind)) = (a?, b?);
        let kind = match operator {
            Arithmetic::Add | Arithmetic::Subtract => kinds::sum(operator, left_kind, right_kind),
            _ => kinds::product(operator, left_kind, right_kind),
        };
        match kind {
            Ok(kind) => Some(Checked::quantity(
                Node::Arithmetic {
                    operator,
                    left: Box::new(left_node),
                    right: Box::new(right_node),
                },
                kind,
            )),
            Err(clash) => {
                if !self.unit_forgotten((left, left_kind), (right, right_kind)) {
                    self.clash_between(clash, (&left.span, left_kind), (&right.span, right_kind));
                }
                None
            }
        }
    }

    fn power(&mut self, base: &'a Expression, exponent: &'a Expression) -> Option<Checked> {
        let (a, b) = (self.number(base), self.number(exponent));
        let ((base_node, base_kind), (exponent_node, exponent_kind)) = (a?, b?);
        if exponent_kind != Kind::NUMBER {
            return self.refuse(&exponent.span, Mistake::UnitInExponent { found: exponent_kind });
        }
        let kind = if base_kind == Kind::NUMBER {
            Kind::NUMBER
        } else {
            let Some(fixed) = exponent_node.fixed() else {
                return self.refuse(&base.span, Mistake::UnitInBase { found: base_kind });
            };
            match kinds::power(base_kind, fixed) {
                Ok(kind) => kind,
                Err(clash) => {
                    return self.refuse(&base.span, Mistake::Clash { clash, found: base_kind });
                }
            }
        };
        let (left, right) = (Box::new(base_node), Box::new(exponent_node));
        Some(Checked::quantity(Node::Arithmetic { operator: Arithmetic::Power, left, right }, kind))
    }

    pub(crate) fn comparison(
        &mut self,
        operator: Comparison,
        left: &'a Expression,
        right: &'a Expression,
    ) -> Option<Checked> {
        if let Some(chosen) = self.chosen(operator, left, right) {
            return chosen;
        }
        let (a, b) = (self.expression(left), self.expression(right));
        let (a, b) = (a?, b?);
        let equality = matches!(operator, Comparison::Equal | Comparison::Unequal);
        match (a.gives, b.gives) {
            (Type::Quantity(left_kind), Type::Quantity(right_kind)) => {
                if let Err(clash) = kinds::unify(left_kind, right_kind) {
                    if !self.unit_forgotten((left, left_kind), (right, right_kind)) {
                        let (left, right) = ((&left.span, left_kind), (&right.span, right_kind));
                        self.clash_between(clash, left, right);
                    }
                    return None;
                }
                let (left, right) = (Box::new(a.node), Box::new(b.node));
                Some(Checked::truth(Node::Compared { operator, left, right }))
            }
            (Type::Bool, Type::Bool) if equality => {
                let same = Node::Iff { left: Box::new(a.node), right: Box::new(b.node) };
                Some(Checked::truth(negated_if(operator == Comparison::Unequal, same)))
            }
            (Type::Table(_), _) | (_, Type::Table(_)) => {
                let table = if matches!(a.gives, Type::Table(_)) { left } else { right };
                self.refuse(&table.span, Mistake::ComparedTable)
            }
            (Type::Choice(_), _) | (_, Type::Choice(_)) => {
                self.refuse(&(left.span.start..right.span.end), Mistake::ComparedChoice)
            }
            _ => self.refuse(&(left.span.start..right.span.end), Mistake::Incomparable),
        }
    }

    /// `choice == option`, either way round; `None` when neither side is a bare choice.
    fn chosen(
        &mut self,
        operator: Comparison,
        left: &'a Expression,
        right: &'a Expression,
    ) -> Option<Option<Checked>> {
        let (variable, options, other) = match (self.bare_choice(left), self.bare_choice(right)) {
            (Some((variable, options)), _) => (variable, options, right),
            (None, Some((variable, options))) => (variable, options, left),
            (None, None) => return None,
        };
        let unequal = match operator {
            Comparison::Equal => false,
            Comparison::Unequal => true,
            _ => {
                let span = left.span.start..right.span.end;
                return Some(self.refuse(&span, Mistake::OrderedChoice));
            }
        };
        let Form::Name(word) = &other.form else {
            return Some(self.refuse(&other.span, Mistake::NoOption { options: owned(&options) }));
        };
        let Some(option) = options.iter().position(|option| option == word) else {
            let near = nearest(word, options.iter().copied()).map(str::to_owned);
            let mistake =
                Mistake::UnknownOption { word: word.clone(), near, options: owned(&options) };
            return Some(self.refuse(&other.span, mistake));
        };
        Some(Some(Checked::truth(negated_if(unequal, Node::Chosen { variable, option }))))
    }

    fn bare_choice(&self, tree: &Expression) -> Option<(VarId, Vec<&'a str>)> {
        let Form::Name(name) = &tree.form else { return None };
        if self.is_parameter(name) {
            return None;
        }
        match self.names.find(name) {
            Some(Meaning::Choice { variable, options }) => Some((variable, options)),
            _ => None,
        }
    }

    pub(crate) fn branch(
        &mut self,
        condition: &'a Expression,
        then: &'a Expression,
        otherwise: &'a Expression,
    ) -> Option<Checked> {
        let condition = self.truth(condition);
        let (a, b) = (self.expression(then), self.expression(otherwise));
        let (condition, a, b) = (condition?, a?, b?);
        let gives = match (a.gives, b.gives) {
            (Type::Quantity(left), Type::Quantity(right)) => match kinds::unify(left, right) {
                Ok(kind) => Type::Quantity(kind),
                Err(clash) => {
                    self.clash_between(clash, (&then.span, left), (&otherwise.span, right));
                    return None;
                }
            },
            (Type::Bool, Type::Bool) => Type::Bool,
            _ => return self.refuse(&otherwise.span, Mistake::UnlikeBranches),
        };
        let node = Node::IfElse {
            condition: Box::new(condition),
            then: Box::new(a.node),
            otherwise: Box::new(b.node),
        };
        Some(Checked { node, gives })
    }
}

fn negated_if(negate: bool, node: Node) -> Node {
    if negate { Node::Not(Box::new(node)) } else { node }
}
