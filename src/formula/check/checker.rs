//! A tree to a checked formula: every name looked up, every dimension and kind checked, relations
//! put in place of their calls. All mistakes of a formula are reported, not just the first.
//!
//! What operators make of kinds is left to [`super::operators`], calls to [`super::calls`].

use super::calls;
use super::kinds;
use super::names::{Meaning, Names, nearest};
use super::node::{Formula, Node, Type};
use crate::formula::functions::find;
use crate::formula::syntax::expression::{Expression, Form, Spread};
use crate::formula::syntax::fault::{Fault, Span};
use crate::formula::syntax::{Found, Mistake, parse};
use crate::quantity::{Kind, Reading, Unit, is_symbol};

/// The most pieces one formula may come to once its relations are put in.
const MAX_NODES: usize = 20_000;
/// How deep relations may call one another.
const MAX_RELATION_DEPTH: usize = 16;
/// How deep a checked formula may be, its relations put in. Checking, working out and weighing all
/// go down it by recursion, so this bounds the stack they take.
const MAX_NODE_DEPTH: usize = 250;

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
    let mut checker = Checker::new(names);
    let checked = checker.expression(tree);
    if let (Some(checked), Some(wanted)) = (&checked, wanted) {
        checker.fit(checked, wanted, &tree.span);
    }
    match checked {
        Some(Checked { node, gives }) if checker.faults.is_empty() && !checker.depends_on_error => {
            Ok(Formula {
                text: text.to_owned(),
                node,
                gives: kind_of_place(gives, wanted),
                spreads: checker.spreads,
                chances: checker.chances,
            })
        }
        _ => Err(checker.faults),
    }
}

/// A result without a kind of its own takes the one its place asks for.
fn kind_of_place(gives: Type, wanted: Option<Kind>) -> Type {
    match (gives, wanted) {
        (Type::Quantity(kind), Some(wanted)) if kind.reading == Reading::Plain => {
            Type::Quantity(wanted)
        }
        (gives, _) => gives,
    }
}

/// A checked piece and what it gives.
#[derive(Debug, Clone)]
pub(crate) struct Checked {
    pub(crate) node: Node,
    pub(crate) gives: Type,
}

impl Checked {
    pub(crate) fn quantity(node: Node, kind: Kind) -> Self {
        Self { node, gives: Type::Quantity(kind) }
    }

    pub(crate) fn truth(node: Node) -> Self {
        Self { node, gives: Type::Bool }
    }
}

/// What is being put in at a call: a relation with its parameters, or an argument of a set.
struct Frame<'a> {
    given: &'a [String],
    values: Vec<Option<Checked>>,
    name: &'a str,
    /// `relation` or `arguments`.
    what: &'static str,
    /// Where the outermost call stands; a fault inside the relation is reported there.
    call: Span,
}

pub(crate) struct Checker<'a> {
    pub(crate) names: &'a dyn Names,
    pub(crate) faults: Vec<Fault>,
    frames: Vec<Frame<'a>>,
    spreads: Vec<(f64, f64)>,
    pub(crate) chances: usize,
    nodes: usize,
    /// How deep the piece at hand lies in the formula.
    level: usize,
    /// That the formula is too large was said; once is enough.
    overflowed: bool,
    /// Something it reads is faulty itself, so nothing more can be said.
    depends_on_error: bool,
}

impl<'a> Checker<'a> {
    fn new(names: &'a dyn Names) -> Self {
        Self {
            names,
            faults: Vec::new(),
            frames: Vec::new(),
            spreads: Vec::new(),
            chances: 0,
            nodes: 0,
            level: 0,
            overflowed: false,
            depends_on_error: false,
        }
    }

    /// Notes a fault; inside what is put in it is placed at the call, naming that.
    pub(crate) fn report(&mut self, mut fault: Fault) {
        if let Some(frame) = self.frames.last() {
            fault.within = Some(format!("{} {}", frame.what, frame.name));
            fault.span = frame.call.clone();
            fault.other = None;
        }
        if !self.faults.contains(&fault) {
            self.faults.push(fault);
        }
    }

    /// Notes a mistake in a piece that so gives nothing.
    pub(crate) fn refuse<T>(&mut self, span: &Span, mistake: Mistake) -> Option<T> {
        self.report(Fault::new(span.clone(), mistake));
        None
    }

    pub(crate) fn expression(&mut self, tree: &'a Expression) -> Option<Checked> {
        if !self.has_room(1, 1, &tree.span) {
            return None;
        }
        self.nodes += 1;
        self.level += 1;
        let checked = self.piece(tree);
        self.level -= 1;
        checked
    }

    /// Whether so many more pieces, so deep in themselves, may stand at this place.
    fn has_room(&mut self, pieces: usize, deep: usize, span: &Span) -> bool {
        let mistake = if self.level + deep > MAX_NODE_DEPTH {
            Mistake::TooManySteps { most: MAX_NODE_DEPTH }
        } else if self.nodes + pieces > MAX_NODES {
            Mistake::TooManyPieces { most: MAX_NODES }
        } else {
            return true;
        };
        if !self.overflowed {
            self.overflowed = true;
            self.report(Fault::new(span.clone(), mistake));
        }
        false
    }

    /// A piece that was checked before, put in here once more.
    fn inline(&mut self, checked: &Checked, span: &Span) -> Option<Checked> {
        let (pieces, deep) = checked.node.extent();
        if !self.has_room(pieces, deep, span) {
            return None;
        }
        self.nodes += pieces;
        Some(checked.clone())
    }

    fn piece(&mut self, tree: &'a Expression) -> Option<Checked> {
        match &tree.form {
            Form::Literal { value, unit, uncertainty } => {
                self.literal(*value, unit.as_ref(), uncertainty.as_ref(), &tree.span)
            }
            Form::Bool(truth) => Some(Checked::truth(Node::Bool(*truth))),
            Form::Name(name) => self.name(name, &tree.span),
            Form::Call { function, name_span, arguments } => {
                calls::call(self, function, name_span, arguments, &tree.span)
            }
            Form::Negated(inner) => {
                let (node, kind) = self.number(inner)?;
                Some(Checked::quantity(Node::Negated(Box::new(node)), kind))
            }
            Form::Not(inner) => {
                let node = self.truth(inner)?;
                Some(Checked::truth(Node::Not(Box::new(node))))
            }
            Form::Arithmetic { operator, left, right } => self.arithmetic(*operator, left, right),
            Form::Comparison { operator, left, right } => self.comparison(*operator, left, right),
            Form::And { left, right } => {
                let (left, right) = (self.truth(left), self.truth(right));
                Some(Checked::truth(Node::And(Box::new(left?), Box::new(right?))))
            }
            Form::Or { left, right } => {
                let (left, right) = (self.truth(left), self.truth(right));
                Some(Checked::truth(Node::Or(Box::new(left?), Box::new(right?))))
            }
            Form::IfElse { condition, then, otherwise } => self.branch(condition, then, otherwise),
        }
    }

    fn literal(
        &mut self,
        value: f64,
        unit: Option<&Unit>,
        uncertainty: Option<&Spread>,
        span: &Span,
    ) -> Option<Checked> {
        let kind = literal_kind(unit);
        let si = unit.map_or(value, |unit| unit.to_si(value));
        if !si.is_finite() {
            return self.refuse(span, Mistake::NumberTooLarge);
        }
        let Some(spread) = uncertainty else {
            return Some(Checked::quantity(Node::Number(si), kind));
        };
        let uncertainty = match spread {
            Spread::Relative(_) if unit.is_some_and(Unit::is_point) => {
                return self.refuse(span, Mistake::ShareOfPoint);
            }
            Spread::Relative(fraction) => (value * fraction).abs() * unit.map_or(1.0, Unit::scale),
            Spread::Amount { size, unit: own } => {
                let own = own.as_ref().or(unit);
                if own.map_or(Kind::NUMBER.dimension, Unit::dimension) != kind.dimension {
                    return self.refuse(span, Mistake::SpreadOfOtherDimension);
                }
                size * own.map_or(1.0, Unit::scale)
            }
        };
        if !uncertainty.is_finite() {
            return self.refuse(span, Mistake::SpreadTooLarge);
        }
        let index = self.spreads.len();
        self.spreads.push((si, uncertainty));
        Some(Checked::quantity(Node::Spread { value: si, uncertainty, index }, kind))
    }

    fn name(&mut self, name: &str, span: &Span) -> Option<Checked> {
        if let Some(frame) = self.frames.last()
            && let Some(place) = frame.given.iter().position(|given| given == name)
        {
            // A parameter whose argument was faulty has been reported at the call.
            let value = frame.values.get(place).cloned().flatten()?;
            return self.inline(&value, span);
        }
        match self.names.find(name) {
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
                let truth = self.inline(&Checked::truth(node.clone()), span)?;
                let node = self.renumbered(truth.node);
                Some(Checked::truth(match id {
                    Some(name) => Node::Named { name, truth: Box::new(node) },
                    None => node,
                }))
            }
            Some(Meaning::Faulty) => self.depends_on_error(),
            Some(Meaning::Later) => {
                self.refuse(span, Mistake::RestsOnFindings { name: name.to_owned() })
            }
            Some(Meaning::Arguments { .. }) => {
                self.refuse(span, Mistake::LooseArguments { set: name.to_owned() })
            }
            Some(Meaning::Relation { given, .. }) => {
                let (name, given) = (name.to_owned(), given.to_vec());
                self.refuse(span, Mistake::UncalledRelation { name, given })
            }
            None => self.unknown_name(name, span),
        }
    }

    /// A node of another formula, its literals with `±` and its chances numbered behind our own.
    fn renumbered(&mut self, mut node: Node) -> Node {
        let (first_spread, first_chance) = (self.spreads.len(), self.chances);
        node.walk_mut(&mut |part| match part {
            Node::Spread { value, uncertainty, index } => {
                *index += first_spread;
                if self.spreads.len() <= *index {
                    self.spreads.resize(*index + 1, (0.0, 0.0));
                }
                self.spreads[*index] = (*value, *uncertainty);
            }
            Node::Chance { index, .. } => {
                *index += first_chance;
                self.chances = self.chances.max(*index + 1);
            }
            _ => {}
        });
        node
    }

    /// Something the formula reads is faulty itself.
    pub(crate) fn depends_on_error<T>(&mut self) -> Option<T> {
        self.depends_on_error = true;
        None
    }

    fn unknown_name<T>(&mut self, name: &str, span: &Span) -> Option<T> {
        let given = self.frames.last().map_or(&[][..], |frame| frame.given);
        let known = self.names.all().into_iter().chain(given.iter().map(String::as_str));
        let help = if is_symbol(name) {
            format!("{name} is a unit: write a number before it")
        } else if let Some(function) = find(name) {
            format!("it is a function: write {}", calls::form(function))
        } else {
            match nearest(name, known) {
                Some(near) => format!("did you mean {near}?"),
                None if matches!(name, "true" | "false") => "write yes or no".to_owned(),
                None => self.names.advice(),
            }
        };
        self.refuse(span, Mistake::UnknownName { name: name.to_owned(), help })
    }

    /// A piece that must give a number.
    pub(crate) fn number(&mut self, tree: &'a Expression) -> Option<(Node, Kind)> {
        let checked = self.expression(tree)?;
        match checked.gives {
            Type::Quantity(kind) => Some((checked.node, kind)),
            other => self.refuse(&tree.span, Mistake::NoNumber { found: found(other) }),
        }
    }

    /// A piece that must give yes or no.
    pub(crate) fn truth(&mut self, tree: &'a Expression) -> Option<Node> {
        let checked = self.expression(tree)?;
        match checked.gives {
            Type::Bool => Some(checked.node),
            other => self.refuse(&tree.span, Mistake::NoTruth { found: found(other) }),
        }
    }

    pub(crate) fn fit(&mut self, checked: &Checked, wanted: Kind, span: &Span) {
        match checked.gives {
            Type::Quantity(kind) => {
                if let Err(clash) = kinds::coerces_to(kind, wanted) {
                    let mistake = Mistake::Misfit { clash, found: kind, wanted };
                    self.report(Fault::new(span.clone(), mistake));
                }
            }
            other => {
                let mistake = Mistake::NoQuantity { wanted, found: found(other) };
                self.report(Fault::new(span.clone(), mistake));
            }
        }
    }

    /// Whether a name is a parameter of the relation at hand.
    pub(crate) fn is_parameter(&self, name: &str) -> bool {
        self.frames.last().is_some_and(|frame| frame.given.iter().any(|given| given == name))
    }

    /// Puts a relation in place of its call.
    pub(crate) fn relation(
        &mut self,
        name: &'a str,
        given: &'a [String],
        body: &'a Expression,
        values: Vec<Option<Checked>>,
        call: &Span,
    ) -> Option<Checked> {
        let frame = Frame { given, values, name, what: "relation", call: call.clone() };
        self.put_in(frame, |checker| checker.expression(body))
    }

    /// Works on an argument of a call: the call's own, or one of a set that it names.
    pub(crate) fn argument<T>(
        &mut self,
        set: Option<&'a str>,
        call: &Span,
        work: impl FnOnce(&mut Self) -> Option<T>,
    ) -> Option<T> {
        let Some(name) = set else { return work(self) };
        let call = call.clone();
        self.put_in(Frame { given: &[], values: Vec::new(), name, what: "arguments", call }, work)
    }

    fn put_in<T>(
        &mut self,
        mut frame: Frame<'a>,
        work: impl FnOnce(&mut Self) -> Option<T>,
    ) -> Option<T> {
        if self.frames.iter().any(|outer| outer.name == frame.name) {
            let relation = frame.name.to_owned();
            return self.refuse(&frame.call, Mistake::CallsItself { relation });
        }
        if self.frames.len() >= MAX_RELATION_DEPTH {
            return self.refuse(&frame.call, Mistake::RelationsTooDeep);
        }
        if let Some(outer) = self.frames.last() {
            frame.call = outer.call.clone();
        }
        self.frames.push(frame);
        let done = work(self);
        self.frames.pop();
        done
    }
}

fn literal_kind(unit: Option<&Unit>) -> Kind {
    match unit {
        None => Kind::NUMBER,
        Some(unit) if unit.is_point() => Kind::TEMPERATURE,
        Some(unit) => Kind::plain(unit.dimension()),
    }
}

fn found(gives: Type) -> Found {
    match gives {
        Type::Quantity(_) => Found::Number,
        Type::Bool => Found::Truth,
        Type::Choice(_) => Found::Choice,
        Type::Table(_) => Found::Table,
    }
}

/// Names to be kept with a mistake.
pub(crate) fn owned(names: &[&str]) -> Vec<String> {
    names.iter().map(|name| (*name).to_owned()).collect()
}
