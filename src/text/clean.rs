//! Text that is safe to show. Packs, sessions and file names come from strangers; whatever writes to a
//! terminal or makes a result takes this type, so that nothing of theirs gets there but through here.

use std::borrow::Borrow;
use std::fmt;
use std::ops::Deref;

use super::letters::is_clean;

/// A text without letters that could drive a terminal, turn the reading direction or hide something.
/// Each of those is replaced by U+FFFD, so that the tampering shows; a tab becomes a space. Line ends
/// stay, unless it was made by [`Clean::line`].
#[derive(Debug, Clone, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Clean(String);

impl Clean {
    /// The text made safe.
    #[must_use]
    pub fn new(text: impl Into<String>) -> Self {
        let text = text.into();
        if text.chars().all(stays) { Self(text) } else { Self(text.chars().map(cleaned).collect()) }
    }

    /// The text made safe, on one line.
    #[must_use]
    pub fn line(text: impl AsRef<str>) -> Self {
        Self::new(text.as_ref().replace('\n', " "))
    }

    /// The text made safe, but for its colours: control sequences "select graphic rendition" stay
    /// (ECMA-48:1991, 8.3.117), which do no more than colour.
    #[must_use]
    pub fn coloured(text: &str) -> Self {
        let mut safe = String::with_capacity(text.len());
        let mut rest = text;
        while let Some(start) = rest.find("\u{1b}[") {
            let parameters = &rest[start + 2..];
            let end = parameters.find(|letter: char| !matches!(letter, '0'..='9' | ';'));
            let colour = end.filter(|end| parameters[*end..].starts_with('m'));
            let kept = colour.map_or(1, |end| end + 3);
            safe.extend(rest[..start].chars().map(cleaned));
            match colour {
                Some(_) => safe.push_str(&rest[start..start + kept]),
                None => safe.push(char::REPLACEMENT_CHARACTER),
            }
            rest = &rest[start + kept..];
        }
        safe.extend(rest.chars().map(cleaned));
        Self(safe)
    }

    /// JSON made safe and still the same JSON: letters that could drive a terminal are written as
    /// escapes, since they only stand within its texts.
    #[must_use]
    pub fn json(json: &str) -> Self {
        let mut safe = String::with_capacity(json.len());
        let mut copied = 0;
        for (place, letter) in json.match_indices(|letter| !stays(letter)) {
            safe.push_str(&json[copied..place]);
            safe.extend(letter.encode_utf16().map(|unit| format!("\\u{unit:04x}")));
            copied = place + letter.len();
        }
        safe.push_str(&json[copied..]);
        Self(safe)
    }

    /// Safe texts one behind the other.
    #[must_use]
    pub fn join(texts: &[Self], between: &str) -> Self {
        Self(texts.join(Self::from(between).as_str()))
    }

    #[must_use]
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

fn stays(letter: char) -> bool {
    letter == '\n' || is_clean(letter)
}

fn cleaned(letter: char) -> char {
    match letter {
        '\t' => ' ',
        letter if stays(letter) => letter,
        _ => char::REPLACEMENT_CHARACTER,
    }
}

impl Deref for Clean {
    type Target = str;

    fn deref(&self) -> &str {
        &self.0
    }
}

impl Borrow<str> for Clean {
    fn borrow(&self) -> &str {
        &self.0
    }
}

impl AsRef<str> for Clean {
    fn as_ref(&self) -> &str {
        &self.0
    }
}

impl fmt::Display for Clean {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&self.0)
    }
}

impl PartialEq<str> for Clean {
    fn eq(&self, other: &str) -> bool {
        self.0 == other
    }
}

impl PartialEq<&str> for Clean {
    fn eq(&self, other: &&str) -> bool {
        self.0 == *other
    }
}

impl From<&str> for Clean {
    fn from(text: &str) -> Self {
        Self::new(text)
    }
}

impl From<String> for Clean {
    fn from(text: String) -> Self {
        Self::new(text)
    }
}

impl From<&String> for Clean {
    fn from(text: &String) -> Self {
        Self::new(text.as_str())
    }
}

impl From<&Self> for Clean {
    fn from(text: &Self) -> Self {
        text.clone()
    }
}

impl From<Clean> for String {
    fn from(text: Clean) -> Self {
        text.0
    }
}
