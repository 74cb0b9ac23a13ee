//! Texts that nobody would write, made of sound ones.

use rand::{RngExt, SeedableRng};
use rand_xoshiro::Xoshiro256PlusPlus;

/// The longest text that is made: mutations that repeat must not grow for ever.
const LONGEST: usize = 6000;

/// Pieces that readers stumble over.
const PIECES: [&str; 78] = [
    "",
    " ",
    "\n",
    "\n  ",
    "\t",
    "\r\n",
    "\u{feff}",
    "\0",
    "\u{1b}[2J",
    "\u{202e}",
    "\u{200b}",
    "é",
    "漢",
    "\u{10ffff}",
    "0",
    "1",
    "-1",
    "1e308",
    "1e-320",
    "1e999",
    "0x10",
    "nan",
    ".inf",
    "inf",
    "1/0",
    "5/8",
    "1 1/2",
    "0,5",
    "1,234.5",
    "%",
    "°",
    "°C",
    "degF",
    "±",
    "+/-",
    "bar",
    "psi",
    "mm",
    "mm2",
    "^",
    "^2",
    "^-1",
    "²",
    "⁻¹",
    "*",
    "/",
    "//",
    "(",
    ")",
    "[",
    "]",
    "{",
    "}",
    ",",
    ";",
    ":",
    ": ",
    "- ",
    "? ",
    "#",
    "&a ",
    "*a",
    "!!str ",
    "<<: ",
    "|",
    ">-",
    "\"",
    "'",
    "---\n",
    "=",
    "==",
    "<",
    "and ",
    "not ",
    "if ",
    "known(",
    "yes",
    "unknown",
];

/// Makes one text after the other, the same for the same start.
pub(crate) struct Mutator {
    chance: Xoshiro256PlusPlus,
    seeds: Vec<String>,
}

impl Mutator {
    pub(crate) fn new(start: u64, seeds: Vec<String>) -> Self {
        Self { chance: Xoshiro256PlusPlus::seed_from_u64(start), seeds }
    }

    /// A seed with a few changes; now and then with many.
    pub(crate) fn next(&mut self) -> String {
        let mut text = self.seed();
        let changes = if self.chance.random_bool(0.1) { 30 } else { 4 };
        for _ in 0..self.chance.random_range(1..=changes) {
            text = self.changed(&text);
        }
        cut(&text, LONGEST).to_owned()
    }

    fn seed(&mut self) -> String {
        let place = self.chance.random_range(0..self.seeds.len());
        self.seeds[place].clone()
    }

    /// A place in a text, between two letters.
    fn place(&mut self, text: &str) -> usize {
        cut(text, self.chance.random_range(0..=text.len())).len()
    }

    /// A stretch of a text, mostly a short one.
    fn stretch(&mut self, text: &str) -> (usize, usize) {
        let start = self.place(text);
        let longest = if self.chance.random_bool(0.8) { 12 } else { 400 };
        let length = self.chance.random_range(0..=longest);
        (start, start + cut(&text[start..], length).len())
    }

    fn changed(&mut self, text: &str) -> String {
        let (start, end) = self.stretch(text);
        let (before, middle, behind) = (&text[..start], &text[start..end], &text[end..]);
        match self.chance.random_range(0..8) {
            0 => [before, behind].concat(),
            1 => [before, middle, middle, behind].concat(),
            2 => {
                let piece = PIECES[self.chance.random_range(0..PIECES.len())];
                [before, piece, middle, behind].concat()
            }
            3 => {
                let piece = PIECES[self.chance.random_range(0..PIECES.len())];
                [before, piece, behind].concat()
            }
            4 => {
                let other = self.seed();
                let (from, to) = self.stretch(&other);
                [before, &other[from..to], behind].concat()
            }
            5 => {
                let times = self.chance.random_range(2..200);
                let middle = cut(middle, 40).repeat(times);
                [before, cut(&middle, LONGEST), behind].concat()
            }
            6 => {
                let (from, to) = self.stretch(text);
                [before, &text[from..to], behind].concat()
            }
            _ => {
                let letter: char = self.chance.random();
                format!("{before}{letter}{behind}")
            }
        }
    }
}

/// The start of a text, at most so many bytes.
fn cut(text: &str, most: usize) -> &str {
    let mut end = most.min(text.len());
    while !text.is_char_boundary(end) {
        end -= 1;
    }
    &text[..end]
}
