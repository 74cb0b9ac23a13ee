//! As much of Markdown as the guides use: headings and fenced blocks.

/// A fenced block and where it stands.
pub(super) struct Block<'a> {
    /// The heading it stands under, without its signs.
    pub(super) heading: &'a str,
    /// The word behind the fence: `yaml`, `console`, `text`.
    pub(super) language: &'a str,
    pub(super) text: String,
}

/// Every fenced block, in order.
pub(super) fn blocks(page: &str) -> Vec<Block<'_>> {
    let mut found = Vec::new();
    let mut heading = "";
    let mut open: Option<Block<'_>> = None;
    for line in page.lines() {
        match (line.strip_prefix("```"), &mut open) {
            (Some(_), Some(_)) => found.extend(open.take()),
            (Some(language), None) => {
                open = Some(Block { heading, language, text: String::new() });
            }
            (None, Some(block)) => {
                block.text.push_str(line);
                block.text.push('\n');
            }
            (None, None) if line.starts_with('#') => {
                heading = line.trim_start_matches('#').trim();
            }
            (None, None) => {}
        }
    }
    assert!(open.is_none(), "a block is never closed");
    found
}

/// The text under a heading, up to the next of any depth.
pub(super) fn section<'a>(page: &'a str, heading: &str) -> &'a str {
    let start = page
        .find(&format!("\n{heading}\n"))
        .unwrap_or_else(|| panic!("there is no heading {heading}"));
    let behind = &page[start + heading.len() + 2..];
    behind.find("\n#").map_or(behind, |end| &behind[..end])
}

/// What stands between single backticks.
pub(super) fn code_words(text: &str) -> Vec<&str> {
    text.split('`').skip(1).step_by(2).collect()
}
