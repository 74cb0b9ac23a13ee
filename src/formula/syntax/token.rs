//! Text to tokens. A number swallows the unit that stands behind it, so that the parser never has
//! to tell a unit's `/` from a division.

use super::expression::{Comparison, Spread};
use super::fault::{Fault, Span};
use super::mistake::Mistake;
use crate::quantity::{Unit, is_symbol, nearest_symbol};

/// Words of the language, which no value can be called.
pub const RESERVED: [&str; 8] = ["and", "or", "not", "if", "then", "else", "yes", "no"];

#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Token {
    Number { value: f64, unit: Option<Unit>, uncertainty: Option<Spread> },
    Word(String),
    Plus,
    Minus,
    Times,
    Over,
    Caret,
    Open,
    Close,
    Comma,
    Assign,
    Comparison(Comparison),
    End,
}

#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Placed {
    pub(crate) token: Token,
    pub(crate) span: Span,
}

/// Splits a formula into tokens, the last one [`Token::End`].
pub(crate) fn tokens(text: &str) -> Result<Vec<Placed>, Fault> {
    let mut lexer = Lexer { text, at: 0 };
    let mut found = Vec::new();
    loop {
        lexer.skip_space();
        let placed = lexer.next()?;
        let end = placed.token == Token::End;
        found.push(placed);
        if end {
            return Ok(found);
        }
    }
}

struct Lexer<'a> {
    text: &'a str,
    at: usize,
}

impl Lexer<'_> {
    fn rest(&self) -> &str {
        self.text.get(self.at..).unwrap_or("")
    }

    fn peek(&self) -> Option<char> {
        self.rest().chars().next()
    }

    fn skip_space(&mut self) {
        while let Some(letter) = self.peek().filter(|letter| letter.is_whitespace()) {
            self.at += letter.len_utf8();
        }
    }

    fn next(&mut self) -> Result<Placed, Fault> {
        let start = self.at;
        let Some(letter) = self.peek() else {
            return Ok(Placed { token: Token::End, span: start..start });
        };
        if letter.is_ascii_digit() || (letter == '.' && self.digit_follows(1)) {
            return self.number();
        }
        if letter.is_ascii_alphabetic() || letter == '_' {
            return self.word();
        }
        let two = self.rest().get(..2);
        let (token, length) = match (letter, two) {
            (_, Some("<=")) => (Token::Comparison(Comparison::LessOrEqual), 2),
            (_, Some(">=")) => (Token::Comparison(Comparison::GreaterOrEqual), 2),
            (_, Some("==")) => (Token::Comparison(Comparison::Equal), 2),
            (_, Some("!=")) => (Token::Comparison(Comparison::Unequal), 2),
            ('+', _) => (Token::Plus, 1),
            ('-', _) => (Token::Minus, 1),
            ('\u{2212}', _) => (Token::Minus, letter.len_utf8()),
            ('*', _) => (Token::Times, 1),
            ('/', _) => (Token::Over, 1),
            ('^', _) => (Token::Caret, 1),
            ('(', _) => (Token::Open, 1),
            (')', _) => (Token::Close, 1),
            (',', _) => (Token::Comma, 1),
            ('=', _) => (Token::Assign, 1),
            ('<', _) => (Token::Comparison(Comparison::Less), 1),
            ('>', _) => (Token::Comparison(Comparison::Greater), 1),
            _ => {
                let span = start..start + letter.len_utf8();
                return Err(Fault::new(span, Mistake::StrayLetter { letter }));
            }
        };
        self.at += length;
        Ok(Placed { token, span: start..self.at })
    }

    fn digit_follows(&self, offset: usize) -> bool {
        self.rest().as_bytes().get(offset).is_some_and(u8::is_ascii_digit)
    }

    fn word(&mut self) -> Result<Placed, Fault> {
        let start = self.at;
        while let Some(letter) = self.peek() {
            if !(letter.is_ascii_alphanumeric() || letter == '_') {
                break;
            }
            self.at += 1;
        }
        let word = self.text.get(start..self.at).unwrap_or("").to_owned();
        Ok(Placed { token: Token::Word(word), span: start..self.at })
    }

    fn digits(&mut self) {
        while self.digit_follows(0) {
            self.at += 1;
        }
    }

    /// The bare number at this place, without unit.
    fn bare_number(&mut self) -> Result<f64, Fault> {
        let start = self.at;
        self.digits();
        if self.peek() == Some('.') && self.digit_follows(1) {
            self.at += 1;
            self.digits();
        }
        if matches!(self.peek(), Some('e' | 'E')) {
            let signed = matches!(self.rest().as_bytes().get(1), Some(b'+' | b'-'));
            if self.digit_follows(1) || (signed && self.digit_follows(2)) {
                self.at += if signed { 2 } else { 1 };
                self.digits();
            }
        }
        let span = start..self.at;
        let value = self.text.get(span.clone()).and_then(|text| text.parse::<f64>().ok());
        value.filter(|value| value.is_finite()).ok_or_else(|| Fault::new(span, Mistake::Number))
    }

    /// The unit behind a number, past at most the space between them.
    fn unit(&mut self) -> Option<Unit> {
        let spaces = self.rest().len() - self.rest().trim_start().len();
        let (unit, length) = Unit::prefix(self.rest().get(spaces..)?)?;
        self.at += spaces + length;
        Some(unit)
    }

    fn number(&mut self) -> Result<Placed, Fault> {
        let start = self.at;
        let value = self.bare_number()?;
        let mut unit = self.unit();
        if unit.is_none() {
            self.refuse_glued_word()?;
        }
        let uncertainty = self.spread()?;
        // `24 ± 0.2 mm` gives the unit for both.
        if let (None, Some(Spread::Amount { unit: shared, .. })) = (&unit, &uncertainty) {
            unit.clone_from(shared);
        }
        Ok(Placed { token: Token::Number { value, unit, uncertainty }, span: start..self.at })
    }

    /// `12 bbar` or `12abc`: a word right behind a number can only be meant as a unit.
    fn refuse_glued_word(&mut self) -> Result<(), Fault> {
        let before = self.at;
        self.skip_space();
        let glued = self.peek().is_some_and(|letter| letter.is_alphabetic() || letter == '°');
        if !glued {
            self.at = before;
            return Ok(());
        }
        let start = self.at;
        let word: String = self
            .rest()
            .chars()
            .take_while(|l| l.is_alphanumeric() || *l == '_' || *l == '°')
            .collect();
        if RESERVED.contains(&word.as_str()) {
            self.at = before;
            return Ok(());
        }
        let (span, near) = (start..start + word.len(), nearest_symbol(&word));
        let mistake = if is_symbol(&word) {
            Mistake::MisplacedUnit { word, near }
        } else {
            Mistake::NoUnit { word, near }
        };
        Err(Fault::new(span, mistake))
    }

    /// `± 0.2`, `± 0.2 mm`, `± 2 %` behind a number.
    fn spread(&mut self) -> Result<Option<Spread>, Fault> {
        let before = self.at;
        self.skip_space();
        if self.peek() != Some('±') {
            self.at = before;
            return Ok(None);
        }
        self.at += '±'.len_utf8();
        self.skip_space();
        if !self.digit_follows(0) && self.peek() != Some('.') {
            return Err(Fault::new(self.at..self.at, Mistake::NoSpread));
        }
        let size = self.bare_number()?;
        let spread = match self.unit() {
            Some(unit) if unit.is_percent() => Spread::Relative(size / 100.0),
            unit => Spread::Amount { size, unit },
        };
        Ok(Some(spread))
    }
}
