//! A max-heap by `f64`, which has no order of its own; of equals the one put in first comes out first,
//! so that the order never depends on how the heap is laid out.

use std::cmp::Ordering;
use std::collections::BinaryHeap;

pub(super) struct PriorityQueue<T> {
    heap: BinaryHeap<Queued<T>>,
    pushed: usize,
}

struct Queued<T> {
    priority: f64,
    serial: usize,
    item: T,
}

impl<T> PriorityQueue<T> {
    pub(super) fn new() -> Self {
        Self { heap: BinaryHeap::new(), pushed: 0 }
    }

    pub(super) fn push(&mut self, priority: f64, item: T) {
        self.heap.push(Queued { priority, serial: self.pushed, item });
        self.pushed += 1;
    }

    /// The item of highest priority.
    pub(super) fn pop(&mut self) -> Option<T> {
        self.heap.pop().map(|queued| queued.item)
    }

    /// The items, in no order.
    pub(super) fn iter(&self) -> impl Iterator<Item = &T> {
        self.heap.iter().map(|queued| &queued.item)
    }

    pub(super) fn into_items(self) -> impl Iterator<Item = T> {
        self.heap.into_iter().map(|queued| queued.item)
    }
}

impl<T> Ord for Queued<T> {
    fn cmp(&self, other: &Self) -> Ordering {
        self.priority.total_cmp(&other.priority).then_with(|| other.serial.cmp(&self.serial))
    }
}

impl<T> PartialOrd for Queued<T> {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl<T> PartialEq for Queued<T> {
    fn eq(&self, other: &Self) -> bool {
        self.cmp(other).is_eq()
    }
}

impl<T> Eq for Queued<T> {}
