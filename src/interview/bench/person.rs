//! The simulated person: knows which questions were put, and what was found, but no readings.

use std::collections::HashMap;
use std::rc::Rc;
use std::sync::Arc;

use crate::formula::{EvalError, Formula, Logic, Node, TruthId, truth};
use crate::ranking::Observable;
use crate::rules::{ComplaintId, FindingId, Pack, QuestionId, TypedIndex, VarOwner};

use crate::interview::answers::round::Answers;
use crate::interview::evidence::earlier::Earlier;
use crate::interview::evidence::facts::Facts;
use crate::interview::evidence::told::told_by;
use crate::interview::walk::known::Known;
use crate::interview::walk::observe::observables;

/// Findings on one choice or one expression, and the patterns they can take together.
pub(in crate::interview) type Group = (Vec<FindingId>, Vec<Vec<bool>>);

pub(in crate::interview) struct Person<'p> {
    facts: Rc<Facts<'p>>,
    /// Of each finding, for each way to tell it: the questions it wants, those with a typical value left
    /// out.
    wants: Rc<Vec<Vec<Vec<QuestionId>>>>,
    groups: Rc<Vec<Group>>,
    shows: Vec<FindingId>,
    asked: Vec<QuestionId>,
    decided: HashMap<FindingId, bool>,
}

impl<'p> Person<'p> {
    pub(in crate::interview) fn new(pack: &'p Pack, complaint: ComplaintId) -> Self {
        let facts = Facts::new(pack, Answers::new(), &Earlier::default(), &Arc::default());
        let wants = pack
            .findings
            .iter()
            .map(|(_, finding)| {
                let ways = facts.ways_to_tell(&finding.when.node).into_iter();
                ways.map(|way| hard_of(&facts, &way)).collect()
            })
            .collect();
        let groups = exclusive(&facts);
        Self {
            facts: Rc::new(facts),
            wants: Rc::new(wants),
            groups: Rc::new(groups),
            shows: pack.complaints[complaint].shows.clone(),
            asked: Vec::new(),
            decided: HashMap::new(),
        }
    }

    /// The same person before the first question.
    pub(in crate::interview) fn afresh(&self) -> Self {
        Self {
            facts: Rc::clone(&self.facts),
            wants: Rc::clone(&self.wants),
            groups: Rc::clone(&self.groups),
            shows: self.shows.clone(),
            asked: Vec::new(),
            decided: HashMap::new(),
        }
    }

    pub(in crate::interview) fn groups(&self) -> &[Group] {
        &self.groups
    }

    pub(in crate::interview) fn was_asked(&self, question: QuestionId) -> bool {
        self.asked.contains(&self.facts.pack.asked_with(question))
    }

    pub(in crate::interview) fn has_decided(&self, finding: FindingId) -> bool {
        self.decided.contains_key(&finding)
    }

    /// Whether a car can have these causes: none of them sits in a part which by the findings of that
    /// same car isn't there.
    pub(in crate::interview) fn could_be(&self, causes: &[bool], findings: &[bool]) -> bool {
        let car = Car { person: self, findings };
        let drawn = self.facts.pack.causes.iter().zip(causes).filter(|(_, present)| **present);
        drawn
            .filter_map(|((_, cause), _)| cause.fits.as_ref())
            .all(|fits| truth(&car, &fits.node) != Ok(false))
    }

    /// Whether one of these was seen to be false, though the complaint shows it.
    pub(in crate::interview) fn denies_complaint(&self, seen: &[Observable]) -> bool {
        let mut findings =
            seen.iter().flat_map(Observable::findings).map(|f| FindingId::from_index(*f));
        findings.any(|finding| {
            self.shows.contains(&finding) && self.decided.get(&finding) == Some(&false)
        })
    }

    pub(in crate::interview) fn decide(&mut self, finding: FindingId, truth: bool) {
        self.decided.insert(finding, truth);
    }

    /// Puts a question; what comes to light by it.
    pub(in crate::interview) fn ask(&mut self, question: QuestionId) -> Vec<Observable> {
        self.asked.push(question);
        let shown: Vec<FindingId> = self
            .facts
            .pack
            .findings
            .indices()
            .filter(|finding| !self.has_decided(*finding))
            .filter(|finding| {
                self.wants[finding.index()].iter().any(|way| {
                    way.iter().any(|own| self.facts.pack.asked_with(*own) == question)
                        && way.iter().all(|wanted| self.was_asked(*wanted))
                })
            })
            .collect();
        observables(&self.facts, &shown, &|question| self.was_asked(question))
    }
}

/// All findings on one choice or one expression, with the patterns that they can take.
pub(in crate::interview) fn exclusive(facts: &Facts<'_>) -> Vec<Group> {
    let all: Vec<FindingId> = facts.pack.findings.indices().collect();
    let group = |observable| match observable {
        Observable::Group { findings, patterns, .. } => {
            Some((findings.into_iter().map(FindingId::from_index).collect(), patterns))
        }
        Observable::Finding { .. } => None,
    };
    observables(facts, &all, &|_| true).into_iter().filter_map(group).collect()
}

/// The questions of a way that have no typical value, or one of those that have.
fn hard_of(facts: &Facts<'_>, way: &[QuestionId]) -> Vec<QuestionId> {
    let hard: Vec<QuestionId> =
        way.iter().copied().filter(|question| !facts.assumes(*question)).collect();
    if hard.is_empty() { way.iter().copied().take(1).collect() } else { hard }
}

/// What is known of a branch's condition: findings, and which questions were asked.
impl Logic for Person<'_> {
    type Truth = Result<bool, EvalError>;

    fn atom(&self, atom: &Node) -> Self::Truth {
        let Node::Known(variable) = atom else { return Err(EvalError::Unknown) };
        match self.facts.pack.owner_of(*variable) {
            VarOwner::Question(question) => Ok(self.was_asked(question)),
            VarOwner::Working(_) | VarOwner::CurveVariable => Err(EvalError::Unknown),
        }
    }

    fn named(&self, name: TruthId) -> Option<Self::Truth> {
        let finding = FindingId::from_index(name.0);
        let shown = self.shows.contains(&finding).then_some(true);
        let told = self.decided.get(&finding).copied().or(shown);
        Some(told.ok_or(EvalError::Unknown))
    }
}

/// A car whose every finding is known.
struct Car<'a, 'p> {
    person: &'a Person<'p>,
    findings: &'a [bool],
}

impl Logic for Car<'_, '_> {
    type Truth = Result<bool, EvalError>;

    fn atom(&self, atom: &Node) -> Self::Truth {
        self.person.atom(atom)
    }

    fn named(&self, name: TruthId) -> Option<Self::Truth> {
        Some(self.findings.get(name.0).copied().ok_or(EvalError::Unknown))
    }
}

impl<'p> Known<'p> for Person<'p> {
    fn pack(&self) -> &'p Pack {
        self.facts.pack
    }

    fn facts(&self) -> &Facts<'p> {
        &self.facts
    }

    fn is_held(&self, question: QuestionId) -> bool {
        self.was_asked(question)
    }

    fn is_answered(&self, question: QuestionId) -> bool {
        self.was_asked(question)
    }

    /// What comes before a question is taken to go well: the car is made ready for it.
    fn is_answered_well(&self, question: QuestionId) -> bool {
        self.was_asked(question)
    }

    fn is_told(&self, question: QuestionId) -> bool {
        told_by(self.facts.pack, self.shows.iter()).contains(&question)
    }

    fn put_off(&self) -> Vec<QuestionId> {
        Vec::new()
    }

    fn says_most(&self) -> bool {
        true
    }

    fn put_this_round(&self) -> usize {
        self.asked.len()
    }

    fn in_a_row(&self) -> usize {
        0
    }

    fn is_decided(&self, finding: FindingId) -> bool {
        self.has_decided(finding)
    }

    fn takes(&self, when: &Formula) -> bool {
        truth(self, &when.node) == Ok(true)
    }

    fn rules_out(&self, when: &Formula) -> bool {
        truth(self, &when.node) == Ok(false)
    }
}
