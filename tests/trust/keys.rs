//! Keys nobody would press, at a real pseudo-terminal: the interview neither panics nor hangs, and what
//! is saved can be read.

use std::io::{Read, Write};
use std::path::Path;
use std::time::{Duration, Instant};

use boostwright::session::read_session;
use portable_pty::{CommandBuilder, PtySize, native_pty_system};
use rand::{RngExt, SeedableRng};
use rand_xoshiro::Xoshiro256PlusPlus;

use super::saving::{HANGS, Shop};
use super::table::Row;

/// Keys, pastes and bytes that are no text.
const KEYS: [&[u8]; 22] = [
    b"\r",
    b"\r",
    b"1\r",
    b"2\r",
    b"3",
    b"y\r",
    b"l\r",
    b"c\r",
    b"b\r",
    b"h\r",
    b"w\r",
    b"?\r",
    b"0.9 bar\r",
    b"0,5",
    b"\x7f",
    b"\x1b",
    b"\x1b[A",
    b"\x1b[B",
    b"\xff\xfe",
    b"\x00",
    "\u{202e}漢\u{1b}[2J".as_bytes(),
    b"0.85 bar \xc2\xb1 1e300\r",
];

/// So many interviews of some dozen keys each.
pub(super) fn keys(program: &Path, interviews: usize, seed: u64) -> Row {
    let mut row = Row::new("keys at a terminal");
    let mut random = Xoshiro256PlusPlus::seed_from_u64(seed);
    for interview in 0..interviews {
        let shop = Shop::open(program);
        let began = Instant::now();
        match typed(&shop, &mut random) {
            Ok((pressed, told, ended)) => {
                row.struck += pressed;
                let text = String::from_utf8_lossy(&told);
                row.expect(!text.contains("panicked"), || format!("panics: {text}"));
                row.expect(ended, || format!("interview {interview} hangs"));
            }
            Err(error) => row.fail(error.to_string()),
        }
        row.tried += 1;
        row.slowest = row.slowest.max(began.elapsed());
        let read = read_session(&shop.session());
        row.expect(read.is_ok(), || format!("unreadable after interview {interview}"));
    }
    row
}

/// Presses keys, then asks to end; how many, all that was shown, and whether it ended by itself.
fn typed(
    shop: &Shop,
    random: &mut Xoshiro256PlusPlus,
) -> Result<(usize, Vec<u8>, bool), Box<dyn std::error::Error>> {
    let size = |rows, cols| PtySize { rows, cols, pixel_width: 0, pixel_height: 0 };
    let pair = native_pty_system().openpty(size(40, 80))?;
    let mut command = CommandBuilder::new(&shop.program);
    command.args(Shop::arguments(&["ask", "b.yaml"]));
    command.cwd(shop.folder.path());
    command.env("TERM", "xterm-256color");
    let mut child = pair.slave.spawn_command(command)?;
    drop(pair.slave);
    let mut reader = pair.master.try_clone_reader()?;
    let shown = std::thread::spawn(move || {
        let mut all = Vec::new();
        let _ = reader.read_to_end(&mut all);
        all
    });
    let mut keys = pair.master.take_writer()?;
    let presses = random.random_range(10..60);
    for _ in 0..presses {
        std::thread::sleep(Duration::from_millis(random.random_range(0..40)));
        let key = KEYS.get(random.random_range(0..KEYS.len())).copied().unwrap_or_default();
        if keys.write_all(key).is_err() {
            break;
        }
        if random.random_range(0..10) == 0 {
            let _ =
                pair.master.resize(size(random.random_range(1..50), random.random_range(1..200)));
        }
    }
    let asked = Instant::now();
    let ended = loop {
        if child.try_wait()?.is_some() {
            break true;
        }
        if asked.elapsed() > HANGS {
            child.kill()?;
            break false;
        }
        let _ = keys.write_all(b"\x03");
        std::thread::sleep(Duration::from_millis(50));
    };
    drop(keys);
    drop(pair.master);
    Ok((presses, shown.join().unwrap_or_default(), ended))
}
