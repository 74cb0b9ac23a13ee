//! Files opened to be read, without ever waiting for somebody at the other end: a stranger's folder
//! may hold a pipe where a file is looked for.

use std::fs::{self, File, OpenOptions};
use std::io;
use std::path::Path;

/// Why a file was not opened.
#[derive(Debug)]
pub enum NotOpened {
    Folder,
    /// A pipe, a device or a socket.
    NotPlain,
    Error(io::Error),
}

/// Opens a plain file, or a stream that was handed to this program (`/dev/stdin`).
///
/// # Errors
/// What is no plain file, or what the system refuses.
pub fn open_to_read(path: &Path) -> Result<File, NotOpened> {
    let about = fs::metadata(path).map_err(NotOpened::Error)?;
    if about.is_dir() {
        return Err(NotOpened::Folder);
    }
    if is_own_stream(path) {
        return File::open(path).map_err(NotOpened::Error);
    }
    if !about.is_file() {
        return Err(NotOpened::NotPlain);
    }
    let file = never_waiting(OpenOptions::new().read(true)).open(path).map_err(NotOpened::Error)?;
    // Another may lie there by now.
    match file.metadata() {
        Ok(about) if !about.is_file() => Err(NotOpened::NotPlain),
        Ok(_) => Ok(file),
        Err(error) => Err(NotOpened::Error(error)),
    }
}

/// Whether a path names a stream that whoever started this program handed to it: to wait for that one
/// is what was asked for.
#[must_use]
pub fn is_own_stream(path: &Path) -> bool {
    let named = ["/dev/stdin", "/dev/stdout", "/dev/stderr"];
    let within = ["/dev/fd", "/proc/self/fd"];
    named.iter().any(|name| path == Path::new(name))
        || within.iter().any(|folder| path.parent() == Some(Path::new(folder)))
}

/// Lets the opening of a pipe come back at once. For a plain file it changes nothing.
#[cfg(unix)]
pub(super) fn never_waiting(options: &mut OpenOptions) -> &mut OpenOptions {
    use rustix::fs::OFlags;
    use std::os::unix::fs::OpenOptionsExt;
    match i32::try_from(OFlags::NONBLOCK.bits()) {
        Ok(flag) => options.custom_flags(flag),
        Err(_) => options,
    }
}

#[cfg(not(unix))]
pub(super) fn never_waiting(options: &mut OpenOptions) -> &mut OpenOptions {
    options
}
