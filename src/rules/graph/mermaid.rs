//! A graph as a Mermaid flowchart.

use std::fmt::Write as _;

use super::escape::for_mermaid;
use super::model::{Edge, Graph, Node, NodeMark, Shape};
use super::words::{at_line, in_box};
use crate::text::Clean;

/// The graph as a flowchart.
#[must_use]
pub fn mermaid(graph: &Graph) -> Clean {
    let direction = if graph.sideways { "LR" } else { "TB" };
    let mut out = format!("flowchart {direction}\n");
    for (group, name) in graph.groups.iter().enumerate() {
        let _ = writeln!(out, "  subgraph g{group}[{}]", quoted(&at_line(name)));
        boxes(&mut out, graph, Some(group), "    ");
        out.push_str("  end\n");
    }
    boxes(&mut out, graph, None, "  ");
    for edge in &graph.edges {
        out.push_str(&line(edge));
    }
    for (place, node) in graph.nodes.iter().enumerate() {
        match node.mark {
            Some(NodeMark::Centre) => {
                let _ = writeln!(out, "  style n{place} stroke-width:4px");
            }
            Some(NodeMark::Cut) => {
                let _ = writeln!(out, "  style n{place} stroke-dasharray:5 5");
            }
            None => {}
        }
    }
    Clean::new(out)
}

fn boxes(out: &mut String, graph: &Graph, group: Option<usize>, indent: &str) {
    let all = graph.nodes.iter().enumerate();
    for (place, node) in all.filter(|(_, node)| node.group == group) {
        let (open, close) = brackets(node);
        let label = quoted(&in_box(&node.texts));
        let _ = writeln!(out, "{indent}n{place}{open}{label}{close}");
    }
}

/// The brackets tell the shape.
fn brackets(node: &Node) -> (&'static str, &'static str) {
    match node.shape {
        Shape::Complaint => ("([", "])"),
        Shape::Conclude => ("((", "))"),
        Shape::Finding => ("(", ")"),
        Shape::Step | Shape::Cause => ("[", "]"),
    }
}

fn line(edge: &Edge) -> String {
    let label = at_line(&edge.text);
    let label = if label.is_empty() { String::new() } else { format!("|{}|", quoted(&label)) };
    format!("  n{} -->{label} n{}\n", edge.from, edge.to)
}

/// Lines in quotes. A label must not be empty.
fn quoted(lines: &[Clean]) -> String {
    let lines: Vec<String> = lines.iter().map(|line| for_mermaid(line)).collect();
    format!("\"{}\"", if lines.is_empty() { " ".to_owned() } else { lines.join("<br/>") })
}
