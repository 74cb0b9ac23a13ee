//! Locks on what several threads keep together.

use std::sync::{Mutex, MutexGuard, PoisonError};

/// Takes the lock, also after a panic elsewhere: every update is a single insert, so none is left half
/// done. Nothing is worked out under it, since a thread that waits for others may be given work that
/// takes the same lock.
pub(super) fn lock<T>(shared: &Mutex<T>) -> MutexGuard<'_, T> {
    shared.lock().unwrap_or_else(PoisonError::into_inner)
}
