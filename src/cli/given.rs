//! Answers as they stand on the command line: `id=value`, or `id=@FILE` for the rows of a table.

use std::io::Read;
use std::path::Path;

use indexmap::IndexMap;

use super::exit::Failure;
use crate::rules::Given;
use crate::session::{NotOpened, open_to_read};

/// The largest file of rows that is read.
const MAX_BYTES: u64 = 64 << 10;

/// Takes the answers apart, each id once.
pub(super) fn answers(texts: &[String]) -> Result<IndexMap<String, Given>, Failure> {
    let mut answers = IndexMap::new();
    for text in texts {
        let Some((id, value)) = text.split_once('=') else {
            return Err(Failure::new(format!(
                "{text} is no answer: write an id, = and a value, as in hose_is_sound=yes"
            )));
        };
        let id = id.trim();
        let given = match value.strip_prefix('@') {
            Some(file) => rows_in(Path::new(file))?,
            None => value.trim().to_owned(),
        };
        if answers.insert(id.to_owned(), Given::Text(given)).is_some() {
            return Err(Failure::new(format!("{id} is answered twice: leave one of the two out")));
        }
    }
    Ok(answers)
}

/// A file with a row a line as one text. Empty lines and those behind # are passed over.
fn rows_in(path: &Path) -> Result<String, Failure> {
    let refuse = |why: &str| Failure::new(format!("{}: {why}", path.display()));
    let mut bytes = Vec::new();
    let unreadable = |error| refuse(&format!("the rows can't be read: {error}"));
    let file = open_to_read(path).map_err(|refused| match refused {
        NotOpened::Folder => refuse("this is a folder: name a file with a row a line"),
        NotOpened::NotPlain => refuse("this is no plain file: name one with a row a line"),
        NotOpened::Error(error) => unreadable(error),
    })?;
    file.take(MAX_BYTES + 1).read_to_end(&mut bytes).map_err(unreadable)?;
    if bytes.len() as u64 > MAX_BYTES {
        return Err(refuse("the file is larger than 64 KiB, which no table to type in is"));
    }
    let text = String::from_utf8(bytes)
        .map_err(|_| refuse("the file is no text (UTF-8): save it as text, a row a line"))?;
    let rows: Vec<&str> = text
        .trim_start_matches('\u{feff}')
        .lines()
        .map(str::trim)
        .filter(|row| !row.is_empty() && !row.starts_with('#'))
        .collect();
    Ok(rows.join("; "))
}
