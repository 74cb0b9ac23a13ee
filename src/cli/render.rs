//! The conclusion in the form that was asked for.

use std::path::Path;

use console::{Style, Term};

use super::arguments::Form;
use super::exit::{Exit, Failure};
use super::packs;
use crate::report::model::{Conclusion, WorkKind};
use crate::report::{
    Tone, Toned, html, json, json_in_brief, markdown, screen_in_tones, svg, text_in_tones,
};
use crate::text::Clean;

/// Columns of a page that goes into a file or a pipe.
pub(super) const PAGE: usize = 80;

/// What a page of text is put on.
#[derive(Debug, Clone, Copy)]
pub(super) struct Paper {
    /// Lines are no longer.
    columns: usize,
    /// Whether what can hurt stands out by its colour, too.
    colour: bool,
}

impl Paper {
    pub(super) const FILE: Self = Self { columns: PAGE, colour: false };

    /// The terminal behind stdout, or what stands in its place.
    pub(super) fn of_stdout() -> Self {
        let stdout = Term::stdout();
        if !stdout.is_term() {
            return Self::FILE;
        }
        Self { columns: usize::from(stdout.size().1), colour: packs::wants_colour() }
    }
}

/// The conclusion with all there is to say, its lines fitting the paper where the form has lines; JSON
/// with every reason, finding and working where it is to be `full`.
///
/// # Errors
/// Where a drawing is wanted and nothing is planned.
pub(super) fn form(
    conclusion: &Conclusion,
    form: Form,
    paper: Paper,
    full: bool,
) -> Result<Clean, Failure> {
    Ok(match form {
        Form::Text => painted(&text_in_tones(conclusion, paper.columns), paper),
        Form::Json if full => Clean::json(&json(conclusion)),
        Form::Markdown => markdown(conclusion),
        Form::Html => html(conclusion),
        Form::Json => Clean::json(&json_in_brief(conclusion)),
        Form::Svg => svg(conclusion).ok_or(Failure::NothingToDraw)?,
    })
}

/// The first page of a session's conclusion, and the commands that go on from there.
pub(super) fn first_page(conclusion: &Conclusion, session: &Path, paper: Paper) -> Clean {
    let path = session.display();
    let mut commands = vec![format!("everything: boostwright show --full {path}")];
    if !conclusion.next_work.is_empty() || !conclusion.open_questions.is_empty() {
        commands.push(format!("work to print: boostwright sheet {path}"));
    }
    if !conclusion.drawings.is_empty() {
        commands.push(format!("drawn to scale: boostwright show --form svg --out plan.svg {path}"));
    }
    if conclusion.next_question.is_some() && !conclusion.clear {
        commands.push(format!("more questions: boostwright ask {path}"));
    }
    if proposes_a_check(conclusion) {
        commands.push(format!("the check's outcome: boostwright ask {path}"));
    }
    commands.push(format!("after a repair: boostwright recheck {path}"));
    painted(&screen_in_tones(conclusion, &commands, paper.columns), paper)
}

/// Whether a check comes first, where the interview asks no more.
fn proposes_a_check(conclusion: &Conclusion) -> bool {
    let work = conclusion.next_work.first().filter(|_| conclusion.next_question.is_none());
    work.is_some_and(|work| work.kind == WorkKind::Check)
}

/// The lines of a page; in colour, those that warn. Each says in words, too, how badly it can hurt.
fn painted(page: &Toned, paper: Paper) -> Clean {
    let plain = page.plain();
    if !paper.colour {
        return plain;
    }
    let lines = page.lines.iter().map(|(tone, line)| match style_of(*tone) {
        Some(style) => style.apply_to(line).to_string(),
        None => line.to_string(),
    });
    Clean::coloured(&(lines.collect::<Vec<String>>().join("\n") + "\n"))
}

fn style_of(tone: Tone) -> Option<Style> {
    let style = Style::new().force_styling(true);
    match tone {
        Tone::Plain => None,
        Tone::Stop => Some(style.red().bold()),
        Tone::Danger => Some(style.red()),
    }
}

/// How a command ends that printed a conclusion.
///
/// # Errors
/// Where the program itself failed on the way.
pub(super) fn exit(conclusion: &Conclusion) -> Result<Exit, Failure> {
    match &conclusion.internal_error {
        Some(error) => Err(Failure::Inference(error.clone())),
        None if conclusion.contradiction.is_some() => Ok(Exit::Failed),
        None => Ok(Exit::Done),
    }
}
