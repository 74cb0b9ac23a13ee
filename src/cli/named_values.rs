//! Values that a person gives for the names in a formula: `boost="0.85 bar ± 0.02"`.

use super::exit::Failure;
use crate::formula::{Expression, Input, InputValue, Meaning, Names, VarId, unusable};
use crate::quantity::{Kind, Unit, read_unsettled};

/// The values given, each behind the variable of its place.
pub(super) struct NamedValues(Vec<Named>);

struct Named {
    name: String,
    given: Given,
}

enum Given {
    Truth(bool),
    Number { si: f64, uncertainty: f64, kind: Kind, unit: Unit },
}

impl NamedValues {
    /// Reads each `name=value`.
    ///
    /// # Errors
    /// In words, where one can't be read or a name is given twice.
    pub(super) fn read(texts: &[String]) -> Result<Self, Failure> {
        let mut found: Vec<Named> = Vec::new();
        for text in texts {
            let named = named(text)?;
            if found.iter().any(|known| known.name == named.name) {
                return Err(Failure::NamedTwice { name: named.name });
            }
            found.push(named);
        }
        Ok(Self(found))
    }

    /// What was given behind each name.
    pub(super) fn inputs(&self) -> Vec<Input> {
        self.0
            .iter()
            .map(|named| {
                let value = match named.given {
                    Given::Truth(truth) => InputValue::Bool(truth),
                    Given::Number { si, uncertainty, .. } => {
                        InputValue::Number { value: si, uncertainty }
                    }
                };
                Input { value: Some(value), known: true, ..Input::default() }
            })
            .collect()
    }

    /// The unit that a name's value was given in.
    pub(super) fn unit(&self, name: &str) -> Option<&Unit> {
        self.0.iter().find(|named| named.name == name).and_then(|named| match &named.given {
            Given::Number { unit, .. } => Some(unit),
            Given::Truth(_) => None,
        })
    }

    /// The name of a variable.
    pub(super) fn name(&self, variable: VarId) -> Option<&str> {
        self.0.get(variable.0).map(|named| named.name.as_str())
    }

    /// The names that a formula doesn't read.
    pub(super) fn unused<'a>(&'a self, formula: &Expression) -> Vec<&'a str> {
        let read = formula.names();
        let names = self.0.iter().map(|named| named.name.as_str());
        names.filter(|name| !read.iter().any(|(known, _)| known == name)).collect()
    }
}

impl Names for NamedValues {
    fn find(&self, name: &str) -> Option<Meaning<'_>> {
        let place = self.0.iter().position(|named| named.name == name)?;
        let variable = VarId(place);
        Some(match self.0.get(place)?.given {
            Given::Truth(_) => Meaning::Bool { variable },
            Given::Number { kind, .. } => Meaning::Value { variable, kind },
        })
    }

    fn all(&self) -> Vec<&str> {
        self.0.iter().map(|named| named.name.as_str()).collect()
    }

    fn advice(&self) -> String {
        "give its value after the formula, as in boost=\"0.85 bar\"".to_owned()
    }
}

fn named(text: &str) -> Result<Named, Failure> {
    let Some((name, value)) = text.split_once('=') else {
        return Err(Failure::NotNamed { text: text.to_owned() });
    };
    let name = name.trim().to_owned();
    if let Some(why) = unusable(&name) {
        return Err(Failure::NoName { name, why });
    }
    let value = value.trim();
    let given = match value {
        "yes" => Given::Truth(true),
        "no" => Given::Truth(false),
        _ => {
            let (entry, kind) = read_unsettled(value)
                .map_err(|error| Failure::NamedValue { name: name.clone(), error })?;
            let uncertainty = entry.uncertainty.unwrap_or(0.0);
            Given::Number { si: entry.si, uncertainty, kind, unit: entry.unit }
        }
    };
    Ok(Named { name, given })
}
