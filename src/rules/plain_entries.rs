//! Where the entries of a plainly written rule file stand, without reading it as YAML.

use std::collections::HashMap;
use std::ops::Range;

/// How far entries are indented where a file is written plainly.
const INDENT: &str = "  ";

/// The keys of entries, by section and id, in a file whose sections start in the first column and
/// whose entries are indented by two, each with its colon in the same line.
pub(super) fn plain_entries(text: &str) -> HashMap<(&str, &str), Range<usize>> {
    let mut found = HashMap::new();
    let is_lowercase = |letter: char| letter.is_ascii_lowercase();
    let (mut section, mut start) = ("", 0);
    for line in text.split_inclusive('\n') {
        let inner = line.strip_prefix(INDENT);
        // Most lines lie deeper, and have no key that is looked for.
        let entry = Some(inner.unwrap_or(line)).filter(|line| line.starts_with(is_lowercase));
        if let Some((key, _)) = entry.and_then(|line| line.split_once(':')) {
            match inner {
                None => section = key,
                Some(_) => {
                    let from = start + INDENT.len();
                    found.entry((section, key)).or_insert(from..from + key.len());
                }
            }
        }
        start += line.len();
    }
    found
}
