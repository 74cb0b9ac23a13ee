//! The threads that work is spread over. Where the system gives fewer than it has cores, as where memory
//! is short, those do; where it gives none, the work is done on the thread that wants it.

use std::io;
use std::num::NonZero;
use std::sync::mpsc::channel;
use std::thread::{Builder, available_parallelism};

use rayon::{ThreadBuilder, ThreadPoolBuilder};

/// Starts them, before anything is worked out. Left to itself, the pool would panic where it can't.
pub(super) fn start() {
    let cores = available_parallelism().map_or(1, NonZero::get);
    let mut waiting = Vec::new();
    for _ in 0..cores {
        let (hand, handed) = channel::<ThreadBuilder>();
        let work = move || handed.recv().map(ThreadBuilder::run);
        match Builder::new().spawn(work) {
            Ok(_) => waiting.push(hand),
            Err(_) => break,
        }
    }
    let pool = ThreadPoolBuilder::new();
    // Where a pool is there already, it serves as well.
    let _ = if waiting.is_empty() {
        pool.num_threads(1).use_current_thread().build_global()
    } else {
        let taken = || io::Error::other("a thread is there for each worker");
        pool.num_threads(waiting.len())
            .spawn_handler(|worker| {
                let hand = waiting.pop().ok_or_else(taken)?;
                hand.send(worker).map_err(|_| taken())
            })
            .build_global()
    };
}
