//! The rule files in the binary, as `build.rs` puts them there.

use super::fault::FileText;
use super::written::File;

/// A rule file in the binary.
struct BuiltIn {
    name: &'static str,
    text: &'static str,
    /// What the text says; none where it can't be read.
    json: Option<Json>,
}

struct Json {
    /// All but the cases.
    rules: &'static str,
    cases: &'static str,
}

include!(concat!(env!("OUT_DIR"), "/built_in.rs"));

/// Each file with what is written in it, its cases only where they are wanted. Where nothing is
/// given for that, the text is faulty.
pub(super) fn files(cases: bool) -> impl Iterator<Item = (FileText, Option<File>)> {
    BUILT_IN.iter().map(move |file| {
        let text = FileText { name: file.name.to_owned(), text: file.text.into() };
        (text, file.json.as_ref().and_then(|json| json.written(cases).ok()))
    })
}

impl Json {
    fn written(&self, cases: bool) -> serde_json::Result<File> {
        let mut file: File = serde_json::from_str(self.rules)?;
        if cases {
            file.cases = serde_json::from_str(self.cases)?;
        }
        Ok(file)
    }
}

/// How many there are.
pub(super) const fn count() -> usize {
    BUILT_IN.len()
}

/// The digest of the files, in their order.
pub(super) const DIGEST: u64 = BUILT_IN_DIGEST;
