//! Boxes gathered by the file that their entry stands in.

use crate::rules::fault::FileText;
use crate::rules::load::Loaded;
use crate::rules::origin::Origin;

/// Gathers boxes by the file that their entry stands in.
pub(super) struct Groups<'a> {
    files: &'a [FileText],
    origins: &'a [Origin],
    /// Files that have a box, and so a group.
    used: Vec<usize>,
}

impl<'a> Groups<'a> {
    pub(super) fn new(loaded: &'a Loaded) -> Self {
        Self { files: &loaded.faults.files, origins: &loaded.origins, used: Vec::new() }
    }

    /// The group of an entry.
    pub(super) fn of(&mut self, section: &str, id: &str) -> Option<usize> {
        let origin =
            self.origins.iter().find(|known| known.section == section && known.id == id)?;
        let file = origin.place.file;
        let known = self.used.iter().position(|used| *used == file);
        Some(known.unwrap_or_else(|| {
            self.used.push(file);
            self.used.len() - 1
        }))
    }

    pub(super) fn names(self) -> Vec<String> {
        let name = |file: &usize| self.files.get(*file).map(|file| file.name.clone());
        self.used.iter().map(|file| name(file).unwrap_or_default()).collect()
    }
}
