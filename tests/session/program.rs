//! The program itself, run on sessions held with the small pack.

use std::path::Path;
use std::process::{Command, Output};

use tempfile::TempDir;

use super::bench::{PACK, folder};

/// A folder, and commands run in it.
pub(super) struct Bench {
    pub(super) folder: TempDir,
}

/// How a command ended, and what it said.
#[derive(Debug)]
pub(super) struct Ran {
    pub(super) code: i32,
    pub(super) stdout: String,
    pub(super) stderr: String,
}

impl Bench {
    pub(super) fn new() -> Self {
        Self { folder: folder() }
    }

    /// A folder with a session that was begun, and nothing answered.
    pub(super) fn begun() -> Self {
        let bench = Self::new();
        let ran = bench.run(&["answer", "boost.yaml", "--complaint", "boost_too_high"]);
        assert_eq!(ran.code, 0, "{ran:?}");
        bench
    }

    pub(super) fn command(&self, arguments: &[&str]) -> Command {
        let pack = std::env::current_dir().expect("a working folder").join(PACK);
        let mut command = Command::new(env!("CARGO_BIN_EXE_boostwright"));
        command
            .args(arguments)
            .args([Path::new("--only"), Path::new("--pack"), &pack])
            .env("NO_COLOR", "1")
            .current_dir(self.folder.path());
        command
    }

    pub(super) fn run(&self, arguments: &[&str]) -> Ran {
        let Output { status, stdout, stderr } =
            self.command(arguments).output().expect("the program starts");
        Ran {
            code: status.code().unwrap_or(-1),
            stdout: String::from_utf8(stdout).expect("stdout is text"),
            stderr: String::from_utf8(stderr).expect("stderr is text"),
        }
    }

    pub(super) fn read(&self, name: &str) -> String {
        std::fs::read_to_string(self.folder.path().join(name)).expect("the file is there")
    }

    pub(super) fn write(&self, name: &str, text: &str) {
        std::fs::write(self.folder.path().join(name), text).expect("the file is written");
    }
}
