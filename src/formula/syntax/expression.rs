//! A formula as it is written: the tree that the parser builds, names not yet looked up.

use super::fault::Span;
use crate::quantity::Unit;

/// A piece of a formula with its place in the text.
#[derive(Debug, Clone, PartialEq)]
pub struct Expression {
    pub span: Span,
    pub form: Form,
}

/// What a piece of a formula is.
#[derive(Debug, Clone, PartialEq)]
pub enum Form {
    /// A number with or without a unit; the value in the unit as written.
    Literal {
        value: f64,
        unit: Option<Unit>,
        uncertainty: Option<Spread>,
    },
    /// `yes` or `no`.
    Bool(bool),
    Name(String),
    Call {
        function: String,
        name_span: Span,
        arguments: Vec<Argument>,
    },
    Negated(Box<Expression>),
    Not(Box<Expression>),
    Arithmetic {
        operator: Arithmetic,
        left: Box<Expression>,
        right: Box<Expression>,
    },
    Comparison {
        operator: Comparison,
        left: Box<Expression>,
        right: Box<Expression>,
    },
    And {
        left: Box<Expression>,
        right: Box<Expression>,
    },
    Or {
        left: Box<Expression>,
        right: Box<Expression>,
    },
    IfElse {
        condition: Box<Expression>,
        then: Box<Expression>,
        otherwise: Box<Expression>,
    },
}

/// One argument of a call, with its name where it was given one.
#[derive(Debug, Clone, PartialEq)]
pub struct Argument {
    pub name: Option<(String, Span)>,
    pub value: Expression,
}

/// What stands behind `±`: one standard uncertainty.
#[derive(Debug, Clone, PartialEq)]
pub enum Spread {
    /// In a unit of its own, or in the value's.
    Amount { size: f64, unit: Option<Unit> },
    /// `± 2 %`: as a fraction of the value.
    Relative(f64),
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Arithmetic {
    Add,
    Subtract,
    Multiply,
    Divide,
    Power,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Comparison {
    Less,
    LessOrEqual,
    Greater,
    GreaterOrEqual,
    Equal,
    Unequal,
}

impl Comparison {
    /// The same comparison with its sides exchanged.
    #[must_use]
    pub fn flipped(self) -> Self {
        match self {
            Self::Less => Self::Greater,
            Self::LessOrEqual => Self::GreaterOrEqual,
            Self::Greater => Self::Less,
            Self::GreaterOrEqual => Self::LessOrEqual,
            same => same,
        }
    }

    /// Whether it holds for a difference left − right that is known exactly.
    #[must_use]
    pub fn holds(self, difference: f64) -> bool {
        match self {
            Self::Less => difference < 0.0,
            Self::LessOrEqual => difference <= 0.0,
            Self::Greater => difference > 0.0,
            Self::GreaterOrEqual => difference >= 0.0,
            Self::Equal => difference == 0.0,
            Self::Unequal => difference != 0.0,
        }
    }
}

impl Expression {
    /// Every function or relation that is called, in the order of the text.
    #[must_use]
    pub fn calls(&self) -> Vec<(&str, &Span)> {
        let mut found = Vec::new();
        self.walk(&mut |part| {
            if let Form::Call { function, name_span, .. } = &part.form {
                found.push((function.as_str(), name_span));
            }
        });
        found
    }

    /// Every name that is read, called functions left out, in the order of the text.
    #[must_use]
    pub fn names(&self) -> Vec<(&str, &Span)> {
        let mut found = Vec::new();
        self.walk(&mut |part| {
            if let Form::Name(name) = &part.form {
                found.push((name.as_str(), &part.span));
            }
        });
        found
    }

    /// This piece and all below it, in the order of the text.
    pub fn walk<'a>(&'a self, visit: &mut dyn FnMut(&'a Self)) {
        visit(self);
        match &self.form {
            Form::Literal { .. } | Form::Bool(_) | Form::Name(_) => {}
            Form::Call { arguments, .. } => {
                for argument in arguments {
                    argument.value.walk(visit);
                }
            }
            Form::Negated(inner) | Form::Not(inner) => inner.walk(visit),
            Form::Arithmetic { left, right, .. }
            | Form::Comparison { left, right, .. }
            | Form::And { left, right }
            | Form::Or { left, right } => {
                left.walk(visit);
                right.walk(visit);
            }
            Form::IfElse { condition, then, otherwise } => {
                condition.walk(visit);
                then.walk(visit);
                otherwise.walk(visit);
            }
        }
    }
}
