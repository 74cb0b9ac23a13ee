//! A person at a real pseudo-terminal: presses keys, waits for what the screen shows. Waits are for
//! text, never for time.

use std::io::{Read, Write};
use std::num::NonZero;
use std::path::Path;
use std::process::Command;
use std::sync::mpsc::{Receiver, channel};
use std::thread;
use std::time::{Duration, Instant};

use portable_pty::{Child, CommandBuilder, MasterPty, PtySize, native_pty_system};

/// Nothing comes for so long only where a key is waited for.
const QUIET: Duration = Duration::from_millis(400);
/// Longer than anything takes on a loaded machine; only a failing test waits so long.
const PATIENCE: Duration = Duration::from_secs(60);

/// Rows enough that nothing a test looks for scrolls away.
const ROWS: u16 = 60;

pub(super) const ENTER: &str = "\r";
pub(super) const DOWN: &str = "\x1b[B";
pub(super) const UP: &str = "\x1b[A";
pub(super) const ESC: &str = "\x1b";
pub(super) const CTRL_C: &str = "\x03";
pub(super) const CTRL_Z: &str = "\x1a";
pub(super) const CTRL_D: &str = "\x04";

pub(super) struct Desk {
    screen: vt100::Parser,
    /// What came since the last key, on a screen of its own: a text that stood there before is not
    /// taken for the answer to a key.
    news: vt100::Parser,
    columns: u16,
    /// All bytes, as they came.
    pub(super) raw: Vec<u8>,
    /// Where the bytes since the last key begin.
    since: usize,
    bytes: Receiver<Vec<u8>>,
    keys: Box<dyn Write + Send>,
    pub(super) child: Box<dyn Child + Send + Sync>,
    /// Held open, since closing it hangs the terminal up.
    pub(super) master: Option<Box<dyn MasterPty + Send>>,
}

/// A command of the program in a folder, with the small pack.
pub(super) fn command(folder: &Path, arguments: &[&str]) -> CommandBuilder {
    let mut command = CommandBuilder::new(program());
    command.args(["--only", "--pack"]);
    command.arg(super::garage::folder());
    command.args(arguments);
    command.cwd(folder);
    command.env("TERM", "xterm-256color");
    command.env_remove("NO_COLOR");
    command
}

pub(super) fn program() -> &'static str {
    env!("CARGO_BIN_EXE_boostwright")
}

impl Desk {
    pub(super) fn start(columns: u16, command: CommandBuilder) -> Self {
        let size = PtySize { rows: ROWS, cols: columns, pixel_width: 0, pixel_height: 0 };
        let pair = native_pty_system().openpty(size).unwrap();
        let child = pair.slave.spawn_command(command).unwrap();
        drop(pair.slave);
        let mut reader = pair.master.try_clone_reader().unwrap();
        let keys = pair.master.take_writer().unwrap();
        let (sender, bytes) = channel();
        thread::spawn(move || {
            let mut chunk = [0; 4096];
            while let Ok(count) = reader.read(&mut chunk) {
                if count == 0 || sender.send(chunk[..count].to_vec()).is_err() {
                    return;
                }
            }
        });
        Self {
            screen: parser(columns),
            news: parser(columns),
            columns,
            raw: Vec::new(),
            since: 0,
            bytes,
            keys,
            child,
            master: Some(pair.master),
        }
    }

    /// The small pack's interview in a folder's `boost.yaml`.
    pub(super) fn ask(columns: u16, folder: &Path) -> Self {
        Self::start(columns, command(folder, &["ask"]))
    }

    /// Presses keys.
    pub(super) fn press(&mut self, keys: &str) -> &mut Self {
        while let Ok(bytes) = self.bytes.try_recv() {
            self.take(&bytes);
        }
        self.news = parser(self.columns);
        self.since = self.raw.len();
        self.keys.write_all(keys.as_bytes()).unwrap();
        self.keys.flush().unwrap();
        self
    }

    /// Types a line.
    pub(super) fn line(&mut self, text: &str) -> &mut Self {
        self.press(&format!("{text}{ENTER}"))
    }

    /// Waits until the screen shows a text since the last key, whatever lines it is wrapped to.
    pub(super) fn sees(&mut self, text: &str) -> &mut Self {
        let wanted = flat(text);
        self.wait(text, |desk| desk.since_last_key().contains(&wanted))
    }

    /// Waits until a prompt stands behind a text: the program is ready for the next key.
    pub(super) fn asked(&mut self, text: &str) -> &mut Self {
        let wanted = flat(text);
        self.wait(text, |desk| {
            let shown = desk.since_last_key();
            shown.rfind(&wanted).is_some_and(|at| shown[at..].ends_with('>'))
        })
    }

    /// Waits until these bytes have come, for screens too narrow to be read.
    pub(super) fn wait_for_bytes(&mut self, wanted: &[u8]) -> &mut Self {
        let what = String::from_utf8_lossy(wanted).into_owned();
        self.wait(&what, |desk| {
            desk.raw[desk.since..].windows(wanted.len()).any(|bytes| bytes == wanted)
        })
    }

    /// Waits until nothing has come for a while: the program waits for a key.
    pub(super) fn wait_for_prompt(&mut self) -> &mut Self {
        while let Ok(bytes) = self.bytes.recv_timeout(QUIET) {
            self.take(&bytes);
        }
        self
    }

    fn wait(&mut self, what: &str, there: impl Fn(&Self) -> bool) -> &mut Self {
        let start = Instant::now();
        while !there(self) {
            let left = PATIENCE.saturating_sub(start.elapsed());
            match self.bytes.recv_timeout(left) {
                Ok(bytes) => self.take(&bytes),
                Err(_) => panic!("{what:?} never came:\n{}", self.screen.screen().contents()),
            }
        }
        self
    }

    fn take(&mut self, bytes: &[u8]) {
        self.screen.process(bytes);
        self.news.process(bytes);
        self.raw.extend_from_slice(bytes);
    }

    /// The screen as running text.
    pub(super) fn shown(&self) -> String {
        flat(&self.screen.screen().contents())
    }

    fn since_last_key(&self) -> String {
        flat(&self.news.screen().contents())
    }

    pub(super) fn cursor_is_hidden(&self) -> bool {
        self.screen.screen().hide_cursor()
    }

    /// Waits for the end of the program and gives its exit code.
    pub(super) fn end(&mut self) -> u32 {
        let start = Instant::now();
        loop {
            if let Some(status) = self.child.try_wait().unwrap() {
                while let Ok(bytes) = self.bytes.recv_timeout(Duration::from_secs(1)) {
                    self.take(&bytes);
                }
                return status.exit_code();
            }
            assert!(start.elapsed() < PATIENCE, "it goes on:\n{}", self.shown());
            thread::yield_now();
        }
    }

    /// Sends a signal to the program.
    pub(super) fn signal(&mut self, name: &str) -> &mut Self {
        let id = self.child.process_id().unwrap().to_string();
        assert!(Command::new("kill").args(["-s", name, &id]).status().unwrap().success());
        self
    }
}

fn parser(columns: u16) -> vt100::Parser {
    let cells = |count| NonZero::new(count).unwrap();
    vt100::Parser::new(cells(ROWS), cells(columns), 0)
}

fn flat(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}
