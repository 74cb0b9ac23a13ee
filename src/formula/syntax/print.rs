//! A formula as text again, with values in place of names and long calls cut. Everything else stays as
//! its author wrote it, brackets and spaces too; a value gets brackets where it needs them.

use super::expression::{Arithmetic, Expression, Form};
use super::fault::Span;
use super::parse::parse;

/// What is changed in a formula that is printed.
#[derive(Clone, Copy)]
pub struct Printer<'a> {
    /// What stands in place of a name; none where the name itself does.
    pub value: &'a dyn Fn(&str) -> Option<String>,
    /// How many arguments a call keeps; the others are counted.
    pub max_arguments: usize,
}

/// A formula with no more than so many arguments shown of each call. One that can't be read stays as
/// it is.
///
/// ```
/// use boostwright::formula::shortened;
///
/// assert_eq!(shortened("2 * area(a, b = 3 mm, c, d, e)", 3), "2 * area(a, b = 3 mm, c, … 2 more)");
/// ```
#[must_use]
pub fn shortened(text: &str, max_arguments: usize) -> String {
    let printer = Printer { value: &|_| None, max_arguments };
    parse(text).map_or_else(|_| text.to_owned(), |tree| printer.print(text, &tree))
}

/// What stands before a piece and behind it.
#[derive(Clone, Copy, PartialEq)]
enum Place {
    /// Nothing that could take hold of it.
    Free,
    /// An operator before it, whose sign would run into a minus.
    BehindOperator,
    /// A power behind it, which binds before a unit does.
    Base,
}

impl Printer<'_> {
    /// The formula that was read from a text.
    ///
    /// ```
    /// use boostwright::formula::{Printer, parse};
    ///
    /// let text = "boost - drop";
    /// let value = |name: &str| (name == "drop").then(|| "-0.1 bar".to_owned());
    /// let printer = Printer { value: &value, max_arguments: 3 };
    /// let tree = parse(text).expect("a formula");
    /// assert_eq!(printer.print(text, &tree), "boost - (-0.1 bar)");
    /// ```
    #[must_use]
    pub fn print(&self, text: &str, tree: &Expression) -> String {
        let mut changes = Vec::new();
        self.changes(tree, Place::Free, &mut changes);
        let mut printed = String::new();
        let mut done = 0;
        for (span, put) in changes {
            printed.push_str(&text[done..span.start]);
            printed.push_str(&put);
            done = span.end;
        }
        printed + &text[done..]
    }

    /// What is put in place of which part of the text, in its order.
    fn changes(&self, tree: &Expression, place: Place, into: &mut Vec<(Span, String)>) {
        match &tree.form {
            Form::Literal { .. } | Form::Bool(_) => {}
            Form::Name(name) => {
                if let Some(value) = (self.value)(name) {
                    into.push((tree.span.clone(), placed(value, place)));
                }
            }
            Form::Call { arguments, .. } => {
                for argument in arguments.iter().take(self.max_arguments) {
                    self.changes(&argument.value, Place::Free, into);
                }
                let hidden = arguments.len().saturating_sub(self.max_arguments);
                let kept = self.max_arguments.checked_sub(1).and_then(|last| arguments.get(last));
                if let (Some(kept), Some(last), 1..) = (kept, arguments.last(), hidden) {
                    let span = kept.value.span.end..last.value.span.end;
                    into.push((span, format!(", … {hidden} more")));
                }
            }
            Form::Negated(inner) => self.changes(inner, Place::BehindOperator, into),
            Form::Not(inner) => self.changes(inner, Place::Free, into),
            Form::Arithmetic { operator, left, right } => {
                // Brackets of its own keep what is outside away from it.
                let bracketed = tree.span.start < left.span.start;
                let first = match operator {
                    Arithmetic::Power => Place::Base,
                    _ if bracketed => Place::Free,
                    _ => place,
                };
                self.changes(left, first, into);
                self.changes(right, Place::BehindOperator, into);
            }
            Form::Comparison { left, right, .. }
            | Form::And { left, right }
            | Form::Or { left, right } => {
                self.changes(left, Place::Free, into);
                self.changes(right, Place::Free, into);
            }
            Form::IfElse { condition, then, otherwise } => {
                for part in [condition, then, otherwise] {
                    self.changes(part, Place::Free, into);
                }
            }
        }
    }
}

/// A value in brackets where its place asks for them.
fn placed(value: String, place: Place) -> String {
    let negative = value.starts_with(['-', '−']);
    let bare = value.chars().all(|letter| letter.is_ascii_digit() || letter == '.');
    let brackets = match place {
        Place::Free => false,
        Place::BehindOperator => negative,
        Place::Base => !bare,
    };
    if brackets { format!("({value})") } else { value }
}
