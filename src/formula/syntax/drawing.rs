//! Draws a fault with the line it is about and a caret under the very spot.
//!
//! What is wrong and where is the caller's; whether colour may be used too.

use std::ops::Range;

use annotate_snippets::{Annotation, AnnotationKind, Level, Renderer, Snippet};

use super::fault::Fault;
use super::limits::MAX_BYTES;
use crate::text::{Clean, is_clean};

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
/// the culprit, the others are what it clashes with. Whatever the texts hold, nothing of theirs
/// steers the screen.
#[must_use]
pub fn draw(headline: Headline<'_>, marks: &[Mark<'_>], help: &str, colour: bool) -> Clean {
    let level = if headline.warning { Level::WARNING } else { Level::ERROR };
    let mut title = level.primary_title(String::from(Clean::new(headline.message)));
    if let Some(code) = headline.code {
        title = title.id(code);
    }
    let group = title
        .elements(excerpts(marks).into_iter().map(Excerpt::snippet))
        .element(Level::HELP.message(String::from(Clean::new(help))));
    let renderer = if colour { Renderer::styled() } else { Renderer::plain() };
    Clean::coloured(&renderer.render(&[group]))
}

/// The lines of one text that are shown, and what is marked in them.
struct Excerpt {
    name: Option<Clean>,
    lines: String,
    first_line: usize,
    /// Whether it is the culprit; bytes of `lines`; label.
    marks: Vec<(bool, Range<usize>, Clean)>,
}

/// One for each text, in the order of the marks.
fn excerpts(marks: &[Mark<'_>]) -> Vec<Excerpt> {
    let mut texts: Vec<(&Mark<'_>, Vec<(bool, &Mark<'_>)>)> = Vec::new();
    for (place, mark) in marks.iter().enumerate() {
        let same =
            |known: &&mut (&Mark<'_>, _)| known.0.name == mark.name && known.0.text == mark.text;
        match texts.iter_mut().find(same) {
            Some((_, inside)) => inside.push((place == 0, mark)),
            None => texts.push((mark, vec![(place == 0, mark)])),
        }
    }
    texts.into_iter().map(|(text, inside)| excerpt(text, &inside)).collect()
}

/// The lines from the first mark to the last, since the drawing library looks at all it is given.
fn excerpt(of: &Mark<'_>, inside: &[(bool, &Mark<'_>)]) -> Excerpt {
    let text = of.text;
    let spans: Vec<Range<usize>> =
        inside.iter().map(|(_, mark)| on_letters(text, &mark.span)).collect();
    let first = spans.iter().map(|span| span.start).min().unwrap_or(0);
    let last = spans.iter().map(|span| span.end).max().unwrap_or(0);
    let start = text[..first].rfind('\n').map_or(0, |end| end + 1);
    let end = text[last..].find('\n').map_or(text.len(), |end| last + end);
    let (lines, places) = cleaned_with_places(&text[start..end]);
    let marks = inside.iter().zip(spans).map(|((culprit, mark), span)| {
        let span = places[span.start - start]..places[span.end - start];
        (*culprit, span, Clean::new(mark.label))
    });
    Excerpt {
        name: of.name.map(Clean::new),
        first_line: text[..start].matches('\n').count() + 1,
        marks: marks.collect(),
        lines,
    }
}

impl Excerpt {
    fn snippet<'a>(self) -> Snippet<'a, Annotation<'a>> {
        let mut snippet = Snippet::source(self.lines).line_start(self.first_line);
        if let Some(name) = self.name {
            snippet = snippet.path(String::from(name));
        }
        for (culprit, span, label) in self.marks {
            let kind = if culprit { AnnotationKind::Primary } else { AnnotationKind::Context };
            snippet = snippet.annotation(kind.span(span).label(String::from(label)));
        }
        snippet
    }
}

/// A text with its unclean letters replaced, and where each of its bytes went.
fn cleaned_with_places(text: &str) -> (String, Vec<usize>) {
    let mut clean = String::with_capacity(text.len());
    let mut places = Vec::with_capacity(text.len() + 1);
    for letter in text.chars() {
        places.extend(std::iter::repeat_n(clean.len(), letter.len_utf8()));
        // The drawing library has signs of its own for tabs and controls.
        let known = letter.is_ascii_control();
        clean.push(if known || is_clean(letter) { letter } else { char::REPLACEMENT_CHARACTER });
    }
    places.push(clean.len());
    (clean, places)
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
    pub fn draw(&self, text: &str, colour: bool) -> Clean {
        let (message, label, help) = (self.message(), self.label(), self.help());
        let headline = Headline { warning: false, code: None, message: &message };
        let mark =
            |span: &Range<usize>, label| Mark { name: None, text, span: span.clone(), label };
        let mut marks = vec![mark(&self.span, &label)];
        marks.extend(self.other.iter().map(|other| mark(&other.0, &other.1)));
        if text.len() > MAX_BYTES {
            marks.clear();
        }
        draw(headline, &marks, &help, colour)
    }
}
