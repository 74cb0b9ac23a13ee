//! Questions: how they are answered, what is usual, when they may be asked.

use std::collections::HashSet;

use indexmap::IndexMap;

use super::entries::entries;
use super::formulas::{Formulas, circle};
use super::ids::usable_id;
use super::linker::{At, Linker, Spot};
use super::lists::{any_of, choose, option, overlooked};
use super::order::order;
use crate::formula::nearest;
use crate::quantity::{Entry, Kind, Unit, readable_unit};
use crate::rules::fault::{LinkFault, WAITS};
use crate::rules::pack::Pack;
use crate::rules::question::{AnswerForm, Holds, Measure, Question, UsualUncertainty};
use crate::rules::table::{InstrumentId, QuestionId, TypedIndex};
use crate::rules::written as w;

/// Minutes a question takes where the file doesn't say.
const USUAL_MINUTES: f64 = 5.0;
const MAX_REPEATS: usize = 20;

pub(super) fn link(linker: &mut Linker<'_>, pack: &mut Pack) {
    let stack = linker.stack;
    for (at, written) in entries("questions", &stack.questions) {
        usable_id(linker, at);
        if let Some(list) = at.list().and_then(|list| pack.questions.find(list)) {
            let option = option(linker, pack, at, (written, list));
            pack.questions.push(at.id().to_owned(), option);
            continue;
        }
        let question = question(linker, pack, at, written);
        pack.questions.push(at.id().to_owned(), question);
    }
    waits(linker, pack);
}

/// Questions that wait for themselves are never asked: each circle is told once.
fn waits(linker: &mut Linker<'_>, pack: &Pack) {
    let stack = linker.stack;
    let waits = pack.questions.iter().map(|(_, question)| distinct(&question.not_before));
    let waits: Vec<Vec<usize>> = waits.collect();
    let circular: HashSet<usize> = order(&waits).circular.into_iter().collect();
    let all: Vec<(At<'_>, &w::Question)> = entries("questions", &stack.questions).collect();
    let further = |from: usize| waits[from].iter().copied().find(|next| circular.contains(next));
    let mut seen = HashSet::new();
    for start in (0..all.len()).filter(|start| circular.contains(start)) {
        let mut way = Vec::new();
        let mut now = Some(start);
        while let Some(next) = now.filter(|next| seen.insert(*next)) {
            way.push(next);
            now = further(next);
        }
        if let Some(closes) = now.filter(|closes| way.contains(closes)) {
            let (at, written) = all[closes];
            let other = all[further(closes).unwrap_or(closes)].0.id();
            let mut names = written.not_before.iter().flatten();
            let item = names.position(|name| name == other).unwrap_or_default();
            circle(linker, at, &at.field("not_before").item(item), other, WAITS);
        }
    }
}

fn distinct(places: &[QuestionId]) -> Vec<usize> {
    let mut found: Vec<usize> = places.iter().map(|place| place.index()).collect();
    found.sort_unstable();
    found.dedup();
    found
}

fn question(linker: &mut Linker<'_>, pack: &Pack, at: At<'_>, written: &w::Question) -> Question {
    let stack = linker.stack;
    let answer = answer(linker, pack, at, written);
    if answer.is_none() {
        linker.formless.insert(at.id().to_owned());
    }
    let cautions = linker.cautions(&at.field("cautions"), written.cautions.as_ref());
    let sure = sure(linker, at, written, answer.as_ref());
    let overlooked = overlooked(linker, at, written, answer.as_ref());
    Question {
        text: linker.required(at, "text", written.text.as_ref()),
        answer: answer.unwrap_or(AnswerForm::YesOrNo),
        how: linker.text(&at.field("how"), written.how.as_ref()),
        why: linker.text(&at.field("why"), written.why.as_ref()),
        normal: linker.text(&at.field("normal"), written.normal.as_ref()),
        car: linker.place_of(
            &at.field("car"),
            written.car.as_ref(),
            &stack.car_states,
            "a car state",
        ),
        setup: linker.place_of(
            &at.field("setup"),
            written.setup.as_ref(),
            &stack.setups,
            "a setup",
        ),
        minutes: linker.minutes(&at.field("minutes"), written.minutes.as_ref(), USUAL_MINUTES),
        tools: linker.texts(&at.field("tools"), written.tools.as_ref()),
        sure,
        overlooked,
        repeats: linker.count_or(
            &at.field("repeats"),
            written.repeats.as_ref(),
            1,
            1..=MAX_REPEATS,
        ),
        holds: holds(linker, at, written),
        cautions,
        // A condition reads findings and workings, which are linked later.
        fits: None,
        not_before: linker.places(
            &at.field("not_before"),
            written.not_before.as_ref(),
            &stack.questions,
            "a question",
        ),
        invalidates: linker.places(
            &at.field("invalidates"),
            written.invalidates.as_ref(),
            &stack.questions,
            "a question",
        ),
        also: linker.texts(&at.field("also"), written.also.as_ref()),
        list: None,
        sources: linker.sources(&at.field("source"), written.source.as_ref()),
    }
}

/// The conditions under which questions fit the car, once everything they may read is known.
pub(super) fn link_fits(linker: &mut Linker<'_>, pack: &mut Pack, formulas: &Formulas) {
    let stack = linker.stack;
    let places: Vec<_> = pack.questions.indices().collect();
    for (place, (at, written)) in places.into_iter().zip(entries("questions", &stack.questions)) {
        let fits = match pack.questions[place].list {
            // Linked before its options are.
            Some(list) => pack.questions[list].fits.clone(),
            None => formulas.condition(linker, &at.field("fits"), written.fits.as_ref()),
        };
        pack.questions[place].fits = fits;
    }
}

fn sure(
    linker: &mut Linker<'_>,
    at: At<'_>,
    written: &w::Question,
    answer: Option<&AnswerForm>,
) -> f64 {
    let spot = at.field("sure");
    if written.sure.is_some()
        && matches!(answer, Some(AnswerForm::Measure(_) | AnswerForm::Table(_)))
    {
        linker.note(&spot.on_key(), LinkFault::UnusedSure);
        return 1.0;
    }
    let sure = linker.sure(&spot, written.sure.as_ref());
    let options = match answer {
        Some(AnswerForm::Choose(options)) => options.len(),
        _ => 2,
    };
    #[expect(clippy::cast_precision_loss, reason = "some dozens of options")]
    let by_chance = 1.0 / options.max(1) as f64;
    if written.sure.is_some() && sure + f64::EPSILON < by_chance {
        linker.note(&spot, LinkFault::WorseThanChance { options });
    }
    sure
}

fn holds(linker: &mut Linker<'_>, at: At<'_>, written: &w::Question) -> Holds {
    const WORDS: [(&str, Holds); 3] =
        [("car", Holds::Car), ("until_touched", Holds::UntilTouched), ("each_run", Holds::EachRun)];
    let Some(word) = &written.holds else { return Holds::UntilTouched };
    match WORDS.iter().find(|(known, _)| known == word) {
        Some((_, holds)) => {
            linker.not_default(&at.field("holds"), *holds == Holds::UntilTouched);
            *holds
        }
        None => {
            let known = WORDS.iter().map(|(known, _)| *known);
            linker.wrong_word(&at.field("holds"), word, known, "word for how long it holds");
            Holds::UntilTouched
        }
    }
}

fn answer(
    linker: &mut Linker<'_>,
    pack: &Pack,
    at: At<'_>,
    written: &w::Question,
) -> Option<AnswerForm> {
    let spot = at.field("answer");
    match &written.answer {
        None => {
            linker.missing(at, "answer");
            None
        }
        Some(w::AnswerForm::Word(word)) if word == "yes_or_no" => Some(AnswerForm::YesOrNo),
        Some(w::AnswerForm::Word(word)) => {
            let near = nearest(word, ["yes_or_no"]).map(str::to_owned);
            linker.note(&spot, LinkFault::UnknownForm { word: word.clone(), near });
            None
        }
        Some(w::AnswerForm::Fields(fields)) => {
            let forms = [
                fields.measure.is_some(),
                fields.choose.is_some(),
                fields.any_of.is_some(),
                fields.table.is_some(),
            ];
            if forms.iter().filter(|given| **given).count() != 1 {
                linker.note(&spot, LinkFault::SeveralForms);
                return None;
            }
            if let Some(options) = &fields.choose {
                return choose(linker, &spot, options);
            }
            if let Some(options) = &fields.any_of {
                return any_of(linker, &spot, options);
            }
            if let Some(columns) = &fields.table {
                return table(linker, &spot, columns);
            }
            measure(linker, pack, &spot, fields)
        }
    }
}

fn table(
    linker: &mut Linker<'_>,
    spot: &Spot<'_>,
    columns: &IndexMap<String, String>,
) -> Option<AnswerForm> {
    let spot = spot.under("table");
    if columns.len() != 2 {
        linker.note(&spot, LinkFault::ColumnCount);
        return None;
    }
    let kinds: Vec<(String, Kind)> = columns
        .iter()
        .filter_map(|(column, word)| {
            Some((column.clone(), kind(linker, &spot.under(column), word)?))
        })
        .collect();
    (kinds.len() == 2).then_some(AnswerForm::Table(kinds))
}

fn kind(linker: &mut Linker<'_>, spot: &Spot<'_>, word: &str) -> Option<Kind> {
    let kind = Kind::from_word(word);
    if kind.is_none() {
        let near = nearest(word, Kind::words()).map(str::to_owned);
        linker.note(spot, LinkFault::UnknownKind { word: word.to_owned(), near });
    }
    kind
}

fn measure(
    linker: &mut Linker<'_>,
    pack: &Pack,
    spot: &Spot<'_>,
    fields: &w::AnswerFields,
) -> Option<AnswerForm> {
    let word = fields.measure.as_ref()?;
    let kind = kind(linker, &spot.under("measure"), word)?;
    let mut limit = |field: &str, text: &Option<String>| {
        text.as_ref().and_then(|text| linker.value(&spot.under(field), text, kind))
    };
    let from = limit("from", &fields.from);
    let to = limit("to", &fields.to);
    let typical = limit("typical", &fields.typical);
    let read_with = linker.places(
        &spot.under("read_with"),
        fields.read_with.as_ref(),
        &linker.stack.instruments,
        "an instrument",
    );
    let slips = linker.slips(&spot.under("slips"), fields.slips.as_ref(), typical.is_some());
    let unit = match &fields.unit {
        Some(text) => {
            linker.unit(&spot.under("unit"), text, kind).unwrap_or_else(|| readable_unit(kind))
        }
        // The range is written in the unit that the author has in mind.
        None => from
            .iter()
            .chain(&to)
            .chain(&typical)
            .find(|value| !value.unit_supposed)
            .map_or_else(|| readable_unit(kind), |value| value.unit.clone()),
    };
    let range = Range { from: from.as_ref(), to: to.as_ref(), typical: typical.as_ref() };
    check_range(linker, spot, &range);
    check_instruments(linker, pack, spot, &read_with, kind);
    let uncertainty = spread(linker, spot, fields, &unit, kind);
    if fields.uncertainty.is_some() && !read_with.is_empty() {
        linker.note(&spot.under("read_with").on_key(), LinkFault::UnusedReadWith);
    }
    check_widths(linker, pack, spot, &range, (uncertainty, &read_with));
    Some(AnswerForm::Measure(Measure {
        kind,
        uncertainty,
        unit,
        from: from.map(|value| value.si),
        to: to.map(|value| value.si),
        typical: typical.map(|value| (value.si, value.uncertainty.unwrap_or(0.0))),
        slips,
        read_with,
    }))
}

/// What a measurement is said to lie between, and where most often.
struct Range<'a> {
    from: Option<&'a Entry>,
    to: Option<&'a Entry>,
    typical: Option<&'a Entry>,
}

fn check_range(linker: &mut Linker<'_>, spot: &Spot<'_>, range: &Range<'_>) {
    let Range { from, to, typical } = *range;
    let above = |low: Option<&Entry>, high: Option<&Entry>| {
        low.zip(high).is_some_and(|(low, high)| low.si > high.si)
    };
    if from.zip(to).is_some_and(|(from, to)| from.si >= to.si) {
        linker.note(&spot.under("to"), LinkFault::EmptyRange);
    } else if above(from, typical) || above(typical, to) {
        linker.note(&spot.under("typical"), LinkFault::TypicalOutside);
    }
}

fn check_instruments(
    linker: &mut Linker<'_>,
    pack: &Pack,
    spot: &Spot<'_>,
    read_with: &[InstrumentId],
    wanted: Kind,
) {
    for instrument in read_with {
        let reads = pack.instruments[*instrument].kind;
        if reads.is_some_and(|reads| reads.dimension != wanted.dimension) {
            let instrument = pack.instruments.id(*instrument).to_owned();
            let fault = LinkFault::InstrumentDimension { instrument, wanted };
            linker.note(&spot.under("read_with"), fault);
        }
    }
}

/// Refuses what is less certain than its whole range is wide.
fn check_widths(
    linker: &mut Linker<'_>,
    pack: &Pack,
    spot: &Spot<'_>,
    range: &Range<'_>,
    (uncertainty, read_with): (UsualUncertainty, &[InstrumentId]),
) {
    let Some((from, to)) = range.from.zip(range.to) else { return };
    let mut refuse = |field: &str, size: f64| {
        if from.si < to.si && size > to.si - from.si {
            linker.note(&spot.under(field), LinkFault::TooUncertain);
        }
    };
    refuse("typical", range.typical.and_then(|typical| typical.uncertainty).unwrap_or(0.0));
    if let UsualUncertainty::Amount(size) = uncertainty {
        refuse("uncertainty", size);
    }
    for instrument in read_with {
        refuse("read_with", pack.instruments[*instrument].uncertainty);
    }
}

/// `uncertainty: 0.02 bar`, or `2 %` of the reading.
fn spread(
    linker: &mut Linker<'_>,
    spot: &Spot<'_>,
    fields: &w::AnswerFields,
    unit: &Unit,
    kind: Kind,
) -> UsualUncertainty {
    let Some(text) = &fields.uncertainty else { return UsualUncertainty::Amount(0.0) };
    let spot = spot.under("uncertainty");
    let relative = text.trim().strip_suffix('%').filter(|_| !unit.is_percent());
    if let Some(number) = relative {
        return match number
            .trim()
            .parse::<f64>()
            .ok()
            .filter(|number| (0.0..=100.0).contains(number))
        {
            Some(percent) => UsualUncertainty::Relative(percent / 100.0),
            None => {
                linker.note(&spot, LinkFault::NoPercentage);
                UsualUncertainty::Amount(0.0)
            }
        };
    }
    match linker.any_value(&spot, text) {
        Some((size, dimension)) if dimension == kind.dimension && size >= 0.0 => {
            UsualUncertainty::Amount(size)
        }
        Some((_, dimension)) if dimension == kind.dimension => {
            linker.note(&spot, LinkFault::NegativeUncertainty);
            UsualUncertainty::Amount(0.0)
        }
        Some((_, given)) => {
            linker.note(&spot, LinkFault::UncertaintyDimension { given, wanted: kind });
            UsualUncertainty::Amount(0.0)
        }
        None => UsualUncertainty::Amount(0.0),
    }
}
