//! Each piece of a kit once.

/// Stands between pieces any one of which will do.
pub(super) const ANY_OF: &str = ", or ";

/// The same pieces, each once, however it is written; of pieces any one of which will do, none where
/// one is in the kit anyway.
pub(super) fn without_doubles(pieces: impl IntoIterator<Item = String>) -> Vec<String> {
    let mut kit: Vec<String> = Vec::new();
    for piece in pieces {
        if !kit.iter().any(|known| is_same(known, &piece)) {
            kit.push(piece);
        }
    }
    let taken = |piece: &str| kit.iter().any(|known| is_same(known, piece));
    let is_needed = |piece: &&String| {
        let ways = ways(piece);
        ways.len() == 1 || !ways.into_iter().any(taken)
    };
    kit.iter().filter(is_needed).cloned().collect()
}

/// The pieces any one of which will do.
fn ways(piece: &str) -> Vec<&str> {
    let between = if piece.contains(ANY_OF) { ANY_OF } else { " or " };
    piece.split(between).map(str::trim).collect()
}

fn is_same(one: &str, other: &str) -> bool {
    one.trim().to_lowercase() == other.trim().to_lowercase()
}
