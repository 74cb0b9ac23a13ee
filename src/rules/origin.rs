//! Where each entry of a stack of packs comes from.

use super::fault::{Mark, Place};
use super::stack::{Entries, Stack, route_in};
use super::yaml::Route;

/// An entry, and where it stands.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Origin {
    pub section: &'static str,
    pub id: String,
    /// Which of the packs it is from, the lowest first: its place in [`super::Pack::layers`].
    pub layer: usize,
    pub place: Place,
    /// The entry of a pack below that it took the place of: that pack and where it stands.
    pub replaced: Option<(usize, Place)>,
}

/// Every entry by section, in the order of the files.
pub(super) fn origins(stack: &Stack) -> Vec<Origin> {
    let mut all = Collected { stack, found: Vec::new() };
    all.section("complaints", &stack.complaints);
    all.section("car_states", &stack.car_states);
    all.section("setups", &stack.setups);
    all.section("instruments", &stack.instruments);
    all.section("questions", &stack.questions);
    all.section("conditions", &stack.conditions);
    all.section("arguments", &stack.arguments);
    all.section("relations", &stack.relations);
    all.section("workings", &stack.workings);
    all.section("curves", &stack.curves);
    all.section("drawings", &stack.drawings);
    all.section("readings", &stack.readings);
    all.section("findings", &stack.findings);
    all.section("causes", &stack.causes);
    all.section("repairs", &stack.repairs);
    all.section("cautions", &stack.cautions);
    all.section("steps", &stack.steps);
    all.section("strengths", &stack.strengths);
    all.section("sources", &stack.sources);
    all.section("cases", &stack.cases);
    all.found
}

struct Collected<'a> {
    stack: &'a Stack,
    found: Vec<Origin>,
}

impl Collected<'_> {
    fn section<T>(&mut self, section: &'static str, entries: &Entries<T>) {
        for (id, entry) in entries {
            let at = |file| self.at(file, route_in(section, id, entry.list.as_deref()));
            let (layer, place) = at(entry.file);
            let replaced = entry.replaced.map(at);
            self.found.push(Origin { section, id: id.clone(), layer, place, replaced });
        }
    }

    fn at(&self, file: usize, route: Route) -> (usize, Place) {
        (self.stack.layer(file), Place { file, route, mark: Mark::Key })
    }
}
