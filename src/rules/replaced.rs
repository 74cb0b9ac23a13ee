//! What the packs of a stack replace in those below, and how much of them that moves.

use super::origin::Origin;
use super::stack::{Entry, Stack};
use super::written as w;

/// Something of a pack below that a pack gives anew.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Replaced {
    /// The section, or `pack` for what a head says of the whole stack.
    pub section: &'static str,
    pub id: String,
    /// What it was and what it is now, where that is one number.
    pub values: Option<(String, String)>,
    /// The causes of packs below whose weighing it changes; none where that hangs on answers.
    pub causes: Option<usize>,
}

/// Everything that is replaced, by section.
pub(super) fn replaced(stack: &Stack, origins: &[Origin]) -> Vec<Replaced> {
    let layer = |file: usize| stack.layer(file);
    let below = |over: usize, touched: &dyn Fn(&w::Cause) -> bool| {
        let causes = stack.causes.values().filter(|cause: &&Entry<_>| layer(cause.file) < over);
        causes.filter(|cause| touched(&cause.written)).count()
    };
    let mut found: Vec<Replaced> = Vec::new();
    for (word, before) in &stack.strengths_before {
        let Some(entry) = stack.strengths.get(word) else { continue };
        let uses = |cause: &w::Cause| {
            cause.brings.iter().flatten().any(|(_, strength)| strength.trim() == word)
        };
        found.push(Replaced {
            section: "strengths",
            id: word.clone(),
            values: Some((before.clone(), entry.written.clone())),
            causes: Some(below(layer(entry.file), &uses)),
        });
    }
    for origin in origins.iter().filter(|origin| origin.replaced.is_some()) {
        let brings = |cause: &w::Cause| {
            cause.brings.iter().flatten().any(|(finding, _)| *finding == origin.id)
        };
        let causes = match origin.section {
            "strengths" => continue,
            "findings" => Some(below(origin.layer, &brings)),
            "causes" => Some(1),
            _ => None,
        };
        let (section, id) = (origin.section, origin.id.clone());
        found.push(Replaced { section, id, values: None, causes });
    }
    found
}
