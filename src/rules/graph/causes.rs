//! Which cause brings which finding, and how strongly.

use super::{Edge, Graph, Groups, Node, Shape};
use crate::rules::link::STRENGTHS;
use crate::rules::load::Loaded;
use crate::rules::pack::Pack;
use crate::rules::text::{Piece, Template};

/// The causes and findings of a pack.
pub(super) fn causes(loaded: &Loaded) -> Graph {
    let pack = &loaded.pack;
    let mut groups = Groups::new(loaded);
    let mut nodes = Vec::new();
    for ((place, cause), prior) in pack.causes.iter().zip(pack.network.priors()) {
        let id = pack.causes.id(place);
        nodes.push(Node {
            id: id.to_owned(),
            shape: Shape::Cause,
            group: groups.of("causes", id),
            texts: vec![
                cause.title.clone(),
                format!("({id})"),
                format!("common {}", chance(*prior)),
            ],
            mark: None,
        });
    }
    let mut edges = Vec::new();
    for ((place, finding), weighed) in pack.findings.iter().zip(pack.network.findings()) {
        let id = pack.findings.id(place);
        edges.extend(weighed.links.iter().map(|link| Edge {
            from: link.cause,
            to: nodes.len(),
            text: strength(link.strength),
            weight: link.strength,
        }));
        nodes.push(Node {
            id: id.to_owned(),
            shape: Shape::Finding,
            group: groups.of("findings", id),
            texts: vec![
                says(pack, &finding.says),
                format!("({id})"),
                format!("leak {}", chance(weighed.leak)),
            ],
            mark: None,
        });
    }
    Graph { sideways: true, groups: groups.names(), nodes, edges }
}

/// `often 0.5`, or the bare chance where no word stands for it.
fn strength(strength: f64) -> String {
    let word = STRENGTHS.iter().find(|(_, known)| known.to_bits() == strength.to_bits());
    match word {
        Some((word, _)) => format!("{} {}", word.replace('_', " "), chance(strength)),
        None => chance(strength),
    }
}

/// With no more digits than it needs, four behind the point at most: `0.02`, `0.005`.
fn chance(chance: f64) -> String {
    let text = format!("{chance:.4}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// The statement, with names where values are put in.
fn says(pack: &Pack, says: &Template) -> String {
    says.0
        .iter()
        .map(|piece| match piece {
            Piece::Words(words) => words.clone(),
            Piece::Value(slot) => format!("{{{}}}", pack.slot_id(*slot)),
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::{chance, strength};

    #[test]
    fn strengths_are_said_as_the_guide_words_them() {
        assert_eq!(strength(0.95), "nearly always 0.95");
        assert_eq!(strength(0.33), "0.33");
        assert_eq!(chance(1.0), "1");
        assert_eq!(chance(0.005), "0.005");
    }
}
