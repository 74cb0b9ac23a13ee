//! `pack schema`: the schema takes what the reader takes and refuses what it refuses for its form.

use std::fs;

use boostwright::rules::explain::{Field, Holds, Mapping, RULE_FILE};
use boostwright::rules::yaml::read;
use boostwright::rules::{Code, STARTER, fields_of, schema, written as w};
use serde_json::Value;

use super::draft7::refusals;
use super::{alone, folder, forms, mappings, outcome};
use crate::project::rule_files;

/// What the schema says against a rule file, as an editor reads it.
fn against(rules: &str) -> Vec<String> {
    let file: Value = read(rules).unwrap_or_else(|error| panic!("{error:?} in\n{rules}"));
    refusals(&schema(), &file)
}

/// Whether the reader refuses a rule file for its form.
fn has_wrong_form(rules: &str) -> bool {
    let folder = folder(rules);
    let codes = ["wrong-shape", "unknown-field", "answer-form"];
    alone(folder.path()).faults.list.iter().any(|fault| codes.contains(&fault.code().name()))
}

#[test]
fn the_built_in_pack_has_no_fault_to_the_schema() {
    let mut looked_at = 0;
    for path in rule_files() {
        let found = against(&fs::read_to_string(&path).unwrap());
        assert!(found.is_empty(), "{}: {found:#?}", path.display());
        looked_at += 1;
    }
    assert!(looked_at > 60, "only {looked_at} files");
}

#[test]
fn a_pack_just_begun_has_no_fault_to_the_schema() {
    assert_eq!(against(STARTER), Vec::<String>::new());
}

#[test]
fn the_verb_prints_a_schema_of_draft_7() {
    let folder = folder("");
    let (code, out, err) = outcome(folder.path(), &["pack", "schema"]);
    assert_eq!((code, err.as_str()), (0, ""));
    let printed: Value = serde_json::from_str(&out).unwrap();
    assert_eq!(printed["$schema"], "http://json-schema.org/draft-07/schema#");
    assert_eq!(printed, schema());
}

#[test]
fn mistakes_of_form_are_refused_by_reader_and_schema_alike() {
    let mistakes = [
        "question: {}",
        "questions: []",
        "questions: {q: text}",
        "questions: {q: {txt: A?, answer: yes_or_no}}",
        "questions: {q: {text: [A?], answer: yes_or_no}}",
        "questions: {q: {text: A?, answer: yes_no}}",
        "questions: {q: {text: A?, answer: [yes, no]}}",
        "questions: {q: {text: A?, answer: 3}}",
        "questions: {q: {text: A?, answer: {}}}",
        "questions: {q: {text: A?, answer: {choose: {a: b, c: d}, measure: length}}}",
        "questions: {q: {text: A?, answer: {choose: [a, b]}}}",
        "questions: {q: {text: A?, answer: {measured: length}}}",
        "questions: {q: {text: A?, answer: yes_or_no, tools: a torch}}",
        "questions: {q: {text: A?, answer: yes_or_no, cautions: {hot: yes}}}",
        "causes: {c: {title: A, common: 0.1, brings: [f]}}",
        "causes: {c: {title: A, common: 0.1, brings: {f: [often]}}}",
        "causes: {c: {title: A, common: {much: 1}, brings: {}}}",
        "repairs: {r: {mends: c}}",
        "steps: {s: {then: conclude}}",
        "steps: {s: {then: {go: conclude}}}",
        "steps: {s: {then: [{goto: conclude}]}}",
        "curves: {c: {over: x, from: 1, to: 2, formula: x, marks: {at: q}}}",
        "curves: {c: {over: x, from: 1, to: 2, formula: x, marks: [{where: q}]}}",
        "strengths: {now_and_then: {chance: 0.3}}",
        "cases: {c: {complaint: {a: b}}}",
        "cases: {c: {complaint: x, answers: [a]}}",
        "cases: {c: {complaint: x, answers: {a: {b: c}}}}",
        "cases: {c: {complaint: x, answers: {a: [1, 2]}}}",
        "cases: {c: {complaint: x, then: {frist: a}}}",
        "cases: {c: {complaint: x, then: first}}",
        "pack: {nam: mine}",
        "pack: [mine]",
        "pack: {replaces: a}",
        "- questions",
    ];
    for rules in mistakes {
        assert!(has_wrong_form(rules), "the reader takes {rules}");
        assert!(!against(rules).is_empty(), "the schema takes {rules}");
    }
}

#[test]
fn both_forms_of_a_field_with_two_are_taken() {
    let both = [
        "questions: {q: {text: A?, answer: yes_or_no, minutes: 5, sure: 0.9, repeats: '3'}}",
        "questions: {q: {text: 3, answer: {choose: {a: 1, b: true}}, how: }}",
        "questions: {q: {text: A?, answer: {table: {p: gauge_pressure, t: length}}}}",
        "cases: {c: {complaint: one, answers: {a: yes, b: 0.9 bar, c: 3, d: true}}}",
        "cases: {c: {complaint: [one, two], answers: {a: [{p: 1 bar, t: 2}]}, then: {questions_at_most: 3}}}",
        "causes: {c: {title: A, common: 1 in 9, brings: {a: often, b: 0.5, c: 1 in 3, d: my_word}}}",
        "questions: ",
        "# nothing yet",
    ];
    for rules in both {
        assert!(!has_wrong_form(rules), "the reader refuses {rules}");
        assert_eq!(against(rules), Vec::<String>::new(), "{rules}");
    }
}

#[test]
fn in_every_field_the_schema_takes_the_forms_that_the_reader_takes() {
    let mut tried = 0;
    for (route, mapping) in mappings() {
        for field in mapping.fields {
            for (name, value) in forms::VALUES {
                let rules = forms::file(&route, mapping, field, value);
                let refused = has_wrong_form(&rules);
                let found = against(&rules);
                if refused {
                    assert!(!found.is_empty(), "the schema takes {name}:\n{rules}");
                } else if !is_narrower(field, name) {
                    assert!(found.is_empty(), "the schema refuses {name}:\n{rules}\n{found:#?}");
                }
                tried += 1;
            }
        }
    }
    assert!(tried > 1000, "only {tried} tried");
}

/// Where the schema means to refuse more than the form: words that the linker refuses later, and a
/// field that must be there left empty.
fn is_narrower(field: &Field, value: &str) -> bool {
    let is_text = matches!(value, "a text" | "a number" | "a truth");
    match &field.holds {
        Holds::Word(_) | Holds::Kind => is_text,
        Holds::Pairs(boostwright::rules::explain::Value::Kind) => value == "names with texts",
        _ => field.must && value == "nothing",
    }
}

#[test]
fn every_word_that_the_schema_offers_is_taken_by_the_linker() {
    let mut tried = 0;
    for (route, mapping) in mappings() {
        for field in mapping.fields {
            let Holds::Word(words) = field.holds else { continue };
            for word in words {
                let folder = folder(&forms::file(&route, mapping, field, word));
                let faults = alone(folder.path()).faults;
                let about: Vec<_> = faults
                    .list
                    .iter()
                    .filter(|fault| forms::ends_on(&fault.place.route, field.name))
                    // A word that is the default is taken, if unasked.
                    .filter(|fault| fault.code() != Code::RepeatedDefault)
                    .collect();
                assert!(about.is_empty(), "{word}: {about:?}");
                tried += 1;
            }
        }
    }
    assert!(tried > 10, "only {tried} words");
}

fn names(mapping: &Mapping) -> Vec<&'static str> {
    mapping.fields.iter().map(|field| field.name).collect()
}

#[test]
fn the_table_of_fields_lists_what_the_reader_asks_for() {
    let entry = |section: &str| {
        let field = RULE_FILE.fields.iter().find(|field| field.name == section).unwrap();
        match field.holds {
            Holds::Section(mapping) | Holds::Fields(mapping) => mapping,
            _ => panic!("{section} has no entries"),
        }
    };
    let inner = |mapping: &'static Mapping, name: &str| {
        let field = mapping.fields.iter().find(|field| field.name == name).unwrap();
        match field.holds {
            Holds::Answer(inner) | Holds::List(inner) | Holds::Fields(inner) => inner,
            _ => panic!("{name} has no fields"),
        }
    };
    let table = [
        (&RULE_FILE, fields_of::<w::File>()),
        (entry("pack"), fields_of::<w::Head>()),
        (inner(entry("pack"), "usual"), fields_of::<w::Usual>()),
        (entry("complaints"), fields_of::<w::Complaint>()),
        (entry("car_states"), fields_of::<w::CarState>()),
        (entry("setups"), fields_of::<w::Setup>()),
        (entry("instruments"), fields_of::<w::Instrument>()),
        (entry("questions"), fields_of::<w::Question>()),
        (inner(entry("questions"), "answer"), fields_of::<w::AnswerFields>()),
        (entry("arguments"), fields_of::<w::Arguments>()),
        (entry("relations"), fields_of::<w::Relation>()),
        (entry("workings"), fields_of::<w::Working>()),
        (entry("curves"), fields_of::<w::Curve>()),
        (inner(entry("curves"), "marks"), fields_of::<w::CurveMark>()),
        (entry("drawings"), fields_of::<w::Drawing>()),
        (inner(entry("drawings"), "shapes"), fields_of::<w::Shape>()),
        (entry("readings"), fields_of::<w::Reading>()),
        (entry("findings"), fields_of::<w::Finding>()),
        (entry("causes"), fields_of::<w::Cause>()),
        (entry("repairs"), fields_of::<w::Repair>()),
        (entry("cautions"), fields_of::<w::Caution>()),
        (entry("steps"), fields_of::<w::Step>()),
        (inner(entry("steps"), "then"), fields_of::<w::Branch>()),
        (entry("sources"), fields_of::<w::Source>()),
        (entry("cases"), fields_of::<w::Case>()),
        (inner(entry("cases"), "then"), fields_of::<w::Expected>()),
    ];
    assert_eq!(table.len(), mappings().len());
    for (mapping, asked) in table {
        assert_eq!(names(mapping), asked.unwrap(), "{}", mapping.meaning);
    }
}
