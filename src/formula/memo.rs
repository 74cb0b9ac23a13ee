//! What was worked out before with the same values below it. A fold is a pure function; this only
//! spares it from doing the same sum twice.

use std::collections::HashMap;
use std::hash::{DefaultHasher, Hash, Hasher};
use std::sync::Mutex;

use super::evaluate::Gap;
use super::lock::lock;
use super::node::Node;
use super::sheet::{Cell, Entry, Worked};

/// The most results that are kept.
const MOST: usize = 20_000;

/// A piece of a formula and the state of everything below it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub(super) struct Key {
    /// The piece by its structure, so that two equal pieces share their result.
    piece: u64,
    below: u64,
}

/// Results by piece and by what lies below it.
#[derive(Debug, Default)]
pub struct Memo {
    bands: Mutex<HashMap<Key, Result<Worked, Gap>>>,
    values: Mutex<HashMap<Key, Result<f64, Gap>>>,
}

impl Memo {
    pub(super) fn band(&self, key: Key) -> Option<Result<Worked, Gap>> {
        lock(&self.bands).get(&key).cloned()
    }

    pub(super) fn keep_band(&self, key: Key, band: &Result<Worked, Gap>) {
        keep(&self.bands, key, band);
    }

    pub(super) fn value(&self, key: Key) -> Option<Result<f64, Gap>> {
        lock(&self.values).get(&key).cloned()
    }

    pub(super) fn keep_value(&self, key: Key, value: &Result<f64, Gap>) {
        keep(&self.values, key, value);
    }
}

fn keep<T: Clone>(kept: &Mutex<HashMap<Key, T>>, key: Key, result: &T) {
    let mut kept = lock(kept);
    if kept.len() >= MOST {
        kept.clear();
    }
    kept.insert(key, result.clone());
}

/// The key of a piece over the cells below it.
pub(super) fn key<'c>(node: &Node, below: impl Iterator<Item = (usize, &'c Cell)>) -> Key {
    let mut piece = DefaultHasher::new();
    node.walk(&mut |part| structure(part, &mut piece));
    let mut state = DefaultHasher::new();
    for (slot, cell) in below {
        slot.hash(&mut state);
        cell.known.hash(&mut state);
        match &cell.entry {
            None => 0_u8.hash(&mut state),
            Some(Entry::Number { value, uncertainty }) => {
                (1_u8, value.to_bits(), uncertainty.to_bits()).hash(&mut state);
            }
            Some(Entry::Truth(truth)) => (2_u8, truth).hash(&mut state),
            Some(Entry::Option(option)) => (3_u8, option).hash(&mut state),
            Some(Entry::Table(rows)) => {
                4_u8.hash(&mut state);
                for cell in rows.iter().flatten() {
                    cell.to_bits().hash(&mut state);
                }
            }
        }
    }
    Key { piece: piece.finish(), below: state.finish() }
}

/// What a piece is, without what lies below it.
fn structure(node: &Node, into: &mut DefaultHasher) {
    std::mem::discriminant(node).hash(into);
    match node {
        Node::Number(value) => value.to_bits().hash(into),
        Node::Spread { value, uncertainty, index } => {
            (value.to_bits(), uncertainty.to_bits(), index).hash(into);
        }
        Node::Read(slot) | Node::Answered(slot) | Node::Known(slot) => slot.hash(into),
        Node::AsOf { of, kept, .. } => (of, kept).hash(into),
        Node::Chosen { slot, option } => (slot, option).hash(into),
        Node::Call { function, arguments } => (function.name, arguments.len()).hash(into),
        Node::Math { operation, arguments } => {
            std::mem::discriminant(operation).hash(into);
            arguments.len().hash(into);
        }
        Node::Interpolate { table, along, .. } => (table, along).hash(into),
        Node::Chance { lower, index, .. } => (lower.is_some(), index).hash(into),
        Node::Arithmetic { operator, .. } => std::mem::discriminant(operator).hash(into),
        Node::Compared { operator, .. } => std::mem::discriminant(operator).hash(into),
        Node::Truth(truth) => truth.hash(into),
        _ => {}
    }
}
