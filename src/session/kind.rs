//! What a file is by its text, so that nobody's work is written over: a session, answers, rules, or
//! nothing of this program.

use indexmap::IndexMap;
use serde::de::IgnoredAny;

use super::check::session_from;
use super::written::{Written, opens_like_a_session};
use crate::rules::explain::RULE_FILE;
use crate::rules::fields_of;
use crate::rules::yaml::read;

/// What a text holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TextKind {
    Session,
    /// Answers, with or without rounds.
    Answers,
    Rules,
}

impl TextKind {
    /// As messages call it.
    #[must_use]
    pub fn called(self) -> &'static str {
        match self {
            Self::Session => "a session",
            Self::Answers => "a file of answers",
            Self::Rules => "a file of rules",
        }
    }
}

/// What a text holds; none where it is nothing of this program. `yaml`: its name ends as rule files do.
#[must_use]
pub fn kind_of(text: &str, yaml: bool) -> Option<TextKind> {
    if opens_like_a_session(text) {
        return Some(TextKind::Session);
    }
    if session_from("", text.to_owned()).is_ok() {
        return Some(TextKind::Answers);
    }
    if !yaml {
        return None;
    }
    // A conclusion as JSON is YAML too, but has fields that neither has.
    let keys = top_keys(text);
    let all_in =
        |known: &[&str]| !keys.is_empty() && keys.iter().all(|key| known.contains(&key.as_str()));
    let sections: Vec<&str> = RULE_FILE.fields.iter().map(|field| field.name).collect();
    if all_in(&sections) {
        return Some(TextKind::Rules);
    }
    all_in(fields_of::<Written>().unwrap_or_default()).then_some(TextKind::Answers)
}

/// The keys at the top of a text. Of one that is no YAML, perhaps by a slip, those known keys that
/// begin a line.
fn top_keys(text: &str) -> Vec<String> {
    if let Ok(found) = read::<IndexMap<String, IgnoredAny>>(text) {
        return found.into_keys().collect();
    }
    let known = RULE_FILE.fields.iter().map(|field| field.name);
    let known: Vec<&str> =
        known.chain(fields_of::<Written>().unwrap_or_default().iter().copied()).collect();
    let keys = text.lines().filter_map(|line| line.split_once(':')).map(|(key, _)| key);
    keys.filter(|key| known.contains(key)).map(str::to_owned).collect()
}
