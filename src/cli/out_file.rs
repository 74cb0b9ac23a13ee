//! A result that goes to a file, where one is named.

use std::fs::{self, OpenOptions};
use std::io::{self, Write};
use std::path::Path;

use super::exit::Failure;
use super::output;
use crate::session::write_whole;

/// Prints a result, or writes it to a file; never over the session it comes from.
pub(super) fn deliver(text: &str, out: Option<&Path>, session: &Path) -> Result<(), Failure> {
    let Some(out) = out else {
        return output::result(text);
    };
    if is_same(out, session) {
        return Err(Failure::new(format!(
            "{} is the session itself: name another file for --out",
            out.display()
        )));
    }
    write(text, out).map_err(|error| {
        Failure::new(format!("{} can't be written: {}", out.display(), output::reason(&error)))
    })
}

fn is_same(out: &Path, session: &Path) -> bool {
    match (fs::canonicalize(out), fs::canonicalize(session)) {
        (Ok(out), Ok(session)) => out == session,
        _ => false,
    }
}

fn write(text: &str, out: &Path) -> io::Result<()> {
    let is_device = fs::metadata(out).is_ok_and(|about| !about.is_file() && !about.is_dir());
    if is_device {
        return OpenOptions::new().write(true).open(out)?.write_all(text.as_bytes());
    }
    write_whole(out, |file| file.write_all(text.as_bytes()))
}
