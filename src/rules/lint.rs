//! What makes a pack poor, or walks it in circles: found on the linked pack as a whole.

use std::collections::HashSet;

use super::fault::{Fault, Mark, Place as FaultPlace, Severity};
use super::pack::Pack;
use super::stack::{Entries, Stack, route};
use super::table::{Place, StepId};
use super::yaml::RouteStep;

/// Everything of this kind. What follows from a fault that was found before is no second one: each
/// check waits until the sections it rests on are free of errors.
pub(super) fn lint(stack: &Stack, pack: &Pack, before: &[Fault]) -> Vec<Fault> {
    let checks: [Check<'_>; 9] = [
        (&["complaints", "steps"], Lint::unreachable_steps),
        (&["steps"], Lint::idle_loops),
        (&["steps"], Lint::dead_ends),
        (&["findings", "causes"], Lint::unweighed_findings),
        (&["questions", "relations", "workings", "findings", "causes"], Lint::unseen_causes),
        (&["causes", "repairs"], Lint::unmended_causes),
        (&["strengths", "findings", "causes"], Lint::twins),
        (EVERY_READER, Lint::unasked_questions),
        (&["car_states", "setups", "questions", "cautions"], Lint::dangerous_questions),
    ];
    let mut lint = Lint { stack, pack, found: Vec::new() };
    for (rests_on, check) in checks {
        if !before.iter().any(|fault| spoils(fault, rests_on)) {
            check(&mut lint);
        }
    }
    lint.found
}

/// A check with the sections it rests on.
type Check<'a> = (&'static [&'static str], fn(&mut Lint<'a>));

/// The sections that may ask for or read a question.
const EVERY_READER: &[&str] = &[
    "questions",
    "relations",
    "workings",
    "curves",
    "findings",
    "cautions",
    "steps",
    "complaints",
];

/// Whether a fault is an error in one of these sections, or of a whole file.
fn spoils(fault: &Fault, sections: &[&str]) -> bool {
    let inside = match fault.place.route.first() {
        Some(RouteStep::Key(section)) => sections.contains(&section.as_str()),
        _ => true,
    };
    inside && fault.severity == Severity::Error
}

struct Lint<'a> {
    stack: &'a Stack,
    pack: &'a Pack,
    found: Vec<Fault>,
}

impl Lint<'_> {
    fn note<T>(
        &mut self,
        severity: Severity,
        code: &'static str,
        entries: (&'static str, &Entries<T>),
        id: &str,
        message: String,
        help: &str,
    ) {
        let (section, entries) = entries;
        let file = entries.get(id).map_or(0, |entry| entry.file);
        self.found.push(Fault {
            code,
            severity,
            message,
            place: FaultPlace { file, route: route(section, id), mark: Mark::Key },
            label: String::new(),
            other: None,
            help: help.to_owned(),
        });
    }

    fn step(
        &mut self,
        severity: Severity,
        code: &'static str,
        step: StepId,
        message: &str,
        help: &str,
    ) {
        let id = self.pack.steps.id(step).to_owned();
        let steps = &self.stack.steps;
        self.note(severity, code, ("steps", steps), &id, format!("{id} {message}"), help);
    }

    fn goes_to(&self, step: StepId) -> impl Iterator<Item = StepId> + '_ {
        self.pack.steps[step].then.iter().filter_map(|branch| branch.go)
    }

    fn unreachable_steps(&mut self) {
        let mut reached: HashSet<StepId> = HashSet::new();
        let mut next: Vec<StepId> =
            self.pack.complaints.iter().filter_map(|(_, complaint)| complaint.start).collect();
        while let Some(step) = next.pop() {
            if reached.insert(step) {
                next.extend(self.goes_to(step));
            }
        }
        for step in self.pack.steps.places() {
            if !reached.contains(&step) {
                self.step(
                    Severity::Warning,
                    "unreachable-step",
                    step,
                    "is never reached",
                    "let a complaint start there, or a step go there",
                );
            }
        }
    }

    fn asks(&self, step: StepId) -> bool {
        let step = &self.pack.steps[step];
        !step.ask.is_empty() || !step.ask_best_of.is_empty()
    }

    /// A circle of steps none of which asks anything.
    fn idle_loops(&mut self) {
        for start in self.pack.steps.places() {
            if self.asks(start) {
                continue;
            }
            let mut seen = HashSet::new();
            let mut next: Vec<StepId> = self.goes_to(start).collect();
            while let Some(step) = next.pop() {
                if step == start {
                    self.step(
                        Severity::Error,
                        "idle-loop",
                        start,
                        "comes back to itself without asking anything",
                        "let a step on the way ask, or go to conclude",
                    );
                    break;
                }
                if !self.asks(step) && seen.insert(step) {
                    next.extend(self.goes_to(step));
                }
            }
        }
    }

    fn dead_ends(&mut self) {
        for step in self.pack.steps.places() {
            let branches = &self.pack.steps[step].then;
            if branches.last().is_none_or(|last| last.when.is_some()) {
                self.step(
                    Severity::Warning,
                    "dead-end",
                    step,
                    "goes nowhere where no branch holds",
                    "end then: with a go: without when:",
                );
            }
            let shadowed = branches.iter().position(|branch| branch.when.is_none());
            if shadowed.is_some_and(|open| open + 1 < branches.len()) {
                self.step(
                    Severity::Warning,
                    "shadowed-branch",
                    step,
                    "has branches behind one that always holds",
                    "put the branch without when: last",
                );
            }
        }
    }

    fn unweighed_findings(&mut self) {
        let stack = self.stack;
        for (finding, links) in self.pack.findings.places().zip(self.pack.network.findings()) {
            if links.links.is_empty() {
                let id = self.pack.findings.id(finding).to_owned();
                let message = format!("no cause brings {id}, so it decides nothing");
                self.note(
                    Severity::Warning,
                    "unweighed-finding",
                    ("findings", &stack.findings),
                    &id,
                    message,
                    "name it under brings: of a cause",
                );
            }
        }
    }

    fn unseen_causes(&mut self) {
        let stack = self.stack;
        for cause in self.pack.causes.places() {
            let seen = self.pack.network.findings().iter().enumerate().any(|(index, finding)| {
                let weighs = finding
                    .links
                    .iter()
                    .any(|link| link.cause == cause.index() && link.strength > 0.0);
                weighs && self.can_be_answered(index)
            });
            if !seen {
                let id = self.pack.causes.id(cause).to_owned();
                let message = format!("no question can confirm {id}");
                self.note(
                    Severity::Warning,
                    "unseen-cause",
                    ("causes", &stack.causes),
                    &id,
                    message,
                    "let it bring a finding that a question decides",
                );
            }
        }
    }

    fn can_be_answered(&self, finding: usize) -> bool {
        let place = super::table::FindingId::from_index(finding);
        !self.pack.findings[place].when.node.reads().is_empty()
    }

    fn unmended_causes(&mut self) {
        let stack = self.stack;
        for cause in self.pack.causes.places() {
            if !self.pack.repairs.iter().any(|(_, repair)| repair.mends.contains(&cause)) {
                let id = self.pack.causes.id(cause).to_owned();
                let message = format!("no repair mends {id}");
                self.note(
                    Severity::Warning,
                    "unmended-cause",
                    ("causes", &stack.causes),
                    &id,
                    message,
                    "name it under mends: of a repair",
                );
            }
        }
    }

    /// Causes that bring the very same findings as strongly can't be told apart.
    fn twins(&mut self) {
        let mut signatures: Vec<(Vec<(usize, u64)>, usize)> = Vec::new();
        for cause in 0..self.pack.causes.len() {
            let brings: Vec<(usize, u64)> = self
                .pack
                .network
                .findings()
                .iter()
                .enumerate()
                .flat_map(|(index, finding)| {
                    let links = finding.links.iter().filter(move |link| link.cause == cause);
                    links.map(move |link| (index, link.strength.to_bits()))
                })
                .collect();
            signatures.push((brings, cause));
        }
        signatures.sort();
        let stack = self.stack;
        for pair in signatures.windows(2) {
            let [(first, a), (second, b)] = pair else { continue };
            if first == second && !first.is_empty() {
                let id = |index: usize| {
                    self.pack.causes.id(super::table::CauseId::from_index(index)).to_owned()
                };
                let (a, b) = (id(*a), id(*b));
                let message = format!("no question can tell {a} from {b}");
                self.note(
                    Severity::Warning,
                    "twin-causes",
                    ("causes", &stack.causes),
                    &b,
                    message,
                    "give one of them a finding that the other doesn't bring",
                );
            }
        }
    }

    /// A question that no step asks is asked where it is worth its minutes; one that decides
    /// nothing either is never asked.
    fn unasked_questions(&mut self) {
        let pack = self.pack;
        let mut used: HashSet<usize> = HashSet::new();
        for (_, step) in pack.steps.iter() {
            used.extend(step.ask.iter().chain(&step.ask_best_of).map(|question| question.index()));
        }
        let formulas = pack.findings.iter().map(|(_, finding)| &finding.when);
        let formulas = formulas.chain(pack.workings.iter().map(|(_, working)| &working.formula));
        let formulas = formulas.chain(pack.curves.iter().map(|(_, curve)| &curve.formula));
        let formulas =
            formulas.chain(pack.cautions.iter().filter_map(|(_, caution)| caution.when.as_ref()));
        for formula in formulas {
            used.extend(formula.node.reads().iter().map(|slot| slot.0));
        }
        let fits = pack.questions.iter().filter_map(|(_, question)| question.fits.as_ref());
        for formula in fits {
            used.extend(formula.node.reads().iter().map(|slot| slot.0));
        }
        for (_, question) in pack.questions.iter() {
            used.extend(question.not_before.iter().map(|before| before.index()));
        }
        let stack = self.stack;
        for question in pack.questions.places() {
            if !used.contains(&question.index()) {
                let id = pack.questions.id(question).to_owned();
                let message = format!("{id} is never asked: no step names it and nothing reads it");
                self.note(
                    Severity::Warning,
                    "unasked-question",
                    ("questions", &stack.questions),
                    &id,
                    message,
                    "name it in a step, or let a finding read it",
                );
            }
        }
    }
    /// A question that moves the car or rigs it up, with no word on what could hurt; `cautions: []`
    /// says that nothing could.
    fn dangerous_questions(&mut self) {
        let stack = self.stack;
        for (id, question) in &stack.questions {
            let question = &question.written;
            let state = question.car.as_ref().and_then(|car| stack.car_states.get_key_value(car));
            let setup = question.setup.as_ref().and_then(|id| stack.setups.get_key_value(id));
            let moved = state.map(|(needs, state)| (needs, state.written.cautions.is_some()));
            let rigged = setup.map(|(needs, setup)| (needs, setup.written.cautions.is_some()));
            let mut needed = moved.into_iter().chain(rigged).peekable();
            let Some((needs, _)) = needed.peek().copied() else { continue };
            if question.cautions.is_none() && !needed.any(|(_, told)| told) {
                self.note(
                    Severity::Warning,
                    "dangerous-question",
                    ("questions", &stack.questions),
                    id,
                    format!("{id} needs {needs}, and no caution goes with it"),
                    "name what could hurt under cautions: here, or there; [] if nothing can",
                );
            }
        }
    }
}
