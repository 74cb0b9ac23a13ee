//! What lies around one box, up to some lines away in either direction.

use super::model::{Edge, Graph, Node, NodeMark, Shape};

/// The boxes within reach of the centre and the lines between them. The way does not lead through
/// the end, where every path of the steps meets.
pub(super) fn around(graph: &Graph, centre: usize, reach: usize) -> Graph {
    let within = within(graph, centre, reach);
    let kept: Vec<usize> = (0..graph.nodes.len()).filter(|node| within[*node]).collect();
    let is_cut = |node: usize| {
        let leads_out = |edge: &Edge| {
            (edge.from == node && !within[edge.to]) || (edge.to == node && !within[edge.from])
        };
        graph.nodes[node].shape != Shape::Conclude && graph.edges.iter().any(leads_out)
    };
    let mark = |node: usize| match node {
        _ if node == centre => Some(NodeMark::Centre),
        _ => is_cut(node).then_some(NodeMark::Cut),
    };
    let groups: Vec<usize> = (0..graph.groups.len())
        .filter(|group| kept.iter().any(|node| graph.nodes[*node].group == Some(*group)))
        .collect();
    let now = |old: usize, all: &[usize]| all.iter().position(|known| *known == old);
    Graph {
        sideways: graph.sideways,
        groups: groups.iter().map(|group| graph.groups[*group].clone()).collect(),
        nodes: kept
            .iter()
            .map(|node| Node {
                group: graph.nodes[*node].group.and_then(|group| now(group, &groups)),
                mark: mark(*node),
                ..graph.nodes[*node].clone()
            })
            .collect(),
        edges: graph
            .edges
            .iter()
            .filter_map(|edge| {
                let (from, to) = (now(edge.from, &kept)?, now(edge.to, &kept)?);
                Some(Edge { from, to, ..edge.clone() })
            })
            .collect(),
    }
}

/// For each box, whether it is within reach.
fn within(graph: &Graph, centre: usize, reach: usize) -> Vec<bool> {
    let mut within = vec![false; graph.nodes.len()];
    within[centre] = true;
    let mut rim = vec![centre];
    for _ in 0..reach {
        let mut next = Vec::new();
        for edge in &graph.edges {
            for (here, there) in [(edge.from, edge.to), (edge.to, edge.from)] {
                if rim.contains(&here) && !within[there] {
                    within[there] = true;
                    next.push(there);
                }
            }
        }
        rim = next.into_iter().filter(|node| graph.nodes[*node].shape != Shape::Conclude).collect();
    }
    within
}
