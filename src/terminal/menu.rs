//! A menu: numbered options, taken with a number key, or with the arrow keys and Enter. One hand,
//! gloves on; nothing is marked at first, so that a stray Enter answers nothing.
//!
//! What a key does is decided here; reading keys and drawing is left to the screen.

use console::Key;

use super::command::Command;
use super::page::{Page, Voice};
use super::prompter::Chosen;

/// An option.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Choice {
    /// Takes the option beside its number.
    pub letter: Option<char>,
    pub text: String,
}

/// Options to choose one of.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Menu {
    pub choices: Vec<Choice>,
    /// What is marked from the start.
    pub marked: Option<usize>,
    pub commands: Vec<Command>,
}

impl Menu {
    #[must_use]
    pub fn new<T: AsRef<str>>(texts: impl IntoIterator<Item = T>, commands: &[Command]) -> Self {
        let choices = texts
            .into_iter()
            .map(|text| Choice { letter: None, text: text.as_ref().to_owned() })
            .collect();
        Self { choices, marked: None, commands: commands.to_vec() }
    }

    /// Yes as the first option, no as the second, each also by its letter.
    #[must_use]
    pub fn yes_or_no(commands: &[Command]) -> Self {
        let choice = |letter, text: &str| Choice { letter: Some(letter), text: text.to_owned() };
        let choices = vec![choice('y', "yes"), choice('n', "no")];
        Self { choices, marked: None, commands: commands.to_vec() }
    }

    /// The same menu with an option marked.
    #[must_use]
    pub fn marking(self, marked: Option<usize>) -> Self {
        Self { marked, ..self }
    }

    /// The options with their numbers, and what else may be pressed.
    #[must_use]
    pub fn page(&self) -> Page {
        let mut page = Page::default();
        let digits = self.choices.len().to_string().len();
        for (index, choice) in self.choices.iter().enumerate() {
            let number = format!("{:>digits$}", index + 1);
            page.add_labelled(Voice::Plain, &number, self.named(choice));
        }
        if !self.one_digit_is_enough() {
            page.add(Voice::Quiet, "Type the number, then Enter;");
        }
        page.add(Voice::Quiet, Command::line(&self.commands));
        page
    }

    fn named(&self, choice: &Choice) -> String {
        match choice.letter {
            Some(letter) => format!("{} ({letter})", choice.text),
            None => choice.text.clone(),
        }
    }

    /// Whether a single digit settles it.
    fn one_digit_is_enough(&self) -> bool {
        self.choices.len() < 10
    }
}

/// The longest word that is gathered.
const LONGEST_WORD: usize = 20;

/// A menu while keys are pressed.
#[derive(Debug)]
pub(super) struct Marking<'m> {
    menu: &'m Menu,
    marked: Option<usize>,
    /// Letters typed so far, or digits where one is not enough.
    typed: String,
}

/// What a key brought about.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Pressed {
    /// Another option is marked, or another word stands there.
    Marked,
    /// The key means nothing here.
    Nothing,
    /// The word typed means nothing here.
    NoSuchWord(String),
    Taken(Chosen),
}

impl<'m> Marking<'m> {
    #[must_use]
    pub(super) fn new(menu: &'m Menu) -> Self {
        Self { menu, marked: menu.marked, typed: String::new() }
    }

    /// What stands behind the prompt: number and text of what is marked, or what was typed.
    #[must_use]
    pub(super) fn shown(&self) -> String {
        match self.marked.and_then(|index| Some((index, self.menu.choices.get(index)?))) {
            Some((index, choice)) => format!("{} {}", index + 1, choice.text),
            None => self.typed.clone(),
        }
    }

    /// Takes a key in.
    pub(super) fn press(&mut self, key: &Key) -> Pressed {
        let last = self.menu.choices.len().saturating_sub(1);
        match key {
            Key::ArrowDown | Key::Tab => self.mark(self.marked.map_or(0, |at| (at + 1).min(last))),
            Key::ArrowUp | Key::BackTab => {
                self.mark(self.marked.map_or(last, |at| at.saturating_sub(1)))
            }
            Key::Home => self.mark(0),
            Key::End => self.mark(last),
            Key::Enter => self.enter(),
            Key::Escape => self.command(Command::Back),
            Key::Backspace => self.shorten(),
            // End of input, as a terminal sends it.
            Key::Char('\u{4}') => self.command(Command::Stop),
            Key::Char(digit) if digit.is_ascii_digit() && !self.is_word() => self.digit(*digit),
            Key::Char(letter) if !letter.is_control() => self.letter(*letter),
            _ => Pressed::Nothing,
        }
    }

    fn is_word(&self) -> bool {
        self.typed.contains(|letter: char| !letter.is_ascii_digit())
    }

    fn mark(&mut self, index: usize) -> Pressed {
        self.marked = (index < self.menu.choices.len()).then_some(index);
        self.typed.clear();
        Pressed::Marked
    }

    fn shorten(&mut self) -> Pressed {
        self.typed.pop();
        self.marked = self.numbered(&self.typed);
        Pressed::Marked
    }

    /// The option that a number stands for.
    fn numbered(&self, number: &str) -> Option<usize> {
        let index = number.parse::<usize>().ok()?.checked_sub(1)?;
        (index < self.menu.choices.len()).then_some(index)
    }

    fn enter(&mut self) -> Pressed {
        if let Some(index) = self.marked {
            return Pressed::Taken(Chosen::Option(index));
        }
        if self.typed.is_empty() {
            return Pressed::Nothing;
        }
        let word = std::mem::take(&mut self.typed);
        match Command::of_text(&word).filter(|command| self.menu.commands.contains(command)) {
            Some(command) => Pressed::Taken(Chosen::Command(command)),
            None => Pressed::NoSuchWord(word),
        }
    }

    fn digit(&mut self, digit: char) -> Pressed {
        let typed = format!("{}{digit}", self.typed);
        let Some(index) = self.numbered(&typed) else {
            // A 0 may begin a value, typed by mistake: it belongs to what is said of that then.
            let means_nothing = self.menu.one_digit_is_enough() && typed != "0";
            if means_nothing || typed.len() > LONGEST_WORD {
                return Pressed::Nothing;
            }
            // A number that is none of the options must not leave the option of its first digit marked.
            self.marked = None;
            self.typed = typed;
            return Pressed::Marked;
        };
        if self.menu.one_digit_is_enough() {
            return Pressed::Taken(Chosen::Option(index));
        }
        self.marked = Some(index);
        self.typed = typed;
        Pressed::Marked
    }

    /// The letter of an option settles it; other letters make a word that Enter ends. A wish that
    /// took effect at its first letter would let the rest of the word answer the next question.
    fn letter(&mut self, letter: char) -> Pressed {
        let small = letter.to_ascii_lowercase();
        let own = self.menu.choices.iter().position(|choice| choice.letter == Some(small));
        if let Some(index) = own.filter(|_| self.typed.is_empty()) {
            return Pressed::Taken(Chosen::Option(index));
        }
        if self.typed.chars().count() >= LONGEST_WORD {
            return Pressed::Nothing;
        }
        // After digits letters begin a word of their own, a decimal mark goes on with the number.
        if !self.is_word() && !matches!(letter, '.' | ',') {
            self.typed.clear();
        }
        self.marked = None;
        self.typed.push(letter);
        Pressed::Marked
    }

    fn command(&self, command: Command) -> Pressed {
        if self.menu.commands.contains(&command) {
            Pressed::Taken(Chosen::Command(command))
        } else {
            Pressed::Nothing
        }
    }
}

/// What to say to a word that means nothing.
#[must_use]
pub(super) fn no_such_word(word: &str) -> Page {
    Page::of(
        Voice::Trouble,
        format!(
            "\"{word}\" means nothing here: press a number, or type one of the letters and press Enter."
        ),
    )
}
