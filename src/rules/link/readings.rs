//! Readings: answers that say what a formula should have given.

use std::collections::BTreeSet;

use super::entries::entries;
use super::formulas::Formulas;
use super::linker::{At, Linker};
use crate::formula::{Formula, Node};
use crate::rules::fault::LinkFault;
use crate::rules::pack::{Pack, ReadingRule, VarOwner};
use crate::rules::question::{AnswerForm, Measure, UsualUncertainty};
use crate::rules::table::QuestionId;
use crate::rules::written as w;

pub(super) fn link(linker: &mut Linker<'_>, pack: &mut Pack, formulas: &Formulas) {
    let stack = linker.stack;
    for (at, written) in entries("readings", &stack.readings) {
        if let Some(reading) = reading(linker, pack, formulas, at, written) {
            pack.readings.push(at.id().to_owned(), reading);
        }
    }
    doubled(linker, pack);
}

fn reading(
    linker: &mut Linker<'_>,
    pack: &Pack,
    formulas: &Formulas,
    at: At<'_>,
    written: &w::Reading,
) -> Option<ReadingRule> {
    let (Some(of), Some(should_be), Some(good_to)) =
        (&written.of, &written.should_be, &written.good_to)
    else {
        for (field, text) in
            [("of", &written.of), ("should_be", &written.should_be), ("good_to", &written.good_to)]
        {
            if text.is_none() {
                linker.lacking(at, field, "it teaches nothing");
            }
        }
        return None;
    };
    let stack = linker.stack;
    let question: QuestionId =
        linker.place(&at.field("of"), of, &stack.questions, "a measured question")?;
    let AnswerForm::Measure(measure) = &pack.questions[question].answer else {
        if !linker.formless.contains(of) {
            linker.note(&at.field("of"), LinkFault::NotMeasured { question: of.clone() });
        }
        return None;
    };
    let should_be = formulas.value(linker, &at.field("should_be"), should_be, measure.kind)?;
    let good_to = uncertainty(linker, at, measure, good_to)?;
    let when = formulas.condition(linker, &at.field("when"), written.when.as_ref());
    teaches(linker, pack, at, question, &should_be);
    Some(ReadingRule {
        of: question,
        should_be,
        when,
        good_to,
        sources: linker.sources(&at.field("source"), written.source.as_ref()),
    })
}

/// `good_to: 0.03 bar`, or `5 %` of the reading.
fn uncertainty(
    linker: &mut Linker<'_>,
    at: At<'_>,
    measure: &Measure,
    text: &str,
) -> Option<UsualUncertainty> {
    let is_share = !measure.unit.is_percent() && !measure.unit.is_point();
    let share = text.trim().strip_suffix('%').filter(|_| is_share);
    let found = match share.map(|number| number.trim().parse::<f64>()) {
        Some(Ok(percent)) => UsualUncertainty::Relative(percent / 100.0),
        _ => {
            let (size, dimension) = linker.any_value(&at.field("good_to"), text)?;
            UsualUncertainty::Amount(if dimension == measure.kind.dimension { size } else { 0.0 })
        }
    };
    if found.of(1.0) > 0.0 && found.of(1.0).is_finite() {
        return Some(found);
    }
    linker.note(&at.field("good_to"), LinkFault::NotAnUncertainty { wanted: measure.kind });
    None
}

/// A reading is told where it can teach nothing, or only itself.
fn teaches(linker: &mut Linker<'_>, pack: &Pack, at: At<'_>, of: QuestionId, should_be: &Formula) {
    let below = questions_below(pack, should_be);
    if below.contains(&of) {
        let question = pack.questions.id(of).to_owned();
        linker.note(&at.field("should_be"), LinkFault::ReadsItself { question });
    } else if !below.iter().any(|question| is_uncertain(pack, *question)) {
        linker.note(&at.field("should_be"), LinkFault::TeachesNothing);
    }
}

fn is_uncertain(pack: &Pack, question: QuestionId) -> bool {
    match &pack.questions[question].answer {
        AnswerForm::Measure(measure) => {
            measure.typical.is_some_and(|(_, uncertainty)| uncertainty > 0.0)
                || !matches!(measure.uncertainty, UsualUncertainty::Amount(0.0))
                || !measure.read_with.is_empty()
        }
        _ => false,
    }
}

/// The questions that a formula rests on, workings looked through.
fn questions_below(pack: &Pack, formula: &Formula) -> BTreeSet<QuestionId> {
    let (mut found, mut workings) = (BTreeSet::new(), BTreeSet::new());
    let mut open: Vec<&Node> = vec![&formula.node];
    while let Some(node) = open.pop() {
        for slot in node.reads() {
            match pack.owner_of(slot) {
                VarOwner::Question(question) => {
                    found.insert(question);
                }
                VarOwner::Working(working) => {
                    if workings.insert(working) {
                        open.push(&pack.workings[working].formula.node);
                    }
                }
                VarOwner::CurveVariable => {}
            }
        }
    }
    found
}

/// One answer can be a reading of one formula only: counted twice it would teach twice.
fn doubled(linker: &mut Linker<'_>, pack: &Pack) {
    let stack = linker.stack;
    let mut seen: Vec<(QuestionId, &str)> = Vec::new();
    for (place, reading) in pack.readings.iter() {
        let id = pack.readings.id(place);
        let first = seen.iter().find(|(of, _)| *of == reading.of);
        if let (Some((_, first)), Some(entry)) = (first, stack.readings.get(id)) {
            let question = pack.questions.id(reading.of).to_owned();
            let first = (*first).to_owned();
            let spot = At::new("readings", id, entry).field("of");
            linker.note(&spot, LinkFault::ReadTwice { question, first });
        }
        seen.push((reading.of, id));
    }
}
