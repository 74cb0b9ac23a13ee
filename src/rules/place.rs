//! Where in the files of a pack something stands.

use std::borrow::Cow;
use std::ops::Range;

use super::yaml::Route;

/// A rule file: its name as shown, and its text.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FileText {
    pub name: String,
    /// Borrowed where the file is one of those in the binary.
    pub text: Cow<'static, str>,
}

/// What is marked at a place.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Mark {
    Key,
    Value,
    /// Bytes of the value's own text, as in a formula.
    Inside(Range<usize>),
    /// Bytes of the file, where no route leads.
    Bytes(Range<usize>),
}

/// Where in which file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Place {
    pub file: usize,
    pub route: Route,
    pub mark: Mark,
}

/// Where something stands, counted as an editor counts: lines and letters from 1.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Position {
    pub file: String,
    pub line: usize,
    pub column: usize,
    /// Line and column behind its last letter.
    pub end: (usize, usize),
}
