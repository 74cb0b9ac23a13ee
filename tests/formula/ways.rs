//! Which answers let a formula be told, where rules say what stands in for a value nobody knows.

use std::borrow::Cow;
use std::collections::BTreeSet;
use std::sync::Arc;

use boostwright::formula::{Evaluator, Formula, Input, VarId};

use boostwright::quantity::GaugePressure as Pressure;

use super::workbench::{Bench, missing, unanswered};

const NAMES: [&str; 5] = ["a", "b", "c", "d", "e"];

fn bench() -> Bench {
    Bench(NAMES.into_iter().map(unanswered).collect())
}

/// The ways as words, each sorted, in no order of their own.
fn told(ways: Vec<BTreeSet<VarId>>) -> BTreeSet<String> {
    let name = |variable: VarId| NAMES[variable.0];
    ways.into_iter().map(|way| way.into_iter().map(name).collect()).collect()
}

fn ways(formula: &str) -> BTreeSet<String> {
    told(bench().evaluator().ways_to_tell(&bench().sound(formula).node))
}

fn words(expected: &[&str]) -> BTreeSet<String> {
    expected.iter().map(|way| (*way).to_owned()).collect()
}

#[test]
fn what_stands_in_for_another_value_is_a_way_of_its_own() {
    assert_eq!(ways("if known(a) then a else b"), words(&["a", "b"]));
    assert_eq!(ways("if known(a) then a and c else b"), words(&["ac", "b"]));
    assert_eq!(ways("if known(a) and known(b) then a else c"), words(&["ab", "c"]));
}

#[test]
fn every_way_of_one_part_goes_with_every_way_of_the_other() {
    assert_eq!(
        ways("(if known(a) then a else b) or (if known(c) then c else d)"),
        words(&["ac", "ad", "bc", "bd"])
    );
    // With `b` told nothing else is needed, whatever the other part offers.
    assert_eq!(ways("(if known(a) then a else b) and b"), words(&["b"]));
}

#[test]
fn a_condition_on_more_than_what_is_known_needs_everything() {
    assert_eq!(ways("a and not (known(b) and b)"), words(&["ab"]));
    assert_eq!(ways("if a then b else c"), words(&["abc"]));
}

#[test]
fn beyond_a_handful_of_ways_everything_is_needed() {
    let many = "(if known(a) then a else b) and (if known(c) then c else d) and \
                (if known(e) then e else a) and (if known(b) then b else d) and \
                (if known(c) then c else e)";
    let found = ways(many);
    assert!(found.len() <= 8, "{found:?}");
    assert!(found.iter().all(|way| !way.is_empty()));
}

#[test]
fn many_pieces_side_by_side_take_no_time() {
    // Two ways for each of thirty arguments would be a thousand million.
    let names = Bench(vec![missing::<Pressure>("p"), missing::<Pressure>("q")]);
    let piece = "(if known(p) then p else q)";
    let many = format!("min({}) > 1 bar", [piece; 30].join(", "));
    let found = names.evaluator().ways_to_tell(&names.sound(&many).node);
    assert_eq!(found, [BTreeSet::from([VarId(0)]), BTreeSet::from([VarId(1)])]);
}

#[test]
fn a_formula_that_is_read_brings_its_ways() {
    let stand_in: Formula = bench().sound("if known(a) then a else b");
    // The formula stands in the variable behind the given ones; it is read like a question there.
    let names = Bench(NAMES.into_iter().chain(["worked"]).map(unanswered).collect());
    let reads = names.sound("worked and c");
    let cells = vec![Input::default(); NAMES.len()];
    let evaluator = Evaluator::new(cells, vec![Cow::Owned(stand_in)], &[0], Arc::default());
    let mut node = reads.node;
    node = node.replaced(&mut |part| match part {
        boostwright::formula::Node::Answered(variable) if variable.0 == NAMES.len() => {
            Some(boostwright::formula::Node::Read(*variable))
        }
        _ => None,
    });
    assert_eq!(told(evaluator.ways_to_tell(&node)), words(&["ac", "bc"]));
}
