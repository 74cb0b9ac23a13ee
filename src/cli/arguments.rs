//! What may be typed behind `boostwright`.

use std::path::PathBuf;

use clap::{Args, Parser, Subcommand, ValueEnum};

/// Finds out what is wrong with the boost of a turbocharged petrol engine: asks questions,
/// calculates, ranks the causes and checks the repair.
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
    /// Add this folder of rule files on top of the built-in ones (repeatable)
    #[arg(long = "pack", value_name = "DIR", global = true)]
    pub(super) packs: Vec<PathBuf>,
    /// Leave out the built-in rules
    #[arg(long, global = true)]
    pub(super) only: bool,
}

#[derive(Debug, Subcommand)]
pub(super) enum Verb {
    /// Ask questions, from the complaint to what to do next
    Ask(AskOptions),
    /// Record a repair, ask again what it may have changed, and say whether it helped
    Recheck(RecheckOptions),
    /// Give answers without being asked, for scripts
    Answer(AnswerOptions),
    /// Show the conclusion so far
    Show(ShowOptions),
    /// Print two pages to take to the car: the next repair and the questions that come next, with room
    /// to write
    Sheet(SheetOptions),
    /// Draw the conclusion from a file of answers, without a session
    Replay(ReplayOptions),
    /// Work out a formula
    Calc(CalcOptions),
    /// Check, test and draw rules, for their authors
    Pack(PackOptions),
    /// Print completions for a shell
    Completions {
        /// The shell
        shell: clap_complete::Shell,
    },
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
    /// The session file
    pub(super) session: PathBuf,
    /// Answers, all taken or none: peak_boost="0.92 bar ± 0.02", hose_is_sound=yes, ID=unknown
    /// for "can't say", ID=later; a table as ID="0.4 bar: 0.5 mm; 0.6 bar: 2 mm", or as ID=@FILE
    /// from a file with one row per line
    #[arg(value_name = "ID=VALUE", required_unless_present_any = ["dropped", "complaints"])]
    pub(super) answers: Vec<String>,
    /// Take back an answer (repeatable)
    #[arg(long = "drop", value_name = "ID")]
    pub(super) dropped: Vec<String>,
    /// Start a new session with this complaint (repeatable)
    #[arg(long = "complaint", value_name = "ID")]
    pub(super) complaints: Vec<String>,
}

#[derive(Debug, Args)]
pub(super) struct ShowOptions {
    /// The session file [default: boost.yaml]
    pub(super) session: Option<PathBuf>,
    /// Print everything and how it was worked out; of json, every cause, reason, finding and working
    #[arg(long)]
    pub(super) full: bool,
    /// How the conclusion is written; json is never rounded
    #[arg(long, value_enum, default_value = "text")]
    pub(super) form: Form,
    /// Write to this file
    #[arg(long, value_name = "FILE")]
    pub(super) out: Option<PathBuf>,
    /// Show what this answer would change; nothing is saved (repeatable)
    #[arg(long = "suppose", value_name = "ID=VALUE")]
    pub(super) supposed: Vec<String>,
    #[command(flatten)]
    pub(super) paging: PagingOptions,
}

/// How a result that is longer than the screen is shown.
#[derive(Debug, Args)]
pub(super) struct PagingOptions {
    /// Print at once what is longer than the screen, without a pager
    #[arg(long)]
    pub(super) no_pager: bool,
}

#[derive(Debug, Args)]
pub(super) struct SheetOptions {
    /// The session file [default: boost.yaml]
    pub(super) session: Option<PathBuf>,
    /// Print every open question, however many pages that takes
    #[arg(long)]
    pub(super) all: bool,
    /// Write to this file
    #[arg(long, value_name = "FILE")]
    pub(super) out: Option<PathBuf>,
    #[command(flatten)]
    pub(super) paging: PagingOptions,
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
    #[command(flatten)]
    pub(super) paging: PagingOptions,
}

/// Forms in which a conclusion is printed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum Form {
    Text,
    Markdown,
    Html,
    Json,
    /// What is planned, drawn 1:1 to print and cut by
    Svg,
}

#[derive(Debug, Args)]
pub(super) struct ReplayOptions {
    /// The file of answers
    pub(super) answers: PathBuf,
    /// How the conclusion is written; json is never rounded
    #[arg(long, value_enum, default_value = "text")]
    pub(super) form: Form,
    #[command(flatten)]
    pub(super) paging: PagingOptions,
}

#[derive(Debug, Args)]
pub(super) struct AskOptions {
    /// The session file, started if new, continued if not [default: boost.yaml]
    pub(super) session: Option<PathBuf>,
    /// Ask only what can be answered with the car in this state
    #[arg(long, value_name = "STATE")]
    pub(super) car: Option<String>,
}

#[derive(Debug, Args)]
pub(super) struct RecheckOptions {
    /// The session file [default: boost.yaml]
    pub(super) session: Option<PathBuf>,
}

#[derive(Debug, Args)]
pub(super) struct PackOptions {
    #[command(subcommand)]
    pub(super) verb: PackVerb,
}

#[derive(Debug, Subcommand)]
pub(super) enum PackVerb {
    /// Write a small commented pack of your own that works as it is
    New {
        /// A new or empty folder
        dir: PathBuf,
    },
    /// Report everything that is wrong with a pack
    Check {
        /// The folder [default: the packs in use]
        dir: Option<PathBuf>,
        /// How faults are reported; json has one object per fault, for editors
        #[arg(long, value_enum, default_value = "text")]
        form: PlainForm,
    },
    /// Run the test cases of a pack and report what differs
    Test {
        /// The folder [default: the packs in use]
        dir: Option<PathBuf>,
    },
    /// Simulate cars with faults, interview each, and report how well it went
    ///
    /// Of each car the causes are drawn, then what they show, then answers and readings that show it.
    /// Its owner takes a reading wrongly, or says the wrong word, as often as the pack says.
    Simulate {
        /// The folder [default: the packs in use]
        dir: Option<PathBuf>,
        /// Only this complaint
        #[arg(long, value_name = "ID")]
        complaint: Option<String>,
        /// Cars per complaint; with --by-findings, per condition [default: 20, or 200]
        #[arg(long)]
        runs: Option<usize>,
        /// Draw each car from chances that are off those of the pack: the odds of strengths and leaks
        /// by a factor of about 2, how common a cause is by about 3
        #[arg(long, conflicts_with = "by_findings")]
        shaken: bool,
        /// List the cars whose true cause didn't come first, with what led instead
        #[arg(long, conflicts_with = "by_findings")]
        misses: bool,
        /// Tell findings directly, without readings, as they are and under four further conditions:
        /// 5 and 10 % of answers wrong, strengths off, asked in fixed order
        #[arg(long)]
        by_findings: bool,
    },
    /// Count and list the entries of the packs in use, each with its file and line
    List {
        /// The folder [default: the packs in use]
        dir: Option<PathBuf>,
    },
    /// Draw the steps, or the causes with their findings
    Graph {
        /// The folder [default: the packs in use]
        dir: Option<PathBuf>,
        /// The language of the drawing
        #[arg(long, value_enum, default_value = "graphviz")]
        form: GraphForm,
        /// What to draw [default: the steps, or whatever --around names]
        #[arg(long, value_enum)]
        of: Option<GraphOf>,
        /// Only this step, complaint, cause or finding, with neighbours up to two links away (one if
        /// that exceeds 150 links). Dashed boxes have more links than are drawn
        #[arg(long, value_name = "ID")]
        around: Option<String>,
        /// Draw every link, however many
        #[arg(long)]
        all: bool,
    },
    /// Print the JSON Schema of rule files, for editors that complete and explain fields
    Schema {
        /// That of the conclusion in JSON instead, for programs that read it
        #[arg(long)]
        conclusion: bool,
    },
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
