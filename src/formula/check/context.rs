//! What the check of one formula remembers on its way down: the names it knows, the faults it found,
//! what is being put in, and how large and deep the formula has become.

use super::checked::Checked;
use super::kinds;
use super::names::{Meaning, Names};
use super::node::{Formula, Node, Type};
use crate::formula::syntax::Mistake;
use crate::formula::syntax::fault::{Fault, Span};
use crate::quantity::Kind;

/// The most pieces one formula may come to once its relations are put in.
const MAX_NODES: usize = 20_000;
/// How deep relations and arguments of sets may be put into one another.
const MAX_RELATION_DEPTH: usize = 16;
/// How deep a checked formula may be, its relations put in. Checking, working out and weighing all
/// go down it by recursion, so this bounds the stack they take.
const MAX_NODE_DEPTH: usize = 250;

/// What is put in at a call.
pub(super) enum PutIn<'a> {
    /// A relation's body: the names of its parameters, and what stands for each.
    Relation { name: &'a str, given: &'a [String], values: Vec<Option<Checked>> },
    /// An argument out of a set, which reads nothing of the call.
    Argument { set: &'a str },
}

impl<'a> PutIn<'a> {
    fn name(&self) -> &'a str {
        match self {
            Self::Relation { name, .. } => name,
            Self::Argument { set } => set,
        }
    }

    fn given(&self) -> &'a [String] {
        match self {
            Self::Relation { given, .. } => given,
            Self::Argument { .. } => &[],
        }
    }

    /// As messages name it.
    fn titled(&self) -> String {
        match self {
            Self::Relation { name, .. } => format!("relation {name}"),
            Self::Argument { set } => format!("arguments {set}"),
        }
    }
}

struct Frame<'a> {
    put_in: PutIn<'a>,
    /// Where the outermost call stands; a fault inside what is put in is reported there.
    call: Span,
}

pub(super) struct Context<'a> {
    names: &'a dyn Names,
    faults: Vec<Fault>,
    frames: Vec<Frame<'a>>,
    /// Value and standard uncertainty of each literal with `±`.
    pub(super) spreads: Vec<(f64, f64)>,
    /// How many chances the formula asks for.
    pub(super) chances: usize,
    nodes: usize,
    /// How deep the piece at hand lies in the formula.
    level: usize,
    /// That the formula is too large was said; once is enough.
    overflowed: bool,
    /// Something it reads is faulty itself, so nothing more can be said.
    depends_on_error: bool,
}

impl<'a> Context<'a> {
    pub(super) fn new(names: &'a dyn Names) -> Self {
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

    /// The formula that came of it, where nothing was wrong; else the faults.
    pub(super) fn formula(
        self,
        text: &str,
        checked: Option<Checked>,
    ) -> Result<Formula, Vec<Fault>> {
        match checked {
            Some(Checked { node, gives }) if self.faults.is_empty() && !self.depends_on_error => {
                let (spreads, chances) = (self.spreads, self.chances);
                Ok(Formula { text: text.to_owned(), node, gives, spreads, chances })
            }
            _ => Err(self.faults),
        }
    }

    /// Notes a fault; inside what is put in it is placed at the call, naming that.
    pub(super) fn report(&mut self, mut fault: Fault) {
        if let Some(frame) = self.frames.last() {
            fault.within = Some(frame.put_in.titled());
            fault.span = frame.call.clone();
            fault.other = None;
        }
        if !self.faults.contains(&fault) {
            self.faults.push(fault);
        }
    }

    /// Notes a mistake in a piece that so gives nothing.
    pub(super) fn refuse<T>(&mut self, span: &Span, mistake: Mistake) -> Option<T> {
        self.report(Fault::new(span.clone(), mistake));
        None
    }

    /// Something the formula reads is faulty itself.
    pub(super) fn depends_on_error<T>(&mut self) -> Option<T> {
        self.depends_on_error = true;
        None
    }

    /// Goes down to one more piece; nothing where there is no room for it.
    pub(super) fn descend(&mut self, span: &Span) -> Option<()> {
        self.room_for((1, 1), span)?;
        self.level += 1;
        Some(())
    }

    /// Back up from a piece.
    pub(super) fn ascend(&mut self) {
        self.level -= 1;
    }

    /// A piece that was checked before, put in here once more.
    pub(super) fn inline(&mut self, checked: &Checked, span: &Span) -> Option<Checked> {
        self.room_for(checked.node.extent(), span)?;
        Some(checked.clone())
    }

    /// Takes room at this place for so many more pieces, so deep in themselves.
    fn room_for(&mut self, (pieces, deep): (usize, usize), span: &Span) -> Option<()> {
        let mistake = if self.level + deep > MAX_NODE_DEPTH {
            Mistake::TooManySteps { most: MAX_NODE_DEPTH }
        } else if self.nodes + pieces > MAX_NODES {
            Mistake::TooManyPieces { most: MAX_NODES }
        } else {
            self.nodes += pieces;
            return Some(());
        };
        if !self.overflowed {
            self.overflowed = true;
            self.report(Fault::new(span.clone(), mistake));
        }
        None
    }

    /// What a name means outside the relation at hand.
    pub(super) fn meaning(&self, name: &str) -> Option<Meaning<'a>> {
        self.names.find(name)
    }

    /// Every name that means something, those of the relation at hand last.
    pub(super) fn names_here(&self) -> impl Iterator<Item = &str> {
        self.names().into_iter().chain(self.given().iter().map(String::as_str))
    }

    /// Every name that means something, outside the relation at hand.
    pub(super) fn names(&self) -> Vec<&'a str> {
        self.names.all()
    }

    /// What to do about a name that is near none that is known.
    pub(super) fn advice(&self) -> String {
        self.names.advice()
    }

    /// The parameters of the relation at hand.
    fn given(&self) -> &'a [String] {
        self.frames.last().map_or(&[], |frame| frame.put_in.given())
    }

    /// What stands for a name in the relation at hand: none where it isn't one of its parameters,
    /// and none within where the argument given for it was faulty.
    pub(super) fn parameter(&self, name: &str) -> Option<Option<Checked>> {
        let PutIn::Relation { given, values, .. } = &self.frames.last()?.put_in else {
            return None;
        };
        let place = given.iter().position(|given| given == name)?;
        Some(values.get(place).cloned().flatten())
    }

    /// Whether a name is a parameter of the relation at hand.
    pub(super) fn is_parameter(&self, name: &str) -> bool {
        self.given().iter().any(|given| given == name)
    }

    /// Goes into what is put in at a call.
    pub(super) fn enter(&mut self, put_in: PutIn<'a>, call: &Span) -> Option<()> {
        let name = put_in.name();
        if self.frames.iter().any(|frame| frame.put_in.name() == name) {
            return self.refuse(call, Mistake::CallsItself { relation: name.to_owned() });
        }
        if self.frames.len() >= MAX_RELATION_DEPTH {
            return self.refuse(call, Mistake::RelationsTooDeep);
        }
        let call = self.frames.last().map_or_else(|| call.clone(), |frame| frame.call.clone());
        self.frames.push(Frame { put_in, call });
        Some(())
    }

    /// Out of it again.
    pub(super) fn leave(&mut self) {
        self.frames.pop();
    }

    /// A piece that must give a number.
    pub(super) fn number(&mut self, checked: Checked, span: &Span) -> Option<(Node, Kind)> {
        match checked.gives {
            Type::Quantity(kind) => Some((checked.node, kind)),
            _ => self.refuse(span, Mistake::NoNumber { found: checked.found() }),
        }
    }

    /// A piece that must give yes or no.
    pub(super) fn truth(&mut self, checked: Checked, span: &Span) -> Option<Node> {
        match checked.gives {
            Type::Bool => Some(checked.node),
            _ => self.refuse(span, Mistake::NoTruth { found: checked.found() }),
        }
    }

    /// Notes it where a piece doesn't give a number of the kind that is wanted.
    pub(super) fn fit(&mut self, checked: &Checked, wanted: Kind, span: &Span) {
        let mistake = match checked.gives {
            Type::Quantity(kind) => match kinds::coerces_to(kind, wanted) {
                Ok(()) => return,
                Err(clash) => Mistake::Misfit { clash, found: kind, wanted },
            },
            _ => Mistake::NoQuantity { wanted, found: checked.found() },
        };
        self.report(Fault::new(span.clone(), mistake));
    }
}
