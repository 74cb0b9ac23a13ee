//! Pictures of a pack for its author: the way through the steps, and which cause brings which
//! finding. Whole, or what lies around one of them. As text for a program that draws graphs.

mod around;
mod causes;
mod escape;
mod graphviz;
mod groups;
mod mermaid;
mod model;
mod steps;
mod words;

use super::load::Loaded;
use crate::formula::nearest;
use model::MANY_LINES;

pub use graphviz::graphviz;
pub use mermaid::mermaid;
pub use model::{Edge, Graph, Lines, Network, Node, NodeMark, NotDrawn, Shape};

/// How far from the centre a part reaches, in lines; and how far where that would be many lines.
const REACHES: [usize; 2] = [2, 1];

/// Draws a network of a sound pack: all of it, or what lies around the entry of that id. Where no
/// network is named, the id tells which; the steps, where there is none either.
///
/// Few lines are, of the causes as a whole, those to the findings that tell each best; around an
/// entry, those one line away. Both only where all would be many.
///
/// # Errors
/// An id that is not in the network.
pub fn draw(
    loaded: &Loaded,
    network: Option<Network>,
    around: Option<&str>,
    lines: Lines,
) -> Result<Graph, NotDrawn> {
    let Some(id) = around else {
        return Ok(whole(loaded, network.unwrap_or(Network::Steps), steps::MAX_NAMED, lines));
    };
    let every = [Network::Steps, Network::Causes];
    let tried = every.iter().filter(|known| network.is_none_or(|wanted| wanted == **known));
    let mut ids = Vec::new();
    for network in tried {
        let graph = whole(loaded, *network, usize::MAX, Lines::All);
        if let Some(centre) = graph.nodes.iter().position(|node| node.id == id) {
            let [far, near] = REACHES.map(|reach| around::around(&graph, centre, reach));
            let is_many = lines == Lines::Few && far.edges.len() > MANY_LINES;
            return Ok(if is_many { near } else { far });
        }
        ids.extend(graph.nodes.into_iter().map(|node| node.id));
    }
    let what = match network {
        None => "step, complaint, cause or finding",
        Some(Network::Steps) => "step or complaint",
        Some(Network::Causes) => "cause or finding",
    };
    Err(NotDrawn {
        help: match nearest(id, ids.iter().map(String::as_str)) {
            Some(near) => format!("there is no {what} called {id}: did you mean {near}?"),
            None => format!("there is no {what} called {id}: pack list names them all"),
        },
    })
}

fn whole(loaded: &Loaded, network: Network, questions: usize, lines: Lines) -> Graph {
    match network {
        Network::Steps => steps::steps(loaded, questions),
        Network::Causes => causes::causes(loaded, lines),
    }
}
