//! What may be typed behind `boostwright`.

use std::path::PathBuf;

use clap::{Args, Parser, Subcommand, ValueEnum};

/// Finds out why the boost of a turbocharged petrol engine misbehaves: asks, calculates, ranks the
/// causes, and checks the repair.
#[derive(Debug, Parser)]
#[command(name = "boostwright", version, max_term_width = 100)]
pub(super) struct Arguments {
    #[command(flatten)]
    pub(super) stack: StackOptions,
    #[command(subcommand)]
    pub(super) verb: Verb,
}

/// Which rules are used.
#[derive(Debug, Args)]
pub(super) struct StackOptions {
    /// Lay this folder of rule files over the built-in ones (may be given more than once)
    #[arg(long = "pack", value_name = "DIR", global = true)]
    pub(super) packs: Vec<PathBuf>,
    /// Leave the built-in rules out
    #[arg(long, global = true)]
    pub(super) only: bool,
}

#[derive(Debug, Subcommand)]
pub(super) enum Verb {
    /// Ask question after question, from the complaint to what to do next
    Ask(AskOptions),
    /// Record a repair, ask what it made stale, and say whether it helped
    Recheck(RecheckOptions),
    /// Give answers without being asked
    Answer(AnswerOptions),
    /// The conclusion so far
    Show(ShowOptions),
    /// A sheet to take to the car: what is still open, with room to write
    Sheet(SheetOptions),
    /// Fold a file of answers and conclude, without a session
    Replay(ReplayOptions),
    /// Work out one formula
    Calc(CalcOptions),
    /// For authors of rules
    Pack(PackOptions),
    /// Print completions for a shell
    Completions { shell: clap_complete::Shell },
    /// Print the manual page (read it with: boostwright manual | man -l -)
    Manual,
}

/// Forms in which a value or a list is printed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum PlainForm {
    Text,
    Json,
}

#[derive(Debug, Args)]
pub(super) struct AnswerOptions {
    /// The session's file
    pub(super) session: PathBuf,
    /// Answers, all of them taken or none: peak_boost="0.92 bar ± 0.02", hose_is_sound=yes,
    /// ID=unknown for "can't say", ID=later; a table as ID="0.4 bar: 0.5 mm; 0.6 bar: 2 mm", or
    /// from a file with a row a line as ID=@FILE
    #[arg(value_name = "ID=VALUE", required_unless_present_any = ["dropped", "complaints"])]
    pub(super) answers: Vec<String>,
    /// Take an answer back (may be given more than once)
    #[arg(long = "drop", value_name = "ID")]
    pub(super) dropped: Vec<String>,
    /// Begin the session with this complaint, if there is none yet (may be given more than once)
    #[arg(long = "complaint", value_name = "ID")]
    pub(super) complaints: Vec<String>,
}

#[derive(Debug, Args)]
pub(super) struct ShowOptions {
    /// The session's file
    pub(super) session: PathBuf,
    #[arg(long, value_enum, default_value = "text")]
    pub(super) form: Form,
    /// Write it to this file
    #[arg(long, value_name = "FILE")]
    pub(super) out: Option<PathBuf>,
    /// What if this were the answer? Nothing is kept (may be given more than once)
    #[arg(long = "suppose", value_name = "ID=VALUE")]
    pub(super) supposed: Vec<String>,
}

#[derive(Debug, Args)]
pub(super) struct SheetOptions {
    /// The session's file
    pub(super) session: PathBuf,
    /// Write it to this file
    #[arg(long, value_name = "FILE")]
    pub(super) out: Option<PathBuf>,
}

#[derive(Debug, Args)]
pub(super) struct CalcOptions {
    /// The formula, for example "circle_area(27 mm) / circle_area(19 mm)"
    #[arg(allow_hyphen_values = true, required_unless_present = "list", conflicts_with = "list")]
    pub(super) formula: Option<String>,
    /// Values for names in the formula: boost="0.85 bar ± 0.02"
    #[arg(value_name = "NAME=VALUE")]
    pub(super) values: Vec<String>,
    /// Give the result in this unit
    #[arg(long = "in", value_name = "UNIT")]
    pub(super) unit: Option<String>,
    /// How the result is written; json is never rounded
    #[arg(long, value_enum, default_value = "text")]
    pub(super) form: PlainForm,
    /// List every function with its arguments, their units and ranges, and its source
    #[arg(long)]
    pub(super) list: bool,
}

/// Forms in which a conclusion is printed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum Form {
    Text,
    Markdown,
    Html,
    Json,
}

#[derive(Debug, Args)]
pub(super) struct ReplayOptions {
    /// The file of answers
    pub(super) answers: PathBuf,
    #[arg(long, value_enum, default_value = "text")]
    pub(super) form: Form,
}

#[derive(Debug, Args)]
pub(super) struct AskOptions {
    /// The session's file; left out, boost.yaml in this folder. A new one is begun, an old one goes on
    pub(super) session: Option<PathBuf>,
    /// Ask only what can be answered in this state of the car
    #[arg(long, value_name = "STATE")]
    pub(super) car: Option<String>,
}

#[derive(Debug, Args)]
pub(super) struct RecheckOptions {
    /// The session's file
    pub(super) session: PathBuf,
}

#[derive(Debug, Args)]
pub(super) struct PackOptions {
    #[command(subcommand)]
    pub(super) verb: PackVerb,
}

#[derive(Debug, Subcommand)]
pub(super) enum PackVerb {
    /// Begin a small pack of your own, with comments, that works as it stands
    New {
        /// The folder: a new one, or an empty one
        dir: PathBuf,
    },
    /// Say everything that is wrong with a pack
    Check {
        /// The folder; left out, the packs in use are checked
        dir: Option<PathBuf>,
        /// How faults are said; json has one object a fault, for editors
        #[arg(long, value_enum, default_value = "text")]
        form: PlainForm,
    },
    /// Run the cases of a pack and say what differs
    Test { dir: Option<PathBuf> },
    /// Draw cars with faults, hold the interview with each, and say how well it went
    Simulate {
        dir: Option<PathBuf>,
        /// Only this complaint
        #[arg(long, value_name = "ID")]
        complaint: Option<String>,
        /// Cars for each condition
        #[arg(long, default_value_t = 200)]
        runs: usize,
    },
    /// Count and list what the packs in use hold, each entry with its file and line
    List { dir: Option<PathBuf> },
    /// Draw the way through the steps, or which cause brings which finding
    Graph {
        dir: Option<PathBuf>,
        /// The language of the drawing
        #[arg(long, value_enum, default_value = "graphviz")]
        form: GraphForm,
        /// What is drawn; left out, the steps, or what --around names
        #[arg(long, value_enum)]
        of: Option<GraphOf>,
        /// Only this step, complaint, cause or finding and what lies up to two lines away, or one
        /// where that would be more than 150 lines. Boxes with more lines than are drawn are dashed
        #[arg(long, value_name = "ID")]
        around: Option<String>,
        /// Draw every line, however many
        #[arg(long)]
        all: bool,
    },
    /// Print the JSON Schema of rule files, for editors that complete and explain fields by it
    Schema,
}

/// Languages in which a graph is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum GraphForm {
    Graphviz,
    Mermaid,
}

/// What is drawn of a pack.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum GraphOf {
    /// Steps with their questions, branches with their conditions
    Steps,
    /// Causes and findings, with the strength of each link
    Causes,
}
