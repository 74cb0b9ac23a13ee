//! Small rule files with one field of one mapping in a form of our choice, and the rest as it should
//! be.

use boostwright::rules::explain::{Field, Holds, Mapping, RULE_FILE, Value};
use boostwright::rules::yaml::RouteStep;

/// Every form that a value may come in, written in one line.
pub(super) const VALUES: [(&str, &str); 10] = [
    ("a text", "some text"),
    ("a number", "0.5"),
    ("a truth", "true"),
    ("nothing", "~"),
    ("an empty list", "[]"),
    ("a list of texts", "[some, 0.5, true]"),
    ("a list of mappings", "[{at: some, go: some}]"),
    ("a list of lists", "[[some]]"),
    ("names with texts", "{some: text, other: 0.5}"),
    ("names with lists", "{some: [text]}"),
];

/// A rule file in which the field of the mapping at the route has the value, and everything that
/// must be there is there.
pub(super) fn file(route: &[RouteStep], mapping: &Mapping, field: &Field, value: &str) -> String {
    let others = mapping.fields.iter().filter(|other| other.must && other.name != field.name);
    let mut fields: Vec<String> =
        others.map(|other| format!("{}: {}", other.name, usual(other))).collect();
    // One of the three forms of an answer must be there; the field itself may be it.
    let is_answer = mapping.fields.iter().any(|other| other.name == "measure");
    if is_answer && !["measure", "choose", "table"].contains(&field.name) {
        fields.push("measure: length".to_owned());
    }
    fields.push(format!("{}: {value}", field.name));
    within(route, &RULE_FILE, &format!("{{{}}}", fields.join(", ")))
}

/// The value at the end of the route, with what must stand beside it on the way.
fn within(route: &[RouteStep], mapping: &Mapping, value: &str) -> String {
    let [RouteStep::Key(name), rest @ ..] = route else { return value.to_owned() };
    let field = mapping.fields.iter().find(|field| field.name == name).unwrap();
    let value = match (&field.holds, rest) {
        (Holds::Section(inner), [RouteStep::Key(id), rest @ ..]) => {
            format!("{{{id}: {}}}", within(rest, inner, value))
        }
        (Holds::List(inner), [RouteStep::Index(_), rest @ ..]) => {
            format!("[{}]", within(rest, inner, value))
        }
        (Holds::Fields(inner) | Holds::Answer(inner), rest) => within(rest, inner, value),
        _ => panic!("{name} leads nowhere"),
    };
    let others = mapping.fields.iter().filter(|other| other.must && other.name != name);
    let mut fields: Vec<String> =
        others.map(|other| format!("{}: {}", other.name, usual(other))).collect();
    fields.push(format!("{name}: {value}"));
    format!("{{{}}}", fields.join(", "))
}

/// A value of the right form.
fn usual(field: &Field) -> &'static str {
    match field.holds {
        Holds::Text | Holds::OneOrMore => "some text",
        Holds::Word(words) => words[0],
        Holds::Kind => "length",
        Holds::Texts => "[some]",
        Holds::Pairs(Value::Kind) => "{some: length, other: length}",
        Holds::Pairs(_) | Holds::Answers => "{some: 0.5}",
        Holds::List(_) => "[{at: some, go: some}]",
        Holds::Answer(_) => "yes_or_no",
        Holds::Fields(_) | Holds::Section(_) => "{}",
    }
}

/// Whether a route leads to a field of this name.
pub(super) fn ends_on(route: &[RouteStep], name: &str) -> bool {
    matches!(route.last(), Some(RouteStep::Key(key)) if key == name)
}
