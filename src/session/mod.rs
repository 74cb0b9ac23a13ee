//! A session kept in a file: its rounds and the answers as the person gave them, saved whole after
//! every answer, locked while it is open, migrated when it is old.
//!
//! What the answers mean is the interview's; who is asked, and how, is left to the floors above.

mod change;
mod check;
mod error;
mod fault;
mod file;
mod format;
mod kept;
mod kind;
mod lock;
mod migrate;
mod place;
mod plain;
mod source;
mod take;
mod whole;
mod written;

pub use change::{Change, Done, NotChanged};
pub use error::{NotReadBack, Problem, REPORT, SessionError};
pub use fault::SessionFault;
pub use file::{SessionFile, read_session, read_session_text};
pub use format::FORMAT;
pub use kept::{PackMark, Session, SessionRound};
pub use kind::{TextKind, kind_of};
pub use place::session_path;
pub use plain::{NotOpened, is_own_stream, open_to_read};
pub use source::Source;
pub use take::{Taken, take};
pub use whole::{OnDisk, write_whole};
pub use written::write_session;
