//! The file a session is kept in: created, opened, saved whole after every answer.

use std::fs::{self, File};
use std::io::{self, ErrorKind, Read};
use std::path::{Path, PathBuf};

use super::check::session_from;
use super::error::{LARGEST_MIB, Problem, SessionError};
use super::kept::{PackMark, Session};
use super::lock::{Lock, LockError};
use super::source::Source;
use super::take::{Taken, take};
use super::whole::{Before, behind_links, folder_of, tidy, write_over};
use super::written::write_session;
use crate::rules::{Faults, Pack};

/// A session in its file, held for this program alone until dropped.
#[derive(Debug)]
pub struct SessionFile {
    pub session: Session,
    /// As the person gave it.
    named: PathBuf,
    source: Source,
    _lock: Lock,
}

impl SessionFile {
    /// Starts a file with a session. It is on the disk when this returns.
    ///
    /// # Errors
    /// Where something is there already, or the place can't be written.
    pub fn create(path: &Path, session: Session) -> Result<Self, SessionError> {
        let refuse = |problem| SessionError::new(path, problem);
        if !folder_of(path).is_dir() {
            return Err(refuse(Problem::NoFolder));
        }
        if fs::symlink_metadata(path).is_ok() {
            return Err(refuse(Problem::Exists));
        }
        let lock = lock(path, path)?;
        tidy(path);
        write_over(path, Before::Nothing, |out| write_session(&session, out)).map_err(|error| {
            match error.kind() {
                ErrorKind::AlreadyExists => refuse(Problem::Exists),
                _ => refuse(Problem::Save { error }),
            }
        })?;
        let source = Source::none(&path.display().to_string());
        Ok(Self { session, named: path.to_path_buf(), source, _lock: lock })
    }

    /// Opens a file to go on with its session.
    ///
    /// # Errors
    /// Where it can't be read, is no session, can't be written again, or is open elsewhere.
    pub fn open(path: &Path) -> Result<Self, SessionError> {
        let refuse = |problem| SessionError::new(path, problem);
        let about = fs::metadata(path).map_err(|error| refuse(reading(error)))?;
        if about.is_dir() {
            return Err(refuse(Problem::Folder));
        }
        if !about.is_file() {
            return Err(refuse(Problem::NotPlain));
        }
        if about.permissions().readonly() {
            return Err(refuse(Problem::WriteProtected));
        }
        let real = behind_links(path);
        let lock = lock(&real, path)?;
        tidy(&real);
        let (session, source) = read_session(path)?;
        Ok(Self { session, named: path.to_path_buf(), source, _lock: lock })
    }

    /// Saves the session as it is now. It is on the disk when this returns.
    ///
    /// # Errors
    /// Where it can't be written; the file is then as it was.
    pub fn save(&self) -> Result<(), SessionError> {
        write_over(&self.named, Before::Anything, |out| write_session(&self.session, out))
            .map_err(|error| SessionError::new(&self.named, Problem::Save { error }))
    }

    /// Takes the answers in with these rules. Where nothing had to be left out, the session counts
    /// from now on as held with them.
    ///
    /// # Errors
    /// Every answer that can't be taken, where the session was held with the same rules.
    pub fn rounds(&mut self, pack: &Pack) -> Result<Taken, Faults> {
        let taken = take(&self.session, &self.source, pack)?;
        if taken.left_out.list.is_empty() {
            self.session.pack = Some(PackMark::of(pack));
        }
        Ok(taken)
    }

    /// The path as the person gave it.
    #[must_use]
    pub fn path(&self) -> &Path {
        &self.named
    }
}

/// Reads a session, or a file of answers, to look at it. It is not locked: every save puts a whole
/// file in its place, so what is read is whole.
///
/// # Errors
/// Where it can't be read or is no session.
pub fn read_session(path: &Path) -> Result<(Session, Source), SessionError> {
    let refuse = |problem| SessionError::new(path, problem);
    let text = text_of(path).map_err(refuse)?;
    session_from(&path.display().to_string(), text).map_err(refuse)
}

/// Reads a session, or a file of answers, whose text is at hand. The name is for messages.
///
/// # Errors
/// Where it is no session.
pub fn read_session_text(name: &str, text: String) -> Result<(Session, Source), SessionError> {
    session_from(name, text).map_err(|problem| SessionError::new(Path::new(name), problem))
}

fn text_of(path: &Path) -> Result<String, Problem> {
    let largest = LARGEST_MIB << 20;
    let about = fs::metadata(path).map_err(reading)?;
    if about.is_dir() {
        return Err(Problem::Folder);
    }
    let mut bytes = Vec::new();
    let file = File::open(path).map_err(reading)?;
    file.take(largest + 1).read_to_end(&mut bytes).map_err(reading)?;
    if bytes.len() as u64 > largest {
        return Err(Problem::TooLarge);
    }
    let text = String::from_utf8(bytes)
        .map_err(|error| Problem::NotText { at: error.utf8_error().valid_up_to() + 1 })?;
    Ok(text.strip_prefix('\u{feff}').map(str::to_owned).unwrap_or(text))
}

fn reading(error: io::Error) -> Problem {
    match error.kind() {
        ErrorKind::NotFound | ErrorKind::NotADirectory => Problem::Missing,
        ErrorKind::PermissionDenied => Problem::MayNotRead,
        ErrorKind::IsADirectory => Problem::Folder,
        _ => Problem::Read { error },
    }
}

fn lock(path: &Path, named: &Path) -> Result<Lock, SessionError> {
    Lock::take(path).map_err(|error| {
        let problem = match error {
            LockError::Busy => Problem::Busy,
            LockError::Folder(error) => Problem::Save { error },
        };
        SessionError::new(named, problem)
    })
}
