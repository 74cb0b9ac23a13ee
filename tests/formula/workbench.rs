//! Names with values for the tests of formulas, as a pack or a person would bring them.

use std::sync::Arc;

use boostwright::formula::{
    Estimate, Evaluator, Fault, Formula, Input, InputValue, Meaning, Names, VarId, Weight, check,
};
use boostwright::quantity::{Kind, Quantity, read, read_unsettled};

/// What one name stands for.
pub(super) struct Given {
    name: &'static str,
    means: Means,
    input: Input,
}

enum Means {
    Number(Kind),
    Truth,
    Choice(Vec<&'static str>),
}

/// A number as a person types it, its kind settled by its unit alone.
pub(super) fn number(name: &'static str, text: &str) -> Given {
    let (entry, kind) = read_unsettled(text).unwrap_or_else(|error| panic!("{text}: {error}"));
    let entry =
        InputValue::Number { value: entry.si, uncertainty: entry.uncertainty.unwrap_or(0.0) };
    Given { name, means: Means::Number(kind), input: known(entry) }
}

/// A number of a kind that the place settles, as the answer to a question.
pub(super) fn answer<Q: Quantity>(name: &'static str, text: &str) -> Given {
    let entry = read(text, Q::KIND, None).unwrap_or_else(|error| panic!("{text}: {error}"));
    let entry =
        InputValue::Number { value: entry.si, uncertainty: entry.uncertainty.unwrap_or(0.0) };
    Given { name, means: Means::Number(Q::KIND), input: known(entry) }
}

/// A number that nobody gave.
pub(super) fn missing<Q: Quantity>(name: &'static str) -> Given {
    Given { name, means: Means::Number(Q::KIND), input: Input::default() }
}

/// A yes-or-no answer that is right so often.
pub(super) fn truth(name: &'static str, answer: bool, sure: f64) -> Given {
    let input = Input { sure, ..known(InputValue::Bool(answer)) };
    Given { name, means: Means::Truth, input }
}

/// A yes-or-no question that nobody answered.
pub(super) fn unanswered(name: &'static str) -> Given {
    Given { name, means: Means::Truth, input: Input::default() }
}

/// A choice with the option chosen, right so often.
pub(super) fn choice(
    name: &'static str,
    options: &[&'static str],
    chosen: usize,
    sure: f64,
) -> Given {
    let input = Input { sure, options: options.len(), ..known(InputValue::Option(chosen)) };
    Given { name, means: Means::Choice(options.to_vec()), input }
}

fn known(value: InputValue) -> Input {
    Input { value: Some(value), known: true, ..Input::default() }
}

/// The names of one test.
pub(super) struct Bench(pub(super) Vec<Given>);

impl Names for Bench {
    fn find(&self, name: &str) -> Option<Meaning<'_>> {
        let place = self.0.iter().position(|given| given.name == name)?;
        let variable = VarId(place);
        Some(match &self.0[place].means {
            Means::Number(kind) => Meaning::Value { variable, kind: *kind },
            Means::Truth => Meaning::Bool { variable },
            Means::Choice(options) => Meaning::Choice { variable, options: options.clone() },
        })
    }

    fn all(&self) -> Vec<&str> {
        self.0.iter().map(|given| given.name).collect()
    }
}

impl Bench {
    pub(super) fn check(&self, formula: &str) -> Result<Formula, Vec<Fault>> {
        check(formula, self, None)
    }

    pub(super) fn sound(&self, formula: &str) -> Formula {
        self.check(formula).unwrap_or_else(|faults| panic!("{formula}: {faults:?}"))
    }

    pub(super) fn evaluator(&self) -> Evaluator<'static> {
        Evaluator::new(
            self.0.iter().map(|given| given.input.clone()).collect(),
            Vec::new(),
            &[],
            Arc::default(),
        )
    }

    /// What a formula gives, in coherent SI; the reason where it is refused.
    pub(super) fn worked(&self, formula: &str) -> Result<Estimate, String> {
        let formula = self.check(formula).map_err(|faults| told(&faults))?;
        self.evaluator().estimate(&formula).map_err(|gap| gap.to_string())
    }

    pub(super) fn value(&self, formula: &str) -> f64 {
        self.worked(formula).unwrap_or_else(|reason| panic!("{formula}: {reason}")).band.value
    }

    pub(super) fn weigh(&self, formula: &str) -> Option<Weight> {
        self.evaluator().weigh(&self.sound(formula))
    }
}

/// A formula without names: its value in coherent SI.
pub(super) fn value(formula: &str) -> f64 {
    Bench(Vec::new()).value(formula)
}

/// Why a formula without names is refused.
pub(super) fn refusal(formula: &str) -> String {
    match Bench(Vec::new()).worked(formula) {
        Ok(worked) => panic!("{formula} gives {}", worked.band.value),
        Err(reason) => reason,
    }
}

fn told(faults: &[Fault]) -> String {
    let told: Vec<String> =
        faults.iter().map(|fault| format!("{} ({})", fault.message(), fault.help())).collect();
    told.join("; ")
}

/// Equal to so many parts of the expected value, or of one where that is smaller.
#[track_caller]
pub(super) fn close(found: f64, expected: f64, within: f64) {
    let allowed = within * expected.abs().max(if expected == 0.0 { 1.0 } else { 0.0 });
    assert!((found - expected).abs() <= allowed, "{found} instead of {expected}");
}
