//! Where a text stops being YAML: what the author most likely did, and what to do about it. The
//! parser only knows where it gave up, which is often a line below the mistake.

use std::ops::Range;

use super::fault::{Fault, Mark, Place, ShapeFault};
use super::yaml::{Stop, Why};

/// What is wrong, where, and the way out.
struct Told {
    message: String,
    bytes: Range<usize>,
    help: String,
}

impl Told {
    fn new(message: impl Into<String>, bytes: Range<usize>, help: impl Into<String>) -> Self {
        Self { message: message.into(), bytes, help: help.into() }
    }
}

/// The fault of a file that can't be read as YAML.
pub(super) fn unreadable_fault(file: usize, text: &str, stop: &Stop) -> Fault {
    let here = stop.at..stop.at + 1;
    let place = |bytes| Place { file, route: Vec::new(), mark: Mark::Bytes(bytes) };
    let told = match &stop.why {
        Why::TooDeep => return Fault::new(ShapeFault::TooDeep, place(here)),
        Why::Unclosed => {
            let bracket = text.get(here.clone()).unwrap_or("[");
            let (what, close) = if bracket == "{" { ("brace", "}") } else { ("bracket", "]") };
            let help =
                format!("write {close} where it ends; a text that starts with it needs quotes");
            Told::new(format!("this {what} is never closed"), here, help)
        }
        Why::Syntax(message) => syntax(text, stop.at, message),
    };
    let Told { message, bytes, help } = told;
    Fault::new(ShapeFault::NoYaml { message, help }, place(bytes))
}

fn syntax(text: &str, at: usize, message: &str) -> Told {
    let here = at..at + 1;
    let spaces = "indent with spaces, not with tabs";
    if indented_with_a_tab(text, at) {
        return Told::new("a tab indents this line", here, spaces);
    }
    if message.contains("tab character") {
        // Where it matters only to the line below, the parser gave up above it.
        return match next_indenting_tab(text, at) {
            Some(tab) => Told::new("a tab indents this line", tab..tab + 1, spaces),
            None => Told::new(message, here, spaces),
        };
    }
    if goes_on_behind_a_bracket(text, at) {
        let message = "text continues after a bracket";
        return Told::new(message, here, "put the whole text in quotes");
    }
    if goes_on_behind_a_quote(text, at) {
        let help = "put ' around a text that holds \", or the other way round";
        return Told::new("text continues after its closing quote", here, help);
    }
    if message.contains("end of stream") && text.get(here.clone()).is_some_and(is_quote) {
        let help = "write it again where the text ends; a text that starts with it needs the other \
                    kind of quotes around it";
        return Told::new("this quote is never closed", here, help);
    }
    if let Some(sign) = text.get(at..).and_then(|rest| rest.chars().next())
        && (message.contains("cannot start any token") || message.contains("unknown anchor"))
    {
        let message = format!("no text starts with {}", sign.escape_debug());
        return Told::new(message, here, "put the whole text in quotes");
    }
    if message.contains("mapping values") {
        if let Some(told) = line_above(text, at) {
            return told;
        }
        let help = "a text with a colon in it needs quotes: put it in quotes";
        return Told::new(message, here, help);
    }
    if message.contains("expected ':'") {
        let line = text.get(at..).and_then(|rest| rest.lines().next()).unwrap_or("");
        let word = line.split('#').next().unwrap_or("").trim_end();
        let help = "write it after the name, then the value";
        return Told::new("a colon is missing", at..at + word.len().max(1), help);
    }
    let help = "check the indentation, the colons and the quotes above this place";
    Told::new(message, here, help)
}

fn is_quote(text: &str) -> bool {
    text == "\"" || text == "'"
}

/// The line that a byte stands in, up to that byte.
fn line_before(text: &str, at: usize) -> &str {
    let before = text.get(..at).unwrap_or("");
    before.rfind('\n').map_or(before, |end| &before[end + 1..])
}

/// A colon that is out of place because its line goes on with the text of the line above.
fn line_above(text: &str, at: usize) -> Option<Told> {
    let line = line_before(text, at);
    let start = at - line.len();
    let key = line.trim_start();
    let indent = line.len() - key.len();
    // Behind a colon in its own line, it is a text with two.
    if key.contains(": ") || key.is_empty() || key.starts_with('-') {
        return None;
    }
    let above = text.get(..start)?.trim_end();
    let above_start = above.rfind('\n').map_or(0, |end| end + 1);
    let above = above.get(above_start..)?;
    let name = above.trim_start();
    let above_indent = above.len() - name.len();
    let from = above_start + above_indent;
    if !name.contains(": ")
        && let Some(colon) = name.find(':')
    {
        let help = "put a space after it: in YAML a colon without one is part of the text";
        return Some(Told::new(
            "a space is missing after a colon",
            from + colon..from + colon + 1,
            help,
        ));
    }
    let help = "start both lines in the same column";
    (indent > above_indent).then(|| {
        let message = "this line is indented further, so it continues the text above it";
        Told::new(message, start + indent..at, help)
    })
}

/// The first tab that indents a line below the one that a byte stands in.
fn next_indenting_tab(text: &str, at: usize) -> Option<usize> {
    let mut start = at + text.get(at..)?.find('\n')? + 1;
    for line in text.get(start..)?.split_inclusive('\n') {
        let spaces = line.len() - line.trim_start_matches(' ').len();
        if line[spaces..].starts_with('\t') {
            return Some(start + spaces);
        }
        start += line.len();
    }
    None
}

fn indented_with_a_tab(text: &str, at: usize) -> bool {
    let (line, behind) = (line_before(text, at), text.get(at..).unwrap_or(""));
    line.trim_start_matches(' ').starts_with('\t')
        || (line.trim().is_empty() && behind.trim_start_matches(' ').starts_with('\t'))
}

/// `says: {boost} too much.`: to YAML a mapping, and then it has no more to read.
fn goes_on_behind_a_bracket(text: &str, at: usize) -> bool {
    let line = line_before(text, at).trim_end_matches(' ');
    line.ends_with(['}', ']']) && (line.contains(": {") || line.contains(": ["))
}

/// `text: "Is it "loud" or not?"`.
fn goes_on_behind_a_quote(text: &str, at: usize) -> bool {
    let line = line_before(text, at).trim_end_matches(' ');
    let (_, value) = line.split_once(": ").unwrap_or(("", ""));
    value.len() > 1
        && ['"', '\''].iter().any(|quote| value.starts_with(*quote) && value.ends_with(*quote))
}
