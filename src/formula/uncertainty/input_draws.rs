//! The draws of uncertain inputs. Every draw of every input, given or written with `±`, comes from
//! here and from nowhere else: workings, curves, chances and findings that rest on one input are all
//! worked out at the same draws of it.
//!
//! Row n of every column is one draw of all inputs, so that columns that go together carry whatever
//! correlation they have. What readings have taught comes as [`JointDraws`]; every other input is drawn
//! by itself, a column of a Latin hypercube in an order of its own.

use std::sync::{Arc, OnceLock};

use super::joint_draws::JointDraws;
use super::latin_hypercube::{permuted, slices, stream, within};
use crate::formula::check::{Formula, VarId};
use crate::formula::evaluate::{InputEstimate, Model};

/// A number of draws of every uncertain input.
pub(crate) struct InputDraws {
    slices: Box<[f64]>,
    /// By given variable: its value at each draw, once it was asked for.
    given: Vec<OnceLock<Box<[f64]>>>,
    joint: Option<Arc<JointDraws>>,
    /// All other inputs stay at their middles.
    is_alone: bool,
}

impl InputDraws {
    /// So many draws of so many given values.
    pub(crate) fn new(count: usize, inputs: usize) -> Self {
        Self {
            slices: slices(count),
            given: vec![OnceLock::new(); inputs],
            joint: None,
            is_alone: false,
        }
    }

    /// As many draws as `joint` has, some of the given values as it has them.
    pub(crate) fn joint(joint: Arc<JointDraws>, inputs: usize) -> Self {
        Self { joint: Some(joint.clone()), ..Self::new(joint.count(), inputs) }
    }

    /// The same, all others at their middles.
    pub(crate) fn alone(joint: Arc<JointDraws>, inputs: usize) -> Self {
        let slices = vec![0.0; joint.count()].into();
        Self { slices, given: vec![OnceLock::new(); inputs], joint: Some(joint), is_alone: true }
    }

    /// How many draws there are.
    pub(crate) fn count(&self) -> usize {
        self.slices.len()
    }

    /// A given value at each draw.
    pub(crate) fn given(&self, model: &Model<'_>, variable: VarId) -> &[f64] {
        if let Some(column) = self.joint.as_ref().and_then(|joint| joint.column(variable)) {
            return column;
        }
        self.given[variable.0].get_or_init(|| {
            let named = model.input(variable).map_or(0, |input| input.stream);
            let stream = if named == 0 { within(0, variable.0) } else { named };
            self.around(model.given(variable), stream)
        })
    }

    /// The literals with `±` of a formula at each draw, by their index. Of formulas with one and the
    /// same text each has draws of its own, by how many stand before it.
    pub(crate) fn literals(&self, formula: &Formula, occurrence: usize) -> Vec<Box<[f64]>> {
        let stream = within(stream(&formula.text), occurrence);
        let literals = formula.spreads.iter().enumerate();
        literals
            .map(|(index, (value, uncertainty))| {
                let estimate = InputEstimate::normal(*value, *uncertainty);
                self.around(estimate, within(stream, index))
            })
            .collect()
    }

    /// The distribution about an estimate.
    fn around(&self, estimate: InputEstimate, stream: u64) -> Box<[f64]> {
        if self.is_alone {
            return vec![estimate.value; self.slices.len()].into();
        }
        let mut drawn = permuted(&self.slices, stream);
        for draw in &mut drawn {
            *draw = estimate.at(*draw);
        }
        drawn
    }
}
