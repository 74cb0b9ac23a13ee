//! The one table that gives physics functions their names, arguments, units and sources. Argument
//! kinds come from the Rust types named here, and the compiler holds those against the function
//! itself, so that table and code can't disagree.

use crate::physics::{Refusal, atmosphere};
use crate::quantity::{AbsolutePressure, Kind, Length, Quantity};

/// One argument of a [`Function`].
#[derive(Debug)]
pub struct Argument {
    pub name: &'static str,
    pub kind: Kind,
    /// What is accepted, in words: `"above 0"`, `"0 to 1"`.
    pub range: &'static str,
}

/// A physics function as rule files and the pocket calculator know it.
pub struct Function {
    pub name: &'static str,
    /// The heading it stands under in `calc --list`.
    pub subject: &'static str,
    pub arguments: &'static [Argument],
    pub gives: Kind,
    /// What it gives, in one line.
    pub summary: &'static str,
    /// Book and equation.
    pub source: &'static str,
    /// Arguments and result in coherent SI; the count is checked before.
    pub call: fn(&[f64]) -> Result<f64, Refusal>,
    /// What the person should hear besides the number (a second root, a stretched theory).
    pub remarks: fn(&[f64]) -> Vec<String>,
}

/// Wraps `function(Type, ...) -> Result<Type, Refusal>` into table entries.
macro_rules! functions {
    ($($subject:literal {$(
        $name:ident($($argument:ident: $type:ty = $range:literal),* $(,)?) -> $gives:ty
            = $function:path $(, remarks $remarks:path)?, $summary:literal, $source:literal;
    )*})*) => {
        /// Every physics function, grouped by subject.
        pub static FUNCTIONS: &[Function] = &[$($(
            Function {
                name: stringify!($name),
                subject: $subject,
                arguments: &[$(Argument {
                    name: stringify!($argument),
                    kind: <$type as Quantity>::KIND,
                    range: $range,
                }),*],
                gives: <$gives as Quantity>::KIND,
                summary: $summary,
                source: $source,
                call: |given| {
                    let mut given = given.iter().copied();
                    $(let $argument = <$type as Quantity>::from_si(given.next().unwrap_or(f64::NAN));)*
                    let result: $gives = $function($($argument),*)?;
                    Ok(result.si())
                },
                remarks: functions!(@remarks [$($argument: $type),*] $($remarks)?),
            },
        )*)*];
    };
    (@remarks [$($argument:ident: $type:ty),*]) => { |_| Vec::new() };
    (@remarks [$($argument:ident: $type:ty),*] $remarks:path) => {
        |given| {
            let mut given = given.iter().copied();
            $(let $argument = <$type as Quantity>::from_si(given.next().unwrap_or(f64::NAN));)*
            $remarks($($argument),*)
        }
    };
}

/// The function of that name.
pub fn find(name: &str) -> Option<&'static Function> {
    FUNCTIONS.iter().find(|function| function.name == name)
}

functions! {
    "atmosphere" {
        standard_pressure(altitude: Length = "-2 to 11 km, geopotential") -> AbsolutePressure
            = atmosphere::standard_pressure,
            "pressure of the standard atmosphere", "ISO 2533:1975, eq. 12";
    }
}
