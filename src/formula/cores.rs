//! Work on every core of the machine. What comes out doesn't hang on how many there are.

use std::num::NonZero;
use std::ops::Range;
use std::sync::OnceLock;
use std::thread::{Builder, available_parallelism, scope};

/// The results of so many places in their order. `work` gives those of a stretch of places, each
/// whatever the others are.
pub(super) fn on_all<T: Send>(
    places: usize,
    work: impl Fn(Range<usize>) -> Vec<T> + Sync,
) -> Vec<T> {
    let length = places.div_ceil(cores()).max(1);
    let mut stretches = (0..places).step_by(length).map(|from| from..places.min(from + length));
    let Some(first) = stretches.next() else { return Vec::new() };
    scope(|scope| {
        let work = &work;
        let others: Vec<_> = stretches
            .map(|stretch| {
                let its = stretch.clone();
                (Builder::new().spawn_scoped(scope, move || work(its)), stretch)
            })
            .collect();
        let mut found = work(first);
        for (thread, stretch) in others {
            found.extend(match thread {
                Ok(thread) => thread.join().unwrap_or_else(|why| std::panic::resume_unwind(why)),
                // The system has no thread to spare.
                Err(_) => work(stretch),
            });
        }
        found
    })
}

/// Asked once, since the answer is read from files.
fn cores() -> usize {
    static CORES: OnceLock<usize> = OnceLock::new();
    *CORES.get_or_init(|| available_parallelism().map_or(1, NonZero::get))
}

#[cfg(test)]
mod tests {
    use super::on_all;

    #[test]
    fn every_place_is_worked_out_once_and_in_order() {
        for places in [0, 1, 2, 3, 1000] {
            let found = on_all(places, |stretch| stretch.map(|place| place * place).collect());
            let expected: Vec<usize> = (0..places).map(|place| place * place).collect();
            assert_eq!(found, expected);
        }
    }
}
