//! What is wrong with a pack: a place and a kind, with a way out; and how it is drawn. The place
//! is a route of keys and indices; the bytes are looked up only when the fault is drawn.

mod code;
mod kind;
mod link;
mod lint;
mod shape;
mod stack;
mod table;

use std::sync::Arc;

use super::look_up::LookUp;
pub use super::place::{FileText, Mark, Place, Position};
use super::yaml::Places;
use crate::formula::{self, Headline};
use crate::text::Clean;
pub use code::Code;
pub(super) use kind::did_you_mean;
pub use kind::{FaultKind, Severity, Told};
pub use link::LinkFault;
pub(super) use link::WAITS;
pub use lint::LintFault;
pub use shape::ShapeFault;
pub use stack::StackFault;
pub(crate) use table::fault_table;

/// One fault of a pack.
#[derive(Debug, Clone)]
pub struct Fault {
    /// What is wrong.
    pub kind: Arc<dyn FaultKind>,
    pub severity: Severity,
    pub place: Place,
    /// The other side of a clash.
    pub other: Option<(Place, String)>,
}

impl Fault {
    /// A fault as severe as its kind is by itself.
    pub fn new(kind: impl FaultKind + 'static, place: Place) -> Self {
        let severity = kind.told().severity;
        Self { kind: Arc::new(kind), severity, place, other: None }
    }

    /// The same with the other side of a clash.
    #[must_use]
    pub fn against(self, place: Place, label: impl Into<String>) -> Self {
        Self { other: Some((place, label.into())), ..self }
    }

    /// A short name of the kind of fault, stable.
    #[must_use]
    pub fn code(&self) -> Code {
        self.kind.told().code
    }

    /// What is wrong, in a line.
    #[must_use]
    pub fn message(&self) -> String {
        self.kind.told().message
    }

    /// The way out.
    #[must_use]
    pub fn help(&self) -> String {
        self.kind.told().help
    }
}

/// Faults are equal that a person can't tell apart.
impl PartialEq for Fault {
    fn eq(&self, other: &Self) -> bool {
        self.place == other.place
            && self.severity == other.severity
            && self.other == other.other
            && self.kind.told() == other.kind.told()
    }
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
    /// Where everything stands in the first of the files, in the next and so on, as far as that is
    /// known; the others are read for it once something in them is looked up.
    pub places: Vec<Arc<Places>>,
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
        let files = LookUp::new(&self.files, &self.places);
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
        let files = LookUp::new(&self.files, &self.places);
        wanted.into_iter().map(|place| files.position(place)).collect()
    }

    fn draw_one(&self, fault: &Fault, files: &LookUp<'_>, colour: bool) -> Clean {
        let told = fault.kind.told();
        let headline = Headline {
            warning: fault.severity == Severity::Warning,
            code: Some(told.code.name()),
            message: &told.message,
        };
        let other = fault.other.iter().map(|(place, label)| (place, label.as_str()));
        let marks: Vec<formula::Mark<'_>> = std::iter::once((&fault.place, told.label.as_str()))
            .chain(other)
            .filter_map(|(place, label)| {
                let file = self.files.get(place.file)?;
                let span = files.bytes(place);
                Some(formula::Mark { name: Some(&file.name), text: &file.text, span, label })
            })
            .collect();
        formula::draw(headline, &marks, &told.help, colour)
    }
}
