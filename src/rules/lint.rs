//! What makes a pack poor, or walks it in circles: found on the linked pack as a whole.

use std::collections::HashSet;

use super::fault::{Code, Fault, LintFault, Mark, Place as FaultPlace, Severity};
use super::link::order;
use super::pack::Pack;
use super::stack::{Entries, Stack, route, route_in};
use super::table::{CauseId, FindingId, QuestionId, StepId, TypedIndex};
use super::worked_out::{counted_twice, typed_besides};
use super::yaml::RouteStep;
use crate::formula::parse;

/// Everything of this kind. What follows from a fault that was found before is no second one: each
/// check waits until the sections it rests on are free of errors.
pub(super) fn lint(stack: &Stack, pack: &Pack, before: &[Fault]) -> Vec<Fault> {
    let checks: [Check<'_>; 13] = [
        (&["complaints", "steps"], Lint::unreachable_steps),
        (&["steps"], Lint::idle_loops),
        (&["steps"], Lint::dead_ends),
        (&["conditions", "findings", "causes"], Lint::unweighed_findings),
        (&["strengths", "conditions", "findings", "causes"], Lint::typed_strengths),
        (
            &["strengths", "conditions", "relations", "workings", "findings", "causes"],
            Lint::counted_twice,
        ),
        (
            &[
                "questions",
                "conditions",
                "arguments",
                "relations",
                "workings",
                "findings",
                "causes",
            ],
            Lint::unseen_causes,
        ),
        (&["causes", "repairs"], Lint::unmended_causes),
        (&["causes", "sources"], Lint::unsourced_causes),
        (&["strengths", "findings", "causes"], Lint::twins),
        (EVERY_READER, Lint::unasked_questions),
        (EVERY_READER, Lint::unused_names),
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

/// The most idle loops that are told: each is looked for through all steps.
const MAX_LOOPS: usize = 20;

/// The texts of all formulas but those of conditions.
fn formulas(stack: &Stack) -> impl Iterator<Item = &str> {
    let questions = stack.questions.values().map(|entry| entry.written.fits.as_ref());
    let sets = stack.arguments.values().flat_map(|entry| entry.written.values.iter().flatten());
    let relations = stack.relations.values().map(|entry| entry.written.formula.as_ref());
    let workings = stack.workings.values().map(|entry| entry.written.formula.as_ref());
    let curves = stack.curves.values().map(|entry| entry.written.formula.as_ref());
    let readings = stack
        .readings
        .values()
        .flat_map(|entry| [entry.written.should_be.as_ref(), entry.written.when.as_ref()]);
    let findings = stack.findings.values().map(|entry| entry.written.when.as_ref());
    let causes = stack.causes.values().map(|entry| entry.written.fits.as_ref());
    let cautions = stack.cautions.values().map(|entry| entry.written.when.as_ref());
    let complaints = stack.complaints.values().map(|entry| entry.written.gone_when.as_ref());
    let repairs = stack.repairs.values().map(|entry| entry.written.planned_when.as_ref());
    let shapes = stack.drawings.values().flat_map(|entry| entry.written.shapes.iter().flatten());
    let shapes = shapes.flat_map(|shape| {
        let places = [&shape.x, &shape.y, &shape.to_x, &shape.to_y];
        places.into_iter().chain([&shape.across, &shape.from_angle, &shape.to_angle, &shape.table])
    });
    let branches = stack.steps.values().flat_map(|entry| entry.written.then.iter().flatten());
    let all = questions.chain(relations).chain(workings).chain(curves).chain(readings);
    let all = all.chain(repairs).chain(findings).chain(causes).chain(cautions).chain(complaints);
    let all = all.chain(shapes.map(Option::as_ref));
    let all = all.chain(branches.map(|branch| branch.when.as_ref())).flatten();
    all.chain(sets.map(|(_, value)| value)).map(String::as_str)
}

/// The names that a formula reads.
pub(super) fn names_in(text: &str) -> Vec<String> {
    let tree = parse(text).ok();
    tree.iter().flat_map(|tree| tree.names()).map(|(name, _)| name.to_owned()).collect()
}

/// Whether the way from a step leads to it again.
fn comes_back(start: usize, next: &[Vec<usize>]) -> bool {
    let mut seen = HashSet::new();
    let mut open = next[start].clone();
    while let Some(step) = open.pop() {
        if step == start {
            return true;
        }
        if seen.insert(step) {
            open.extend(&next[step]);
        }
    }
    false
}

/// A check with the sections it rests on.
type Check<'a> = (&'static [&'static str], fn(&mut Lint<'a>));

/// The sections that may ask for or read a question.
const EVERY_READER: &[&str] = &[
    "questions",
    "conditions",
    "arguments",
    "relations",
    "workings",
    "curves",
    "readings",
    "drawings",
    "repairs",
    "findings",
    "cautions",
    "steps",
    "complaints",
];

/// Whether a fault is an error in one of these sections, or of a whole file.
fn spoils(fault: &Fault, sections: &[&str]) -> bool {
    let inside = match fault.place.route.as_slice() {
        // Which section a misspelt one is meant for is not looked at.
        [_] if fault.code() == Code::UnknownField => true,
        [RouteStep::Key(section), ..] => sections.contains(&section.as_str()),
        _ => true,
    };
    inside && fault.severity == Severity::Error
}

struct Lint<'a> {
    stack: &'a Stack,
    pack: &'a Pack,
    found: Vec<Fault>,
}

impl<'a> Lint<'a> {
    /// Notes a fault at an entry's key.
    fn note<T>(
        &mut self,
        (section, entries): (&'static str, &Entries<T>),
        id: &str,
        fault: impl FnOnce(String) -> LintFault,
    ) {
        let entry = entries.get(id);
        let file = entry.map_or(0, |entry| entry.file);
        let route = route_in(section, id, entry.and_then(|entry| entry.list.as_deref()));
        let place = FaultPlace { file, route, mark: Mark::Key };
        self.found.push(Fault::new(fault(id.to_owned()), place));
    }

    fn step(&mut self, step: StepId, fault: impl FnOnce(String) -> LintFault) {
        let (stack, pack) = (self.stack, self.pack);
        self.note(("steps", &stack.steps), pack.steps.id(step), fault);
    }

    fn cause(&mut self, cause: CauseId, fault: impl FnOnce(String) -> LintFault) {
        let (stack, pack) = (self.stack, self.pack);
        self.note(("causes", &stack.causes), pack.causes.id(cause), fault);
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
        for step in self.pack.steps.indices() {
            if !reached.contains(&step) {
                self.step(step, |step| LintFault::UnreachableStep { step });
            }
        }
    }

    fn asks(&self, step: StepId) -> bool {
        let step = &self.pack.steps[step];
        !step.ask.is_empty() || !step.ask_best_of.is_empty()
    }

    /// Circles of steps none of which asks anything.
    fn idle_loops(&mut self) {
        let next: Vec<Vec<usize>> = self
            .pack
            .steps
            .indices()
            .map(|step| {
                let idle = |step: &StepId| !self.asks(*step);
                let mut next: Vec<usize> = Some(step)
                    .filter(idle)
                    .into_iter()
                    .flat_map(|step| self.goes_to(step).filter(idle).map(TypedIndex::index))
                    .collect();
                next.sort_unstable();
                next.dedup();
                next
            })
            .collect();
        let mut told = 0;
        for start in order(&next).circular {
            // Not every step that leads into a circle lies on it.
            let on_it = told < MAX_LOOPS && comes_back(start, &next);
            if on_it {
                told += 1;
                self.step(StepId::from_index(start), |step| LintFault::IdleLoop { step });
            }
        }
    }

    fn dead_ends(&mut self) {
        for step in self.pack.steps.indices() {
            let branches = &self.pack.steps[step].then;
            match branches.iter().position(|branch| branch.when.is_none()) {
                None => self.step(step, |step| LintFault::DeadEnd { step }),
                Some(open) if open + 1 < branches.len() => self.shadowed(step),
                Some(_) => {}
            }
        }
    }

    /// A branch behind one that always holds.
    fn shadowed(&mut self, step: StepId) {
        let id = self.pack.steps.id(step);
        let Some(entry) = self.stack.steps.get(id) else { return };
        let written = entry.written.then.iter().flatten();
        let open = written.clone().position(|branch| branch.when.is_none() && branch.go.is_some());
        let Some(shadowed) = open.map(|open| open + 1) else { return };
        let has_when = written.clone().nth(shadowed).is_some_and(|branch| branch.when.is_some());
        let field = if has_when { "when" } else { "go" };
        let mut route = route("steps", id);
        route.extend([RouteStep::Key("then".to_owned()), RouteStep::Index(shadowed)]);
        route.push(RouteStep::Key(field.to_owned()));
        let place = FaultPlace { file: entry.file, route, mark: Mark::Value };
        self.found.push(Fault::new(LintFault::ShadowedBranch, place));
    }

    fn unweighed_findings(&mut self) {
        let (stack, pack) = (self.stack, self.pack);
        let rule_out = self.read_by_fits();
        for (finding, links) in pack.findings.indices().zip(pack.network.findings()) {
            let id = pack.findings.id(finding);
            if links.links.is_empty() && !rule_out.contains(id) {
                self.note(("findings", &stack.findings), id, |finding| {
                    LintFault::UnweighedFinding { finding }
                });
            }
        }
    }

    fn typed_strengths(&mut self) {
        let (stack, pack) = (self.stack, self.pack);
        for finding in typed_besides(pack) {
            self.note(("findings", &stack.findings), pack.findings.id(finding), |finding| {
                LintFault::TypedStrength { finding }
            });
        }
    }

    fn counted_twice(&mut self) {
        for (cause, typed, worked_out) in counted_twice(self.pack) {
            let id = |finding| self.pack.findings.id(finding).to_owned();
            let (typed, worked_out) = (id(typed), id(worked_out));
            self.cause(cause, |cause| LintFault::CountedTwice { cause, typed, worked_out });
        }
    }

    /// The names that decide which cars a cause can be in, by way of conditions too.
    fn read_by_fits(&self) -> HashSet<String> {
        let conditions = &self.stack.conditions;
        let fits = self.pack.causes.iter().filter_map(|(_, cause)| cause.fits.as_ref());
        let mut open: Vec<&str> = fits.map(|formula| formula.text.as_str()).collect();
        let mut found = HashSet::new();
        while let Some(text) = open.pop() {
            for name in names_in(text) {
                if let Some(condition) = conditions.get(&name).filter(|_| !found.contains(&name)) {
                    open.push(&condition.written);
                }
                found.insert(name);
            }
        }
        found
    }

    /// Conditions and sets of arguments whose name no other formula uses.
    fn unused_names(&mut self) {
        let stack = self.stack;
        if stack.conditions.is_empty() && stack.arguments.is_empty() {
            return;
        }
        let mut used: HashSet<String> = formulas(stack).flat_map(names_in).collect();
        for (id, condition) in &stack.conditions {
            used.extend(names_in(&condition.written).into_iter().filter(|name| name != id));
        }
        for id in stack.conditions.keys().filter(|id| !used.contains(*id)) {
            self.note(("conditions", &stack.conditions), id, |name| LintFault::UnusedName { name });
        }
        for id in stack.arguments.keys().filter(|id| !used.contains(*id)) {
            self.note(("arguments", &stack.arguments), id, |name| LintFault::UnusedName { name });
        }
    }

    /// For each cause: the findings that it brings, with their strengths.
    fn brings(&self) -> Vec<Vec<(usize, f64)>> {
        let mut brings = vec![Vec::new(); self.pack.causes.len()];
        for (index, finding) in self.pack.network.findings().iter().enumerate() {
            for link in &finding.links {
                brings[link.cause].push((index, link.strength));
            }
        }
        brings
    }

    fn unseen_causes(&mut self) {
        for (cause, brings) in self.pack.causes.indices().zip(self.brings()) {
            let seen = brings
                .iter()
                .any(|(finding, strength)| *strength > 0.0 && self.can_be_answered(*finding));
            if !seen {
                self.cause(cause, |cause| LintFault::UnseenCause { cause });
            }
        }
    }

    fn can_be_answered(&self, finding: usize) -> bool {
        let place = FindingId::from_index(finding);
        !self.pack.findings[place].when.node.reads().is_empty()
    }

    fn unmended_causes(&mut self) {
        let repairs = self.pack.repairs.iter();
        let mended: HashSet<usize> = repairs
            .flat_map(|(_, repair)| repair.mends.iter().map(|cause| cause.index()))
            .collect();
        for cause in self.pack.causes.indices() {
            if !mended.contains(&cause.index()) {
                self.cause(cause, |cause| LintFault::UnmendedCause { cause });
            }
        }
    }

    /// Causes whose numbers come from nowhere, where the rules have sources to name.
    fn unsourced_causes(&mut self) {
        let stack = self.stack;
        if stack.sources.is_empty() {
            return;
        }
        for (id, cause) in &stack.causes {
            if cause.written.source.as_ref().is_none_or(Vec::is_empty) {
                self.note(("causes", &stack.causes), id, |cause| LintFault::NoSource { cause });
            }
        }
    }

    /// Causes that bring the very same findings as strongly can't be told apart.
    fn twins(&mut self) {
        let brings = self.brings().into_iter().enumerate();
        let mut signatures: Vec<(Vec<(usize, u64)>, usize)> = brings
            .map(|(cause, brings)| {
                let bits = brings.iter().map(|(finding, strength)| (*finding, strength.to_bits()));
                (bits.collect(), cause)
            })
            .collect();
        signatures.sort();
        for pair in signatures.windows(2) {
            let [(first, other), (second, cause)] = pair else { continue };
            if first == second && !first.is_empty() {
                let other = self.pack.causes.id(CauseId::from_index(*other)).to_owned();
                let twins = |cause| LintFault::TwinCauses { cause, other };
                self.cause(CauseId::from_index(*cause), twins);
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
        let formulas = formulas.chain(pack.readings.iter().map(|(_, reading)| &reading.should_be));
        let cautions = pack.cautions.iter().filter_map(|(_, caution)| caution.when.as_ref());
        let planned = pack.repairs.iter().filter_map(|(_, repair)| repair.planned_when.as_ref());
        for formula in formulas.chain(cautions).chain(planned) {
            used.extend(formula.node.reads().iter().map(|slot| slot.0));
        }
        let fits = pack.questions.iter().filter_map(|(_, question)| question.fits.as_ref());
        let causes_fit = pack.causes.iter().filter_map(|(_, cause)| cause.fits.as_ref());
        for formula in fits.chain(causes_fit) {
            used.extend(formula.node.reads().iter().map(|slot| slot.0));
        }
        for (_, question) in pack.questions.iter() {
            used.extend(question.not_before.iter().map(|before| before.index()));
        }
        let told_by = pack.complaints.iter().filter_map(|(_, complaint)| complaint.told_by);
        used.extend(told_by.map(|question| question.index()));
        let stack = self.stack;
        // Of a list each option is to be read.
        let lists = |own: &QuestionId| !pack.options_of(*own).is_empty();
        for question in pack.questions.indices().filter(|own| !lists(own)) {
            if !used.contains(&question.index()) {
                let id = pack.questions.id(question);
                self.note(("questions", &stack.questions), id, |question| {
                    LintFault::UnaskedQuestion { question }
                });
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
                let needs = needs.clone();
                self.note(("questions", &stack.questions), id, |question| {
                    LintFault::DangerousQuestion { question, needs }
                });
            }
        }
    }
}
