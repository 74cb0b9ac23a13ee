//! Numbers as people type them: decimal point or comma, exponent, fraction, whole and fraction.
//!
//! Unlike a formula's numbers, which have neither comma nor fraction.

/// Why no number could be taken from a text.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum NumberFault {
    /// The text doesn't begin with one.
    None,
    /// `1,234.5`: which mark is the decimal one can't be told for sure.
    TwoMarks,
    /// `nan`, `inf`.
    NotFinite,
    /// Too large, or too near zero, for a float.
    Extreme,
    /// `5/0`.
    OverZero,
}

/// The number at the start of `text`, and what stands behind it.
pub(super) fn leading_number(text: &str) -> Result<(f64, &str), NumberFault> {
    let (sign, unsigned) = match text.strip_prefix('-') {
        Some(rest) => (-1.0, rest.trim_start()),
        None => (1.0, text.strip_prefix('+').map_or(text, str::trim_start)),
    };
    if is_no_number(unsigned) {
        return Err(NumberFault::NotFinite);
    }
    let (size, rest) = match fraction(unsigned)? {
        Some(found) => found,
        None => decimal(unsigned)?,
    };
    Ok((sign * size, rest))
}

fn is_no_number(text: &str) -> bool {
    let word: String = text.chars().take(9).take_while(|letter| letter.is_alphabetic()).collect();
    let word = word.to_lowercase();
    matches!(word.as_str(), "nan" | "inf" | "infinity" | "infinite") || text.starts_with('∞')
}

/// `5/8` and `1 5/8`.
fn fraction(text: &str) -> Result<Option<(f64, &str)>, NumberFault> {
    let (first, rest) = digits(text);
    let spaced = rest.trim_start();
    let (whole, above, rest) = if spaced.len() < rest.len() {
        let (above, rest) = digits(spaced);
        (first, above, rest)
    } else {
        ("0", first, rest)
    };
    let Some(below) = rest.strip_prefix('/') else { return Ok(None) };
    let (below, rest) = digits(below);
    if whole.is_empty() || above.is_empty() || below.is_empty() {
        return Ok(None);
    }
    let (whole, above, below) = (float(whole)?, float(above)?, float(below)?);
    if below == 0.0 {
        return Err(NumberFault::OverZero);
    }
    Ok(Some((whole + above / below, rest)))
}

fn decimal(text: &str) -> Result<(f64, &str), NumberFault> {
    let (whole, mut rest) = digits(text);
    let mut places = "";
    if let Some(after) = rest.strip_prefix(is_mark)
        && after.starts_with(|letter: char| letter.is_ascii_digit())
    {
        (places, rest) = digits(after);
        if rest.strip_prefix(is_mark).is_some_and(|more| !digits(more).0.is_empty()) {
            return Err(NumberFault::TwoMarks);
        }
    }
    if whole.is_empty() && places.is_empty() {
        return Err(NumberFault::None);
    }
    let (exponent, rest) = exponent(rest);
    let number = float(&format!("{whole}.{places}e{exponent}"))?;
    let is_zero = whole.chars().chain(places.chars()).all(|digit| digit == '0');
    if number == 0.0 && !is_zero { Err(NumberFault::Extreme) } else { Ok((number, rest)) }
}

/// `e-5` behind a number; `0` where there is none.
fn exponent(text: &str) -> (&str, &str) {
    let Some(body) = text.strip_prefix(['e', 'E']) else { return ("0", text) };
    let unsigned = body.strip_prefix(['+', '-']).unwrap_or(body);
    let (size, rest) = digits(unsigned);
    if size.is_empty() {
        return ("0", text);
    }
    (body.get(..body.len() - rest.len()).unwrap_or("0"), rest)
}

fn is_mark(letter: char) -> bool {
    matches!(letter, '.' | ',')
}

fn digits(text: &str) -> (&str, &str) {
    let rest = text.trim_start_matches(|letter: char| letter.is_ascii_digit());
    text.split_at(text.len() - rest.len())
}

fn float(text: &str) -> Result<f64, NumberFault> {
    match text.parse::<f64>() {
        Ok(number) if number.is_finite() => Ok(number),
        Ok(_) => Err(NumberFault::Extreme),
        Err(_) => Err(NumberFault::None),
    }
}
