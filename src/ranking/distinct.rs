//! Indices as a set.

/// The indices in ascending order, each once.
pub(super) fn distinct(indices: impl IntoIterator<Item = usize>) -> Vec<usize> {
    let mut distinct: Vec<usize> = indices.into_iter().collect();
    distinct.sort_unstable();
    distinct.dedup();
    distinct
}
