//! Answers: reading what a person wrote to a question, and writing it again as it was.

use indexmap::IndexMap;

use crate::formula::nearest;
use crate::interview::answers::answer_error::{AnswerError, CANT_SAY, LATER, NONE, RowProblem};
use crate::interview::answers::table_rows::rows_of;
use crate::quantity::{Kind, Unit, read_as_spelt};
use crate::rules::{AnswerForm, Given, Measure, Pack, Question, QuestionId, UsualUncertainty};
use crate::text::excerpt;

/// The most rows of a table that are read.
const MAX_ROWS: usize = 200;

/// An answer to a question, checked against its form.
#[derive(Debug, Clone, PartialEq)]
pub enum Answer {
    Truth(bool),
    /// Index of the chosen option.
    Option(usize),
    /// The options of a list that are true, in its order; no other is.
    Picked(Vec<QuestionId>),
    Number(Reading),
    /// Rows of a two-column table, SI.
    Table(Vec<[f64; 2]>),
    /// "Can't say": a third value that never counts as no.
    CantSay,
    /// Not now: asked again when nothing else is left.
    Later,
}

/// A number that was read off something.
#[derive(Debug, Clone, PartialEq)]
pub struct Reading {
    /// SI.
    pub value: f64,
    /// One standard uncertainty, SI: as typed, or from repeats and the instrument.
    pub uncertainty: f64,
    /// The unit the person used.
    pub unit: Unit,
}

/// Reads an answer to a question. A measurement must carry its unit.
///
/// # Errors
/// What does not fit the question's form or its plausible range.
pub fn read_answer(pack: &Pack, question: &Question, given: &Given) -> Result<Answer, AnswerError> {
    let text = match given {
        Given::Rows(rows) => return read_rows(question, rows),
        Given::Picked(ids) => return read_picked(pack, question, ids.iter().map(String::as_str)),
        Given::Text(text) => text.trim(),
    };
    match text {
        CANT_SAY => return Ok(Answer::CantSay),
        LATER => return Ok(Answer::Later),
        _ => {}
    }
    match &question.answer {
        AnswerForm::YesOrNo => match text.to_lowercase().as_str() {
            "yes" | "y" | "true" => Ok(Answer::Truth(true)),
            "no" | "n" | "false" => Ok(Answer::Truth(false)),
            _ => Err(AnswerError::NotYesOrNo { given: shown(text) }),
        },
        AnswerForm::Choose(options) => match options.get_index_of(text) {
            Some(option) => Ok(Answer::Option(option)),
            None => {
                Err(no_such_option(text, &options.keys().map(String::as_str).collect::<Vec<_>>()))
            }
        },
        AnswerForm::AnyOf(_) if text == NONE => Ok(Answer::Picked(Vec::new())),
        AnswerForm::AnyOf(_) => read_picked(pack, question, text.split(',').map(str::trim)),
        AnswerForm::Measure(measure) => read_measure(pack, measure, text).map(Answer::Number),
        AnswerForm::Table(columns) => read_table(question, columns, text),
    }
}

fn no_such_option(given: &str, options: &[&str]) -> AnswerError {
    AnswerError::NoSuchOption {
        given: shown(given),
        options: options.iter().map(|id| (*id).to_owned()).collect(),
        near: nearest(given, options.iter().copied()).map(str::to_owned),
    }
}

/// Reads the ids of options that are true.
fn read_picked<'t>(
    pack: &Pack,
    question: &Question,
    ids: impl Iterator<Item = &'t str>,
) -> Result<Answer, AnswerError> {
    let AnswerForm::AnyOf(options) = &question.answer else { return Err(AnswerError::NoList) };
    let known: Vec<&str> = options.iter().map(|option| pack.questions.id(*option)).collect();
    let place = |id: &str| known.iter().position(|own| *own == id);
    let mut picked = ids
        .map(|id| place(id).ok_or_else(|| no_such_option(id, &known)))
        .collect::<Result<Vec<usize>, AnswerError>>()?;
    picked.sort_unstable();
    picked.dedup();
    Ok(Answer::Picked(picked.into_iter().map(|place| options[place]).collect()))
}

/// Reads a measurement with its unit.
///
/// # Errors
/// What can't be read, lacks its unit, or lies outside the plausible range.
pub fn read_measure(pack: &Pack, measure: &Measure, text: &str) -> Result<Reading, AnswerError> {
    let entry =
        read_as_spelt(text, measure.kind, Some(&measure.unit)).map_err(AnswerError::Value)?;
    if entry.unit_supposed {
        let usual = measure.unit.symbol().to_owned();
        return Err(AnswerError::NoUnit { usual, text: shown(text) });
    }
    let plausible = || measure.range().unwrap_or_default();
    // Of a difference that is never below 0 a minus only says from which side it was read: gauges show a
    // vacuum with one.
    let unsigned = measure.kind == Kind::PRESSURE_DIFFERENCE && measure.from == Some(0.0);
    let value = if unsigned { entry.si.abs() } else { entry.si };
    let below = measure.from.is_some_and(|from| value < from);
    let above = measure.to.is_some_and(|to| value > to);
    if below || above {
        return Err(AnswerError::OutOfRange { given: shown(text), plausible: plausible() });
    }
    let usual = usual_uncertainty(pack, measure, value);
    let uncertainty = match entry.uncertainty {
        // Repeats tell how far readings scatter, not how far the instrument is off: both count
        // (JCGM 100:2008, 4.2 and 4.3).
        Some(scatter) if entry.readings > 1 => scatter.hypot(usual),
        Some(typed) => typed,
        None => usual,
    };
    // Where a reading may lie anywhere and beyond, it was not read; a slip in its unit or exponent is
    // the likelier cause.
    if let (Some(from), Some(to)) = (measure.from, measure.to)
        && uncertainty > to - from
    {
        return Err(AnswerError::TooUncertain { given: shown(text), plausible: plausible() });
    }
    Ok(Reading { value, uncertainty, unit: entry.unit })
}

/// The standard uncertainty of a reading nobody gave one for: of the instrument, else as usual for
/// the question.
pub(in crate::interview) fn usual_uncertainty(pack: &Pack, measure: &Measure, value: f64) -> f64 {
    match (measure.uncertainty, measure.read_with.first()) {
        (share @ UsualUncertainty::Relative(_), _) => share.of(value),
        (UsualUncertainty::Amount(amount), None) => amount,
        (UsualUncertainty::Amount(amount), Some(_)) if amount > 0.0 => amount,
        (UsualUncertainty::Amount(_), Some(instrument)) => {
            pack.instruments[*instrument].uncertainty
        }
    }
}

/// Reads a table that was written as one text.
fn read_table(
    question: &Question,
    columns: &[(String, Kind)],
    text: &str,
) -> Result<Answer, AnswerError> {
    match columns {
        [(first, _), (second, _)] if text.contains(':') => {
            read_rows(question, &rows_of([first, second], text)?)
        }
        _ => Err(AnswerError::NotATable {
            columns: columns.iter().map(|(column, _)| column.clone()).collect(),
        }),
    }
}

fn read_rows(
    question: &Question,
    rows: &[IndexMap<String, String>],
) -> Result<Answer, AnswerError> {
    let AnswerForm::Table(columns) = &question.answer else {
        return Err(AnswerError::NoRows);
    };
    let names = || columns.iter().map(|(column, _)| column.clone()).collect();
    let [(first, first_kind), (second, second_kind)] = columns.as_slice() else {
        return Err(AnswerError::NotATable { columns: names() });
    };
    if rows.is_empty() || rows.len() > MAX_ROWS {
        return Err(AnswerError::NotATable { columns: names() });
    }
    let mut found = Vec::with_capacity(rows.len());
    for (index, row) in rows.iter().enumerate() {
        let problem = |problem| AnswerError::Row { row: index + 1, problem };
        let cell = |column: &str, kind: Kind| {
            let name = || column.to_owned();
            let missing = || problem(RowProblem::Missing { column: name() });
            let text = row.get(column).ok_or_else(missing)?;
            let unread = |error| problem(RowProblem::Cell { column: name(), error });
            read_as_spelt(text, kind, None).map(|entry| entry.si).map_err(unread)
        };
        if row.len() > 2 {
            return Err(problem(RowProblem::MoreThanTwo));
        }
        found.push([cell(first, *first_kind)?, cell(second, *second_kind)?]);
    }
    Ok(Answer::Table(found))
}

/// The start of what was typed, fit to stand in a message.
fn shown(text: &str) -> String {
    excerpt(text, 40).into()
}
