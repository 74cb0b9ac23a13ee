//! Faults of a file as such: no text, no YAML, or the wrong shape.

use super::code::Code;
use super::kind::{FaultKind, Told};
use super::table::fault_table;
use crate::rules::yaml::{COMPOUND_KEY, MAX_DEPTH};

fault_table! {
    /// What is wrong with the text or the shape of a file.
    ShapeFault;

    Utf16 => error NoText "the file is UTF-16, not UTF-8", "save it again as UTF-8", "here";
    Utf16Unmarked => error NoText
        "the file looks like UTF-16, not UTF-8: every second byte is NUL",
        "save it again as UTF-8", "here";
    AppleDouble => error NoText
        "the file holds what a Mac keeps beside a file (AppleDouble), and no rules",
        "delete it, or give it another ending", "here";
    Nul => error NoText
        "this is a NUL byte, which no text has",
        "take it out; if the file is no text, take that out of the folder", "here";
    Binary => error NoText
        "the file is not text", "take it out of the folder, or give it another ending", "here";
    Link => warning Link
        "this is a link, and links are not followed: nothing of it was read",
        "put the file itself into the folder, or delete the link";
    NotUtf8 => error NoText
        "this letter is not UTF-8", "save the file again as UTF-8: editors call it encoding", "here";
    EmptyFile => warning EmptyFile
        "the file holds no rules", "write a section into it, or delete the file";
    SteeringLetter { letter: char } => error SteeringLetter
        format!("the character U+{:04X} controls the screen and is not text", u32::from(*letter)),
        "take it out";
    UnseenLetter { letter: char } => warning UnseenLetter
        format!("the character U+{:04X} is invisible, and is shown as \u{fffd}", u32::from(*letter)),
        "remove it; it may have come with copied text";
    TooDeep => error DeepYaml
        format!(
            "the file can't be read as YAML: lists and mappings are nested more than {MAX_DEPTH} \
             deep"
        ),
        "no rule needs that: remove some brackets";
    /// In the words of the reader, or of what the author most likely did.
    NoYaml { message: String, help: String } => error NoYaml
        format!("the file can't be read as YAML: {message}"), help, "the reader gave up here";
    /// Something of YAML that is not read in files called so.
    Banned { what: &'static str, called: &'static str } => error BannedYaml
        format!("{what} is not read in {called}"), in_place_of(what);
    RepeatedKey { key: String } => error RepeatedKey
        format!("{key} is given twice in one mapping"),
        "keep one of the two, or rename one",
        "the second";
    /// `what`: a field, or what a key at the top is called.
    UnknownField { what: &'static str, key: String, help: String } => error UnknownField
        format!("unknown {what} {key}"), help, "not known";
    WrongShape { message: String, help: String } => error WrongShape message, help, "here";
}

fn in_place_of(banned: &str) -> &'static str {
    match banned {
        "a second document" => "remove the line: a file is one document",
        "a tag" => "remove it; a text that starts with ! needs quotes",
        COMPOUND_KEY => "write a plain name before the colon",
        "an anchor" => "write the value out; a text that starts with & needs quotes",
        _ => "write the values out where they belong",
    }
}
