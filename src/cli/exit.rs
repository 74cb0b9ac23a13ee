//! How a command ends, and why one could not run.

use std::error::Error;
use std::fmt;
use std::io::{self, ErrorKind};
use std::path::PathBuf;
use std::process::ExitCode;

use crate::formula::{self, EvalError, RESERVED, Unusable, nearest};
use crate::interview::Refused;
use crate::quantity::{Dimension, Kind, ReadError, Unit, UnitError};
use crate::rules::graph::NotDrawn;
use crate::rules::{Faults, NotBegun, Pack, Unreadable};
use crate::session::{NotChanged, REPORT, SessionError};
use crate::text::{Clean, excerpt};

/// The exit codes, as scripts rest on them.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Exit {
    /// 0
    Done,
    /// 1: ran, and what it looked for failed.
    Failed,
    /// 2: could not run.
    CouldNotRun,
    /// 130: ended from outside, as by Ctrl-C.
    Interrupted,
}

impl Exit {
    /// The code of [`Self::Interrupted`]: 128 and the number of the interrupt signal.
    pub(super) const INTERRUPTED: i32 = 130;
}

impl From<Exit> for ExitCode {
    fn from(exit: Exit) -> Self {
        Self::from(match exit {
            Exit::Done => 0,
            Exit::Failed => 1,
            Exit::CouldNotRun => 2,
            Exit::Interrupted => 130,
        })
    }
}

/// Why a command could not run.
#[derive(Debug)]
pub(super) enum Failure {
    Packs(Unreadable),
    NoPack,
    FaultyRules,
    FaultyPack,
    NotBegun(NotBegun),
    NotDrawn(NotDrawn),
    Runs {
        most: usize,
    },
    NoComplaints,
    UnknownComplaint {
        id: String,
        near: Option<String>,
        known: Vec<String>,
    },
    UnknownCarState {
        id: String,
        near: Option<String>,
        known: Vec<String>,
    },
    Session(SessionError),
    NoSession {
        path: PathBuf,
        complaints: Vec<String>,
    },
    /// What the rules can't take of a session.
    NotTaken {
        path: PathBuf,
        faults: Faults,
    },
    OtherComplaint {
        path: PathBuf,
        begun: Vec<String>,
    },
    FullSession {
        path: PathBuf,
    },
    NotChanged(Vec<NotChanged>),
    NotSupposed(Vec<Refused>),
    NothingToDraw,
    NotAnswered {
        text: String,
    },
    AnsweredTwice {
        id: String,
    },
    Rows {
        path: PathBuf,
        why: RowsFault,
    },
    Formula {
        text: String,
        faults: Vec<formula::Fault>,
    },
    NoResult(EvalError),
    NoFigure,
    ResultTooLarge {
        unit: Unit,
    },
    AskedUnit(UnitError),
    AskedDimension {
        unit: Unit,
        given: Dimension,
        result: Kind,
        offered: String,
    },
    NotNamed {
        text: String,
    },
    NoName {
        name: String,
        why: Unusable,
    },
    NamedTwice {
        name: String,
    },
    NamedValue {
        name: String,
        error: ReadError,
    },
    NoTerminal {
        missing: &'static str,
    },
    Out {
        path: PathBuf,
        why: OutFault,
    },
    /// The result, where it goes to the standard output.
    Unwritten(io::Error),
    Signals(ctrlc::Error),
    /// The program failed on the way to a conclusion, in the words that the conclusion has for it.
    Inference(String),
    /// What can't happen.
    Internal {
        doing: &'static str,
        error: Box<dyn Error>,
    },
}

/// Why rows can't be taken from a file.
#[derive(Debug)]
pub(super) enum RowsFault {
    Folder,
    NotPlain,
    Unreadable(io::Error),
    TooLarge,
    NotText,
}

/// Why a result can't go to a file.
#[derive(Debug)]
pub(super) enum OutFault {
    TheSession,
    Dangling {
        to: PathBuf,
    },
    NotPlain,
    /// A person's work, in words.
    Work {
        what: &'static str,
    },
    Unwritten(io::Error),
}

impl Failure {
    /// A complaint that the pack doesn't know.
    pub(super) fn unknown_complaint(id: &str, pack: &Pack) -> Self {
        let near = nearest(id, pack.complaints.ids()).map(str::to_owned);
        let known = pack.complaints.ids().map(str::to_owned).collect();
        Self::UnknownComplaint { id: id.to_owned(), near, known }
    }

    /// Why, with a way out.
    pub(super) fn draw(&self, colour: bool) -> Clean {
        match self {
            Self::Session(error) => error.draw(colour),
            Self::NotTaken { path, faults } => {
                let path = Clean::line(path.display().to_string());
                let mut drawn = faults.draw(colour);
                let mend = format!("{path} can't be used as it is: correct what is marked above.");
                drawn.push(mend.into());
                Clean::join(&drawn, "\n\n")
            }
            Self::Formula { text, faults } => {
                let drawn: Vec<Clean> =
                    faults.iter().map(|fault| fault.draw(text, colour)).collect();
                Clean::join(&drawn, "\n\n")
            }
            Self::NotBegun(_) | Self::NotDrawn(_) => Clean::line(self.plain()),
            _ => self.plain().into(),
        }
    }

    fn plain(&self) -> String {
        match self {
            Self::Packs(error) => error.to_string(),
            Self::NoPack => "--only leaves no rules at all: add --pack DIR".to_owned(),
            Self::FaultyRules => "the rules can't be used: correct what is marked above".to_owned(),
            Self::FaultyPack => "the pack has faults: run pack check first".to_owned(),
            Self::NotBegun(error) => error.to_string(),
            Self::NotDrawn(error) => error.help.clone(),
            Self::Runs { most } => format!("--runs takes 1 to {most}"),
            Self::NoComplaints => {
                "these rules hold no complaints, so there is nothing to ask".to_owned()
            }
            Self::UnknownComplaint { id, near, known } => {
                let way_out = way_out(near.as_deref(), "the complaints are: ", known);
                format!("these rules have no complaint {id}: {way_out}")
            }
            Self::UnknownCarState { id, near, known } => {
                let way_out = way_out(near.as_deref(), "the states are ", known);
                format!("--car {}: no such state of the car; {way_out}", Clean::line(id))
            }
            Self::NoSession { path, complaints } => format!(
                "{}: there is no such session. Check the name, or start one with --complaint ID \
                 (one of: {}).",
                path.display(),
                complaints.join(", ")
            ),
            Self::OtherComplaint { path, begun } => format!(
                "{} was started with {}: leave out --complaint, or name another file",
                path.display(),
                begun.join(", ")
            ),
            Self::FullSession { path } => format!(
                "{} holds as many rounds as a session can. Start a new one with `boostwright ask \
                 FILE`; this one stays as it is.",
                path.display()
            ),
            Self::NotChanged(refused) => format!("{}\nNothing was changed.", lines(refused)),
            Self::NotSupposed(refused) => format!("This can't be supposed:\n{}", lines(refused)),
            Self::NothingToDraw => {
                "Nothing is planned yet, so there is nothing to draw. Start with a complaint that \
                 asks for a plan, and answer what it measures."
                    .to_owned()
            }
            Self::NotAnswered { text } => {
                format!(
                    "{text} is not an answer: write an id, = and a value, as in \
                    hose_is_sound=yes"
                )
            }
            Self::AnsweredTwice { id } => {
                format!("{id} is answered twice: leave one of them out")
            }
            Self::Rows { path, why } => format!("{}: {why}", path.display()),
            Self::NoResult(gap) => gap.to_string(),
            Self::NoFigure => "the formula gives neither a number nor yes or no".to_owned(),
            Self::ResultTooLarge { unit } => {
                format!("result: too large to be given in {unit}")
            }
            Self::AskedUnit(error) => format!("--in: {error}"),
            Self::AskedDimension { unit, given, result, offered } => format!(
                "--in: {unit} is a unit of {given}, but the result is {result}: ask for it in \
                 {offered}"
            ),
            Self::NotNamed { text } => format!(
                "{} is not a named value: write it as boost=\"0.85 bar\", and put the whole \
                 formula in quotes",
                quoted(text)
            ),
            Self::NoName { name, why } => no_name(&quoted(name), *why),
            Self::NamedTwice { name } => format!("{name} is given twice: keep one of them"),
            Self::NamedValue { name, error } => format!("{name}: {error}"),
            Self::NoTerminal { missing } => format!(
                "{missing} is not a terminal, so no questions can be asked. Give answers with \
                 `boostwright answer SESSION id=value`, or conclude from a file of them with \
                 `boostwright replay FILE`."
            ),
            Self::Out { path, why } => format!("{} {why}", path.display()),
            Self::Unwritten(error) => format!(
                "the result can't be written: {}. What was written is incomplete.",
                reason(error)
            ),
            Self::Signals(error) => format!("signals can't be caught: {error}"),
            Self::Inference(error) => error.clone(),
            Self::Internal { doing, error } => format!("{doing} failed: {error}. {REPORT}"),
            Self::Session(_) | Self::NotTaken { .. } | Self::Formula { .. } => {
                self.draw(false).into()
            }
        }
    }
}

/// Why nothing can be written, in words that don't speak of a temporary file behind the scenes.
pub(super) fn reason(error: &io::Error) -> String {
    match error.kind() {
        ErrorKind::NotFound => "there is no such folder".to_owned(),
        ErrorKind::PermissionDenied => "you may not write there".to_owned(),
        ErrorKind::ReadOnlyFilesystem => "the disk is read-only".to_owned(),
        ErrorKind::StorageFull | ErrorKind::QuotaExceeded => "the disk is full".to_owned(),
        _ => error.to_string(),
    }
}

fn way_out(near: Option<&str>, known_are: &str, known: &[String]) -> String {
    near.map_or_else(
        || format!("{known_are}{}", known.join(", ")),
        |near| format!("did you mean {near}?"),
    )
}

fn lines(all: &[impl fmt::Display]) -> String {
    all.iter().map(ToString::to_string).collect::<Vec<String>>().join("\n")
}

fn no_name(name: &str, why: Unusable) -> String {
    match why {
        Unusable::Unit => format!("{name} is a unit and can't be a name: give it a longer one"),
        Unusable::Reserved => format!(
            "{name} is a word of the formula language ({}): give it a longer name",
            RESERVED.join(", ")
        ),
        Unusable::Letters => format!(
            "{name} can't be read as a name: use letters, digits and _, and start with a letter"
        ),
    }
}

/// The start of what was typed, in quotes.
fn quoted(text: &str) -> String {
    format!("{:?}", excerpt(text, 40).as_str())
}

impl fmt::Display for RowsFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Folder => "this is a folder: name a file with one row per line",
            Self::NotPlain => "this is not an ordinary file: name one with one row per line",
            Self::Unreadable(error) => return write!(f, "the rows can't be read: {error}"),
            Self::TooLarge => "the file is larger than 64 KiB, too large for a table of readings",
            Self::NotText => "the file is not UTF-8 text: save it as text, one row per line",
        })
    }
}

impl fmt::Display for OutFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::TheSession => f.write_str("is the session itself: name another file for --out"),
            Self::Dangling { to } => write!(
                f,
                "is a link to {}, and nothing is there: name another file for --out",
                to.display()
            ),
            Self::NotPlain => f.write_str("is not an ordinary file: name another for --out"),
            Self::Work { what } => {
                write!(f, "is {what}, which is never overwritten: name another file for --out")
            }
            Self::Unwritten(error) => write!(f, "can't be written: {}", reason(error)),
        }
    }
}

impl fmt::Display for Failure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.draw(false).fmt(f)
    }
}

impl Error for Failure {
    fn source(&self) -> Option<&(dyn Error + 'static)> {
        match self {
            Self::Packs(error) => Some(error),
            Self::NotBegun(error) => Some(error),
            Self::Session(error) => Some(error),
            Self::NoResult(error) => Some(error),
            Self::AskedUnit(error) => Some(error),
            Self::NamedValue { error, .. } => Some(error),
            Self::Signals(error) => Some(error),
            Self::Internal { error, .. } => Some(error.as_ref()),
            Self::Unwritten(error)
            | Self::Rows { why: RowsFault::Unreadable(error), .. }
            | Self::Out { why: OutFault::Unwritten(error), .. } => Some(error),
            _ => None,
        }
    }
}
