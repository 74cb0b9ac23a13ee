//! What drawing answers needs of a pack, prepared once: which findings rest on which questions, in how
//! many ways each can be told, and what kind of car a cause asks for.

use std::sync::Arc;

use crate::formula::{Formula, InputValue, Plain, Worked};
use crate::rules::{AnswerForm, CauseId, FindingId, Pack, QuestionId, ReadingId, TypedIndex};

use crate::interview::answers::round::Answers;
use crate::interview::bench::person::{Group, exclusive};
use crate::interview::evidence::earlier::Earlier;
use crate::interview::evidence::facts::Facts;

/// Most ways of a finding that its answers are held to.
const MAX_WAYS: usize = 6;

/// A finding told one way: what it asks of the answers.
pub(in crate::interview) struct Demand {
    pub(in crate::interview) finding: FindingId,
    /// The questions told on this way; none where all are.
    told: Option<Vec<bool>>,
}

pub(in crate::interview) struct Frame<'p> {
    pub(in crate::interview) pack: &'p Pack,
    formulas: Vec<&'p Formula>,
    /// By question: it has no typical value, so that nothing is known of it until it is told.
    hides: Vec<bool>,
    pub(in crate::interview) groups: Vec<Group>,
    pub(in crate::interview) demands: Vec<Demand>,
    /// By question: the demands and the readings' rules that rest on it.
    pub(in crate::interview) demands_on: Vec<Vec<usize>>,
    pub(in crate::interview) rules_on: Vec<Vec<ReadingId>>,
    /// Questions that tell which causes fit the car.
    pub(in crate::interview) features: Vec<QuestionId>,
}

impl<'p> Frame<'p> {
    pub(in crate::interview) fn new(pack: &'p Pack) -> Self {
        let facts = Facts::new(pack, Answers::new(), &Earlier::default(), &Arc::default());
        let hides: Vec<bool> = pack
            .questions
            .iter()
            .map(|(_, question)| match &question.answer {
                AnswerForm::Measure(measure) => measure.typical.is_none(),
                _ => true,
            })
            .collect();
        let mut demands = Vec::new();
        let mut demands_on = vec![Vec::new(); pack.questions.len()];
        for (finding, written) in pack.findings.indices().zip(pack.findings.iter()) {
            let node = &written.1.when.node;
            let below: Vec<QuestionId> = facts.questions_below(node).collect();
            let ways = facts.ways_to_tell(node);
            let mut told = vec![None];
            if ways.len() > 1 {
                let mask = |way: &Vec<QuestionId>| {
                    Some(pack.questions.indices().map(|own| way.contains(&own)).collect())
                };
                told.extend(ways.iter().take(MAX_WAYS).map(mask));
            }
            for told in told {
                below.iter().for_each(|question| demands_on[question.index()].push(demands.len()));
                demands.push(Demand { finding, told });
            }
        }
        let mut rules_on = vec![Vec::new(); pack.questions.len()];
        for (rule, written) in pack.readings.indices().zip(pack.readings.iter()) {
            let mut on: Vec<QuestionId> =
                facts.questions_below(&written.1.should_be.node).collect();
            on.extend(written.1.when.iter().flat_map(|when| facts.questions_below(&when.node)));
            on.push(written.1.of);
            on.sort_unstable();
            on.dedup();
            on.into_iter().for_each(|question| rules_on[question.index()].push(rule));
        }
        let fits = pack.causes.iter().filter_map(|(_, cause)| cause.fits.as_ref());
        let mut features: Vec<QuestionId> =
            fits.flat_map(|fits| facts.questions_below(&fits.node)).collect();
        features.sort_unstable();
        features.dedup();
        let formulas = pack.workings.iter().map(|(_, working)| &working.formula).collect();
        let groups = exclusive(&facts);
        Self { pack, formulas, hides, groups, demands, demands_on, rules_on, features }
    }

    /// Room for what formulas give, while one car's answers are drawn.
    pub(in crate::interview) fn worked(&self) -> Worked {
        Worked::new(self.pack.questions.len(), &self.formulas)
    }

    /// The car's answers, to be asked; all of them told.
    pub(in crate::interview) fn plain<'a>(
        &'a self,
        values: &'a [Option<InputValue>],
    ) -> Plain<'a, 'p> {
        Plain::new(values, None, &self.hides, &self.formulas)
    }

    /// Whether a finding shows in these answers, told as the demand says; none where they don't tell.
    pub(in crate::interview) fn shows(
        &self,
        demand: &Demand,
        values: &[Option<InputValue>],
    ) -> Option<bool> {
        self.show(demand, self.plain_as_told(demand, values))
    }

    /// The same while answers are drawn, with what was worked out before.
    pub(in crate::interview) fn shows_while_drawn(
        &self,
        demand: &Demand,
        values: &[Option<InputValue>],
        worked: &Worked,
    ) -> Option<bool> {
        self.show(demand, self.plain_as_told(demand, values).remembering(worked))
    }

    fn plain_as_told<'a>(
        &'a self,
        demand: &'a Demand,
        values: &'a [Option<InputValue>],
    ) -> Plain<'a, 'p> {
        Plain::new(values, demand.told.as_deref(), &self.hides, &self.formulas)
    }

    fn show(&self, demand: &Demand, plain: Plain<'_, '_>) -> Option<bool> {
        plain.holds(&self.pack.findings[demand.finding].when).ok()
    }

    /// Whether every one of these causes can be in the car of these answers.
    pub(in crate::interview) fn fit(&self, causes: &[bool], values: &[Option<InputValue>]) -> bool {
        let plain = self.plain(values);
        let drawn = causes.iter().enumerate().filter(|(_, present)| **present);
        drawn
            .filter_map(|(cause, _)| self.pack.causes[CauseId::from_index(cause)].fits.as_ref())
            .all(|fits| plain.holds(fits) != Ok(false))
    }
}
