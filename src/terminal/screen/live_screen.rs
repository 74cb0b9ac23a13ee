//! The terminal: prints pages on stderr, reads keys and lines.

use std::io;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

use console::{Key, Style, Term, measure_text_width, truncate_str};
use dialoguer::Input;
use dialoguer::theme::Theme;

use crate::terminal::screen::command::Command;
use crate::terminal::screen::keys::Keys;
use crate::terminal::screen::menu::{Marking, Menu, Pressed, no_such_word};
use crate::terminal::screen::page::{Line, Page, Voice};
use crate::terminal::screen::prompter::{Blank, Ended, Prompter};
use crate::terminal::screen::taken::{Chosen, Typed};
use crate::text::{Clean, excerpt, wrapped};

/// Below this a line editor has no room to move its cursor.
const ROOM_TO_EDIT: u16 = 8;

/// Letters of what was typed that stay on the screen.
const MAX_SHOWN: usize = 60;

/// Suspends the program. Whoever reads it shows the prompt again.
const CTRL_Z: Key = Key::Char('\u{1a}');

/// A person at the terminal.
#[derive(Debug)]
pub struct Screen {
    term: Term,
    colour: bool,
    /// Set where the system told the program to end.
    told_to_end: Arc<AtomicBool>,
    keys: Keys,
}

impl Screen {
    /// The terminal behind stderr, which hands over keys until this is dropped. `told_to_end` is set from outside, by a signal.
    #[must_use]
    pub fn new(colour: bool, told_to_end: Arc<AtomicBool>) -> Self {
        Self { term: Term::stderr(), colour, told_to_end, keys: Keys::take() }
    }

    fn columns(&self) -> usize {
        usize::from(self.term.size().1)
    }

    fn print(&self, line: &Line) {
        let coloured = self.colour && !line.text.is_empty();
        let style = coloured.then(|| style_of(line.voice));
        let text = style.map(|style| Clean::coloured(&style.apply_to(&line.text).to_string()));
        // Where stderr is gone the next read of a key tells.
        let _ = self.term.write_line(text.as_ref().unwrap_or(&line.text));
    }

    /// Puts a text in place of the last line.
    fn show(&self, text: &Clean) -> Result<(), Ended> {
        let shown = self.term.clear_line().and_then(|()| self.term.write_str(text));
        shown.map_err(|error| ended(&error))
    }

    fn read_key(&self) -> Result<Key, Ended> {
        self.go_on()?;
        let key = self.term.read_key();
        self.go_on()?;
        match key {
            Ok(Key::CtrlC) => Err(Ended::Interrupted),
            Ok(CTRL_Z) => {
                self.end_line()?;
                self.keys.suspend();
                Ok(CTRL_Z)
            }
            Ok(key) => Ok(key),
            Err(error) => Err(ended(&error)),
        }
    }

    fn go_on(&self) -> Result<(), Ended> {
        if self.told_to_end.load(Ordering::SeqCst) { Err(Ended::Interrupted) } else { Ok(()) }
    }

    fn end_line(&self) -> Result<(), Ended> {
        self.term.write_line("").map_err(|error| ended(&error))
    }

    /// What was typed before the prompt shows must not answer it: it was meant for something else.
    fn start_afresh(&mut self) {
        if self.keys.drop_typed_ahead() {
            let note = "Anything typed before this question appeared was ignored.";
            self.say(&Page::of(Voice::Trouble, note));
        }
    }

    /// The last line of a menu: what is marked, cut to one line.
    fn draw(&self, marking: &Marking<'_>) -> Result<(), Ended> {
        let columns = self.columns().saturating_sub(1);
        let text = Clean::line(format!("> {}", marking.shown()));
        self.show(&truncate_str(&text, columns, "").into_owned().into())
    }

    /// What was taken, whole, however many lines it needs.
    fn echo(&self, taken: &Marking<'_>) -> Result<(), Ended> {
        let columns = self.columns().saturating_sub(1);
        let lines = wrapped(taken.shown(), columns, &"> ".into(), 2);
        let lines: Vec<&str> = lines.iter().map(|line| line.as_str()).collect();
        self.show(&Clean::new(lines.join("\n")))
    }

    /// Lets a line be edited, the first key being read already.
    fn edit(&self, prompt: &Clean, start: &Clean) -> Result<String, Ended> {
        let columns = self.term.size().1;
        let room = usize::from(columns).saturating_sub(measure_text_width(prompt) + 2);
        if columns < ROOM_TO_EDIT || room < measure_text_width(start) {
            return self
                .term
                .write_str(&format!("{prompt} {start}"))
                .and_then(|()| self.keys.given_back(|| self.term.read_line()))
                .map(|rest| format!("{start}{rest}"))
                .map_err(|error| ended(&error));
        }
        Input::<String>::with_theme(&Bare)
            .with_prompt(prompt.as_str())
            .with_initial_text(start.as_str())
            .allow_empty(true)
            .report(false)
            .interact_text_on(&self.term)
            .map_err(|dialoguer::Error::IO(error)| ended(&error))
    }
}

impl Prompter for Screen {
    fn say(&mut self, page: &Page) {
        for line in page.lines(self.columns()) {
            self.print(&line);
        }
    }

    fn choose(&mut self, menu: &Menu) -> Result<Chosen, Ended> {
        self.say(&menu.page());
        self.start_afresh();
        let mut marking = Marking::new(menu);
        loop {
            self.draw(&marking)?;
            match marking.press(&self.read_key()?) {
                Pressed::Taken(chosen) => {
                    if let Chosen::Option(index) = &chosen {
                        let taken = menu.clone().marking(Some(*index));
                        self.echo(&Marking::new(&taken))?;
                    }
                    self.end_line()?;
                    return Ok(chosen);
                }
                Pressed::NoSuchWord(word) => {
                    self.end_line()?;
                    self.say(&no_such_word(&word));
                    self.start_afresh();
                }
                Pressed::Marked | Pressed::Nothing => {}
            }
        }
    }

    /// The line editor knows no Esc, so the first key is read before it opens: Esc on a fresh line
    /// goes back, and the end of input stops.
    fn fill_in(&mut self, blank: &Blank<'_>) -> Result<Typed, Ended> {
        self.start_afresh();
        let prompt = Clean::line(blank.prompt);
        let filled = Clean::line(blank.filled);
        let text = loop {
            self.show(&format!("{prompt} {filled}").into())?;
            let start = match self.read_key()? {
                Key::Escape if blank.commands.contains(&Command::Back) => {
                    self.end_line()?;
                    return Ok(Typed::Command(Command::Back));
                }
                Key::Char('\u{4}') if blank.commands.contains(&Command::Stop) => {
                    self.end_line()?;
                    return Ok(Typed::Command(Command::Stop));
                }
                Key::Enter => break filled.into(),
                // An old answer is replaced, not added to.
                Key::Char(letter) if !letter.is_control() => Clean::new(letter),
                Key::Backspace if !filled.is_empty() => {
                    let mut letters = filled.chars();
                    letters.next_back();
                    Clean::new(letters.as_str())
                }
                Key::ArrowLeft | Key::ArrowRight | Key::Home | Key::End if !filled.is_empty() => {
                    filled.clone()
                }
                _ => continue,
            };
            self.show(&Clean::default())?;
            break self.edit(&prompt, &start)?;
        };
        self.go_on()?;
        self.show(&format!("{prompt} {}", excerpt(&text, MAX_SHOWN)).into())?;
        self.end_line()?;
        Ok(Typed::of(&text, blank.commands))
    }
}

fn ended(error: &io::Error) -> Ended {
    if error.kind() == io::ErrorKind::Interrupted { Ended::Interrupted } else { Ended::Gone }
}

fn style_of(voice: Voice) -> Style {
    let style = Style::new().for_stderr().force_styling(true);
    match voice {
        Voice::Heading => style.bold().underlined(),
        Voice::Question => style.bold(),
        Voice::Plain => style,
        Voice::Quiet => style.dim(),
        Voice::Stop => style.red().bold(),
        Voice::Danger => style.red(),
        Voice::Care => style.yellow(),
        Voice::Task => style.cyan().bold(),
        Voice::Trouble => style.magenta(),
        Voice::Lead => style.green(),
    }
}

/// The prompt as it is given, nothing added.
struct Bare;

impl Theme for Bare {
    fn format_input_prompt(
        &self,
        f: &mut dyn std::fmt::Write,
        prompt: &str,
        _default: Option<&str>,
    ) -> std::fmt::Result {
        write!(f, "{prompt} ")
    }
}
