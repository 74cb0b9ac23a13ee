//! Draws a fault with the line it is about and a caret under the very spot.
//!
//! What is wrong and where is the caller's; whether colour may be used too.

use std::ops::Range;

use annotate_snippets::{AnnotationKind, Level, Renderer, Snippet};

use super::fault::Fault;
use super::parse::LONGEST;

/// How a fault is announced.
#[derive(Debug, Clone, Copy)]
pub struct Headline<'a> {
    pub warning: bool,
    /// A short name of the kind of fault, stable; none for a single formula.
    pub code: Option<&'a str>,
    pub message: &'a str,
}

/// A spot in a text. Marks in one and the same text share its lines.
#[derive(Debug, Clone)]
pub struct Mark<'a> {
    /// The file's name; none where the text was typed.
    pub name: Option<&'a str>,
    pub text: &'a str,
    pub span: Range<usize>,
    pub label: &'a str,
}

/// The fault as lines of text: headline, each mark under its line, the way out. The first mark is
/// the culprit, the others are what it clashes with.
#[must_use]
pub fn draw(headline: Headline<'_>, marks: &[Mark<'_>], help: &str, colour: bool) -> String {
    let level = if headline.warning { Level::WARNING } else { Level::ERROR };
    let mut title = level.primary_title(headline.message);
    if let Some(code) = headline.code {
        title = title.id(code);
    }
    let mut snippets: Vec<(&Mark<'_>, Snippet<'_, _>)> = Vec::new();
    for (place, mark) in marks.iter().enumerate() {
        let kind = if place == 0 { AnnotationKind::Primary } else { AnnotationKind::Context };
        let annotation = kind.span(on_letters(mark.text, &mark.span)).label(mark.label);
        let same = |known: &&Mark<'_>| known.name == mark.name && known.text == mark.text;
        match snippets.iter_mut().find(|(known, _)| same(known)) {
            Some((_, snippet)) => *snippet = snippet.clone().annotation(annotation),
            None => {
                let snippet = Snippet::source(mark.text).annotation(annotation);
                let snippet = match mark.name {
                    Some(name) => snippet.path(name),
                    None => snippet,
                };
                snippets.push((mark, snippet));
            }
        }
    }
    let group = title
        .elements(snippets.into_iter().map(|(_, snippet)| snippet))
        .element(Level::HELP.message(help));
    let renderer = if colour { Renderer::styled() } else { Renderer::plain() };
    renderer.render(&[group])
}

/// The bytes of a span, always inside the text and on letter boundaries: the drawing library
/// takes no others.
#[must_use]
pub fn on_letters(text: &str, span: &Range<usize>) -> Range<usize> {
    let mut start = span.start.min(text.len());
    while !text.is_char_boundary(start) {
        start -= 1;
    }
    let mut end = span.end.clamp(start, text.len());
    while !text.is_char_boundary(end) {
        end += 1;
    }
    start..end
}

impl Fault {
    /// The fault drawn under the formula it was found in. A text too long to be read is not
    /// shown again.
    #[must_use]
    pub fn draw(&self, text: &str, colour: bool) -> String {
        let headline = Headline { warning: false, code: None, message: &self.message };
        let mark =
            |span: &Range<usize>, label| Mark { name: None, text, span: span.clone(), label };
        let mut marks = vec![mark(&self.span, &self.label)];
        marks.extend(self.other.iter().map(|other| mark(&other.0, &other.1)));
        if text.len() > LONGEST {
            marks.clear();
        }
        draw(headline, &marks, &self.help, colour)
    }
}
