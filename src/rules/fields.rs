//! Which fields a mapping may have, asked of the type that it is read into.

use std::fmt;

use serde::de::{Deserialize, Deserializer, Error, Visitor};

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
