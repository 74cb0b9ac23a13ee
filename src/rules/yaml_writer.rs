//! Types to YAML text that reads back as the very same.

use std::collections::HashMap;
use std::error::Error;
use std::fmt;

use serde::Serialize;
use serde_yaml::Value;

use super::quoted::quoted;
use crate::text::is_clean;

/// Why a value can't be written as YAML. No value of this program is of such a shape.
#[derive(Debug)]
pub enum WriteError {
    KeyIsNoText,
    /// What the library refuses.
    Library(Box<dyn Error + Send + Sync>),
}

fn library(error: serde_yaml::Error) -> WriteError {
    WriteError::Library(error.into())
}

impl fmt::Display for WriteError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::KeyIsNoText => f.write_str("a key is not text"),
            Self::Library(error) => error.fmt(f),
        }
    }
}

impl Error for WriteError {
    fn source(&self) -> Option<&(dyn Error + 'static)> {
        match self {
            Self::KeyIsNoText => None,
            Self::Library(error) => Some(error.as_ref()),
        }
    }
}

/// Writes a type as YAML text. A text with letters that are not clean stands in double quotes on one
/// line: some of them end a line for one reader and not for another.
///
/// # Errors
/// Where a value can't be written.
pub fn write<T: Serialize>(value: &T) -> Result<String, WriteError> {
    let value = serde_yaml::to_value(value).map_err(library)?;
    let mut out = String::new();
    write_block(&value, 0, &mut out)?;
    Ok(out)
}

/// Writes a mapping or list whose first entry starts at a column where the text stands already.
fn write_block(value: &Value, column: usize, out: &mut String) -> Result<(), WriteError> {
    match value {
        Value::Mapping(fields) if !fields.is_empty() => {
            for (index, (key, value)) in fields.iter().enumerate() {
                indent(if index > 0 { column } else { 0 }, out);
                write_key(key, column, out)?;
                match value {
                    Value::Mapping(inner) if !inner.is_empty() => {
                        out.push('\n');
                        indent(column + 2, out);
                        write_block(value, column + 2, out)?;
                    }
                    Value::Sequence(inner) if !inner.is_empty() => {
                        out.push('\n');
                        indent(column, out);
                        write_block(value, column, out)?;
                    }
                    _ => out.push_str(&scalar(value, column)?),
                }
            }
            Ok(())
        }
        Value::Sequence(items) if !items.is_empty() => {
            for (index, item) in items.iter().enumerate() {
                indent(if index > 0 { column } else { 0 }, out);
                out.push('-');
                let block = match item {
                    Value::Mapping(inner) => !inner.is_empty(),
                    Value::Sequence(inner) => !inner.is_empty(),
                    _ => false,
                };
                if block {
                    out.push(' ');
                    write_block(item, column + 2, out)?;
                } else {
                    out.push_str(&scalar(item, column)?);
                }
            }
            Ok(())
        }
        _ => {
            out.push_str(scalar(value, column)?.trim_start());
            Ok(())
        }
    }
}

fn indent(column: usize, out: &mut String) {
    out.extend(std::iter::repeat_n(' ', column));
}

/// The longest key that readers take before a colon on its own line; YAML lets it be 1024.
const MAX_KEY: usize = 128;

fn write_key(key: &Value, column: usize, out: &mut String) -> Result<(), WriteError> {
    let Value::String(key) = key else { return Err(WriteError::KeyIsNoText) };
    let written = if key.contains('\n') {
        quoted(key)
    } else {
        scalar(&Value::String(key.clone()), column)?.trim().to_owned()
    };
    if written.len() > MAX_KEY {
        out.push_str("? ");
        out.push_str(&written);
        out.push('\n');
        indent(column, out);
    } else {
        out.push_str(&written);
    }
    out.push(':');
    Ok(())
}

/// What has no entries of its own, from the space before it to the line's end; further lines of a text
/// stand deeper than the column.
fn scalar(value: &Value, column: usize) -> Result<String, WriteError> {
    if let Value::String(text) = value
        && !text.chars().all(|letter| letter == '\n' || is_clean(letter))
    {
        return Ok(format!(" {}\n", quoted(text)));
    }
    let field = [("k", value)].into_iter().collect::<HashMap<_, _>>();
    let written = serde_yaml::to_string(&field).map_err(library)?;
    let written = written.strip_prefix("k:").unwrap_or(&written);
    let mut lines = written.lines();
    let mut out = lines.next().unwrap_or_default().to_owned();
    for line in lines {
        out.push('\n');
        indent(if line.is_empty() { 0 } else { column }, &mut out);
        out.push_str(line);
    }
    out.push('\n');
    Ok(out)
}
