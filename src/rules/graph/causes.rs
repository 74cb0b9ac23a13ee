//! Which cause brings which finding, and how strongly.

use super::groups::Groups;
use super::model::{Edge, Graph, Lines, MANY_LINES, Node, Shape};
use crate::ranking::{Finding as RankingFinding, Link, Network as RankingNetwork};
use crate::rules::load::Loaded;
use crate::rules::pack::Pack;
use crate::rules::strengths::STRENGTHS;
use crate::rules::table::TypedIndex;
use crate::rules::text::{Piece, Template};
use crate::text::spaced;

/// The causes and findings of a pack. Causes are gathered by file; findings stand beside the causes
/// that bring them, since many are brought by causes of several files.
pub(super) fn causes(loaded: &Loaded, lines: Lines) -> Graph {
    let pack = &loaded.pack;
    let drawn = drawn(&pack.network, lines);
    let mut groups = Groups::new(loaded);
    let mut nodes = Vec::new();
    let causes = pack.causes.iter().zip(pack.network.priors()).zip(&drawn);
    for (((place, cause), prior), drawn) in causes {
        let id = pack.causes.id(place);
        let mut texts =
            vec![cause.title.clone(), format!("({id})"), format!("common {}", chance(*prior))];
        if drawn.left_out > 0 {
            texts.push(format!("brings {} more findings", drawn.left_out));
        }
        nodes.push(Node {
            id: id.to_owned(),
            shape: Shape::Cause,
            group: groups.of("causes", id),
            texts,
            mark: None,
        });
    }
    let mut edges = Vec::new();
    for ((place, finding), weighed) in pack.findings.iter().zip(pack.network.findings()) {
        let links: Vec<&Link> = weighed
            .links
            .iter()
            .filter(|link| drawn[link.cause].findings.contains(&place.index()))
            .collect();
        // One that nothing brings is drawn, since its author should see it.
        if links.is_empty() && !weighed.links.is_empty() {
            continue;
        }
        let id = pack.findings.id(place);
        edges.extend(links.into_iter().map(|link| Edge {
            from: link.cause,
            to: nodes.len(),
            text: strength(link.strength),
            weight: link.strength,
        }));
        nodes.push(Node {
            id: id.to_owned(),
            shape: Shape::Finding,
            group: None,
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

/// What is drawn of one cause.
struct Drawn {
    /// By their places.
    findings: Vec<usize>,
    left_out: usize,
}

/// How many findings each cause is drawn with where not all lines are.
const MAX_TELLING: usize = 2;

/// The findings that each cause is drawn with.
fn drawn(network: &RankingNetwork, lines: Lines) -> Vec<Drawn> {
    let mut brings: Vec<Vec<(usize, f64)>> = vec![Vec::new(); network.priors().len()];
    for (place, finding) in network.findings().iter().enumerate() {
        let usual = usual(network.priors(), finding);
        for link in &finding.links {
            brings[link.cause].push((place, tells(finding, link.cause, usual)));
        }
    }
    let all: usize = brings.iter().map(Vec::len).sum();
    let most = if lines == Lines::Few && all > MANY_LINES { MAX_TELLING } else { usize::MAX };
    let drawn = brings.into_iter().map(|mut findings| {
        findings.sort_by(|(_, one), (_, other)| other.total_cmp(one));
        let left_out = findings.len().saturating_sub(most);
        findings.truncate(most);
        Drawn { findings: findings.into_iter().map(|(place, _)| place).collect(), left_out }
    });
    drawn.collect()
}

/// The chance of a finding in any car that comes with a boost complaint.
fn usual(priors: &[f64], finding: &RankingFinding) -> f64 {
    1.0 - finding.p_false(|cause| priors[cause])
}

/// How much a look for a finding tells of a cause that is there, on average: the divergence of its
/// chance with that cause from its chance in any car (Kullback and Leibler 1951).
fn tells(finding: &RankingFinding, cause: usize, usual: f64) -> f64 {
    let with = finding.probability_given(|present| present == cause);
    let part = |with: f64, usual: f64| if with > 0.0 { with * (with / usual).ln() } else { 0.0 };
    part(with, usual) + part(1.0 - with, 1.0 - usual)
}

/// `often 0.5`, or the bare chance where no word stands for it.
fn strength(strength: f64) -> String {
    let word = STRENGTHS.iter().find(|(_, known)| known.to_bits() == strength.to_bits());
    match word {
        Some((word, _)) => format!("{} {}", spaced(word), chance(strength)),
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
