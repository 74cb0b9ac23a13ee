//! A result that goes to a file, where one is named.

use std::fs::{self, FileType, OpenOptions};
use std::io::{Read, Write};
use std::path::Path;

use super::arguments::PagingOptions;
use super::exit::{Exit, Failure, OutFault, reason};
use super::{output, pager};
use crate::session::{OnDisk, is_own_stream, kind_of, open_to_read, write_whole};
use crate::text::Clean;

/// The most of a file that is looked at for what it is: no session or file of rules is larger.
const MAX_BYTES: u64 = 4 << 20;

/// Prints a result, or writes it to a file; never over a session or a file of rules. Tells how the
/// person left what was printed.
pub(super) fn deliver(
    text: &Clean,
    out: Option<&Path>,
    session: &Path,
    paging: &PagingOptions,
) -> Result<Exit, Failure> {
    match out {
        Some(out) => write(text, out, session).map(|()| Exit::Done),
        None => pager::result(text, paging),
    }
}

fn write(text: &Clean, out: &Path, session: &Path) -> Result<(), Failure> {
    let refuse = |why| Failure::Out { path: out.to_path_buf(), why };
    if is_same(out, session) {
        return Err(refuse(OutFault::TheSession));
    }
    if let (Ok(to), Err(_)) = (fs::read_link(out), fs::metadata(out)) {
        return Err(refuse(OutFault::Dangling { to }));
    }
    let kind = fs::metadata(out).map(|about| about.file_type());
    if is_own_stream(out) || kind.as_ref().is_ok_and(is_letter_device) {
        let stream = OpenOptions::new().write(true).open(out);
        return output::written(stream.and_then(|mut stream| stream.write_all(text.as_bytes())));
    }
    if kind.is_ok_and(|kind| !kind.is_file() && !kind.is_dir()) {
        return Err(refuse(OutFault::NotPlain));
    }
    if let Some(what) = work_in(out) {
        return Err(refuse(OutFault::Work { what }));
    }
    match write_whole(out, |file| file.write_all(text.as_bytes())) {
        Ok(OnDisk::Safe) => Ok(()),
        Ok(OnDisk::Unsynced(error)) => {
            output::message(format!(
                "{} is written, but not yet safe against a power cut: {}.",
                out.display(),
                reason(&error)
            ));
            Ok(())
        }
        Err(error) => Err(refuse(OutFault::Unwritten(error))),
    }
}

fn is_same(out: &Path, session: &Path) -> bool {
    match (fs::canonicalize(out), fs::canonicalize(session)) {
        (Ok(out), Ok(session)) => out == session,
        _ => false,
    }
}

/// What of a person's work lies in a file, in words.
fn work_in(out: &Path) -> Option<&'static str> {
    let mut bytes = Vec::new();
    open_to_read(out).ok()?.take(MAX_BYTES).read_to_end(&mut bytes).ok()?;
    let yaml = out.extension().is_some_and(|ending| ending == "yaml" || ending == "yml");
    kind_of(&String::from_utf8_lossy(&bytes), yaml).map(|kind| kind.called())
}

/// A device that takes letters as they come, as `/dev/null` does; nobody has to wait at its other end.
#[cfg(unix)]
fn is_letter_device(kind: &FileType) -> bool {
    use std::os::unix::fs::FileTypeExt;
    kind.is_char_device()
}

#[cfg(not(unix))]
fn is_letter_device(_: &FileType) -> bool {
    false
}
