//! A picture as boxes with lines between them.

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
    pub mark: Option<NodeMark>,
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
pub enum NodeMark {
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
pub(super) const MANY_LINES: usize = 150;
