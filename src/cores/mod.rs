//! Work on every core of the machine. What comes out doesn't hang on how many there are.
//!
//! Knows nothing of anything else.

use std::num::NonZero;
use std::ops::Range;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::{Mutex, MutexGuard, OnceLock, PoisonError};
use std::thread::{Builder, available_parallelism, scope};

/// Stretches for each core: enough that none waits long for another, few enough that taking one
/// costs nothing beside it.
const STRETCHES: usize = 16;

/// The results of so many places in their order. `work` gives those of a stretch of places, each
/// whatever the others are. A core that has done with a stretch takes the next.
pub fn on_all<T: Send>(places: usize, work: impl Fn(Range<usize>) -> Vec<T> + Sync) -> Vec<T> {
    let length = places.div_ceil(STRETCHES * cores()).max(1);
    let stretches = places.div_ceil(length);
    let next = AtomicUsize::new(0);
    let take = || {
        let taken = std::iter::from_fn(|| {
            let stretch = next.fetch_add(1, Ordering::Relaxed);
            let from = stretch * length;
            (stretch < stretches).then(|| (stretch, work(from..places.min(from + length))))
        });
        taken.collect::<Vec<_>>()
    };
    let mut found = scope(|scope| {
        // Where no core is free, or the system has no thread to spare, the others take its stretches.
        let others = (1..cores().min(stretches))
            .map_while(|_| Seat::take())
            .filter_map(|seat| {
                let work = move || {
                    let _seat = seat;
                    take()
                };
                Builder::new().spawn_scoped(scope, work).ok()
            })
            .collect::<Vec<_>>();
        let mut found = take();
        for thread in others {
            found.extend(thread.join().unwrap_or_else(|why| std::panic::resume_unwind(why)));
        }
        found
    });
    found.sort_unstable_by_key(|(stretch, _)| *stretch);
    found.into_iter().flat_map(|(_, results)| results).collect()
}

/// A core's leave to help. Shared work within shared work finds none free, and is done by whoever
/// came to it, so that there are never more threads at work than cores.
struct Seat;

/// Seats taken, in the whole program.
static HELPING: AtomicUsize = AtomicUsize::new(0);

impl Seat {
    fn take() -> Option<Self> {
        let one_more = |taken| (taken + 1 < cores()).then_some(taken + 1);
        HELPING.fetch_update(Ordering::Relaxed, Ordering::Relaxed, one_more).ok().map(|_| Self)
    }
}

impl Drop for Seat {
    fn drop(&mut self) {
        HELPING.fetch_sub(1, Ordering::Relaxed);
    }
}

/// What several cores share. One that panicked left it whole: what is kept here is put in at once.
pub fn hold<T>(shared: &Mutex<T>) -> MutexGuard<'_, T> {
    shared.lock().unwrap_or_else(PoisonError::into_inner)
}

/// Asked once, since the answer is read from files.
fn cores() -> usize {
    static CORES: OnceLock<usize> = OnceLock::new();
    *CORES.get_or_init(|| available_parallelism().map_or(1, NonZero::get))
}

#[cfg(test)]
mod tests {
    use std::sync::atomic::{AtomicUsize, Ordering};

    use super::{cores, on_all};

    #[test]
    fn every_place_is_worked_out_once_and_in_order() {
        for places in [0, 1, 2, 3, 1000] {
            let found = on_all(places, |stretch| stretch.map(|place| place * place).collect());
            let expected: Vec<usize> = (0..places).map(|place| place * place).collect();
            assert_eq!(found, expected);
        }
    }

    #[test]
    fn work_within_work_keeps_to_the_cores_there_are() {
        let (at_work, most) = (AtomicUsize::new(0), AtomicUsize::new(0));
        let inner = |places: std::ops::Range<usize>| {
            most.fetch_max(at_work.fetch_add(1, Ordering::SeqCst) + 1, Ordering::SeqCst);
            std::thread::sleep(std::time::Duration::from_millis(1));
            at_work.fetch_sub(1, Ordering::SeqCst);
            places.collect()
        };
        let found: Vec<usize> = on_all(8, |outer| outer.flat_map(|_| on_all(4, inner)).collect());
        assert_eq!(found.len(), 32);
        assert!(most.into_inner() <= cores(), "more at work than cores");
    }
}
