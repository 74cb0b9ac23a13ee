//! `boostwright calc --list`: every function of the formula language, by subject.

use std::fmt::Write as _;

use serde::Serialize;

use super::arguments::PlainForm;
use super::exit::Failure;
use super::output;
use crate::formula::OWN;
use crate::formula::functions::{Argument, FUNCTIONS, Function};
use crate::quantity::Kind;
use crate::text::{Clean, wrapped};

/// The width of a plain terminal.
const WIDTH: usize = 80;

/// The whole list.
pub(super) fn listing(form: PlainForm) -> Result<Clean, Failure> {
    match form {
        PlainForm::Text => Ok(text().into()),
        PlainForm::Json => json(),
    }
}

fn text() -> String {
    let mut out = String::from(
        "Arguments go by place or by name: circle_area(diameter = 27 mm). Any unit of\nthe \
         right dimension will do; the one in brackets is that of --form json.\n",
    );
    let mut subject = "";
    for function in FUNCTIONS {
        if function.subject != subject {
            subject = function.subject;
            let _ = write!(out, "\n{}\n", subject.to_uppercase());
        }
        out.push_str(&entry(function));
    }
    out.push_str("\nOF THE LANGUAGE ITSELF\n");
    for (name, arguments, summary) in OWN {
        out.push_str(&in_lines(&format!("{name}({arguments})"), 2, 6));
        out.push_str(&in_lines(summary, 6, 6));
    }
    out
}

fn entry(function: &Function) -> String {
    let mut out = in_lines(&function.call_form(), 2, 6);
    let gives = format!("gives {}: {}", with_unit(function.gives), function.summary);
    out.push_str(&in_lines(&gives, 6, 8));
    for argument in function.arguments {
        let line = format!("{}: {}; {}", argument.name, with_unit(argument.kind), argument.range);
        out.push_str(&in_lines(&line, 6, 8));
    }
    let source = format!("Source: {}", function.source);
    out.push_str(&in_lines(&source, 6, 8));
    out
}

/// `absolute pressure (Pa)`.
fn with_unit(kind: Kind) -> String {
    match kind {
        Kind::NUMBER => kind.to_string(),
        _ => format!("{kind} ({})", kind.dimension.coherent_unit()),
    }
}

fn in_lines(text: &str, first: usize, further: usize) -> String {
    let lines = wrapped(text, WIDTH, &" ".repeat(first).into(), further);
    lines.iter().map(|line| format!("{line}\n")).collect()
}

#[derive(Serialize)]
struct ListedFunction {
    name: &'static str,
    subject: &'static str,
    arguments: Vec<ListedArgument>,
    gives: String,
    unit: String,
    summary: &'static str,
    source: &'static str,
}

#[derive(Serialize)]
struct ListedArgument {
    name: &'static str,
    kind: String,
    unit: String,
    range: &'static str,
}

impl From<&Argument> for ListedArgument {
    fn from(argument: &Argument) -> Self {
        let Argument { name, kind, range } = *argument;
        Self { name, kind: kind.to_string(), unit: kind.dimension.coherent_unit(), range }
    }
}

impl From<&Function> for ListedFunction {
    fn from(function: &Function) -> Self {
        Self {
            name: function.name,
            subject: function.subject,
            arguments: function.arguments.iter().map(ListedArgument::from).collect(),
            gives: function.gives.to_string(),
            unit: function.gives.dimension.coherent_unit(),
            summary: function.summary,
            source: function.source,
        }
    }
}

/// A function of the language itself takes values of several kinds.
#[derive(Serialize)]
struct ListedOwn {
    name: &'static str,
    arguments: &'static str,
    summary: &'static str,
}

#[derive(Serialize)]
struct Listing {
    functions: Vec<ListedFunction>,
    own: Vec<ListedOwn>,
}

fn json() -> Result<Clean, Failure> {
    let own = OWN.iter().map(|(name, arguments, summary)| ListedOwn { name, arguments, summary });
    let listing = Listing {
        functions: FUNCTIONS.iter().map(ListedFunction::from).collect(),
        own: own.collect(),
    };
    output::json(&listing)
}
