//! Forms of values and of objects in JSON Schema (draft 7).

use serde_json::{Map, Value as Json, json};

/// One field of an object: its name, what stands in it, and what that means.
#[derive(Clone)]
pub(super) struct Field(pub(super) &'static str, pub(super) Json, pub(super) &'static str);

pub(super) fn text() -> Json {
    json!({"type": "string"})
}

pub(super) fn text_or_null() -> Json {
    json!({"type": ["string", "null"]})
}

pub(super) fn number() -> Json {
    json!({"type": "number"})
}

pub(super) fn number_or_null() -> Json {
    json!({"type": ["number", "null"]})
}

pub(super) fn chance() -> Json {
    json!({"type": "number", "minimum": 0, "maximum": 1})
}

pub(super) fn flag() -> Json {
    json!({"type": "boolean"})
}

pub(super) fn code(words: &[&str]) -> Json {
    json!({"enum": words})
}

pub(super) fn list(items: Json) -> Json {
    json!({"type": "array", "items": items})
}

pub(super) fn by_name(behind: Json) -> Json {
    json!({"type": "object", "additionalProperties": behind})
}

pub(super) fn or_null(form: Json) -> Json {
    json!({"anyOf": [form, {"type": "null"}]})
}

/// An object with fields that are always there and some that may be, and no others.
pub(super) fn object(meaning: &str, must: Vec<Field>, may: Vec<Field>) -> Json {
    let required: Vec<&str> = must.iter().map(|field| field.0).collect();
    let described = |Field(name, mut form, meaning): Field| {
        if let Json::Object(keywords) = &mut form {
            keywords.insert("description".into(), meaning.into());
        }
        (name.to_owned(), form)
    };
    let properties: Map<String, Json> = must.iter().chain(&may).cloned().map(described).collect();
    json!({
        "description": meaning,
        "type": "object",
        "properties": properties,
        "required": required,
        "additionalProperties": false,
    })
}
