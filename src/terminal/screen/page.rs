//! What is said to a person, before it is wrapped and coloured: paragraphs, each in a voice.
//!
//! A voice never rests on colour alone: what can hurt says so in words.

use crate::quantity::typeset;
use crate::text::{Clean, wrapped};

/// The widest line that still reads well.
const WIDEST: usize = 88;
/// Narrower than this nothing is wrapped any tighter.
const NARROWEST: usize = 12;

/// How a paragraph is meant.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Voice {
    /// Opens a part.
    Heading,
    /// What is asked.
    Question,
    Plain,
    /// Beside the point: hints, sources.
    Quiet,
    /// A caution of level stop.
    Stop,
    /// A caution of level danger.
    Danger,
    /// A caution of level care.
    Care,
    /// Something to do at the car now.
    Task,
    /// An answer that can't be taken.
    Trouble,
    /// How the ranking moved.
    Lead,
}

impl Voice {
    /// What the paragraph opens with.
    fn mark(self) -> &'static str {
        match self {
            Self::Heading => "== ",
            Self::Question | Self::Lead => "",
            Self::Plain | Self::Quiet => "  ",
            Self::Stop => "!! STOP: ",
            Self::Danger => "!  DANGER: ",
            Self::Care => "   Care: ",
            Self::Task => "-> ",
            Self::Trouble => "?? ",
        }
    }

    /// How far further lines are set in.
    fn indent(self) -> usize {
        match self {
            Self::Question | Self::Lead => 0,
            Self::Plain | Self::Quiet => 2,
            _ => 3,
        }
    }
}

/// A paragraph.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Paragraph {
    pub voice: Voice,
    pub text: Clean,
    /// Stands before the text in place of the voice's mark: the number of an option.
    label: Option<Clean>,
}

/// Paragraphs that are said together.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Page {
    pub paragraphs: Vec<Paragraph>,
}

/// A line as it is printed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Line {
    pub voice: Voice,
    pub text: Clean,
}

impl Page {
    /// Adds a paragraph; an empty text adds none.
    pub fn add(&mut self, voice: Voice, text: impl AsRef<str>) {
        let text = Clean::new(typeset(text.as_ref()));
        if !text.trim().is_empty() {
            self.paragraphs.push(Paragraph { voice, text, label: None });
        }
    }

    /// Adds a paragraph behind a label of its own.
    pub fn add_labelled(&mut self, voice: Voice, label: &str, text: impl AsRef<str>) {
        let (text, label) = (Clean::new(typeset(text.as_ref())), Some(label.into()));
        self.paragraphs.push(Paragraph { voice, text, label });
    }

    /// Adds all of another page.
    pub fn extend(&mut self, other: Self) {
        self.paragraphs.extend(other.paragraphs);
    }

    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.paragraphs.is_empty()
    }

    /// One paragraph alone.
    #[must_use]
    pub fn of(voice: Voice, text: impl AsRef<str>) -> Self {
        let mut page = Self::default();
        page.add(voice, text);
        page
    }

    /// The page in lines of at most `columns`; a blank line before each heading, question and task.
    #[must_use]
    pub fn lines(&self, columns: usize) -> Vec<Line> {
        let mut lines = Vec::new();
        let mut before = None;
        for paragraph in &self.paragraphs {
            let voice = paragraph.voice;
            if begins_a_part(voice, before) {
                lines.push(Line { voice: Voice::Plain, text: Clean::default() });
            }
            lines.extend(in_lines(paragraph, columns));
            before = Some(voice);
        }
        lines
    }

    /// The page as plain text.
    #[must_use]
    pub fn text(&self, columns: usize) -> String {
        self.lines(columns).iter().map(|line| format!("{}\n", line.text)).collect()
    }
}

fn begins_a_part(voice: Voice, before: Option<Voice>) -> bool {
    match voice {
        Voice::Heading | Voice::Question | Voice::Lead => before != Some(voice),
        Voice::Task | Voice::Stop => before != Some(voice),
        _ => false,
    }
}

fn in_lines(paragraph: &Paragraph, columns: usize) -> Vec<Line> {
    let Paragraph { voice, text, label } = paragraph;
    let columns = columns.clamp(NARROWEST, WIDEST);
    let (mark, further) = match label {
        Some(label) => (format!("  {label} "), label.chars().count() + 3),
        None => (voice.mark().to_owned(), voice.indent()),
    };
    let lines = wrapped(text, columns, &mark.into(), further).into_iter();
    lines.map(|text| Line { voice: *voice, text }).collect()
}
