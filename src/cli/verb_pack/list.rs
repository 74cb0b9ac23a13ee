//! `boostwright pack list`: what the packs in use hold, section by section, each entry with the place
//! it stands at.

use std::fmt::Write as _;

use crate::cli::exit::{Exit, Failure};
use crate::cli::output;
use crate::rules::explain::{Holds, RULE_FILE};
use crate::rules::{Layer, Loaded, Origin, Pack, Position};
use crate::text::Clean;

/// Lists every entry.
pub(super) fn run(loaded: &Loaded) -> Result<Exit, Failure> {
    output::result(listing(loaded))?;
    if loaded.faults.any_error() {
        output::message("These rules have errors, and may be incomplete here: see `pack check`.");
    }
    Ok(Exit::Done)
}

fn listing(loaded: &Loaded) -> String {
    let origins = &loaded.origins;
    let places = loaded.faults.positions_of(origins.iter().map(|origin| &origin.place));
    let below = |origin: &Origin| {
        let (layer, place) = origin.replaced.as_ref()?;
        let found = loaded.faults.positions_of([place]).pop()?;
        Some(format!("replaces {} of {}", at(&found), name(&loaded.pack, *layer)))
    };
    let mut out = String::new();
    for layer in &loaded.pack.layers {
        let _ = writeln!(out, "{}", Clean::line(about(layer)));
    }
    for field in RULE_FILE.fields.iter().filter(|field| !matches!(field.holds, Holds::Fields(_))) {
        let entries: Vec<(&Origin, &Position)> = origins
            .iter()
            .zip(&places)
            .filter(|(origin, _)| origin.section == field.name)
            .collect();
        let _ = write!(out, "\n{:12} {:5}\n", field.name, entries.len());
        let wide = entries.iter().map(|(origin, _)| origin.id.chars().count()).max().unwrap_or(0);
        for (origin, place) in entries {
            let mut line = format!("  {:wide$}  {}", origin.id, at(place));
            if loaded.pack.layers.len() > 1 {
                let _ = write!(line, "  {}", name(&loaded.pack, origin.layer));
            }
            if let Some(below) = below(origin) {
                let _ = write!(line, ", {below}");
            }
            let _ = writeln!(out, "{}", Clean::line(line));
        }
    }
    out
}

fn at(place: &Position) -> String {
    format!("{}:{}", place.file, place.line)
}

fn name(pack: &Pack, layer: usize) -> &str {
    pack.layers.get(layer).map_or("", |layer| layer.name.as_str())
}

/// `boostwright 0.1.0, by the boostwright authors`.
fn about(layer: &Layer) -> String {
    let mut text = layer.name.clone();
    if let Some(version) = &layer.version {
        let _ = write!(text, " {version}");
    }
    if let Some(author) = &layer.author {
        let _ = write!(text, ", by {author}");
    }
    text
}
