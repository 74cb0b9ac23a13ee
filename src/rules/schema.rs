//! The form of a rule file as a JSON Schema (draft 7), so that an editor completes and explains
//! sections and fields. It knows forms only: whether a name is there and a formula holds is told by
//! the linker.

use serde_json::{Map, Value as Json, json};

use super::explain::{Field, Holds, Mapping, RULE_FILE, Value};
use super::strengths::STRENGTHS;
use crate::quantity::Kind;

/// Keywords of a schema with their values.
type Form = Map<String, Json>;

/// The schema of a rule file.
#[must_use]
pub fn schema() -> Json {
    // A file of comments alone holds nothing, which is no fault.
    let mut schema = or_nothing(mapping(&RULE_FILE));
    schema.insert("$schema".into(), "http://json-schema.org/draft-07/schema#".into());
    schema.insert("title".into(), "Rule file of boostwright".into());
    schema.into()
}

fn mapping(mapping: &Mapping) -> Form {
    let listed = mapping.fields.iter();
    let properties: Form =
        listed.clone().map(|field| (field.name.to_owned(), property(field))).collect();
    let must: Vec<&str> = listed.filter(|field| field.must).map(|field| field.name).collect();
    let mut form = fields([
        ("description", mapping.meaning.into()),
        ("type", "object".into()),
        ("properties", properties.into()),
        ("additionalProperties", false.into()),
    ]);
    if !must.is_empty() {
        form.insert("required".into(), must.into());
    }
    form
}

fn property(field: &Field) -> Json {
    let form = match &field.holds {
        Holds::Text => text(),
        Holds::Word(words) => fields([("enum", json!(words))]),
        Holds::Kind => kind(),
        Holds::Texts => list(text()),
        Holds::OneOrMore => either([fields([("type", json!("string"))]), list(text())]),
        Holds::Pairs(value) => by_name(pair(*value)),
        Holds::Fields(inner) => mapping(inner),
        Holds::List(items) => list(mapping(items)),
        Holds::Section(entries) => by_name(mapping(entries)),
        Holds::Answer(inner) => answer(inner),
        Holds::Answers => by_name(either([
            text(),
            list(either([fields([("type", json!("string"))]), by_name(text())])),
        ])),
    };
    // Nothing behind a field counts as left out, unless it must be there.
    let mut form = if field.must { form } else { or_nothing(form) };
    form.insert("description".into(), field.meaning.into());
    form.into()
}

/// The same form, or nothing at all.
fn or_nothing(mut form: Form) -> Form {
    let nothing = json!({"type": "null"});
    if let Some(Json::Array(forms)) = form.get_mut("anyOf") {
        forms.push(nothing);
        return form;
    }
    let mut types = match form.remove("type") {
        Some(Json::Array(types)) => types,
        Some(one) => vec![one],
        None => return fields([("anyOf", json!([form, nothing]))]),
    };
    types.push("null".into());
    form.insert("type".into(), types.into());
    form
}

/// The file's own letters are what is read: `yes`, `0.9` and `true` are texts like any other.
fn text() -> Form {
    fields([("type", json!(["string", "number", "boolean"]))])
}

fn kind() -> Form {
    fields([("enum", Kind::words().collect::<Vec<_>>().into())])
}

fn list(items: Form) -> Form {
    fields([("type", json!("array")), ("items", items.into())])
}

/// Names that the author chooses, each with the same form behind it.
fn by_name(behind: Form) -> Form {
    fields([("type", json!("object")), ("additionalProperties", behind.into())])
}

fn either(forms: [Form; 2]) -> Form {
    fields([("anyOf", json!(forms))])
}

fn pair(value: Value) -> Form {
    match value {
        Value::Any => text(),
        Value::Kind => kind(),
        Value::Strength => {
            let words: Vec<&str> = STRENGTHS.iter().map(|(word, _)| *word).collect();
            // Words of the pack's own and chances are as good; these are what an editor offers.
            either([fields([("enum", json!(words))]), text()])
        }
    }
}

fn answer(inner: &Mapping) -> Form {
    let mut form = mapping(inner);
    // One with nothing behind it is none.
    let given = json!({"type": ["string", "object"]});
    let one = ["measure", "choose", "any_of", "table"]
        .map(|name| json!({"required": [name], "properties": {name: given}}));
    form.insert("oneOf".into(), json!(one));
    either([fields([("enum", json!(["yes_or_no"]))]), form])
}

fn fields<const N: usize>(fields: [(&str, Json); N]) -> Form {
    fields.into_iter().map(|(keyword, value)| (keyword.to_owned(), value)).collect()
}
