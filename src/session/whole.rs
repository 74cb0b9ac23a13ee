//! Writing a file whole or not at all: to a temporary file in the same folder, on to the disk, then
//! renamed over the old one. Whatever happens, either the old text is there or the new one.

use std::ffi::{OsStr, OsString};
use std::fs;
use std::io::{self, Write};
use std::path::{Path, PathBuf};

use tempfile::Builder;

use super::lock::Hold;

/// How temporary files end.
const ENDING: &str = ".part";

/// Whether a file may stand at the path before.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Before {
    Nothing,
    Anything,
}

/// How well a file that was written stands.
#[derive(Debug)]
#[must_use]
pub enum OnDisk {
    Safe,
    /// It is in its place, but the folder could not be brought on to the disk: after a power cut the
    /// old file may be there again.
    Unsynced(io::Error),
}

/// Writes a file whole, over one that may be there. A link is followed, and permissions stay as
/// they were; a new file gets those of the person's other files.
///
/// # Errors
/// What `fill` or the system refuses; the old file is then as it was.
pub fn write_whole(
    path: &Path,
    fill: impl FnOnce(&mut dyn Write) -> io::Result<()>,
) -> io::Result<OnDisk> {
    write_over(path, Before::Anything, fill).map(|written| written.on_disk)
}

/// A file that was put in its place.
#[derive(Debug)]
pub(super) struct Written {
    pub(super) on_disk: OnDisk,
    /// Held by this program as long as it is open.
    pub(super) file: fs::File,
    /// The old file has another name too (a hard link), which stays with the old text.
    pub(super) parted: bool,
}

pub(super) fn write_over(
    path: &Path,
    before: Before,
    fill: impl FnOnce(&mut dyn Write) -> io::Result<()>,
) -> io::Result<Written> {
    let path = behind_links(path);
    let old = fs::metadata(&path).ok();
    if old.as_ref().is_some_and(|old| !old.is_file()) {
        // Renaming over a device would replace it.
        return Err(io::Error::new(io::ErrorKind::InvalidInput, "this is not an ordinary file"));
    }
    let folder = folder_of(&path);
    let prefix = prefix(&path);
    let mut builder = Builder::new();
    builder.prefix(&prefix).suffix(ENDING);
    usual_permissions(&mut builder);
    let mut temporary = builder.tempfile_in(&folder)?;
    fill(temporary.as_file_mut())?;
    let parted = old.as_ref().is_some_and(has_another_name);
    if let Some(old) = old {
        keep_owner(temporary.as_file(), &old);
        temporary.as_file().set_permissions(old.permissions())?;
    }
    // Before it has a name by which others could be first.
    Hold::of_new(temporary.as_file());
    temporary.as_file().sync_all()?;
    let file = match before {
        Before::Anything => temporary.persist(&path)?,
        Before::Nothing => temporary.persist_noclobber(&path)?,
    };
    // The new text is in its place: what fails from here on has not failed to save.
    let on_disk = sync_folder(&folder).map_or_else(OnDisk::Unsynced, |()| OnDisk::Safe);
    Ok(Written { on_disk, file, parted })
}

#[cfg(unix)]
fn has_another_name(about: &fs::Metadata) -> bool {
    use std::os::unix::fs::MetadataExt;
    about.nlink() > 1
}

#[cfg(not(unix))]
fn has_another_name(_: &fs::Metadata) -> bool {
    false
}

/// Whether a file could be made in a folder; nothing is left there.
pub(super) fn may_write_in(folder: &Path) -> io::Result<()> {
    Builder::new().prefix(".").suffix(ENDING).tempfile_in(folder)?.close()
}

/// Removes what a program that was killed while writing this file left behind. Only for who holds
/// the file's lock.
pub(super) fn tidy(path: &Path) {
    let prefix = prefix(path);
    let Ok(entries) = fs::read_dir(folder_of(path)) else { return };
    for entry in entries.flatten() {
        if is_leftover(&entry.file_name(), &prefix) {
            // What can't be removed harms nobody.
            let _ = fs::remove_file(entry.path());
        }
    }
}

fn is_leftover(name: &OsStr, prefix: &OsStr) -> bool {
    let name = name.as_encoded_bytes();
    name.starts_with(prefix.as_encoded_bytes()) && name.ends_with(ENDING.as_bytes())
}

/// `.NAME.` for a file NAME.
fn prefix(path: &Path) -> OsString {
    let mut prefix = OsString::from(".");
    prefix.push(path.file_name().unwrap_or_default());
    prefix.push(".");
    prefix
}

/// The file itself where the path is a link to it.
pub(super) fn behind_links(path: &Path) -> PathBuf {
    fs::canonicalize(path).unwrap_or_else(|_| path.to_path_buf())
}

/// The folder that a file lies in.
pub(super) fn folder_of(path: &Path) -> PathBuf {
    match path.parent() {
        Some(parent) if !parent.as_os_str().is_empty() => parent.to_path_buf(),
        _ => PathBuf::from("."),
    }
}

/// A file that is written for somebody else stays theirs.
#[cfg(unix)]
fn keep_owner(file: &fs::File, old: &fs::Metadata) {
    use std::os::unix::fs::{MetadataExt, fchown};
    let Ok(new) = file.metadata() else { return };
    if (new.uid(), new.gid()) != (old.uid(), old.gid()) {
        // Only the system's keeper may; anybody else's copy is their own.
        let _ = fchown(file, Some(old.uid()), Some(old.gid()));
    }
}

#[cfg(not(unix))]
fn keep_owner(_: &fs::File, _: &fs::Metadata) {}

/// Temporary files are private by default; these become the person's documents.
#[cfg(unix)]
fn usual_permissions(builder: &mut Builder<'_, '_>) {
    use std::os::unix::fs::PermissionsExt;
    builder.permissions(fs::Permissions::from_mode(0o666));
}

#[cfg(not(unix))]
fn usual_permissions(_: &mut Builder<'_, '_>) {}

/// The new name is on the disk only once the folder is.
#[cfg(unix)]
fn sync_folder(folder: &Path) -> io::Result<()> {
    match fs::File::open(folder).and_then(|folder| folder.sync_all()) {
        // Some network folders can't be synced; the file in them is in place all the same.
        Err(error)
            if matches!(
                error.kind(),
                io::ErrorKind::InvalidInput
                    | io::ErrorKind::Unsupported
                    | io::ErrorKind::PermissionDenied
            ) =>
        {
            Ok(())
        }
        done => done,
    }
}

#[cfg(not(unix))]
fn sync_folder(_: &Path) -> io::Result<()> {
    Ok(())
}
