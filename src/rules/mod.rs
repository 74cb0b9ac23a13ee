//! Rule packs: as written (YAML, texts), then checked and linked; laid over one another; linted.
//! Every mistake is found at load, with its place and a way out.
//!
//! Knows nothing of terminals or sessions.

mod built_in;
mod digest;
pub mod explain;
mod explain_questions;
mod fault;
mod fields;
mod forms;
pub mod graph;
mod inside;
mod link;
mod lint;
mod load;
mod look_up;
mod mapping;
mod origin;
mod pack;
mod place;
mod plain_entries;
mod question;
mod quoted;
mod read;
mod record;
mod replaced;
mod schema;
pub mod shape;
mod stack;
mod starter;
mod strengths;
mod table;
mod text;
mod undecided;
mod unreadable;
mod worked_out;
pub mod written;
pub mod yaml;
mod yaml_writer;

pub(crate) use fault::fault_table;
pub use fault::{
    Code, Fault, FaultKind, Faults, FileText, LinkFault, LintFault, MAX_DRAWN, Mark,
    Place as FaultPlace, Position, Severity, ShapeFault, StackFault, Told,
};
pub use fields::fields_of;
pub use load::{Loaded, PackSource, Unreadable, load, load_to_walk};
pub use origin::Origin;
pub use pack::{
    Better, Branch, CarState, Case, Cause, Caution, Complaint, Curve, CurveMark, Drawing, Finding,
    Forbidden, Instrument, Layer, Level, Pack, ReadingRule, Repair, Setup, Shape, ShapeForm,
    Source, SourceKind, Step, Stroke, VarOwner, Working,
};
pub use question::{AnswerForm, Holds, Measure, Question, UsualUncertainty};
pub use record::{End, Note, Range, Record};
pub use replaced::Replaced;
pub use schema::schema;
pub use starter::{NotBegun, STARTER, begin_pack};
pub use table::{
    CarStateId, CauseId, CautionId, ComplaintId, CurveId, DrawingId, FindingId, InstrumentId,
    QuestionId, ReadingId, RepairId, SetupId, SourceId, StepId, Table, TypedIndex, WorkingId,
};
pub use text::{Piece, Template};
pub use written::{Given, OneOrMore};
