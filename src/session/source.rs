//! The text that a session was read from, so that what is wrong in it can be shown where it stands.

use std::sync::Arc;

use super::fault::SessionFault;
use crate::rules::yaml::{Places, Route, RouteStep};
use crate::rules::{Fault, FaultPlace, Faults, FileText, Mark};

/// The text a session was read from.
#[derive(Debug, Clone)]
pub struct Source {
    pub(super) file: FileText,
    /// Complaint and answers stand at the top of the file, without a list of rounds.
    pub(super) single: bool,
    /// Where everything stands in it, once it was read.
    pub(super) places: Option<Arc<Places>>,
}

impl Source {
    /// Where a session comes from that was not read from a file.
    #[must_use]
    pub fn none(name: &str) -> Self {
        Self {
            file: FileText { name: name.to_owned(), text: "".into() },
            single: false,
            places: None,
        }
    }

    /// What is wrong with the session.
    pub(super) fn faults(&self, list: Vec<Fault>) -> Faults {
        let places = self.places.iter().cloned().collect();
        Faults { files: vec![self.file.clone()], list, places }
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
