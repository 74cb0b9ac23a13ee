//! Answers as they stand on the command line: `id=value`, or `id=@FILE` for the rows of a table.

use std::io::Read;
use std::path::Path;

use indexmap::IndexMap;

use super::exit::{Failure, RowsFault};
use crate::rules::Given;
use crate::session::{NotOpened, open_to_read};

/// The largest file of rows that is read.
const MAX_BYTES: u64 = 64 << 10;

/// Takes the answers apart, each id once.
pub(super) fn answers(texts: &[String]) -> Result<IndexMap<String, Given>, Failure> {
    let mut answers = IndexMap::new();
    for text in texts {
        let Some((id, value)) = text.split_once('=') else {
            return Err(Failure::NotAnswered { text: text.clone() });
        };
        let id = id.trim();
        let given = match value.strip_prefix('@') {
            Some(file) => rows_in(Path::new(file))?,
            None => value.trim().to_owned(),
        };
        if answers.insert(id.to_owned(), Given::Text(given)).is_some() {
            return Err(Failure::AnsweredTwice { id: id.to_owned() });
        }
    }
    Ok(answers)
}

/// A file with a row a line as one text. Empty lines and those behind # are passed over.
fn rows_in(path: &Path) -> Result<String, Failure> {
    let refuse = |why| Failure::Rows { path: path.to_path_buf(), why };
    let mut bytes = Vec::new();
    let unreadable = |error| refuse(RowsFault::Unreadable(error));
    let file = open_to_read(path).map_err(|refused| match refused {
        NotOpened::Folder => refuse(RowsFault::Folder),
        NotOpened::NotPlain => refuse(RowsFault::NotPlain),
        NotOpened::Error(error) => unreadable(error),
    })?;
    file.take(MAX_BYTES + 1).read_to_end(&mut bytes).map_err(unreadable)?;
    if bytes.len() as u64 > MAX_BYTES {
        return Err(refuse(RowsFault::TooLarge));
    }
    let text = String::from_utf8(bytes).map_err(|_| refuse(RowsFault::NotText))?;
    let rows: Vec<&str> = text
        .trim_start_matches('\u{feff}')
        .lines()
        .map(str::trim)
        .filter(|row| !row.is_empty() && !row.starts_with('#'))
        .collect();
    Ok(rows.join("; "))
}
