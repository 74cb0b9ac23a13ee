//! What the table holds of one function, and the macro that writes an entry.

use std::fmt;

use crate::physics::Refusal;
use crate::quantity::{Kind, Quantity};

/// One argument of a [`Function`].
#[derive(Debug, Clone, Copy)]
pub struct Argument {
    pub name: &'static str,
    pub kind: Kind,
    /// What is accepted, in words: `"above 0"`, `"0 to 1"`.
    pub range: &'static str,
}

/// A physics function as rule files and the pocket calculator know it. Names are unique, so two
/// are equal when their names are.
#[derive(Clone, Copy)]
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
    /// Whether it solves the balances of a whole engine: some microseconds a call.
    pub slow: bool,
    /// What the person should hear besides the number (a second root, a stretched theory).
    pub remarks: fn(&[f64]) -> Vec<String>,
}

impl Function {
    /// How it is called, with the names of its arguments.
    pub(crate) fn call_form(&self) -> String {
        let names: Vec<&str> = self.arguments.iter().map(|argument| argument.name).collect();
        format!("{}({})", self.name, names.join(", "))
    }
}

impl PartialEq for Function {
    fn eq(&self, other: &Self) -> bool {
        self.name == other.name
    }
}

impl fmt::Debug for Function {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name)
    }
}

/// The next of the arguments given; one that is missing is not a number, which every relation
/// refuses.
pub(super) fn next<Q: Quantity>(given: &mut impl Iterator<Item = f64>) -> Q {
    Q::from_si(given.next().unwrap_or(f64::NAN))
}

/// Lists one after the other, `N` items in all, the last of them not empty; in `const`, so that the
/// whole stands there without being built.
pub(super) const fn joined<T: Copy, const N: usize>(lists: &[&[T]]) -> [T; N] {
    let mut all = [lists[lists.len() - 1][0]; N];
    let (mut place, mut list) = (0, 0);
    while list < lists.len() {
        let mut item = 0;
        while item < lists[list].len() {
            all[place] = lists[list][item];
            place += 1;
            item += 1;
        }
        list += 1;
    }
    all
}

/// Wraps `function(Type, ...) -> Result<Type, Refusal>` into table entries.
macro_rules! functions {
    ($($subject:literal {$(
        $name:ident($($argument:ident: $type:ty = $range:literal),* $(,)?) -> $gives:ty
            = $function:path $(, remarks $remarks:path)?, $summary:literal, $source:expr;
    )*})*) => {
        pub(super) const FUNCTIONS: &[Function] = &[$($(
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
                slow: false,
                call: |given| {
                    let mut given = given.iter().copied();
                    $(let $argument: $type = next(&mut given);)*
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
            $(let $argument: $type = next(&mut given);)*
            $remarks($($argument),*)
        }
    };
}

pub(super) use functions;
