//! Formulas that no answer decides or that can't be worked out, and parameters that no formula reads:
//! found on the linked pack as a whole.

use super::fault::{Fault, LintFault, Mark, Place};
use super::lint::names_in;
use super::pack::Pack;
use super::question::AnswerForm;
use super::stack::{Entries, Entry, Stack, route};
use super::table::{Table, TypedIndex};
use super::yaml::RouteStep;
use crate::formula::{
    ANYWHERE, Formula, Reach, Type, VarId, constant_refusal, fixed_truth, parse, reach,
};

/// Everything of this kind, in a pack without errors.
pub(super) fn undecided(stack: &Stack, pack: &Pack) -> Vec<Fault> {
    let mut looking = Looking { pack, reaches: Vec::new(), found: Vec::new() };
    looking.reaches = looking.reaches();
    looking.formulas(stack);
    looking.unread_names(stack);
    looking.found
}

fn key(key: &str) -> RouteStep {
    RouteStep::Key(key.to_owned())
}

struct Looking<'a> {
    pack: &'a Pack,
    /// Where the value in each slot may lie: questions first, then workings.
    reaches: Vec<Reach>,
    found: Vec<Fault>,
}

impl Looking<'_> {
    fn reaches(&self) -> Vec<Reach> {
        let pack = self.pack;
        let measured = pack.questions.iter().map(|(_, question)| match &question.answer {
            AnswerForm::Measure(measure) => {
                let (from, to) = (measure.from, measure.to);
                (from.unwrap_or(ANYWHERE.0), to.unwrap_or(ANYWHERE.1))
            }
            _ => ANYWHERE,
        });
        let mut reaches: Vec<Reach> = measured.collect();
        reaches.resize(reaches.len() + pack.workings.len(), ANYWHERE);
        for working in &pack.working_order {
            let node = &pack.workings[*working].formula.node;
            let found =
                reach(node, &|slot: VarId| reaches.get(slot.0).copied().unwrap_or(ANYWHERE));
            reaches[pack.working_slot(*working).0] = found;
        }
        reaches
    }

    fn formulas(&mut self, stack: &Stack) {
        let pack = self.pack;
        self.section("workings", &pack.workings, &stack.workings, |working| {
            vec![("formula", Some(&working.formula))]
        });
        self.section("curves", &pack.curves, &stack.curves, |curve| {
            vec![("formula", Some(&curve.formula))]
        });
        self.section("readings", &pack.readings, &stack.readings, |reading| {
            vec![("should_be", Some(&reading.should_be)), ("when", reading.when.as_ref())]
        });
        self.section("findings", &pack.findings, &stack.findings, |finding| {
            vec![("when", Some(&finding.when))]
        });
        self.section("questions", &pack.questions, &stack.questions, |question| {
            vec![("fits", question.fits.as_ref())]
        });
        self.section("causes", &pack.causes, &stack.causes, |cause| {
            vec![("fits", cause.fits.as_ref())]
        });
        self.section("cautions", &pack.cautions, &stack.cautions, |caution| {
            vec![("when", caution.when.as_ref())]
        });
        self.section("repairs", &pack.repairs, &stack.repairs, |repair| {
            vec![("planned_when", repair.planned_when.as_ref())]
        });
        self.section("complaints", &pack.complaints, &stack.complaints, |complaint| {
            vec![("gone_when", complaint.gone_when.as_ref())]
        });
        for (index, step) in pack.steps.iter() {
            let id = pack.steps.id(index);
            let Some(entry) = stack.steps.get(id) else { continue };
            // A branch that goes nowhere was told, and is not among those linked.
            let written = entry.written.then.iter().flatten().enumerate();
            let linked = written.filter(|(_, branch)| branch.go.is_some()).zip(&step.then);
            for ((place, _), branch) in linked {
                let inside = vec![key("then"), RouteStep::Index(place), key("when")];
                self.formula(("steps", id, entry), inside, branch.when.as_ref());
            }
        }
    }

    fn section<I: TypedIndex, T, W>(
        &mut self,
        section: &'static str,
        table: &Table<I, T>,
        entries: &Entries<W>,
        formulas: impl Fn(&T) -> Vec<(&'static str, Option<&Formula>)>,
    ) {
        for (index, linked) in table.iter() {
            let id = table.id(index);
            let Some(entry) = entries.get(id) else { continue };
            for (field, formula) in formulas(linked) {
                self.formula((section, id, entry), vec![key(field)], formula);
            }
        }
    }

    fn formula<T>(
        &mut self,
        at: (&str, &str, &Entry<T>),
        inside: Vec<RouteStep>,
        formula: Option<&Formula>,
    ) {
        let Some(formula) = formula else { return };
        let read = |slot: VarId| self.reaches.get(slot.0).copied().unwrap_or(ANYWHERE);
        let fault = if let Some(refusal) = constant_refusal(&formula.node) {
            LintFault::NeverWorks { why: refusal.to_string() }
        } else if formula.gives == Type::Bool
            && let Some(holds) = fixed_truth(&formula.node, &read)
        {
            LintFault::FixedTruth { holds, within: !formula.node.reads().is_empty() }
        } else {
            return;
        };
        self.note(at, inside, fault);
    }

    fn note<T>(
        &mut self,
        (section, id, entry): (&str, &str, &Entry<T>),
        inside: Vec<RouteStep>,
        fault: LintFault,
    ) {
        let mut route = route(section, id);
        route.extend(inside);
        let place = Place { file: entry.file, route, mark: Mark::Value };
        self.found.push(Fault::new(fault, place));
    }

    /// Parameters of relations, and variables of curves, that their formulas don't read.
    fn unread_names(&mut self, stack: &Stack) {
        for (id, entry) in &stack.relations {
            let Some(formula) = &entry.written.formula else { continue };
            let read = names_in(formula);
            for (index, name) in entry.written.given.iter().flatten().enumerate() {
                if !read.contains(name) {
                    let inside = vec![key("given"), RouteStep::Index(index)];
                    let fault = LintFault::UnreadName { name: name.clone() };
                    self.note(("relations", id, entry), inside, fault);
                }
            }
        }
        for (id, entry) in &stack.curves {
            let (Some(over), Some(formula)) = (&entry.written.over, &entry.written.formula) else {
                continue;
            };
            if !names_in(formula).contains(over) && !self.reads_through(formula, over) {
                let fault = LintFault::UnreadName { name: over.clone() };
                self.note(("curves", id, entry), vec![key("over")], fault);
            }
        }
    }

    /// Whether a formula may read what a curve is drawn over by way of workings or relations.
    fn reads_through(&self, formula: &str, over: &str) -> bool {
        let pack = self.pack;
        let is_known = pack.questions.find(over).is_some() || pack.workings.find(over).is_some();
        let calls = parse(formula).is_ok_and(|tree| !tree.calls().is_empty());
        is_known
            && (calls || names_in(formula).iter().any(|name| pack.workings.find(name).is_some()))
    }
}
