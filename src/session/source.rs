//! The text that a session was read from, so that what is wrong in it can be shown where it stands.

use super::fault::SessionFault;
use crate::rules::yaml::{Route, RouteStep};
use crate::rules::{Fault, FaultPlace, FileText, Mark};

/// The text a session was read from.
#[derive(Debug, Clone)]
pub struct Source {
    pub(super) file: FileText,
    /// Complaint and answers stand at the top of the file, without a list of rounds.
    pub(super) single: bool,
}

impl Source {
    /// Where a session comes from that was not read from a file.
    #[must_use]
    pub fn none(name: &str) -> Self {
        Self { file: FileText { name: name.to_owned(), text: "".into() }, single: false }
    }

    /// The way to something in a round (from 0).
    pub(super) fn route(&self, round: usize, rest: &[&str]) -> Route {
        let mut route = Route::new();
        if !self.single {
            route.extend([RouteStep::Key("rounds".to_owned()), RouteStep::Index(round)]);
        }
        route.extend(rest.iter().map(|key| RouteStep::Key((*key).to_owned())));
        route
    }
}

/// A fault of the one file that a session is read from.
pub(super) fn fault(kind: SessionFault, route: Route, mark: Mark) -> Fault {
    Fault::new(kind, FaultPlace { file: 0, route, mark })
}
