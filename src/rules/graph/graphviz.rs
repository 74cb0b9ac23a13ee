//! A graph in the DOT language of Graphviz.

use std::fmt::Write as _;

use super::escape::for_graphviz;
use super::model::{Edge, Graph, Node, NodeMark, Shape};
use super::words::{at_line, in_box};
use crate::text::Clean;

/// The graph as a text in DOT.
#[must_use]
pub fn graphviz(graph: &Graph) -> Clean {
    let direction = if graph.sideways { "LR" } else { "TB" };
    let mut out = format!(
        "digraph pack {{\n  graph [rankdir={direction}, fontname=\"Helvetica\", ranksep=0.7];\n  \
         node [shape=box, fontname=\"Helvetica\", fontsize=11];\n  \
         edge [fontname=\"Helvetica\", fontsize=10];\n"
    );
    for (group, name) in graph.groups.iter().enumerate() {
        let name = quoted(&at_line(name));
        let _ = writeln!(out, "  subgraph cluster_{group} {{\n    label={name};");
        boxes(&mut out, graph, Some(group), "    ");
        out.push_str("  }\n");
    }
    boxes(&mut out, graph, None, "  ");
    for edge in &graph.edges {
        out.push_str(&line(edge));
    }
    out.push_str("}\n");
    Clean::new(out)
}

fn boxes(out: &mut String, graph: &Graph, group: Option<usize>, indent: &str) {
    let all = graph.nodes.iter().enumerate();
    for (place, node) in all.filter(|(_, node)| node.group == group) {
        let label = quoted(&in_box(&node.texts));
        let _ = writeln!(out, "{indent}n{place} [label={label}{}];", looks(node));
    }
}

fn looks(node: &Node) -> String {
    let shape = match node.shape {
        Shape::Complaint => ", shape=oval",
        Shape::Conclude => ", shape=doublecircle",
        Shape::Finding => ", shape=box, style=rounded",
        Shape::Step | Shape::Cause => "",
    };
    let mark = match (node.mark, node.shape) {
        (Some(NodeMark::Centre), _) => ", penwidth=3",
        (Some(NodeMark::Cut), Shape::Finding) => ", style=\"rounded,dashed\"",
        (Some(NodeMark::Cut), _) => ", style=dashed",
        (None, _) => "",
    };
    format!("{shape}{mark}")
}

fn line(edge: &Edge) -> String {
    let label = at_line(&edge.text);
    let label =
        if label.is_empty() { String::new() } else { format!("label={}, ", quoted(&label)) };
    let width = 0.5 + 2.0 * edge.weight;
    format!("  n{} -> n{} [{label}penwidth={width:.1}];\n", edge.from, edge.to)
}

/// Lines in quotes.
fn quoted(lines: &[Clean]) -> String {
    let lines: Vec<String> = lines.iter().map(|line| for_graphviz(line)).collect();
    format!("\"{}\"", lines.join("\\n"))
}
