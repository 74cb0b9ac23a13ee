//! A small pack to begin from.

use std::fmt;
use std::fs::{self, OpenOptions};
use std::io::{self, ErrorKind, Write};
use std::path::{Path, PathBuf};

/// What is in it. Laid over the built-in pack it has no fault, and its case comes out.
pub const STARTER: &str = include_str!("starter.yaml");

const FILE: &str = "rules.yaml";

/// Why no pack was begun in a folder.
#[derive(Debug)]
pub enum NotBegun {
    /// Something lies in it, perhaps a pack.
    NotEmpty(PathBuf),
    NoFolder(PathBuf),
    /// The disk says no.
    Unwritable(PathBuf, io::Error),
}

impl fmt::Display for NotBegun {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NotEmpty(folder) => write!(
                f,
                "{} isn't empty, and nothing in it will be overwritten: name a new or empty folder",
                folder.display()
            ),
            Self::NoFolder(path) => {
                write!(f, "{} is a file: name a new or empty folder", path.display())
            }
            Self::Unwritable(path, error) => {
                let reason = match error.kind() {
                    ErrorKind::PermissionDenied => "you may not write there".to_owned(),
                    ErrorKind::ReadOnlyFilesystem => "the disk is read-only".to_owned(),
                    ErrorKind::StorageFull | ErrorKind::QuotaExceeded => {
                        "the disk is full".to_owned()
                    }
                    _ => error.to_string(),
                };
                write!(f, "{} can't be made: {reason}; name another folder", path.display())
            }
        }
    }
}

impl std::error::Error for NotBegun {}

/// Begins a pack in a folder that is new or empty. Gives the file that was written.
///
/// # Errors
/// A folder that holds something, or can't be written.
pub fn begin_pack(folder: &Path) -> Result<PathBuf, NotBegun> {
    if folder.exists() && !folder.is_dir() {
        return Err(NotBegun::NoFolder(folder.to_path_buf()));
    }
    let unwritable = |path: &Path| {
        let path = path.to_path_buf();
        move |error| NotBegun::Unwritable(path, error)
    };
    fs::create_dir_all(folder).map_err(unwritable(folder))?;
    let mut inside = fs::read_dir(folder).map_err(unwritable(folder))?;
    if inside.next().is_some() {
        return Err(NotBegun::NotEmpty(folder.to_path_buf()));
    }
    let file = folder.join(FILE);
    let mut out =
        OpenOptions::new().write(true).create_new(true).open(&file).map_err(unwritable(&file))?;
    if let Err(error) = out.write_all(STARTER.as_bytes()).and_then(|()| out.sync_all()) {
        // Else the next try would find the folder not empty.
        let _ = fs::remove_file(&file);
        return Err(unwritable(&file)(error));
    }
    Ok(file)
}
