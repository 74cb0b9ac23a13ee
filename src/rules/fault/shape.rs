//! Faults of a file as such: no text, no YAML, or the wrong shape.

use super::code::Code;
use super::kind::{FaultKind, Told};
use crate::rules::yaml::DEEPEST;

/// What is wrong with the text or the shape of a file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum ShapeFault {
    Utf16,
    Binary,
    NotUtf8,
    EmptyFile,
    SteeringLetter {
        letter: char,
    },
    UnseenLetter {
        letter: char,
    },
    TooDeep,
    /// In the words of the reader, or of what the author most likely did.
    NoYaml {
        message: String,
        help: String,
    },
    /// Something of YAML that is not read in files called so.
    Banned {
        what: &'static str,
        called: &'static str,
    },
    RepeatedKey {
        key: String,
    },
    /// `what`: a field, or what a key at the top is called.
    UnknownField {
        what: &'static str,
        key: String,
        help: String,
    },
    WrongShape {
        message: String,
        help: String,
    },
}

impl FaultKind for ShapeFault {
    fn told(&self) -> Told {
        match self {
            Self::Utf16 => {
                Told::error(Code::NoText, "the file is UTF-16, not UTF-8", "save it again as UTF-8")
                    .labelled("here")
            }
            Self::Binary => Told::error(
                Code::NoText,
                "the file is no text",
                "take it out of the folder, or let it end in something else",
            )
            .labelled("here"),
            Self::NotUtf8 => Told::error(
                Code::NoText,
                "this letter is no UTF-8",
                "save the file again as UTF-8: editors call it encoding",
            )
            .labelled("here"),
            Self::EmptyFile => Told::warning(
                Code::EmptyFile,
                "the file holds no rules",
                "write a section into it, or delete the file",
            ),
            Self::SteeringLetter { letter } => Told::error(
                Code::SteeringLetter,
                format!("the letter U+{:04X} steers the screen and is no text", u32::from(*letter)),
                "take it out",
            ),
            Self::UnseenLetter { letter } => Told::warning(
                Code::UnseenLetter,
                format!(
                    "the letter U+{:04X} is not seen, and is shown as \u{fffd}",
                    u32::from(*letter)
                ),
                "take it out; it may have come along with a copied text",
            ),
            Self::TooDeep => Told::error(
                Code::DeepYaml,
                format!(
                    "the file can't be read as YAML: lists and mappings lie more than {DEEPEST} \
                     deep in one another"
                ),
                "no rule needs that: take brackets out",
            ),
            Self::NoYaml { message, help } => Told::error(
                Code::NoYaml,
                format!("the file can't be read as YAML: {message}"),
                help.as_str(),
            )
            .labelled("the reader gave up here"),
            Self::Banned { what, called } => {
                let help = match *what {
                    "a second document" => "take the line out: a file is one document",
                    "a tag" => "take it out; a text that starts with ! needs quotes",
                    "an anchor" => "write the value out; a text that starts with & needs quotes",
                    _ => "write the values out where they belong",
                };
                Told::error(Code::BannedYaml, format!("{what} is not read in {called}"), help)
            }
            Self::RepeatedKey { key } => Told::error(
                Code::RepeatedKey,
                format!("{key} stands twice in one mapping"),
                "keep one of the two, or rename one",
            )
            .labelled("the second"),
            Self::UnknownField { what, key, help } => {
                Told::error(Code::UnknownField, format!("unknown {what} {key}"), help.as_str())
                    .labelled("not known")
            }
            Self::WrongShape { message, help } => {
                Told::error(Code::WrongShape, message.as_str(), help.as_str()).labelled("here")
            }
        }
    }
}
