//! An order in which each entry stands behind those it reads.

/// The order, or the entries that read one another in a circle.
pub(in crate::rules) struct Ordered {
    pub(in crate::rules) order: Vec<usize>,
    /// Entries that lie on a circle, or read one that does.
    pub(in crate::rules) circular: Vec<usize>,
}

/// Orders `0..reads.len()`, where `reads[i]` are the entries that `i` reads (Kahn 1962).
pub(in crate::rules) fn order(reads: &[Vec<usize>]) -> Ordered {
    let mut waiting: Vec<usize> = reads.iter().map(Vec::len).collect();
    let mut readers = vec![Vec::new(); reads.len()];
    for (reader, read) in reads.iter().enumerate() {
        for entry in read {
            readers[*entry].push(reader);
        }
    }
    let mut order: Vec<usize> = (0..reads.len()).filter(|entry| waiting[*entry] == 0).collect();
    let mut next = 0;
    while let Some(entry) = order.get(next).copied() {
        next += 1;
        for reader in &readers[entry] {
            waiting[*reader] -= 1;
            if waiting[*reader] == 0 {
                order.push(*reader);
            }
        }
    }
    let circular = (0..reads.len()).filter(|entry| waiting[*entry] > 0).collect();
    Ordered { order, circular }
}
