//! A menu: numbered options, taken by their number or with the arrow keys, and always with Enter: a key
//! that acted at once would let what was typed too early answer the next question. Nothing is marked at
//! first, so that a stray Enter answers nothing.
//!
//! What a key does is decided here; reading keys and drawing is left to the screen.

use std::collections::HashSet;

use console::Key;

use crate::terminal::screen::command::Command;
use crate::terminal::screen::page::{Page, Voice};
use crate::terminal::screen::taken::Chosen;
use crate::text::capital;

/// An option.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct MenuItem {
    /// Takes the option beside its number.
    pub letter: Option<char>,
    pub text: String,
    /// What it and those after it stand under, where that changes.
    pub heading: Option<String>,
}

/// Options to choose one of.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Menu {
    pub items: Vec<MenuItem>,
    /// What is marked from the start.
    pub marked: Option<usize>,
    /// A line that is none of the options is handed over, not refused.
    pub takes_text: bool,
    /// Any number of options may be taken, by their numbers in one line.
    pub takes_several: bool,
    /// What stands in the line from the start.
    pub filled: String,
    /// Only these are listed, by their numbers; any may be taken.
    pub listed: Option<Vec<usize>>,
    pub commands: Vec<Command>,
}

impl Menu {
    #[must_use]
    pub fn new<T: AsRef<str>>(texts: impl IntoIterator<Item = T>, commands: &[Command]) -> Self {
        let items = texts
            .into_iter()
            .map(|text| MenuItem { letter: None, text: text.as_ref().to_owned(), heading: None })
            .collect();
        Self::of(items, commands)
    }

    fn of(items: Vec<MenuItem>, commands: &[Command]) -> Self {
        Self {
            items,
            marked: None,
            takes_text: false,
            takes_several: false,
            filled: String::new(),
            listed: None,
            commands: commands.to_vec(),
        }
    }

    /// Yes as the first option, no as the second, each also by its letter.
    #[must_use]
    pub fn yes_or_no(commands: &[Command]) -> Self {
        let item = |letter, text: &str| MenuItem {
            letter: Some(letter),
            text: text.to_owned(),
            heading: None,
        };
        Self::of(vec![item('y', "yes"), item('n', "no")], commands)
    }

    /// The same menu with an option marked.
    #[must_use]
    pub fn marking(self, marked: Option<usize>) -> Self {
        Self { marked, ..self }
    }

    /// The same menu, which hands over a line that is none of its options.
    #[must_use]
    pub fn taking_text(self) -> Self {
        Self { takes_text: true, ..self }
    }

    /// The same menu, of which any number of options may be taken; these are, unless another line is
    /// typed.
    #[must_use]
    pub fn taking_several(self, taken: Option<&[usize]>) -> Self {
        let numbers = |taken: &[usize]| match taken {
            [] => NONE.to_owned(),
            _ => taken.iter().map(|index| format!("{} ", index + 1)).collect(),
        };
        Self { takes_several: true, filled: taken.map(numbers).unwrap_or_default(), ..self }
    }

    /// The same menu, its options under headings, each said once where it changes.
    #[must_use]
    pub fn under(mut self, headings: impl IntoIterator<Item = Option<String>>) -> Self {
        let mut last = None;
        for (item, heading) in self.items.iter_mut().zip(headings) {
            item.heading = heading.clone().filter(|_| heading != last);
            last = heading;
        }
        self
    }

    /// The same menu, of which only these options are listed.
    #[must_use]
    pub fn listing(self, listed: Vec<usize>) -> Self {
        Self { listed: Some(listed), ..self }
    }

    /// The options with their numbers, and what else may be typed.
    #[must_use]
    pub fn page(&self) -> Page {
        let mut page = Page::default();
        let digits = self.items.len().to_string().len();
        let all = || (0..self.items.len()).collect();
        for index in self.listed.clone().unwrap_or_else(all) {
            let Some(item) = self.items.get(index) else { continue };
            if let Some(heading) = item.heading.as_ref().filter(|_| self.listed.is_none()) {
                page.add(Voice::Plain, format!("{}:", capital(heading)));
            }
            let number = format!("{:>digits$}", index + 1);
            page.add_labelled(Voice::Plain, &number, self.named(item));
        }
        let letters: String = self
            .items
            .iter()
            .filter_map(|item| item.letter.map(|letter| format!(", {letter}")))
            .collect();
        let commands = Command::line(&self.commands);
        let number = match (self.takes_several, self.takes_text) {
            (true, true) => "The numbers, a word",
            (true, false) => "All that are true, such as 1 3, or 0 for none of these,",
            _ => "The number",
        };
        page.add(Voice::Quiet, format!("{number}{letters} {commands}"));
        page
    }

    fn named(&self, item: &MenuItem) -> String {
        match item.letter {
            Some(letter) => format!("{} ({letter})", item.text),
            None => item.text.clone(),
        }
    }

    /// The options that a line names by their numbers: `1 3`, `1,3`, `1 and 3`; none of them by `0`.
    fn several_meant(&self, line: &str) -> Option<Vec<usize>> {
        let line = line.trim().to_lowercase();
        if ["0", NONE, NONE_OF_THESE].contains(&line.as_str()) {
            return Some(Vec::new());
        }
        let between = |letter: char| letter.is_whitespace() || ",;.+&/".contains(letter);
        let words = line.split(between).filter(|word| !word.is_empty() && *word != "and");
        let index = |word: &str| {
            let number = word.parse::<usize>().ok()?;
            number.checked_sub(1).filter(|index| *index < self.items.len())
        };
        let taken = words.map(index).collect::<Option<Vec<usize>>>()?;
        let mut seen = HashSet::new();
        let once: Vec<usize> = taken.into_iter().filter(|index| seen.insert(*index)).collect();
        (!once.is_empty()).then_some(once)
    }

    /// The option that a line stands for: by its number, its letter, or a lettered option's whole text.
    fn meant(&self, line: &str) -> Option<usize> {
        if self.takes_several {
            return None;
        }
        let line = line.trim().to_lowercase();
        if let Ok(number) = line.parse::<usize>() {
            return number.checked_sub(1).filter(|index| *index < self.items.len());
        }
        let is_it = |item: &MenuItem| {
            item.letter.is_some_and(|own| line == own.to_string() || line == item.text)
        };
        self.items.iter().position(is_it)
    }
}

/// Words for none of several options.
const NONE: &str = "none";
const NONE_OF_THESE: &str = "none of these";

/// The longest line that is gathered.
const MAX_LINE: usize = 60;

/// A menu while keys are pressed.
#[derive(Debug)]
pub(in crate::terminal) struct Marking<'m> {
    menu: &'m Menu,
    marked: Option<usize>,
    /// The line so far; empty where an option was marked by the arrow keys, unless several are taken.
    typed: String,
}

/// What a key brought about.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(in crate::terminal) enum Pressed {
    /// Another option is marked, or another line stands there.
    Marked,
    /// The key means nothing here.
    Nothing,
    /// The line typed means nothing here.
    NoSuchWord(String),
    Taken(Chosen),
}

impl<'m> Marking<'m> {
    #[must_use]
    pub(in crate::terminal) fn new(menu: &'m Menu) -> Self {
        Self { menu, marked: menu.marked, typed: menu.filled.clone() }
    }

    /// What stands behind the prompt: number and text of what is marked, or what was typed.
    #[must_use]
    pub(in crate::terminal) fn shown(&self) -> String {
        match self.marked.and_then(|index| Some((index, self.menu.items.get(index)?))) {
            Some((index, item)) => format!("{}{} {}", self.typed_before(), index + 1, item.text),
            None => self.typed.clone(),
        }
    }

    /// The numbers typed before the option that is marked.
    fn typed_before(&self) -> &str {
        if self.menu.takes_several { &self.typed } else { "" }
    }

    /// Takes a key in.
    pub(in crate::terminal) fn press(&mut self, key: &Key) -> Pressed {
        let last = self.menu.items.len().saturating_sub(1);
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
            Key::Char(letter) if !letter.is_control() => self.typed(*letter),
            _ => Pressed::Nothing,
        }
    }

    fn mark(&mut self, index: usize) -> Pressed {
        self.marked = (index < self.menu.items.len()).then_some(index);
        if !self.menu.takes_several {
            self.typed.clear();
        } else if !self.typed.is_empty() && !self.typed.ends_with(' ') {
            self.typed.push(' ');
        }
        Pressed::Marked
    }

    fn shorten(&mut self) -> Pressed {
        self.typed.pop();
        self.marked = self.menu.meant(&self.typed);
        Pressed::Marked
    }

    fn typed(&mut self, letter: char) -> Pressed {
        if self.typed.chars().count() >= MAX_LINE {
            return Pressed::Nothing;
        }
        // A word or a command takes the place of the answer that stands there; numbers are added to numbers.
        let words = |text: &str| text.chars().any(char::is_alphabetic);
        if self.typed == self.menu.filled && (letter.is_alphabetic() || words(&self.typed)) {
            self.typed.clear();
        }
        match self.marked.filter(|_| self.menu.takes_several && letter == ' ') {
            // The space bar takes what the arrow keys marked.
            Some(index) => self.typed.push_str(&format!("{} ", index + 1)),
            None => self.typed.push(letter),
        }
        self.marked = self.menu.meant(&self.typed);
        Pressed::Marked
    }

    fn enter(&mut self) -> Pressed {
        if self.menu.takes_several {
            let marked = self.marked.map_or_else(String::new, |index| (index + 1).to_string());
            if let Some(taken) = self.menu.several_meant(&format!("{}{marked}", self.typed)) {
                return Pressed::Taken(Chosen::Several(taken));
            }
            self.marked = None;
        }
        if let Some(index) = self.marked {
            return Pressed::Taken(Chosen::Option(index));
        }
        let line = std::mem::take(&mut self.typed).trim().to_owned();
        if line.is_empty() {
            return Pressed::Nothing;
        }
        match Command::of_text(&line).filter(|command| self.menu.commands.contains(command)) {
            Some(command) => Pressed::Taken(Chosen::Command(command)),
            // Numbers that are none of a list's are no words either.
            None if self.menu.takes_several && !line.chars().any(char::is_alphabetic) => {
                Pressed::NoSuchWord(line)
            }
            None if self.menu.takes_text => Pressed::Taken(Chosen::Text(line)),
            None => Pressed::NoSuchWord(line),
        }
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
pub(in crate::terminal) fn no_such_word(word: &str) -> Page {
    Page::of(
        Voice::Trouble,
        format!(
            "\"{word}\" is not one of the choices: type a number or one of the letters, then \
            Enter."
        ),
    )
}
