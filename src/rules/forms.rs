//! Reading the few places of a rule file that may take more than one form. Written by hand, since
//! serde's untagged enums lose the place of a mistake.

use std::fmt;

use indexmap::IndexMap;
use serde::de::value::{MapAccessDeserializer, SeqAccessDeserializer};
use serde::de::{Deserialize, Deserializer, Error, MapAccess, SeqAccess, Visitor};
use serde::ser::{Serialize, Serializer};

use super::written::{AnswerForm, Given, OneOrMore};

impl<'de> Deserialize<'de> for AnswerForm {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct Form;
        impl<'de> Visitor<'de> for Form {
            type Value = AnswerForm;

            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("yes_or_no, or a mapping with measure, choose, any_of or table")
            }

            fn visit_str<E: Error>(self, word: &str) -> Result<AnswerForm, E> {
                Ok(AnswerForm::Word(word.to_owned()))
            }

            fn visit_map<A: MapAccess<'de>>(self, map: A) -> Result<AnswerForm, A::Error> {
                Deserialize::deserialize(MapAccessDeserializer::new(map)).map(AnswerForm::Fields)
            }
        }
        deserializer.deserialize_any(Form)
    }
}

impl Serialize for AnswerForm {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        match self {
            Self::Word(word) => word.serialize(serializer),
            Self::Fields(fields) => fields.serialize(serializer),
        }
    }
}

impl<'de> Deserialize<'de> for OneOrMore {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct Ids;
        impl<'de> Visitor<'de> for Ids {
            type Value = OneOrMore;

            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("an id or a list of ids")
            }

            fn visit_str<E: Error>(self, id: &str) -> Result<OneOrMore, E> {
                Ok(OneOrMore(vec![id.to_owned()]))
            }

            fn visit_seq<A: SeqAccess<'de>>(self, list: A) -> Result<OneOrMore, A::Error> {
                Deserialize::deserialize(SeqAccessDeserializer::new(list)).map(OneOrMore)
            }
        }
        deserializer.deserialize_any(Ids)
    }
}

impl Serialize for OneOrMore {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        match self.0.as_slice() {
            [one] => one.serialize(serializer),
            many => many.serialize(serializer),
        }
    }
}

impl<'de> Deserialize<'de> for Given {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct Answer;
        impl<'de> Visitor<'de> for Answer {
            type Value = Given;

            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str(
                    "an answer as a person writes it, a list of ids, or the rows of a table",
                )
            }

            fn visit_str<E: Error>(self, text: &str) -> Result<Given, E> {
                Ok(Given::Text(text.to_owned()))
            }

            // Plain scalars that YAML takes for numbers: the answer lacks its unit or is one.
            fn visit_i64<E: Error>(self, number: i64) -> Result<Given, E> {
                Ok(Given::Text(number.to_string()))
            }

            fn visit_u64<E: Error>(self, number: u64) -> Result<Given, E> {
                Ok(Given::Text(number.to_string()))
            }

            fn visit_f64<E: Error>(self, number: f64) -> Result<Given, E> {
                Ok(Given::Text(number.to_string()))
            }

            fn visit_bool<E: Error>(self, truth: bool) -> Result<Given, E> {
                Ok(Given::Text(truth.to_string()))
            }

            fn visit_seq<A: SeqAccess<'de>>(self, items: A) -> Result<Given, A::Error> {
                let items: Vec<Item> = Deserialize::deserialize(SeqAccessDeserializer::new(items))?;
                let (mut rows, mut picked) = (Vec::new(), Vec::new());
                for item in items {
                    match item {
                        Item::Row(row) => rows.push(row),
                        Item::Picked(id) => picked.push(id),
                    }
                }
                match (rows.is_empty(), picked.is_empty()) {
                    (false, false) => Err(A::Error::custom("either rows or ids, not both")),
                    (false, true) => Ok(Given::Rows(rows)),
                    _ => Ok(Given::Picked(picked)),
                }
            }
        }
        deserializer.deserialize_any(Answer)
    }
}

impl Serialize for Given {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        match self {
            Self::Text(text) => text.serialize(serializer),
            Self::Rows(rows) => rows.serialize(serializer),
            Self::Picked(ids) => ids.serialize(serializer),
        }
    }
}

/// An item of an answer that is a list.
enum Item {
    Row(IndexMap<String, String>),
    Picked(String),
}

impl<'de> Deserialize<'de> for Item {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct RowOrId;
        impl<'de> Visitor<'de> for RowOrId {
            type Value = Item;

            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("the row of a table, or the id of an option")
            }

            fn visit_str<E: Error>(self, id: &str) -> Result<Item, E> {
                Ok(Item::Picked(id.to_owned()))
            }

            fn visit_map<A: MapAccess<'de>>(self, row: A) -> Result<Item, A::Error> {
                Deserialize::deserialize(MapAccessDeserializer::new(row)).map(Item::Row)
            }
        }
        deserializer.deserialize_any(RowOrId)
    }
}
