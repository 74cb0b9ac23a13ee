//! `boostwright pack graph`: pictures of a pack, as text for a program that draws.

use crate::cli::arguments::{GraphForm, GraphOf};
use crate::cli::exit::{Exit, Failure};
use crate::cli::output;
use crate::rules::Loaded;
use crate::rules::graph::{Lines, Network, draw, graphviz, mermaid};

/// Draws a network, or what lies around one entry of it.
pub(super) fn run(
    loaded: &Loaded,
    form: GraphForm,
    of: Option<GraphOf>,
    around: Option<&str>,
    all: bool,
) -> Result<Exit, Failure> {
    let network = of.map(|of| match of {
        GraphOf::Steps => Network::Steps,
        GraphOf::Causes => Network::Causes,
    });
    let lines = if all { Lines::All } else { Lines::Few };
    let graph = draw(loaded, network, around, lines).map_err(Failure::NotDrawn)?;
    output::result(match form {
        GraphForm::Graphviz => graphviz(&graph),
        GraphForm::Mermaid => mermaid(&graph),
    })?;
    Ok(Exit::Done)
}
