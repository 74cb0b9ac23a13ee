//! The file a session is kept in: created, opened, saved whole after every answer.

use std::fs;
use std::io::{self, ErrorKind, Read};
use std::path::{Path, PathBuf};

use super::check::session_from;
use super::error::{MAX_MIB, NotReadBack, Problem, SessionError};
use super::kept::{PackMark, Session};
use super::lock::{Hold, Lock, LockError};
use super::plain::{NotOpened, open_to_read};
use super::source::Source;
use super::take::{Taken, take};
use super::whole::{
    Before, OnDisk, Written, behind_links, folder_of, may_write_in, tidy, write_over,
};
use super::written::write_session;
use crate::rules::{Faults, Pack};

/// A session in its file, held for this program alone until dropped.
#[derive(Debug)]
pub struct SessionFile {
    pub session: Session,
    /// As the person gave it.
    named: PathBuf,
    source: Source,
    /// The text of the file as it was last read or written here.
    text: String,
    /// What somebody else put in its place, once that was said.
    foreign: Option<String>,
    /// What the last save left to be said.
    warning: Option<SessionError>,
    /// The file as it was last read or written here.
    hold: Hold,
    _lock: Lock,
}

impl SessionFile {
    /// Starts a file with a session. It is on the disk when this returns.
    ///
    /// # Errors
    /// Where something is there already, or the place can't be written.
    pub fn create(path: &Path, session: Session) -> Result<Self, SessionError> {
        let refuse = |problem| SessionError::new(path, problem);
        match fs::metadata(path) {
            Ok(_) => return Err(refuse(Problem::Exists)),
            Err(error) => match reading(path, error) {
                Problem::Missing => {}
                problem => return Err(refuse(problem)),
            },
        }
        let lock = lock(path, path)?;
        tidy(path);
        let text = text_of_session(&session).map_err(refuse)?;
        let written = write_over(path, Before::Nothing, |out| out.write_all(text.as_bytes()))
            .map_err(|error| match error.kind() {
                ErrorKind::AlreadyExists => refuse(Problem::Exists),
                _ => refuse(Problem::Save { error }),
            })?;
        let source = Source::none(&path.display().to_string());
        let (hold, warning) = held(path, written);
        let named = path.to_path_buf();
        Ok(Self { session, named, source, text, foreign: None, warning, hold, _lock: lock })
    }

    /// Whether a session could be begun here, so that nobody is asked anything in vain.
    ///
    /// # Errors
    /// Where the folder is not there, or nothing may be written in it.
    pub fn could_begin(path: &Path) -> Result<(), SessionError> {
        may_write_in(&folder_of(path))
            .map_err(|error| SessionError::new(path, Problem::Save { error }))
    }

    /// Opens a file to go on with its session.
    ///
    /// # Errors
    /// Where it can't be read, is no session, can't be written again, or is open elsewhere.
    pub fn open(path: &Path) -> Result<Self, SessionError> {
        let refuse = |problem| SessionError::new(path, problem);
        let about = fs::metadata(path).map_err(|error| refuse(reading(path, error)))?;
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
        let hold = Hold::take(&real).map_err(|error| refused_lock(error, path))?;
        tidy(&real);
        let text = text_of(path).map_err(refuse)?;
        let read = session_from(&path.display().to_string(), text.clone());
        let (session, source) = read.map_err(refuse)?;
        let named = path.to_path_buf();
        Ok(Self { session, named, source, text, foreign: None, warning: None, hold, _lock: lock })
    }

    /// Saves the session as it is now. It is on the disk when this returns.
    ///
    /// # Errors
    /// Where it can't be written, or could not be read again; the file is then as it was. So it is
    /// where somebody else changed it meanwhile: saving once more then goes on over that, and keeps
    /// the other text beside it.
    pub fn save(&mut self) -> Result<(), SessionError> {
        let text = text_of_session(&self.session)
            .and_then(|text| self.look_before_writing().map(|()| text))
            .map_err(|problem| SessionError::new(&self.named, problem))?;
        let refuse = |problem| SessionError::new(&self.named, problem);
        let written =
            write_over(&self.named, Before::Anything, |out| out.write_all(text.as_bytes()))
                .map_err(|error| refuse(Problem::Save { error }))?;
        (self.hold, self.warning) = held(&self.named, written);
        (self.text, self.foreign) = (text, None);
        Ok(())
    }

    /// Whether the file is still what was last read or written here. The lock keeps other programs
    /// out, but not editors, nor anybody once its file is deleted.
    fn look_before_writing(&mut self) -> Result<(), Problem> {
        let found = match text_of(&self.named) {
            // What is gone can't be written over.
            Err(Problem::Missing | Problem::NoFolder | Problem::Dangling { .. }) => return Ok(()),
            found => found?,
        };
        if found == self.text {
            return Ok(());
        }
        if self.foreign.as_ref() != Some(&found) {
            self.foreign = Some(found);
            return Err(Problem::Changed);
        }
        keep_beside(&self.named, &found).map_err(|error| Problem::Save { error })
    }

    /// What the last save left to be said, though it saved: once.
    pub fn take_warning(&mut self) -> Option<SessionError> {
        self.warning.take()
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

/// A session as text that was seen to read back as the very same: whatever the writer does to a text
/// nobody foresaw, it is noticed before the old file is gone.
fn text_of_session(session: &Session) -> Result<String, Problem> {
    let unreadable = |why| Problem::Unreadable { why };
    let mut bytes = Vec::new();
    write_session(session, &mut bytes)
        .map_err(|error| unreadable(NotReadBack::Unwritten(error)))?;
    if bytes.len() as u64 > MAX_BYTES {
        return Err(unreadable(NotReadBack::TooLarge));
    }
    let text = String::from_utf8(bytes).map_err(|error| unreadable(NotReadBack::NotText(error)))?;
    match session_from("", text.clone()) {
        Ok((read, _)) if read == *session => Ok(text),
        Ok(_) => Err(unreadable(NotReadBack::Otherwise)),
        Err(Problem::Faulty { faults }) => Err(unreadable(NotReadBack::Faulty(faults))),
        Err(problem) => Err(problem),
    }
}

/// Keeps a text as `NAME.other`, or `NAME.other2` and so on where that is taken.
fn keep_beside(path: &Path, text: &str) -> io::Result<()> {
    let mut number = 1;
    loop {
        let mut name = path.file_name().unwrap_or_default().to_os_string();
        name.push(if number == 1 { ".other".to_owned() } else { format!(".other{number}") });
        let kept = path.with_file_name(name);
        match write_over(&kept, Before::Nothing, |out| out.write_all(text.as_bytes())) {
            Err(error) if error.kind() == ErrorKind::AlreadyExists && number < MAX_OTHERS => {
                number += 1;
            }
            done => return done.map(drop),
        }
    }
}

/// The most texts of others that are kept beside a session.
const MAX_OTHERS: usize = 100;

/// Keeps hold of what was written, and what that left to be said.
fn held(path: &Path, written: Written) -> (Hold, Option<SessionError>) {
    let problem = match written.on_disk {
        OnDisk::Unsynced(error) => Some(Problem::Unsynced { error }),
        OnDisk::Safe => written.parted.then_some(Problem::Parted),
    };
    (Hold::keep(written.file), problem.map(|problem| SessionError::new(path, problem)))
}

const MAX_BYTES: u64 = MAX_MIB << 20;

fn text_of(path: &Path) -> Result<String, Problem> {
    let file = open_to_read(path).map_err(|refused| match refused {
        NotOpened::Folder => Problem::Folder,
        NotOpened::NotPlain => Problem::NotPlain,
        NotOpened::Error(error) => reading(path, error),
    })?;
    let mut bytes = Vec::new();
    file.take(MAX_BYTES + 1).read_to_end(&mut bytes).map_err(|error| reading(path, error))?;
    if bytes.len() as u64 > MAX_BYTES {
        return Err(Problem::TooLarge);
    }
    let text = String::from_utf8(bytes).map_err(|error| {
        let sound = error.as_bytes().iter().take(error.utf8_error().valid_up_to());
        Problem::NotText { line: 1 + sound.filter(|byte| **byte == b'\n').count() }
    })?;
    Ok(text.strip_prefix('\u{feff}').map(str::to_owned).unwrap_or(text))
}

fn reading(path: &Path, error: io::Error) -> Problem {
    match error.kind() {
        ErrorKind::NotFound | ErrorKind::NotADirectory => nothing_at(path),
        ErrorKind::PermissionDenied => Problem::MayNotRead,
        ErrorKind::IsADirectory => Problem::Folder,
        _ => Problem::Read { error },
    }
}

/// Why nothing is at a path.
fn nothing_at(path: &Path) -> Problem {
    if let Ok(to) = fs::read_link(path) {
        Problem::Dangling { to }
    } else if folder_of(path).is_dir() {
        Problem::Missing
    } else {
        Problem::NoFolder
    }
}

fn lock(path: &Path, named: &Path) -> Result<Lock, SessionError> {
    Lock::take(path).map_err(|error| refused_lock(error, named))
}

fn refused_lock(error: LockError, named: &Path) -> SessionError {
    let problem = match error {
        LockError::Busy => Problem::Busy,
        LockError::Folder(error) => Problem::Save { error },
        LockError::InTheWay(lock) => Problem::LockInTheWay { lock },
    };
    SessionError::new(named, problem)
}
