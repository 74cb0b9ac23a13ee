//! The grammar of unit expressions: symbols with optional powers (`mm2`, `mm^2`, `K^-1`),
//! products by a space inside brackets, one `/` without spaces round it, and the two-word units
//! `N m` and `lbf ft`.
//!
//! Finds where a unit ends in running text, so that a formula's division and the function `min(`
//! are left alone. What a symbol is worth stands in [`super::symbols`].

use super::Dimension;
use super::symbols::{Symbol, find};

/// What a unit expression comes to: `si = (number + shift) * times / over`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Parts {
    pub(super) dimension: Dimension,
    pub(super) times: f64,
    pub(super) over: f64,
    pub(super) shift: Option<f64>,
}

/// A piece of text understood, and the bytes it took.
type Found<T> = Option<(T, usize)>;

/// Products that the trade writes without brackets.
const TWO_WORDS: [(&str, &str); 2] = [("N", "m"), ("lbf", "ft")];

impl Parts {
    const ONE: Self = Self { dimension: Dimension::NONE, times: 1.0, over: 1.0, shift: None };

    fn of(symbol: &Symbol) -> Self {
        let Symbol { dimension, times, over, shift, .. } = *symbol;
        Self { dimension, times, over, shift }
    }

    /// `None` when a factor outgrows what a float holds.
    fn sound(self) -> Option<Self> {
        (self.times.is_normal() && self.over.is_normal()).then_some(self)
    }

    /// Temperature points take no part in products: those are written in kelvin.
    fn combinable(self) -> Option<Self> {
        self.shift.is_none().then_some(self)
    }

    fn times(self, other: Self) -> Option<Self> {
        let (left, right) = (self.combinable()?, other.combinable()?);
        Self {
            dimension: left.dimension.times(right.dimension)?,
            times: left.times * right.times,
            over: left.over * right.over,
            shift: None,
        }
        .sound()
    }

    fn inverse(self) -> Option<Self> {
        let Self { dimension, times, over, shift } = self.combinable()?;
        let dimension = Dimension::NONE.over(dimension)?;
        Some(Self { dimension, times: over, over: times, shift })
    }

    fn power(self, exponent: f64) -> Option<Self> {
        let base = self.combinable()?;
        if exponent < 0.0 {
            return base.power(-exponent)?.inverse();
        }
        Self {
            dimension: base.dimension.power(exponent)?,
            times: base.times.powf(exponent),
            over: base.over.powf(exponent),
            shift: None,
        }
        .sound()
    }
}

/// The longest unit expression at the start of `text`, and the bytes it takes. A leading `/`
/// stands for one over what follows, as in `17e-6/K`.
pub(super) fn expression(text: &str) -> Found<Parts> {
    let (over, used) = if text.starts_with('/') { (Parts::ONE, 0) } else { numerator(text)? };
    let rest = text.get(used..)?;
    let divided = denominator(rest)
        .and_then(|(under, more)| Some((over.times(under.inverse()?)?, used + more)));
    // What can't be divided by leaves a `/` that is a division.
    divided.or_else(|| (used > 0).then_some((over, used)))
}

fn numerator(text: &str) -> Found<Parts> {
    two_words(text).or_else(|| bracket(text)).or_else(|| factor(text))
}

/// `/` and the unit that it divides by.
fn denominator(text: &str) -> Found<Parts> {
    let below = text.strip_prefix('/')?;
    let (parts, used) = bracket(below).or_else(|| factor(below))?;
    Some((parts, 1 + used))
}

fn two_words(text: &str) -> Found<Parts> {
    TWO_WORDS.iter().find_map(|(first, second)| {
        let rest = text.strip_prefix(first)?;
        let after = rest.trim_start_matches(' ');
        let gap = rest.len() - after.len();
        if gap == 0 || word_length(after) != second.len() || !after.starts_with(second) {
            return None;
        }
        let product = Parts::of(find(first)?).times(Parts::of(find(second)?))?;
        let used = first.len() + gap + second.len();
        // `N m^2` is no two-word unit: whoever means it brackets it.
        (!text.get(used..)?.starts_with('^')).then_some((product, used))
    })
}

/// `(kg K)`: factors with spaces between them.
fn bracket(text: &str) -> Found<Parts> {
    let mut rest = text.strip_prefix('(')?.trim_start_matches(' ');
    let mut product = Parts::ONE;
    let mut first = true;
    loop {
        if !first && let Some(after) = rest.strip_prefix(')') {
            return Some((product, text.len() - after.len()));
        }
        let (next, used) = factor(rest)?;
        product = product.times(next)?;
        let after = rest.get(used..)?;
        rest = after.trim_start_matches(' ');
        if rest.len() == after.len() && !rest.starts_with(')') {
            return None;
        }
        first = false;
    }
}

/// A symbol with its power.
fn factor(text: &str) -> Found<Parts> {
    let length = word_length(text);
    let (word, rest) = text.split_at_checked(length)?;
    if word == "min" && rest.trim_start().starts_with('(') {
        return None;
    }
    let Some(symbol) = find(word) else {
        return Some((glued_power(word)?, length));
    };
    let parts = Parts::of(symbol);
    match raised(rest).and_then(|(exponent, more)| Some((parts.power(exponent)?, more))) {
        Some((power, more)) => Some((power, length + more)),
        None => Some((parts, length)),
    }
}

/// `mm2`: the power stands right behind the symbol.
pub(super) fn glued_power(word: &str) -> Option<Parts> {
    let symbol = word.trim_end_matches(|letter: char| letter.is_ascii_digit());
    let digits = word.get(symbol.len()..)?;
    // A first power is never written, so that `m1` stays free as a name.
    if digits.starts_with('0') || digits == "1" {
        return None;
    }
    Parts::of(find(symbol)?).power(digits.parse().ok()?)
}

/// `^2`, `^-1`, `^0.5`, `²`, `⁻¹` behind a symbol.
fn raised(text: &str) -> Found<f64> {
    let length = |rest: &str| text.len() - rest.len();
    if let Some(exponent) = text.strip_prefix('^') {
        let unsigned = exponent.strip_prefix('-').unwrap_or(exponent);
        let rest =
            unsigned.trim_start_matches(|letter: char| letter.is_ascii_digit() || letter == '.');
        let number = exponent.get(..exponent.len() - rest.len())?;
        let whole = unsigned.starts_with(|letter: char| letter.is_ascii_digit())
            && !rest.starts_with(in_word);
        return whole.then_some((number.parse().ok()?, length(rest)));
    }
    let rest = text.trim_start_matches(|letter| superscript(letter).is_some());
    let plain: String = text.chars().map_while(superscript).collect();
    Some((plain.parse().ok()?, length(rest)))
}

fn superscript(letter: char) -> Option<char> {
    const RAISED: [(char, char); 11] = [
        ('⁻', '-'),
        ('⁰', '0'),
        ('¹', '1'),
        ('²', '2'),
        ('³', '3'),
        ('⁴', '4'),
        ('⁵', '5'),
        ('⁶', '6'),
        ('⁷', '7'),
        ('⁸', '8'),
        ('⁹', '9'),
    ];
    RAISED.iter().find(|(raised, _)| *raised == letter).map(|(_, plain)| *plain)
}

fn in_word(letter: char) -> bool {
    letter.is_alphabetic() || letter.is_ascii_digit() || letter == '_'
}

/// Bytes of the whole word at the start of `text`: a symbol is never read out of a longer word.
fn word_length(text: &str) -> usize {
    let Some(first) = text.chars().next() else { return 0 };
    let rest = text.get(first.len_utf8()..).unwrap_or("");
    let tail = rest.len() - rest.trim_start_matches(in_word).len();
    match first {
        // A degree sign stands alone or before its scale.
        '°' => first.len_utf8() + tail,
        '%' | '″' | '"' if tail == 0 => first.len_utf8(),
        '℃' | '℉' => first.len_utf8() + tail,
        _ if first.is_alphabetic() => first.len_utf8() + tail,
        _ => 0,
    }
}
