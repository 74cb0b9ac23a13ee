//! The draws of uncertain inputs. Every draw of every input, given or written with `±`, comes from
//! here and from nowhere else: workings, curves, chances and findings that rest on one input are all
//! worked out at the same draws of it.
//!
//! Today each input is drawn by itself, a column of a Latin hypercube in an order of its own: what a
//! person measured and what is assumed is taken as independent. Draws of all inputs together, such as a
//! sample of them given readings, can take the place of [`InputDraws`]: all that is asked of it is how
//! many rows there are, and the column of an input. Row n of every column is one draw of all inputs, so
//! that columns that go together carry whatever correlation they have.

use std::sync::OnceLock;

use super::latin_hypercube::{permuted, slices, stream, within};
use crate::formula::check::{Formula, VarId};
use crate::formula::evaluate::{InputEstimate, Model};

/// A number of draws of every uncertain input.
pub(crate) struct InputDraws {
    slices: Box<[f64]>,
    /// By given variable: its value at each draw, once it was asked for.
    given: Vec<OnceLock<Box<[f64]>>>,
}

impl InputDraws {
    /// So many draws of so many given values.
    pub(crate) fn new(count: usize, inputs: usize) -> Self {
        Self { slices: slices(count), given: vec![OnceLock::new(); inputs] }
    }

    /// How many draws there are.
    pub(crate) fn count(&self) -> usize {
        self.slices.len()
    }

    /// A given value at each draw.
    pub(crate) fn given(&self, model: &Model<'_>, variable: VarId) -> &[f64] {
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
                let estimate = InputEstimate { value: *value, uncertainty: *uncertainty };
                self.around(estimate, within(stream, index))
            })
            .collect()
    }

    /// A normal distribution about an estimate.
    fn around(&self, estimate: InputEstimate, stream: u64) -> Box<[f64]> {
        let mut drawn = permuted(&self.slices, stream);
        for draw in &mut drawn {
            *draw = estimate.value + estimate.uncertainty * *draw;
        }
        drawn
    }
}
