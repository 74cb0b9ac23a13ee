//! What a name in a formula may stand for; the rules floor and the calculator each bring their own.

use super::node::{Node, TruthId, VarId};
use crate::formula::syntax::RESERVED;
use crate::formula::syntax::expression::Expression;
use crate::quantity::{Kind, is_symbol};

/// What a name means.
pub enum Meaning<'a> {
    Value {
        variable: VarId,
        kind: Kind,
    },
    /// A yes-or-no question.
    Bool {
        variable: VarId,
    },
    Choice {
        variable: VarId,
        options: Vec<&'a str>,
    },
    /// A two-column table: the columns' names and kinds.
    Table {
        variable: VarId,
        columns: Vec<(&'a str, Kind)>,
    },
    /// A formula with parameters, put in place of its call.
    Relation {
        given: &'a [String],
        body: &'a Expression,
    },
    /// Arguments that calls share, each with its name.
    Arguments {
        values: &'a [(String, Expression)],
    },
    /// A truth that was checked before, written out in place of its name; with an id where whoever
    /// reads the formula may know it by that (a finding).
    Inline {
        node: &'a Node,
        id: Option<TruthId>,
    },
    /// Known once findings are, and this formula is worked out before them.
    Later,
    /// Known, but faulty where it is defined: its use is no second fault.
    Faulty,
}

/// Looks names up.
pub trait Names {
    /// What `name` means, if anything.
    fn find(&self, name: &str) -> Option<Meaning<'_>>;

    /// Every name that means something, for the nearest to be offered.
    fn all(&self) -> Vec<&str>;

    /// What to do about a name that means nothing and is near none that does.
    fn advice(&self) -> String {
        "use the id of a question or a working".to_owned()
    }
}

/// The nearest of the known names, if it is near enough to have been meant.
///
/// ```
/// use boostwright::formula::nearest;
///
/// assert_eq!(nearest("bosst", ["boost", "drop"]), Some("boost"));
/// assert_eq!(nearest("lambda", ["boost", "drop"]), None);
/// ```
#[must_use]
pub fn nearest<'a>(word: &str, known: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    // A third of the letters may be off; more is another word.
    let allowed = (word.chars().count() / 3).max(1);
    known
        .into_iter()
        .map(|name| (strsim::osa_distance(word, name), name))
        .filter(|(far, _)| *far <= allowed)
        .min()
        .map(|(_, name)| name)
}

/// Why formulas can't read a word as a name.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Unusable {
    /// Not letters, digits and _, or it doesn't start with a letter.
    Letters,
    /// It is read as a unit behind a number.
    Unit,
    /// One of [`RESERVED`].
    Reserved,
}

/// Why formulas can't read this word as a name, if they can't.
#[must_use]
pub fn unusable(word: &str) -> Option<Unusable> {
    let starts = word.starts_with(|letter: char| letter.is_ascii_alphabetic() || letter == '_');
    let sound = word.chars().all(|letter| letter.is_ascii_alphanumeric() || letter == '_');
    if !(starts && sound) {
        Some(Unusable::Letters)
    } else if RESERVED.contains(&word) {
        Some(Unusable::Reserved)
    } else {
        is_symbol(word).then_some(Unusable::Unit)
    }
}
