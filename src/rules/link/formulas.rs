//! Workings, findings and conditions: what holds a formula, checked in an order in which each stands
//! behind what it reads.

use std::collections::{HashMap, HashSet};

use super::entries::entries;
use super::ids::usable_id;
use super::linker::{At, Linker, Spot};
use super::order::order;
use super::vocabulary::Vocabulary;
use crate::formula::{
    Expression, Formula, Meaning, Names, Node, Type, VarId, check, check_tree, parse,
};
use crate::quantity::{Kind, readable_unit};
use crate::rules::fault::LinkFault;
use crate::rules::pack::{Finding, Pack, Working};
use crate::rules::stack::Stack;
use crate::rules::table::{QuestionId, TypedIndex, WorkingId};
use crate::rules::text::{Piece, RawPiece, Template, pieces};
use crate::text::spaced;

pub(super) struct Formulas {
    pub(super) words: Vocabulary,
    pub(super) questions: usize,
    pub(super) workings: usize,
}

/// A formula that could be read, with what it reads.
pub(super) struct Readable<'a> {
    pub(super) at: At<'a>,
    /// Where its text stands.
    pub(super) spot: Spot<'a>,
    text: &'a str,
    pub(super) tree: Option<Expression>,
}

impl Formulas {
    pub(super) fn new(stack: &Stack) -> Self {
        Self {
            words: Vocabulary::new(&stack.contested),
            questions: stack.questions.len(),
            workings: stack.workings.len(),
        }
    }

    pub(super) fn link(&mut self, linker: &mut Linker<'_>, pack: &mut Pack) {
        let stack = linker.stack;
        for (index, id) in stack.questions.keys().enumerate() {
            let form =
                pack.questions.find(id).map(|place: QuestionId| &pack.questions[place].answer);
            let form = form.filter(|_| !linker.formless.contains(id));
            self.words.question(id, VarId(index), form);
        }
        self.relations(linker);
        self.arguments(linker);
        self.put_in(linker);
        let conditions = self.conditions(linker);
        let late = conditions.on_findings.iter().map(|condition| condition.at.id());
        for id in late.chain(stack.findings.keys().map(String::as_str)) {
            self.words.later(id);
        }
        self.workings(linker, pack, conditions.on_answers);
        self.findings(linker, pack, conditions.on_findings);
        self.curves(linker, pack);
        self.cautions(linker, pack);
    }

    /// For each formula: the places, among `ids`, of what it reads, relations and sets of
    /// arguments looked through.
    pub(super) fn reads(
        &self,
        formulas: &[Readable<'_>],
        ids: &HashMap<&str, usize>,
    ) -> Vec<Vec<usize>> {
        formulas
            .iter()
            .map(|formula| {
                let mut found = Vec::new();
                let mut relations = HashSet::new();
                if let Some(tree) = &formula.tree {
                    self.collect(tree, ids, &mut found, &mut relations);
                }
                found.sort_unstable();
                found.dedup();
                found
            })
            .collect()
    }

    fn collect<'a>(
        &'a self,
        tree: &'a Expression,
        ids: &HashMap<&str, usize>,
        found: &mut Vec<usize>,
        relations: &mut HashSet<&'a str>,
    ) {
        for (name, _) in tree.names() {
            found.extend(ids.get(name));
        }
        for (name, _) in tree.calls().into_iter().chain(tree.names()) {
            let put_in = self.words.put_in(name);
            if !put_in.is_empty() && relations.insert(name) {
                for tree in put_in {
                    self.collect(tree, ids, found, relations);
                }
            }
        }
    }

    fn workings(
        &mut self,
        linker: &mut Linker<'_>,
        pack: &mut Pack,
        conditions: Vec<Readable<'_>>,
    ) {
        let stack = linker.stack;
        let mut formulas: Vec<Readable<'_>> = entries("workings", &stack.workings)
            .map(|(at, written)| {
                usable_id(linker, at);
                read_formula(linker, at, written.formula.as_ref())
            })
            .collect();
        formulas.extend(conditions);
        let mut checked: Vec<Option<Formula>> = vec![None; self.workings];
        let mut order = self.ordered(linker, &formulas);
        for index in &order {
            let formula = &formulas[*index];
            let Some(checked) = checked.get_mut(*index) else {
                self.condition_entry(linker, formula);
                continue;
            };
            *checked = self.checked(linker, formula, None);
            let slot = VarId(self.questions + index);
            self.words.working(formula.at.id(), slot, checked.as_ref());
        }
        order.retain(|index| *index < self.workings);
        pack.working_order = order.into_iter().map(WorkingId::from_index).collect();
        for ((at, written), formula) in entries("workings", &stack.workings).zip(checked) {
            // Of a formula that could not be checked nobody knows what it gives, and so which unit fits.
            let named = written.unit.as_ref().filter(|_| formula.is_some());
            let formula = formula.unwrap_or_else(left_out);
            let kind = formula.kind().unwrap_or(Kind::NUMBER);
            let unit = named.and_then(|unit| linker.unit(&at.field("unit"), unit, kind));
            let says = self.template(linker, &at.field("says"), written.says.as_ref());
            let working = Working {
                title: linker.text(&at.field("title"), written.title.as_ref()),
                unit: unit.unwrap_or_else(|| readable_unit(kind)),
                formula,
                says,
                sources: linker.sources(&at.field("source"), written.source.as_ref()),
            };
            pack.workings.push(at.id().to_owned(), working);
        }
    }

    /// Indices in reading order; those on a circle are reported and left out.
    fn ordered(&mut self, linker: &mut Linker<'_>, formulas: &[Readable<'_>]) -> Vec<usize> {
        let ids: HashMap<&str, usize> =
            formulas.iter().enumerate().map(|(index, formula)| (formula.at.id(), index)).collect();
        let reads = self.reads(formulas, &ids);
        let ordered = order(&reads);
        for index in &ordered.circular {
            let at = formulas[*index].at;
            let next = reads[*index].iter().find(|read| ordered.circular.contains(read));
            let Some(other) = next.map(|read| formulas[*read].at.id()) else { continue };
            let names = formulas[*index].tree.as_ref().map(Expression::names).unwrap_or_default();
            let named = names.iter().find(|(name, _)| *name == other);
            let spot = &formulas[*index].spot;
            let spot = named.map_or_else(|| spot.clone(), |(_, span)| spot.part((*span).clone()));
            circle(linker, at, &spot, other, "reads");
            self.words.working(at.id(), VarId(0), None);
        }
        ordered.order
    }

    pub(super) fn checked(
        &self,
        linker: &mut Linker<'_>,
        formula: &Readable<'_>,
        wanted: Option<Kind>,
    ) -> Option<Formula> {
        let tree = formula.tree.as_ref()?;
        if linker.is_full() {
            return None;
        }
        match check_tree(formula.text, tree, &self.words, wanted) {
            Ok(checked) => Some(checked),
            Err(faults) => {
                linker.formula_faults(&formula.spot, faults);
                None
            }
        }
    }

    fn findings(
        &mut self,
        linker: &mut Linker<'_>,
        pack: &mut Pack,
        conditions: Vec<Readable<'_>>,
    ) {
        let stack = linker.stack;
        let mut formulas: Vec<Readable<'_>> = entries("findings", &stack.findings)
            .map(|(at, written)| {
                usable_id(linker, at);
                if written.when.is_none() {
                    linker.missing(at, "when");
                }
                read_tree(linker, at, at.field("when"), written.when.as_ref())
            })
            .collect();
        let mut checked: Vec<Option<Formula>> = vec![None; formulas.len()];
        formulas.extend(conditions);
        for index in self.ordered(linker, &formulas) {
            let formula = &formulas[index];
            let Some(checked) = checked.get_mut(index) else {
                self.condition_entry(linker, formula);
                continue;
            };
            *checked = self.checked_truth(linker, formula);
            self.words.finding(formula.at.id(), index, checked.as_ref());
        }
        for ((at, written), when) in entries("findings", &stack.findings).zip(checked) {
            let says = self.template(linker, &at.field("says"), written.says.as_ref());
            let finding = Finding {
                when: when.unwrap_or_else(left_out),
                says: says.unwrap_or_else(|| Template::plain(&spaced(at.id()))),
                sources: linker.sources(&at.field("source"), written.source.as_ref()),
            };
            pack.findings.push(at.id().to_owned(), finding);
        }
    }

    pub(super) fn checked_truth(
        &self,
        linker: &mut Linker<'_>,
        formula: &Readable<'_>,
    ) -> Option<Formula> {
        let checked = self.checked(linker, formula, None);
        checked.filter(|checked| is_truth(linker, &formula.spot, checked))
    }

    /// A condition over answers, workings and findings; one that was written but can't be told is
    /// never known, and so never taken.
    pub(super) fn condition(
        &self,
        linker: &mut Linker<'_>,
        spot: &Spot<'_>,
        text: Option<&String>,
    ) -> Option<Formula> {
        let text = text?;
        if linker.is_full() {
            return Some(left_out());
        }
        match check(text, &self.words, None) {
            Ok(formula) => {
                is_truth(linker, spot, &formula);
                Some(formula)
            }
            Err(faults) => {
                linker.formula_faults(spot, faults);
                Some(left_out())
            }
        }
    }

    /// A formula over answers and workings that gives this kind.
    pub(super) fn value(
        &self,
        linker: &mut Linker<'_>,
        spot: &Spot<'_>,
        text: &str,
        wanted: Kind,
    ) -> Option<Formula> {
        if linker.is_full() {
            return None;
        }
        match check(text, &self.words, Some(wanted)) {
            Ok(formula) => Some(formula),
            Err(faults) => {
                linker.formula_faults(spot, faults);
                None
            }
        }
    }

    /// The variable of a number's name: a question or a working.
    pub(super) fn number(
        &self,
        linker: &mut Linker<'_>,
        spot: &Spot<'_>,
        name: &str,
    ) -> Option<(VarId, Kind)> {
        match self.words.find(name) {
            Some(Meaning::Value { variable, kind }) => Some((variable, kind)),
            Some(Meaning::Faulty) => None,
            Some(_) => {
                let name = name.to_owned();
                linker.note(spot, LinkFault::NotANumber { name, workings: true });
                None
            }
            None => {
                linker.unknown(spot, name, self.words.all(), "a measurement or a working");
                None
            }
        }
    }

    fn template(
        &self,
        linker: &mut Linker<'_>,
        spot: &Spot<'_>,
        text: Option<&String>,
    ) -> Option<Template> {
        let text = linker.text(spot, text)?;
        let mut found = Vec::new();
        for piece in pieces(&text) {
            match piece {
                RawPiece::Words(words) => found.push(Piece::Words(words.to_owned())),
                RawPiece::Name(name, span) => {
                    if let Some((slot, _)) = self.number(linker, &spot.part(span), name.trim()) {
                        found.push(Piece::Value(slot));
                    }
                }
                RawPiece::Open(open) => {
                    linker.note(&spot.part(open..open + 1), LinkFault::OpenBrace);
                }
            }
        }
        Some(Template(found))
    }
}

/// Notes that an entry goes in a circle by way of another, or of itself.
pub(super) fn circle(
    linker: &mut Linker<'_>,
    at: At<'_>,
    spot: &Spot<'_>,
    other: &str,
    does: &'static str,
) {
    let (id, other) = (at.id().to_owned(), other.to_owned());
    let fault = if id == other {
        LinkFault::CallsItself { id, does }
    } else {
        LinkFault::Circle { id, other, does }
    };
    linker.note(spot, fault);
}

pub(super) fn read_tree<'a>(
    linker: &mut Linker<'_>,
    at: At<'a>,
    spot: Spot<'a>,
    text: Option<&'a String>,
) -> Readable<'a> {
    let Some(text) = text else { return Readable { at, spot, text: "", tree: None } };
    let tree = parse(text).map_err(|fault| linker.formula_faults(&spot, vec![fault])).ok();
    Readable { at, spot, text, tree }
}

/// Reads the field `formula`, without which an entry is never known.
pub(super) fn read_formula<'a>(
    linker: &mut Linker<'_>,
    at: At<'a>,
    text: Option<&'a String>,
) -> Readable<'a> {
    if text.is_none() {
        linker.lacking(at, "formula", "it is never known");
    }
    read_tree(linker, at, at.field("formula"), text)
}

fn is_truth(linker: &mut Linker<'_>, spot: &Spot<'_>, formula: &Formula) -> bool {
    if formula.gives == Type::Bool {
        return true;
    }
    linker.note(spot, LinkFault::NotATruth);
    false
}

/// Stands for a formula that the pack left out, or that reads what was left out: never known. A
/// faulty one is replaced by it too, but then the pack is not walked.
fn left_out() -> Formula {
    Formula {
        text: String::new(),
        node: Node::LeftOut,
        gives: Type::Bool,
        spreads: Vec::new(),
        chances: 0,
    }
}
