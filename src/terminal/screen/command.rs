//! What a person may say at every prompt instead of an answer: one letter, or its word.

/// A wish at a prompt.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Command {
    /// To the question before.
    Back,
    /// Not now: asked again when nothing else is left.
    Later,
    /// "Can't say": a third value that never counts as no.
    CantSay,
    /// How is it done?
    How,
    /// Why is it asked?
    Why,
    /// Something else that the person knows.
    More,
    /// Enough for today.
    Stop,
    /// What may be typed here?
    Help,
}

/// Letter, what the line below each question calls it, what the help says, further words.
const COMMANDS: [(Command, char, &str, &str, &[&str]); 8] = [
    (Command::Back, 'b', "back", "go back to the previous answer (or press Esc)", &["back"]),
    (
        Command::Later,
        'l',
        "later",
        "leave it for later; it comes back when nothing else is left",
        &["later"],
    ),
    (
        Command::CantSay,
        'c',
        "can't say",
        "it can't be known; that never counts as no",
        &["can't say", "cant say", "unknown", "don't know"],
    ),
    (Command::How, 'h', "how", "how to do it, with tools, time and what is normal", &["how"]),
    (Command::Why, 'w', "why", "why it is asked now and what it could show", &["why"]),
    (
        Command::More,
        'm',
        "more",
        "tell something else you know, found by a word; this question comes back",
        &["more"],
    ),
    (
        Command::Stop,
        's',
        "stop",
        "stop for today; all answers so far are saved",
        &["stop", "quit", "exit", "q"],
    ),
    (Command::Help, '?', "help", "this list", &["help"]),
];

impl Command {
    /// The wish behind a single letter, in either case.
    #[must_use]
    fn of_letter(letter: char) -> Option<Self> {
        let letter = letter.to_ascii_lowercase();
        COMMANDS.iter().find(|(_, own, ..)| *own == letter).map(|(command, ..)| *command)
    }

    /// The wish behind a typed line that is nothing but a letter or a word of it.
    #[must_use]
    pub(in crate::terminal) fn of_text(text: &str) -> Option<Self> {
        let text = text.trim().replace('’', "'").to_lowercase();
        let mut letters = text.chars();
        if let (Some(letter), None) = (letters.next(), letters.next())
            && let Some(command) = Self::of_letter(letter)
        {
            return Some(command);
        }
        COMMANDS
            .iter()
            .find(|(.., words)| words.contains(&text.as_str()))
            .map(|(command, ..)| *command)
    }

    /// The short line below a question: `or b back · l later · ... and Enter`.
    #[must_use]
    pub(in crate::terminal) fn line(commands: &[Self]) -> String {
        let parts: Vec<String> = COMMANDS
            .iter()
            .filter(|(command, ..)| commands.contains(command))
            // A no-break space keeps letter and word together where the line is wrapped.
            .map(|(_, letter, name, ..)| format!("{letter}\u{a0}{}", name.replace(' ', "\u{a0}")))
            .collect();
        format!("or {}, then Enter", parts.join(" · "))
    }

    /// What the letter does, for the help.
    #[must_use]
    pub(in crate::terminal) fn explained(commands: &[Self]) -> Vec<String> {
        COMMANDS
            .iter()
            .filter(|(command, ..)| commands.contains(command))
            .map(|(_, letter, name, does, _)| format!("{letter} {name}: {does}"))
            .collect()
    }
}

/// What may be said at a question.
pub(in crate::terminal) const AT_A_QUESTION: [Command; 8] = [
    Command::Back,
    Command::Later,
    Command::CantSay,
    Command::How,
    Command::Why,
    Command::More,
    Command::Stop,
    Command::Help,
];

/// What may be said where a choice is needed to go on.
pub(in crate::terminal) const AT_A_CHOICE: [Command; 3] =
    [Command::Back, Command::Stop, Command::Help];
