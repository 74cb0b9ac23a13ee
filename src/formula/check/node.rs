//! A checked formula: names turned into variables, units into SI.

use crate::formula::functions::Function;
use crate::formula::syntax::expression::{Arithmetic, Comparison};
use crate::quantity::Kind;

/// Where a named value stands: the index of a question, a working or a curve's variable in the
/// table that the caller keeps.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct VarId(pub usize);

/// A truth that formulas can name: its index in the table that the caller keeps.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct TruthId(pub usize);

/// What a formula gives.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Type {
    Quantity(Kind),
    Bool,
    /// One of a choice question's options; can only be compared.
    Choice(VarId),
    /// A table question; can only be read with `interpolate`.
    Table(VarId),
}

/// Functions that work on numbers of any kind.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Math {
    Least,
    /// The least of those that are known.
    LeastKnown,
    Greatest,
    Magnitude,
    SquareRoot,
    NaturalLogarithm,
    Exponential,
}

/// A piece of a checked formula. Numbers are in coherent SI.
#[derive(Debug, Clone, PartialEq)]
pub enum Node {
    Number(f64),
    /// A literal with `±`: the n-th uncertain input of its formula's own.
    Spread {
        value: f64,
        uncertainty: f64,
        index: usize,
    },
    Read(VarId),
    Call {
        function: &'static Function,
        arguments: Vec<Node>,
    },
    Math {
        operation: Math,
        arguments: Vec<Node>,
    },
    /// The other column of a two-column table, where the first stands at a value.
    Interpolate {
        table: VarId,
        along: usize,
        at: Box<Node>,
    },
    /// The chance that `value` lies between limits that are given; what it gives carries no
    /// uncertainty of its own.
    Chance {
        value: Box<Node>,
        lower: Option<Box<Node>>,
        upper: Option<Box<Node>>,
        index: usize,
    },
    Negated(Box<Node>),
    Arithmetic {
        operator: Arithmetic,
        left: Box<Node>,
        right: Box<Node>,
    },
    IfElse {
        condition: Box<Node>,
        then: Box<Node>,
        otherwise: Box<Node>,
    },
    Bool(bool),
    /// What the rules left out: never known.
    LeftOut,
    /// A yes-or-no answer.
    Answered(VarId),
    /// Whether a choice's answer is this option.
    Chosen {
        variable: VarId,
        option: usize,
    },
    /// Whether a person answered it.
    Known(VarId),
    /// A value as it was when a question was last answered, unless one of those kept has been
    /// touched since. What that was is put in its place by whoever knows the past; without one
    /// it is the value as it is.
    AsOf {
        value: Box<Node>,
        of: VarId,
        kept: Vec<VarId>,
    },
    /// A value as it was when a question was first answered, put in as in [`Self::AsOf`].
    AtFirst {
        value: Box<Node>,
        of: VarId,
    },
    Compared {
        operator: Comparison,
        left: Box<Node>,
        right: Box<Node>,
    },
    /// Whether a reading is as it should be with a cause present rather than without it: told by how
    /// dense its values lie there in either case, over all that is uncertain. `good_to` is one standard
    /// uncertainty of both formulas, SI.
    ReadsAs {
        reading: VarId,
        with: Box<Node>,
        without: Box<Node>,
        good_to: f64,
    },
    /// A truth that has a name of its own, written out here.
    Named {
        name: TruthId,
        truth: Box<Node>,
    },
    Iff {
        left: Box<Node>,
        right: Box<Node>,
    },
    And(Box<Node>, Box<Node>),
    Or(Box<Node>, Box<Node>),
    Not(Box<Node>),
}

/// Hands every piece right below a node to a closure; one list for both kinds of reference.
macro_rules! each_part {
    ($node:expr, $visit:expr) => {
        match $node {
            Self::Number(_)
            | Self::Spread { .. }
            | Self::Read(_)
            | Self::Bool(_)
            | Self::LeftOut
            | Self::Answered(_)
            | Self::Chosen { .. }
            | Self::Known(_) => {}
            Self::Call { arguments, .. } | Self::Math { arguments, .. } => {
                for argument in arguments {
                    $visit(argument);
                }
            }
            Self::Chance { value, lower, upper, .. } => {
                $visit(value);
                for limit in [lower, upper].into_iter().flatten() {
                    $visit(limit);
                }
            }
            Self::Interpolate { at: inner, .. }
            | Self::Negated(inner)
            | Self::Not(inner)
            | Self::Named { truth: inner, .. }
            | Self::AsOf { value: inner, .. }
            | Self::AtFirst { value: inner, .. } => $visit(inner),
            Self::Arithmetic { left, right, .. }
            | Self::Compared { left, right, .. }
            | Self::ReadsAs { with: left, without: right, .. }
            | Self::Iff { left, right }
            | Self::And(left, right)
            | Self::Or(left, right) => {
                $visit(left);
                $visit(right);
            }
            Self::IfElse { condition, then, otherwise } => {
                $visit(condition);
                $visit(then);
                $visit(otherwise);
            }
        }
    };
}

impl Node {
    /// Visits the pieces right below this one, in the order of the text.
    pub fn each_part<'a>(&'a self, visit: &mut dyn FnMut(&'a Self)) {
        each_part!(self, visit);
    }

    /// The same, to be changed.
    fn each_part_mut(&mut self, visit: &mut dyn FnMut(&mut Self)) {
        each_part!(self, visit);
    }

    /// The value of a piece that holds nothing but numbers.
    #[must_use]
    pub fn fixed(&self) -> Option<f64> {
        let value = match self {
            Self::Number(value) => *value,
            Self::Negated(inner) => -inner.fixed()?,
            Self::Arithmetic { operator, left, right } => {
                let (left, right) = (left.fixed()?, right.fixed()?);
                match operator {
                    Arithmetic::Add => left + right,
                    Arithmetic::Subtract => left - right,
                    Arithmetic::Multiply => left * right,
                    Arithmetic::Divide => left / right,
                    Arithmetic::Power => return None,
                }
            }
            _ => return None,
        };
        Some(value).filter(|value| value.is_finite())
    }

    /// How many pieces stand here and below, and how deep they go; a single piece is 1 deep.
    #[must_use]
    pub fn extent(&self) -> (usize, usize) {
        let (mut pieces, mut deep) = (0, 0);
        self.each_part(&mut |part| {
            let below = part.extent();
            pieces += below.0;
            deep = deep.max(below.1);
        });
        // A name stands for what it names.
        let own = usize::from(!matches!(self, Self::Named { .. }));
        (pieces + own, deep + own)
    }

    /// This piece and all below it, to be changed.
    pub(crate) fn walk_mut(&mut self, visit: &mut dyn FnMut(&mut Self)) {
        visit(self);
        self.each_part_mut(&mut |part| part.walk_mut(visit));
    }

    /// This piece and all below it.
    pub fn walk<'a>(&'a self, visit: &mut dyn FnMut(&'a Node)) {
        visit(self);
        self.each_part(&mut |part| part.walk(visit));
    }

    /// This piece with a number put where a variable is read.
    #[must_use]
    pub fn with(&self, variable: VarId, value: f64) -> Self {
        let mut put = self.clone();
        put.walk_mut(&mut |part| {
            if *part == Self::Read(variable) {
                *part = Self::Number(value);
            }
        });
        put
    }

    /// This piece with others put in place of those for which there is one.
    #[must_use]
    pub fn replaced(&self, other: &mut dyn FnMut(&Self) -> Option<Self>) -> Self {
        let mut put = self.clone();
        put.replace(other);
        put
    }

    /// Puts others in place of the pieces for which there is one; what was put is not looked into.
    fn replace(&mut self, other: &mut dyn FnMut(&Self) -> Option<Self>) {
        match other(self) {
            Some(other) => *self = other,
            None => self.each_part_mut(&mut |part| part.replace(other)),
        }
    }

    /// This piece as a formula of its own, its literals with `±` and chances numbered afresh.
    pub(crate) fn alone(&self) -> Formula {
        let mut node = self.clone();
        let (mut spreads, mut chances) = (Vec::new(), 0);
        node.walk_mut(&mut |part| match part {
            Self::Spread { value, uncertainty, index } => {
                *index = spreads.len();
                spreads.push((*value, *uncertainty));
            }
            Self::Chance { index, .. } => chances = chances.max(*index + 1),
            _ => {}
        });
        let text = format!("{node:?}");
        Formula { text, node, gives: Type::Quantity(Kind::NUMBER), spreads, chances }
    }

    /// The variables read here and below, each once, in order of first appearance.
    #[must_use]
    pub fn reads(&self) -> Vec<VarId> {
        let mut found = Vec::new();
        self.walk(&mut |node| {
            if let Some(variable) = node.own_read()
                && !found.contains(&variable)
            {
                found.push(variable);
            }
        });
        found
    }

    /// The variable that this piece itself reads, not those below it.
    pub(crate) fn own_read(&self) -> Option<VarId> {
        match self {
            Self::Read(variable)
            | Self::Answered(variable)
            | Self::Known(variable)
            | Self::Chosen { variable, .. }
            | Self::ReadsAs { reading: variable, .. }
            | Self::Interpolate { table: variable, .. } => Some(*variable),
            _ => None,
        }
    }
}

/// A formula that was checked, with the text it was read from.
#[derive(Debug, Clone, PartialEq)]
pub struct Formula {
    pub text: String,
    pub node: Node,
    pub gives: Type,
    /// Value and standard uncertainty of each literal with `±`, in the order of their index.
    pub spreads: Vec<(f64, f64)>,
    /// How many [`Node::Chance`] it holds.
    pub chances: usize,
}

impl Formula {
    /// The kind of the number it gives, if it gives one.
    #[must_use]
    pub fn kind(&self) -> Option<Kind> {
        match self.gives {
            Type::Quantity(kind) => Some(kind),
            _ => None,
        }
    }

    /// The chances it asks for, each once with its index, inner ones before those they stand in: the
    /// checker numbers the inner ones lower.
    pub(crate) fn chance_nodes(&self) -> Vec<(usize, &Node)> {
        let mut found: Vec<(usize, &Node)> = Vec::new();
        if self.chances > 0 {
            self.node.walk(&mut |part| {
                if let Node::Chance { index, .. } = part {
                    found.push((*index, part));
                }
            });
        }
        // A relation may put one and the same chance in more than once.
        found.sort_by_key(|(index, _)| *index);
        found.dedup_by_key(|(index, _)| *index);
        found
    }
}
