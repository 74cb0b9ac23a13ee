//! What is wrong with a pack: a place and a kind, with a way out; and how it is drawn. The place
//! is a route of keys and indices; the bytes are looked up only when the fault is drawn.

use super::look_up::LookUp;
pub use super::place::{FileText, Mark, Place, Position};
use crate::formula::{self, Headline};
use crate::text::Clean;

/// Whether the pack can't be used, or is only poorer for it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Severity {
    Error,
    Warning,
}

/// One fault of a pack.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fault {
    /// A short name of the kind of fault, stable: `unknown-name`.
    pub code: &'static str,
    pub severity: Severity,
    pub message: String,
    pub place: Place,
    /// What stands at the mark.
    pub label: String,
    /// The other side of a clash.
    pub other: Option<(Place, String)>,
    /// The way out.
    pub help: String,
}

/// The most faults that are drawn: nobody mends more in one go, and each is drawn from the text of
/// its whole file.
pub const MAX_DRAWN: usize = 100;

/// Lines are drawn until they came to so many bytes: a whole file may be one line.
const MAX_DRAWN_FROM: usize = 1 << 20;

/// All faults of a pack with the files they stand in.
#[derive(Debug, Clone, Default)]
pub struct Faults {
    pub files: Vec<FileText>,
    pub list: Vec<Fault>,
}

impl Faults {
    /// Whether any fault makes the pack unusable.
    #[must_use]
    pub fn any_error(&self) -> bool {
        self.list.iter().any(|fault| fault.severity == Severity::Error)
    }

    /// How many of one severity.
    #[must_use]
    pub fn count(&self, severity: Severity) -> usize {
        self.list.iter().filter(|fault| fault.severity == severity).count()
    }

    /// The faults drawn with their lines, errors first, at most [`MAX_DRAWN`].
    #[must_use]
    pub fn draw(&self, colour: bool) -> Vec<Clean> {
        let files = LookUp::new(&self.files);
        let mut drawn = Vec::new();
        let mut read = 0;
        for fault in self.list.iter().take(MAX_DRAWN) {
            drawn.push(self.draw_one(fault, &files, colour));
            read += files.line_length(&fault.place);
            if read > MAX_DRAWN_FROM {
                break;
            }
        }
        drawn
    }

    /// File, line and column of every fault, in the order of [`Faults::list`].
    #[must_use]
    pub fn positions(&self) -> Vec<Position> {
        self.positions_of(self.list.iter().map(|fault| &fault.place))
    }

    /// File, line and column of places in these files.
    #[must_use]
    pub fn positions_of<'p>(&self, wanted: impl IntoIterator<Item = &'p Place>) -> Vec<Position> {
        let files = LookUp::new(&self.files);
        wanted.into_iter().map(|place| files.position(place)).collect()
    }

    fn draw_one(&self, fault: &Fault, files: &LookUp<'_>, colour: bool) -> Clean {
        let headline = Headline {
            warning: fault.severity == Severity::Warning,
            code: Some(fault.code),
            message: &fault.message,
        };
        let other = fault.other.iter().map(|(place, label)| (place, label.as_str()));
        let marks: Vec<formula::Mark<'_>> = std::iter::once((&fault.place, fault.label.as_str()))
            .chain(other)
            .filter_map(|(place, label)| {
                let file = self.files.get(place.file)?;
                let span = files.bytes(place);
                Some(formula::Mark { name: Some(&file.name), text: &file.text, span, label })
            })
            .collect();
        formula::draw(headline, &marks, &fault.help, colour)
    }
}
