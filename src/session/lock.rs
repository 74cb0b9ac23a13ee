//! One program at a time on a session. The lock is the system's, on an empty file beside the
//! session, and goes with the process however it ends. The session itself can't carry it alone: every
//! save puts a new file in its place. The empty file stays: to remove it would let two programs
//! hold locks on two files of one name.

use std::ffi::OsString;
use std::fs::{self, File, OpenOptions, TryLockError};
use std::io;
use std::path::{Path, PathBuf};

use super::plain::{never_waiting, open_to_read};

/// Holds a session for this program, under whatever name it is known, until dropped. That of the file
/// beside it goes by its name; this one by the file itself, so that a hard link to it is the same
/// session, and a lock file that somebody deleted still lets nobody else in. A save puts a new file in
/// its place, which is held from before it has the name.
#[derive(Debug)]
pub(super) struct Hold {
    file: Option<File>,
}

impl Hold {
    /// Takes hold of the file at a path; what can't be read or locked is not held.
    pub(super) fn take(path: &Path) -> Result<Self, LockError> {
        let Some(file) = held_by_file().then(|| open_to_read(path).ok()).flatten() else {
            return Ok(Self { file: None });
        };
        match file.try_lock() {
            // Whoever saved meanwhile held the file that is there now.
            Ok(()) if !is_at(&file, path) => Err(LockError::Busy),
            Err(TryLockError::WouldBlock) => Err(LockError::Busy),
            Ok(()) => Ok(Self { file: Some(file) }),
            Err(TryLockError::Error(_)) => Ok(Self { file: None }),
        }
    }

    /// Takes hold of a file that nobody else knows of yet.
    pub(super) fn of_new(file: &File) {
        if held_by_file() {
            // What can't be locked is guarded by the file beside it alone.
            let _ = file.try_lock();
        }
    }

    /// A file that [`of_new`](Self::of_new) took hold of.
    pub(super) fn keep(file: File) -> Self {
        Self { file: Some(file) }
    }
}

impl Drop for Hold {
    fn drop(&mut self) {
        if let Some(file) = self.file.take() {
            let _ = file.unlock();
        }
    }
}

/// Whether a lock on a file lets others read it all the same: on Windows it doesn't.
fn held_by_file() -> bool {
    cfg!(unix)
}

/// Whether a path still leads to this file.
#[cfg(unix)]
fn is_at(file: &File, path: &Path) -> bool {
    use std::os::unix::fs::MetadataExt;
    let same = |own: fs::Metadata, there: fs::Metadata| {
        (own.dev(), own.ino()) == (there.dev(), there.ino())
    };
    file.metadata().ok().zip(fs::metadata(path).ok()).is_some_and(|(own, there)| same(own, there))
}

#[cfg(not(unix))]
fn is_at(_: &File, _: &Path) -> bool {
    true
}

/// Holds a session for this program until dropped.
#[derive(Debug)]
pub(super) struct Lock {
    file: File,
}

/// Why a lock can't be had.
#[derive(Debug)]
pub(super) enum LockError {
    /// Another program has the session open.
    Busy,
    /// The file beside the session can't be made.
    Folder(io::Error),
    /// What lies in the lock's place is no plain file, or may not even be read.
    InTheWay(PathBuf),
}

impl Lock {
    /// Takes the lock of the session at this path, without waiting.
    pub(super) fn take(session: &Path) -> Result<Self, LockError> {
        let file = open(beside(session))?;
        match file.try_lock() {
            Ok(()) => Ok(Self { file }),
            Err(TryLockError::WouldBlock) => Err(LockError::Busy),
            // Some network folders know no locks: better unguarded than shut out.
            Err(TryLockError::Error(error)) if error.kind() == io::ErrorKind::Unsupported => {
                Ok(Self { file })
            }
            Err(TryLockError::Error(error)) => Err(LockError::Folder(error)),
        }
    }
}

impl Drop for Lock {
    /// Said, not left to the closing of the file: a child that is just being started holds a copy
    /// of it for a moment, and the lock with it.
    fn drop(&mut self) {
        // A lock that can't be given back goes with the process.
        let _ = self.file.unlock();
    }
}

/// The file that carries the lock, made where it is not there. One that belongs to somebody else is only
/// read: the lock holds on it all the same.
fn open(path: PathBuf) -> Result<File, LockError> {
    // A link is not followed: it would make an empty file wherever it leads.
    let there = fs::symlink_metadata(&path);
    if there.as_ref().is_ok_and(|about| !about.is_file()) {
        return Err(LockError::InTheWay(path));
    }
    let mut making = OpenOptions::new();
    match never_waiting(making.write(true).create(true).truncate(false)).open(&path) {
        Err(error) if error.kind() == io::ErrorKind::PermissionDenied && there.is_ok() => {
            never_waiting(OpenOptions::new().read(true))
                .open(&path)
                .map_err(|_| LockError::InTheWay(path))
        }
        opened => opened.map_err(LockError::Folder),
    }
}

/// `.NAME.lock` beside NAME.
fn beside(session: &Path) -> PathBuf {
    let mut name = OsString::from(".");
    name.push(session.file_name().unwrap_or_default());
    name.push(".lock");
    session.with_file_name(name)
}
