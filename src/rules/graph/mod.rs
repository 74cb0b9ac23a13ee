//! Pictures of a pack for its author: the way through the steps, and which cause brings which
//! finding. Whole, or what lies around one of them. As text for a program that draws graphs.

mod around;
mod causes;
mod escape;
mod graphviz;
mod mermaid;
mod steps;
mod words;

use super::fault::FileText;
use super::load::Loaded;
use super::origin::Origin;
use crate::formula::nearest;

pub use graphviz::graphviz;
pub use mermaid::mermaid;

/// Boxes with lines between them.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Graph {
    /// Whether it is read from left to right; else from the top.
    pub sideways: bool,
    /// The files that boxes are gathered by.
    pub groups: Vec<String>,
    pub nodes: Vec<Node>,
    pub edges: Vec<Edge>,
}

/// A box.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Node {
    /// The id of what it stands for.
    pub id: String,
    pub shape: Shape,
    /// Its place among the groups.
    pub group: Option<usize>,
    /// What stands in it, each on lines of its own.
    pub texts: Vec<String>,
    pub mark: Option<Mark>,
}

/// What a box stands for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Shape {
    Complaint,
    Step,
    /// The end of the way.
    Conclude,
    Cause,
    Finding,
}

/// What is special about a box where only a part is drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Mark {
    /// The one that the others lie around.
    Centre,
    /// Lines from it are left out.
    Cut,
}

/// A line from one box to another, by their places.
#[derive(Debug, Clone, PartialEq)]
pub struct Edge {
    pub from: usize,
    pub to: usize,
    pub text: String,
    /// How thick it is, 0 to 1.
    pub weight: f64,
}

/// What is drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Network {
    Steps,
    Causes,
}

/// There is no such box.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NotDrawn {
    /// The way out.
    pub help: String,
}

/// Which lines are drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Lines {
    /// So many that a picture of them can be read.
    Few,
    All,
}

/// More lines than this nobody follows with the eye; and Graphviz lays out no more than some
/// thousands.
const MANY_LINES: usize = 150;

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
        return Ok(whole(loaded, network.unwrap_or(Network::Steps), steps::FEW, lines));
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
            Some(near) => format!("{id} is no {what}: did you mean {near}?"),
            None => format!("{id} is no {what}: pack list names them all"),
        },
    })
}

fn whole(loaded: &Loaded, network: Network, questions: usize, lines: Lines) -> Graph {
    match network {
        Network::Steps => steps::steps(loaded, questions),
        Network::Causes => causes::causes(loaded, lines),
    }
}

/// Gathers boxes by the file that their entry stands in.
struct Groups<'a> {
    files: &'a [FileText],
    origins: &'a [Origin],
    /// Files that have a box, and so a group.
    used: Vec<usize>,
}

impl<'a> Groups<'a> {
    fn new(loaded: &'a Loaded) -> Self {
        Self { files: &loaded.faults.files, origins: &loaded.origins, used: Vec::new() }
    }

    /// The group of an entry.
    fn of(&mut self, section: &str, id: &str) -> Option<usize> {
        let origin =
            self.origins.iter().find(|known| known.section == section && known.id == id)?;
        let file = origin.place.file;
        let known = self.used.iter().position(|used| *used == file);
        Some(known.unwrap_or_else(|| {
            self.used.push(file);
            self.used.len() - 1
        }))
    }

    fn names(self) -> Vec<String> {
        let name = |file: &usize| self.files.get(*file).map(|file| file.name.clone());
        self.used.iter().map(|file| name(file).unwrap_or_default()).collect()
    }
}
