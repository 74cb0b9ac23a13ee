//! Attacks on saving: the program killed at any moment, killed or refused at each system call of a
//! save, and several programs at one session. What it said it kept must be there, and the file whole.

use std::collections::HashMap;
use std::ffi::OsString;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};
use std::time::{Duration, Instant};

use boostwright::rules::Given;
use boostwright::session::read_session;
use rand::{RngExt, SeedableRng};
use rand_xoshiro::Xoshiro256PlusPlus;
use tempfile::TempDir;

use super::table::{Began, Row};

/// The small pack of invented rules.
pub(super) const PACK: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/session/pack");
/// A question of it that takes any whole number.
const COUNT: &str = "times_repaired";

/// A folder with a session that was begun, and the program to run in it.
pub(super) struct Shop {
    pub(super) program: PathBuf,
    pub(super) folder: TempDir,
}

impl Shop {
    pub(super) fn open(program: &Path) -> Self {
        let folder = TempDir::new().expect("a folder for the attack");
        let shop = Self { program: program.to_path_buf(), folder };
        let begun = shop.command(&["answer", "b.yaml", "--complaint", "boost_too_high"]).output();
        assert!(begun.expect("the program starts").status.success(), "a session begins");
        shop
    }

    pub(super) fn session(&self) -> PathBuf {
        self.folder.path().join("b.yaml")
    }

    pub(super) fn arguments(arguments: &[&str]) -> Vec<OsString> {
        let small = ["--only", "--pack", PACK];
        arguments.iter().chain(&small).map(OsString::from).collect()
    }

    pub(super) fn command(&self, arguments: &[&str]) -> Command {
        let mut command = Command::new(&self.program);
        command.args(Self::arguments(arguments)).current_dir(self.folder.path());
        command.env("NO_COLOR", "1").stdin(Stdio::null());
        command
    }

    /// The count that the session holds; none where the file can't be read.
    fn count(&self) -> Option<usize> {
        let (session, _) = read_session(&self.session()).ok()?;
        match session.rounds.first()?.answers.get(COUNT) {
            Some(Given::Text(count)) => count.parse().ok(),
            Some(Given::Rows(_) | Given::Picked(_)) => None,
            None => Some(0),
        }
    }
}

fn answer(count: usize) -> String {
    format!("{COUNT}={count}")
}

/// Kills `answer` at random moments; an answer that was confirmed must stay.
pub(super) fn kills(program: &Path, times: usize, seed: u64) -> Row {
    let mut row = Row::new("killed at random while saving");
    let mut random = Xoshiro256PlusPlus::seed_from_u64(seed);
    let shop = Shop::open(program);
    let began = Instant::now();
    let _ = shop.command(&["answer", "b.yaml", &answer(0)]).output();
    let usual = began.elapsed();
    let mut confirmed = 0;
    for count in 1..=times {
        let began = Began::now();
        let mut command = shop.command(&["answer", "b.yaml", &answer(count)]);
        let started = command.stdout(Stdio::null()).stderr(Stdio::null()).spawn();
        let mut child = started.expect("the program starts");
        std::thread::sleep(usual.mul_f64(random.random_range(0.0..1.1)));
        let _ = child.kill();
        if child.wait().is_ok_and(|status| status.success()) {
            confirmed = count;
        } else {
            row.struck += 1;
        }
        row.ran(began);
        match shop.count() {
            Some(kept) => {
                row.expect((confirmed..=count).contains(&kept), || {
                    format!("{confirmed} was confirmed, {kept} is kept after {count}")
                });
                confirmed = kept.max(confirmed);
            }
            None => row.fail(format!("torn after {count}")),
        }
    }
    row
}

/// System calls of a save, and how each may fail (Linux, `errno(3)`).
const CALLS: [(&str, &[&str]); 16] = [
    ("openat", &["EACCES", "EMFILE", "EIO"]),
    ("read", &["EIO"]),
    ("write", &["ENOSPC", "EIO", "EDQUOT"]),
    ("fsync", &["EIO", "ENOSPC"]),
    ("rename", &["EIO", "ENOSPC", "EXDEV"]),
    ("renameat2", &["EIO", "ENOSPC"]),
    ("link", &["EIO", "EPERM"]),
    ("close", &["EIO"]),
    ("fchmod", &["EPERM", "EIO"]),
    ("flock", &["EIO", "EINTR"]),
    ("statx", &["EIO", "EACCES"]),
    ("readlink", &["EIO"]),
    ("getdents64", &["EIO"]),
    ("unlink", &["EIO"]),
    ("getrandom", &["EIO"]),
    ("mmap", &["ENOMEM"]),
];
/// How often `answer` makes each system call.
fn made(shop: &Shop) -> HashMap<String, usize> {
    let mut made = HashMap::new();
    let mut strace = Command::new("strace");
    strace.args(["-f", "-o", "trace"]).arg(&shop.program);
    strace.args(Shop::arguments(&["answer", "b.yaml", &answer(0)])).stdin(Stdio::null());
    let _ = strace.current_dir(shop.folder.path()).output();
    let trace = fs::read_to_string(shop.folder.path().join("trace")).unwrap_or_default();
    for line in trace.lines() {
        // `717   fsync(4) = 0`, the number being that of the thread.
        let call = line.split_whitespace().nth(1).and_then(|rest| rest.split('(').next());
        *made.entry(call.unwrap_or_default().to_owned()).or_default() += 1;
    }
    made
}

/// The ways to interfere: the program is killed at the n-th call of a kind, or the call fails.
fn ways(made: &HashMap<String, usize>) -> Vec<(String, bool)> {
    let mut found = Vec::new();
    for (call, errors) in CALLS {
        for nth in 1..=made.get(call).copied().unwrap_or(0) {
            found.push((format!("{call}:signal=SIGKILL:when={nth}"), true));
            for error in errors {
                found.push((format!("{call}:error={error}:when={nth}"), false));
            }
        }
    }
    found
}

fn traced(shop: &Shop, how: &str, arguments: &[&str]) -> std::io::Result<Output> {
    let mut strace = Command::new("strace");
    // What is not traced isn't struck either.
    let call = how.split(':').next().unwrap_or_default();
    strace.args(["-f", "-o", "trace", "-e", &format!("trace={call}")]);
    strace.args(["-e", &format!("inject={how}")]);
    strace.arg(&shop.program).args(Shop::arguments(arguments));
    strace
        .env("NO_COLOR", "1")
        .env("RUST_BACKTRACE", "0")
        .stdin(Stdio::null())
        .current_dir(shop.folder.path())
        .output()
}

/// Strikes at `times` system calls of `answer`, evenly over the ways there are; nothing where no
/// `strace` is there to do so.
pub(super) fn faults(program: &Path, times: usize) -> [Row; 2] {
    let mut rows = ["killed at a system call", "a system call that fails"].map(Row::new);
    let shop = Shop::open(program);
    let ways = ways(&made(&shop));
    let step = (ways.len() / times.max(1)).max(1);
    for (count, (how, kills)) in ways.iter().cycle().step_by(step).take(times).enumerate() {
        let count = count + 1;
        let before = shop.count();
        let row = &mut rows[usize::from(!kills)];
        let began = Began::now();
        let Ok(output) = traced(&shop, how, &["answer", "b.yaml", &answer(count)]) else { break };
        row.ran(began);
        let trace = fs::read_to_string(shop.folder.path().join("trace")).unwrap_or_default();
        row.struck += usize::from(trace.contains("INJECTED") || trace.contains("SIGKILL"));
        let _ = fs::remove_file(shop.folder.path().join("trace"));
        let said = String::from_utf8_lossy(&output.stderr).into_owned();
        let (code, after) = (output.status.code(), shop.count());
        let told = || format!("{how}: exit {code:?}, {before:?} to {after:?}: {said}");
        row.expect(after.is_some(), || format!("torn: {}", told()));
        row.expect(after == before || after == Some(count), || format!("mixed: {}", told()));
        row.expect(code != Some(0) || after == Some(count), || format!("lost: {}", told()));
        let untrue = after == Some(count) && said.contains("untouched");
        row.expect(!untrue, || format!("untrue: {}", told()));
        // The standard library panics by itself where a folder can't be closed, where there is no
        // randomness, and where a thread gets no memory; the file is whole then too.
        let ours = said.contains("panicked at") && !said.contains("panicked at /rustc/");
        row.expect(!ours, || format!("panics: {}", told()));
    }
    rows
}

/// Several programs answer at once: each either keeps its answer or is refused.
pub(super) fn writers(program: &Path, rounds: usize) -> Row {
    let mut row = Row::new("three writers at once");
    let shop = Shop::open(program);
    for round in 1..=rounds {
        let began = Began::now();
        let questions = ["hose_is_sound=yes", "needle=level", "rod_starts_to_move=unknown"];
        let _ = shop
            .command(&["answer", "b.yaml", "--drop", "needle", "--drop", "hose_is_sound"])
            .output();
        let start = |question: &&str| {
            let mut command = shop.command(&["answer", "b.yaml", question, &answer(round)]);
            command.stdout(Stdio::null()).stderr(Stdio::piped()).spawn().ok()
        };
        let children: Vec<_> = questions.iter().map(start).collect();
        for (question, child) in questions.iter().zip(children) {
            let output = child.and_then(|child| child.wait_with_output().ok());
            let Some(output) = output else { continue };
            row.ran(began);
            let kept = fs::read_to_string(shop.session()).unwrap_or_default();
            let id = question.split('=').next().unwrap_or_default();
            let said = String::from_utf8_lossy(&output.stderr).into_owned();
            if output.status.success() {
                row.expect(kept.contains(id), || format!("{question} was confirmed and is lost"));
            } else {
                row.struck += 1;
                row.expect(said.contains("open in another"), || format!("refused with {said}"));
            }
        }
        row.expect(shop.count() == Some(round), || format!("torn, or no one was let in: {round}"));
    }
    row
}

/// How long a run may take before it counts as hanging.
pub(super) const HANGS: Duration = Duration::from_secs(60);
