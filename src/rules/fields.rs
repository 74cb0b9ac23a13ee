//! Which fields a mapping of a rule file may have, asked of the types themselves.

use std::fmt;

use serde::de::{Deserialize, Deserializer, Error, Visitor};

use super::written as w;
use super::yaml::RouteStep;

/// The fields that the mapping at a route may have, where they are fixed.
pub(super) fn fields_at(route: &[RouteStep]) -> Option<&'static [&'static str]> {
    let [first, rest @ ..] = route else { return fields_of::<w::File>() };
    let RouteStep::Key(section) = first else { return None };
    match rest {
        [] if section == "pack" => fields_of::<w::Head>(),
        [_] => entry_fields(section),
        [_, RouteStep::Key(field)] => match (section.as_str(), field.as_str()) {
            ("questions", "answer") => fields_of::<w::AnswerFields>(),
            ("cases", "then") => fields_of::<w::Expected>(),
            _ => None,
        },
        [_, RouteStep::Key(field), RouteStep::Index(_)]
            if section == "steps" && field == "then" =>
        {
            fields_of::<w::Branch>()
        }
        [_, RouteStep::Key(field), RouteStep::Index(_)]
            if section == "curves" && field == "marks" =>
        {
            fields_of::<w::CurveMark>()
        }
        _ => None,
    }
}

fn entry_fields(section: &str) -> Option<&'static [&'static str]> {
    match section {
        "complaints" => fields_of::<w::Complaint>(),
        "car_states" => fields_of::<w::CarState>(),
        "setups" => fields_of::<w::Setup>(),
        "instruments" => fields_of::<w::Instrument>(),
        "questions" => fields_of::<w::Question>(),
        "relations" => fields_of::<w::Relation>(),
        "workings" => fields_of::<w::Working>(),
        "curves" => fields_of::<w::Curve>(),
        "findings" => fields_of::<w::Finding>(),
        "causes" => fields_of::<w::Cause>(),
        "repairs" => fields_of::<w::Repair>(),
        "cautions" => fields_of::<w::Caution>(),
        "steps" => fields_of::<w::Step>(),
        "sources" => fields_of::<w::Source>(),
        "cases" => fields_of::<w::Case>(),
        _ => None,
    }
}

/// The field names that a type asks its deserializer for.
#[must_use]
pub fn fields_of<T: for<'de> Deserialize<'de>>() -> Option<&'static [&'static str]> {
    let mut asked = None;
    let _ = T::deserialize(Asked(&mut asked));
    asked
}

/// A deserializer that has nothing to give and remembers which fields it was asked for.
struct Asked<'a>(&'a mut Option<&'static [&'static str]>);

#[derive(Debug)]
struct Nothing;

impl fmt::Display for Nothing {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("nothing to read")
    }
}

impl std::error::Error for Nothing {}

impl Error for Nothing {
    fn custom<T: fmt::Display>(_: T) -> Self {
        Self
    }
}

impl<'de> Deserializer<'de> for Asked<'_> {
    type Error = Nothing;

    fn deserialize_any<V: Visitor<'de>>(self, _: V) -> Result<V::Value, Nothing> {
        Err(Nothing)
    }

    fn deserialize_struct<V: Visitor<'de>>(
        self,
        _: &'static str,
        fields: &'static [&'static str],
        _: V,
    ) -> Result<V::Value, Nothing> {
        *self.0 = Some(fields);
        Err(Nothing)
    }

    serde::forward_to_deserialize_any! {
        bool i8 i16 i32 i64 i128 u8 u16 u32 u64 u128 f32 f64 char str string bytes byte_buf option
        unit unit_struct newtype_struct seq tuple tuple_struct map enum identifier ignored_any
    }
}
