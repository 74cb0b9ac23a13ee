//! The program run in a folder of its own.

use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

use tempfile::TempDir;

/// A folder, and commands run in it.
pub(super) struct Bench {
    folder: TempDir,
}

/// How a command ended, and what it said.
#[derive(Debug)]
pub(super) struct Ran {
    pub(super) code: Option<i32>,
    pub(super) stdout: String,
    pub(super) stderr: String,
}

impl Bench {
    pub(super) fn new() -> Self {
        Self { folder: TempDir::new().expect("a folder for the test") }
    }

    /// A folder with a session in `boost.yaml`: an invented car with too much boost.
    pub(super) fn begun() -> Self {
        let bench = Self::new();
        let complaint = "boost_too_high_controller_off";
        let ran =
            bench.run(&["answer", "boost.yaml", "--complaint", complaint, "boost_seen=1.05 bar"]);
        assert_eq!(ran.code, Some(0), "{ran:?}");
        bench
    }

    pub(super) fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    pub(super) fn command(&self, arguments: &[&str]) -> Command {
        let mut command = Command::new(env!("CARGO_BIN_EXE_boostwright"));
        command
            .args(arguments)
            .env("NO_COLOR", "1")
            .stdin(Stdio::null())
            .current_dir(self.folder.path());
        command
    }

    pub(super) fn run(&self, arguments: &[&str]) -> Ran {
        Ran::of(self.command(arguments).output().expect("the program starts"))
    }

    pub(super) fn read(&self, name: &str) -> String {
        std::fs::read_to_string(self.path(name)).expect("the file is there")
    }

    pub(super) fn write(&self, name: &str, text: &str) {
        let path = self.path(name);
        std::fs::create_dir_all(path.parent().unwrap_or(Path::new("."))).expect("its folder");
        std::fs::write(path, text).expect("the file is written");
    }
}

impl Ran {
    pub(super) fn of(output: Output) -> Self {
        Self {
            code: output.status.code(),
            stdout: String::from_utf8(output.stdout).expect("stdout is text"),
            stderr: String::from_utf8(output.stderr).expect("stderr is text"),
        }
    }

    /// The command was refused with exit 2, and said so in these words.
    #[track_caller]
    pub(super) fn refused_with(&self, words: &[&str]) {
        assert_eq!(self.code, Some(2), "{self:?}");
        self.says(words);
    }

    /// Messages hold these words.
    #[track_caller]
    pub(super) fn says(&self, words: &[&str]) {
        for word in words {
            assert!(self.stderr.contains(word), "no {word:?} in\n{}", self.stderr);
        }
    }
}
