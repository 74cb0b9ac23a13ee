//! Which findings a cause is drawn with where not all can be.

use std::collections::HashMap;

use boostwright::ranking::{Finding, Network as Ranking};
use boostwright::rules::graph::{Lines, Network, draw};
use boostwright::rules::{PackSource, TypedIndex, load};

use super::{alone, folder};

/// How much a look for a finding tells of a cause that is there, on average: the divergence of its chance
/// with that cause from its chance in any car (Kullback and Leibler 1951).
fn divergence(with: f64, usual: f64) -> f64 {
    let part = |with: f64, usual: f64| if with == 0.0 { 0.0 } else { with * (with / usual).ln() };
    part(with, usual) + part(1.0 - with, 1.0 - usual)
}

/// Its chance with one cause and in any car, by noisy-OR.
fn chances(finding: &Finding, priors: &[f64], strength: f64) -> (f64, f64) {
    let absent = finding.links.iter().map(|link| 1.0 - priors[link.cause] * link.strength);
    let usual = 1.0 - (1.0 - finding.leak) * absent.product::<f64>();
    (1.0 - (1.0 - finding.leak) * (1.0 - strength), usual)
}

/// The findings of each cause with what they tell, by their places.
fn told(network: &Ranking) -> HashMap<usize, Vec<(usize, f64)>> {
    let mut told: HashMap<usize, Vec<(usize, f64)>> = HashMap::new();
    for (place, finding) in network.findings().iter().enumerate() {
        for link in &finding.links {
            let (with, usual) = chances(finding, network.priors(), link.strength);
            told.entry(link.cause).or_default().push((place, divergence(with, usual)));
        }
    }
    told
}

/// By hand: 1 - 0.9 * (1 - 0.2 * 0.5) = 0.19; with the cause 1 - 0.9 * 0.5 = 0.55, and
/// 0.55 ln(0.55 / 0.19) + 0.45 ln(0.45 / 0.81) = 0.3201.
#[test]
fn what_is_told_here_is_what_comes_out_by_hand() {
    assert!((divergence(0.55, 0.19) - 0.3201).abs() < 5e-5);
}

#[test]
fn each_cause_of_the_built_in_rules_is_drawn_with_the_two_findings_that_tell_most() {
    let loaded = load(&[PackSource::BuiltIn]).unwrap();
    let pack = &loaded.pack;
    let graph = draw(&loaded, Some(Network::Causes), None, Lines::Few).unwrap();
    let mut left_out = 0;
    for (cause, mut findings) in told(&pack.network) {
        findings.sort_by(|(_, one), (_, other)| other.total_cmp(one));
        let id = pack.causes.indices().nth(cause).map(|cause| pack.causes.id(cause)).unwrap();
        let drawn = graph.edges.iter().filter(|edge| graph.nodes[edge.from].id == id);
        let drawn: Vec<&str> = drawn.map(|edge| graph.nodes[edge.to].id.as_str()).collect();
        assert_eq!(drawn.len(), findings.len().min(2), "{id}");
        let least = findings.get(1).map_or(0.0, |(_, tells)| *tells);
        for (place, tells) in findings {
            let finding = pack.findings.indices().find(|finding| finding.index() == place).unwrap();
            let is_drawn = drawn.contains(&pack.findings.id(finding));
            left_out += usize::from(!is_drawn);
            // Of findings that tell the same, to rounding, either may be drawn.
            assert!(if is_drawn { tells > least - 1e-9 } else { tells < least + 1e-9 }, "{id}");
        }
    }
    assert!(left_out > 100, "only {left_out}");
}

#[test]
fn strengths_are_said_as_the_guide_words_them() {
    let folder = folder(
        "questions: {seen: {text: Seen?, answer: yes_or_no}}\n\
         findings: {there: {when: seen, leak: 0.005}, other: {when: seen, leak: 0.5}}\n\
         causes: {it: {title: It, common: 0.25, brings: {there: nearly_always, other: 1}}}\n",
    );
    let graph = draw(&alone(folder.path()), Some(Network::Causes), None, Lines::Few).unwrap();
    let texts: Vec<&str> = graph.edges.iter().map(|edge| edge.text.as_str()).collect();
    assert_eq!(texts, ["nearly always 0.95", "1"]);
    assert!(graph.nodes.iter().any(|node| node.texts.iter().any(|text| text == "leak 0.005")));
}
