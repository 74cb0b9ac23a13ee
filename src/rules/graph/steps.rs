//! The way through the steps: where each complaint starts, what each step asks, where it goes.

use super::groups::Groups;
use super::model::{Edge, Graph, Node, Shape};
use crate::rules::link::CONCLUDE;
use crate::rules::load::Loaded;
use crate::rules::pack::{Branch, Pack, Step};
use crate::rules::table::{QuestionId, TypedIndex};

/// How many questions of a step are named where all steps are drawn: a step may ask dozens.
pub(super) const MAX_NAMED: usize = 12;

/// The steps of a pack, with at most so many questions named in each list.
pub(super) fn steps(loaded: &Loaded, questions: usize) -> Graph {
    let pack = &loaded.pack;
    let mut groups = Groups::new(loaded);
    let mut nodes = Vec::new();
    for (place, step) in pack.steps.iter() {
        let id = pack.steps.id(place);
        nodes.push(Node {
            id: id.to_owned(),
            shape: Shape::Step,
            group: groups.of("steps", id),
            texts: texts(pack, id, step, questions),
            mark: None,
        });
    }
    let conclude = nodes.len();
    nodes.push(Node {
        id: CONCLUDE.to_owned(),
        shape: Shape::Conclude,
        group: None,
        texts: vec![CONCLUDE.to_owned()],
        mark: None,
    });
    let mut edges = Vec::new();
    for (place, complaint) in pack.complaints.iter() {
        let id = pack.complaints.id(place);
        let to = complaint.start.map_or(conclude, TypedIndex::index);
        edges.push(Edge { from: nodes.len(), to, text: String::new(), weight: 0.5 });
        nodes.push(Node {
            id: id.to_owned(),
            shape: Shape::Complaint,
            group: groups.of("complaints", id),
            texts: vec![complaint.title.clone(), format!("({id})")],
            mark: None,
        });
    }
    for (place, step) in pack.steps.iter() {
        edges.extend(step.then.iter().enumerate().map(|(index, branch)| Edge {
            from: place.index(),
            to: branch.go.map_or(conclude, TypedIndex::index),
            text: condition(index, branch),
            weight: 0.5,
        }));
    }
    Graph { sideways: false, groups: groups.names(), nodes, edges }
}

/// Conditions are numbered: the first that holds is taken.
fn condition(index: usize, branch: &Branch) -> String {
    match &branch.when {
        Some(when) => format!("{}: {}", index + 1, when.text),
        None if index > 0 => "else".to_owned(),
        None => String::new(),
    }
}

fn texts(pack: &Pack, id: &str, step: &Step, questions: usize) -> Vec<String> {
    let mut texts: Vec<String> = step.title.iter().cloned().collect();
    texts.push(format!("({id})"));
    for (what, asked) in [("asks", &step.ask), ("asks the best of", &step.ask_best_of)] {
        if !asked.is_empty() {
            texts.push(format!("{what} {}", listed(pack, asked, questions)));
        }
    }
    if step.until_clear {
        texts.push("until one cause is well ahead".to_owned());
    }
    texts
}

fn listed(pack: &Pack, asked: &[QuestionId], most: usize) -> String {
    let ids: Vec<&str> =
        asked.iter().take(most).map(|question| pack.questions.id(*question)).collect();
    let ids = ids.join(", ");
    match asked.len().saturating_sub(most) {
        0 => ids,
        more => format!("{ids} and {more} more"),
    }
}
