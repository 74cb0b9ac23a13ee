//! Questions with options. Of a choice one is true; of a list any number, each option being a question of
//! its own.

use std::collections::{HashMap, HashSet};

use indexmap::IndexMap;

use super::linker::{At, Linker, Spot};
use crate::formula::unusable;
use crate::rules::fault::LinkFault;
use crate::rules::pack::Pack;
use crate::rules::question::{AnswerForm, Question};
use crate::rules::table::{QuestionId, TypedIndex};
use crate::rules::written as w;

const MAX_OPTIONS: usize = 20;

/// Whether a question may have so many options.
pub(super) fn may_be_so_many(linker: &mut Linker<'_>, spot: &Spot<'_>, given: usize) -> bool {
    let may = (2..=MAX_OPTIONS).contains(&given);
    if !may {
        linker.note(spot, LinkFault::OptionCount { given, most: MAX_OPTIONS });
    }
    may
}

/// Options of which one is true: each with a text of its own.
pub(super) fn choose(
    linker: &mut Linker<'_>,
    spot: &Spot<'_>,
    options: &IndexMap<String, String>,
) -> Option<AnswerForm> {
    let spot = spot.under("choose");
    if !may_be_so_many(linker, &spot, options.len()) {
        return None;
    }
    for option in options.keys() {
        if unusable(option).is_some() {
            let spot = spot.under(option).on_key();
            linker.note(&spot, LinkFault::UnusableOption { option: option.clone() });
        }
    }
    let mut said: HashMap<&str, &str> = HashMap::new();
    for (option, text) in options {
        if let Some(first) = said.insert(text.trim(), option).map(str::to_owned) {
            linker.note(&spot.under(option), LinkFault::SameOption { first });
        }
    }
    Some(AnswerForm::Choose(options.clone()))
}

/// The options are questions of the stack, by their ids.
pub(super) fn any_of(
    linker: &mut Linker<'_>,
    spot: &Spot<'_>,
    options: &IndexMap<String, String>,
) -> Option<AnswerForm> {
    if !may_be_so_many(linker, &spot.under("any_of"), options.len()) {
        return None;
    }
    let place = |id: &String| linker.stack.questions.get_index_of(id).map(QuestionId::from_index);
    Some(AnswerForm::AnyOf(options.keys().filter_map(place).collect()))
}

/// How often an option that is true isn't picked.
pub(super) fn overlooked(
    linker: &mut Linker<'_>,
    at: At<'_>,
    written: &w::Question,
    answer: Option<&AnswerForm>,
) -> Option<f64> {
    let Some(w::AnswerForm::Fields(fields)) = &written.answer else { return None };
    let text = fields.overlooked.as_ref()?;
    let spot = at.field("answer").under("overlooked");
    if matches!(answer, Some(AnswerForm::AnyOf(_)) | None) {
        return linker.chance(&spot, text);
    }
    linker.note(&spot.on_key(), LinkFault::UnusedOverlooked);
    None
}

/// An option that may be true with others: a yes or no as sure, and of the same cars, as its list.
pub(super) fn option(
    linker: &mut Linker<'_>,
    pack: &Pack,
    at: At<'_>,
    (written, list): (&w::Question, QuestionId),
) -> Question {
    // Read by `id: text`, so that a missing text is a fault of the key's own value.
    let text = linker.text(&at.field_itself(), written.text.as_ref());
    Question {
        text: text.unwrap_or_default(),
        answer: AnswerForm::YesOrNo,
        list: Some(list),
        minutes: 0.0,
        not_before: Vec::new(),
        invalidates: Vec::new(),
        also: Vec::new(),
        ..pack.questions[list].clone()
    }
}

/// Lets whatever makes an option stale make its list stale, and the other way round; a step or a cause
/// that names an option means its list.
pub(super) fn settle_lists(pack: &mut Pack) {
    if !pack.questions.iter().any(|(_, question)| question.list.is_some()) {
        return;
    }
    let asked: Vec<QuestionId> =
        pack.questions.indices().map(|question| pack.asked_with(question)).collect();
    let of_lists = |named: &mut Vec<QuestionId>| {
        named.iter_mut().for_each(|question| *question = asked[question.index()]);
        let mut seen = HashSet::new();
        named.retain(|question| seen.insert(*question));
    };
    let lists: Vec<Vec<QuestionId>> =
        pack.questions.indices().map(|question| pack.options_of(question).to_vec()).collect();
    let with_options = |named: &mut Vec<QuestionId>| {
        of_lists(named);
        let options: Vec<QuestionId> =
            named.iter().flat_map(|list| lists[list.index()].iter().copied()).collect();
        named.extend(options);
    };
    for step in pack.steps.indices() {
        of_lists(&mut pack.steps[step].ask);
        of_lists(&mut pack.steps[step].ask_best_of);
    }
    for cause in pack.causes.indices() {
        of_lists(&mut pack.causes[cause].confirmed_by);
    }
    for repair in pack.repairs.indices() {
        with_options(&mut pack.repairs[repair].invalidates);
    }
    for question in pack.questions.indices() {
        with_options(&mut pack.questions[question].invalidates);
    }
}
