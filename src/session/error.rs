//! Why a session can't be opened or saved, each with a way out.

use std::fmt;
use std::io;
use std::path::{Path, PathBuf};
use std::string::FromUtf8Error;

use super::format::FORMAT;
use crate::rules::{Fault, Faults};
use crate::text::{Clean, excerpt};

/// A problem with the file at a path.
#[derive(Debug)]
pub struct SessionError {
    /// As the person gave it.
    pub path: PathBuf,
    pub problem: Problem,
}

/// What is wrong.
#[derive(Debug)]
pub enum Problem {
    Missing,
    NoFolder,
    Folder,
    NotPlain,
    MayNotRead,
    WriteProtected,
    TooLarge,
    /// `line` counts from 1.
    NotText {
        line: usize,
    },
    Empty,
    /// Written by a program that knows more than this one.
    Newer {
        format: String,
        written_by: Option<String>,
    },
    /// Another program has it open.
    Busy,
    /// Somebody else changed it since it was last read or written here.
    Changed,
    /// A new session was to begin where a file is.
    Exists,
    Faulty {
        faults: Faults,
    },
    /// A link that leads to nothing.
    Dangling {
        to: PathBuf,
    },
    /// What lies where the lock should be can't carry one.
    LockInTheWay {
        lock: PathBuf,
    },
    /// The program could not read again what it would write.
    Unreadable {
        why: NotReadBack,
    },
    /// It is saved, but a power cut may still take it: a warning.
    Unsynced {
        error: io::Error,
    },
    /// It is saved, but the file had another name too, under which the old text stays: a warning.
    Parted,
    /// Reading failed for another reason.
    Read {
        error: io::Error,
    },
    /// It could not be saved.
    Save {
        error: io::Error,
    },
}

/// Why the program could not read again what it would write. But for the first it can't happen.
#[derive(Debug)]
pub enum NotReadBack {
    TooLarge,
    Unwritten(io::Error),
    NotText(FromUtf8Error),
    /// A text in it would come back as another.
    Otherwise,
    Faulty(Faults),
}

/// What is asked of the person where the program itself is at fault.
pub const REPORT: &str =
    "This is a fault of boostwright itself: please report it, with what you did.";

impl SessionError {
    pub(super) fn new(path: &Path, problem: Problem) -> Self {
        Self { path: path.to_path_buf(), problem }
    }

    /// Whether there is no file yet, so that a session can begin there.
    #[must_use]
    pub fn is_missing(&self) -> bool {
        matches!(self.problem, Problem::Missing)
    }

    /// The message, with faults drawn in colour or without.
    #[must_use]
    pub fn draw(&self, colour: bool) -> Clean {
        let path = Clean::line(self.path.display().to_string());
        let Problem::Faulty { faults } = &self.problem else {
            return self.in_words(&path).into();
        };
        let mut drawn = faults.draw(colour);
        drawn.push(self.in_words(&path).into());
        Clean::join(&drawn, "\n\n")
    }

    fn in_words(&self, path: &Clean) -> String {
        match &self.problem {
            Problem::Missing => format!(
                "{path}: there is no such session. Check the name, or start one with `boostwright \
                 ask {path}`."
            ),
            Problem::NoFolder => {
                format!("{path}: its folder does not exist. Make the folder, or name another.")
            }
            Problem::Folder => format!("{path} is a folder. Name a file in it."),
            Problem::NotPlain => {
                format!(
                    "{path} is not an ordinary file, so a session can't be kept there. Name \
                    another."
                )
            }
            Problem::MayNotRead => {
                format!("You may not read {path}. Ask its owner, or give yourself permission.")
            }
            Problem::WriteProtected => format!(
                "{path} is write-protected, so no answer could be saved. Remove the protection, or \
                 work on a copy."
            ),
            Problem::TooLarge => format!(
                "{path} is larger than {MAX_MIB} MiB, too large for a session. Check the name."
            ),
            Problem::NotText { line } => format!(
                "{path} is not text (line {line} is not UTF-8), so it is not a session. Check the \
                 name; if an editor saved it, save it again as UTF-8."
            ),
            Problem::Empty => format!(
                "{path} is empty. Delete it, and `boostwright ask {path}` starts a session there."
            ),
            Problem::Newer { format, written_by } => newer(path, format, written_by.as_deref()),
            Problem::Busy => format!(
                "{path} is open in another boostwright. Close that one first: two at once would \
                 undo each other's answers."
            ),
            Problem::Changed => format!(
                "{path} was changed by somebody else while it was open here, so it was not written \
                 over. To continue from what it now says, stop and open it again. To save all the \
                 same, give the answer once more: the other text is then kept as {path}.other."
            ),
            Problem::Exists => format!(
                "{path}: the file exists already. `boostwright ask {path}` continues it; name \
                 another to start afresh."
            ),
            Problem::Faulty { .. } => format!(
                "{path} can't be used as it is. It is untouched: correct what is marked above."
            ),
            Problem::Dangling { to } => format!(
                "{path} is a link to {}, and nothing is there. Correct the link, or delete it to \
                 start a session in its place.",
                to.display()
            ),
            Problem::LockInTheWay { lock } => format!(
                "{path} can't be locked: {} is in the way. Delete that, or ask its owner to.",
                lock.display()
            ),
            Problem::Unreadable { why } => {
                let report = if matches!(why, NotReadBack::TooLarge) { "" } else { REPORT };
                format!("{path} was not saved: {why}. {UNTOUCHED} {report}").trim_end().to_owned()
            }
            Problem::Unsynced { error } => format!(
                "{path} is saved, but not yet safe against a power cut: {}. Check the disk, and \
                 keep a copy elsewhere.",
                plain(error)
            ),
            Problem::Parted => format!(
                "{path} is saved. Its file had another name too (a hard link), which keeps the \
                 text from before: go on with {path}, and delete the other."
            ),
            Problem::Read { error } => format!("{path} can't be read: {error}."),
            Problem::Save { error } => {
                format!("{path} could not be saved: {} {UNTOUCHED}", way_out(error))
            }
        }
    }
}

/// What is said wherever saving failed.
const UNTOUCHED: &str = "What was saved before is untouched.";

fn newer(path: &Clean, format: &str, written_by: Option<&str>) -> String {
    let version = env!("CARGO_PKG_VERSION");
    let wanted = match written_by {
        // A version that the file can't be from, since it reads no such format.
        Some(by) if by.trim() == format!("boostwright {version}") => {
            "the version that wrote it".to_owned()
        }
        Some(by) => format!("{} or a newer version", excerpt(by, 60)),
        None => "a newer version of boostwright".to_owned(),
    };
    format!(
        "{path} has format {format}; this is boostwright {version}, which reads formats up to \
         {FORMAT}. Use {wanted}. The file is untouched."
    )
}

/// The largest file that is read, in MiB.
pub(super) const MAX_MIB: u64 = 4;

fn way_out(error: &io::Error) -> String {
    match error.kind() {
        io::ErrorKind::StorageFull | io::ErrorKind::QuotaExceeded => {
            "the disk is full. Free some room, then run the same command again.".to_owned()
        }
        io::ErrorKind::PermissionDenied | io::ErrorKind::ReadOnlyFilesystem => {
            "you may not write in its folder. Move it to a folder of yours.".to_owned()
        }
        _ => format!("{error}."),
    }
}

fn plain(error: &io::Error) -> String {
    match error.kind() {
        io::ErrorKind::StorageFull | io::ErrorKind::QuotaExceeded => "the disk is full".to_owned(),
        io::ErrorKind::ReadOnlyFilesystem => "the disk is read-only".to_owned(),
        _ => error.to_string(),
    }
}

impl fmt::Display for SessionError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.draw(false).fmt(f)
    }
}

impl std::error::Error for SessionError {
    fn source(&self) -> Option<&(dyn std::error::Error + 'static)> {
        match &self.problem {
            Problem::Unsynced { error }
            | Problem::Read { error }
            | Problem::Save { error }
            | Problem::Unreadable { why: NotReadBack::Unwritten(error) } => Some(error),
            Problem::Unreadable { why: NotReadBack::NotText(error) } => Some(error),
            _ => None,
        }
    }
}

impl fmt::Display for NotReadBack {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::TooLarge => write!(
                f,
                "it would be larger than {MAX_MIB} MiB, too large to be read again; shorten what \
                 it says about the car, or start a new session"
            ),
            Self::Unwritten(error) => error.fmt(f),
            Self::NotText(error) => error.fmt(f),
            Self::Otherwise => f.write_str("some text in it would change when read again"),
            Self::Faulty(faults) => {
                let first = faults.list.first().map(Fault::message).unwrap_or_default();
                write!(f, "it could not be read again ({first})")
            }
        }
    }
}
