//! A number of the car with its band, as a verdict shows it.

use crate::formula::{Band, VarId};
use crate::quantity::Unit;
use crate::rules::{AnswerForm, VarOwner};

use crate::interview::answers::answer::Answer;
use crate::interview::evidence::facts::Facts;

/// A number with its band, SI, and the unit it is read in.
#[derive(Debug, Clone, PartialEq)]
pub struct Figure {
    pub value: f64,
    pub uncertainty: f64,
    pub low: f64,
    pub high: f64,
    pub unit: Unit,
}

fn of_band(band: &Band, unit: Unit) -> Figure {
    let Band { value, uncertainty, low, high, .. } = *band;
    Figure { value, uncertainty, low, high, unit }
}

/// What a slot's number is, with its band.
pub(super) fn figure(facts: &Facts<'_>, slot: VarId) -> Option<Figure> {
    let pack = facts.pack;
    match pack.owner_of(slot) {
        VarOwner::Question(question) => {
            let AnswerForm::Measure(measure) = &pack.questions[question].answer else {
                return None;
            };
            match facts.held.get(&question).map(|held| &held.answer) {
                Some(Answer::Number(reading)) => {
                    let half = crate::formula::COVERAGE * reading.uncertainty;
                    Some(Figure {
                        value: reading.value,
                        uncertainty: reading.uncertainty,
                        low: reading.value - half,
                        high: reading.value + half,
                        unit: measure.unit.clone(),
                    })
                }
                _ => None,
            }
        }
        VarOwner::Working(working) => {
            let worked = facts.worked(working)?;
            Some(of_band(&worked.band, pack.workings[working].unit.clone()))
        }
        VarOwner::CurveVariable => None,
    }
}
