//! Decimal text of numbers: where the digits end, and when a power of ten is taken out.
//!
//! Knows neither units nor kinds.

/// Digits of a value that carries no uncertainty.
const PLAIN_DIGITS: i32 = 4;
/// Digits beyond which a float holds only noise.
const MAX_DIGITS: i32 = 15;

/// Where the digits of a printed number end.
pub(super) struct Digits {
    /// The power of ten of the last digit.
    last: i32,
    /// The power of ten that is taken out and written behind an `e`; 0 where none is.
    taken_out: i32,
}

impl Digits {
    /// For numbers up to `largest` with this uncertainty: two significant digits of it, one if
    /// it leads with 3 or more. `None` for an uncertainty of zero, or too small for a float to
    /// show beside its value.
    pub(super) fn for_spread(spread: f64, largest: f64) -> Option<Self> {
        if spread <= largest * 10_f64.powi(1 - MAX_DIGITS) {
            return None;
        }
        let largest = largest.max(spread);
        let noise = place(largest) + 1 - MAX_DIGITS;
        Some(Self::new(last_place(spread).max(noise), largest))
    }

    /// For numbers up to `largest` that carry no uncertainty.
    pub(super) fn without_spread(largest: f64) -> Self {
        Self::new(place(largest) + 1 - PLAIN_DIGITS, largest)
    }

    fn new(last: i32, largest: f64) -> Self {
        let leading = place(largest);
        let taken_out = if (-4..7).contains(&leading) { 0 } else { leading };
        Self { last, taken_out }
    }

    /// A number to the last digit that counts, zeros or not; never minus zero.
    pub(super) fn all(&self, number: f64) -> String {
        let Self { last, taken_out } = *self;
        let places = usize::try_from(taken_out - last).unwrap_or(0);
        let coarse = 10_f64.powi((last - taken_out).max(0));
        // Below 1e-290 the power of ten itself would leave a float's range.
        let scale = if taken_out < -290 { 10_f64.powi(-290) } else { 1.0 };
        let rest = if taken_out < -290 { taken_out + 290 } else { taken_out };
        let mantissa = number / scale / 10_f64.powi(rest);
        let rounded = if coarse > 1.0 { (mantissa / coarse).round() * coarse } else { mantissa };
        let text = format!("{rounded:.places$}");
        let shows_nothing = text.chars().all(|letter| matches!(letter, '-' | '0' | '.'));
        let text = if shows_nothing { text.trim_start_matches('-') } else { &text };
        if taken_out == 0 || shows_nothing {
            text.to_owned()
        } else {
            format!("{text}e{taken_out}")
        }
    }

    /// The same without zeros behind the last digit that says something.
    pub(super) fn trimmed(&self, number: f64) -> String {
        let text = self.all(number);
        let (mantissa, exponent) = text.split_at(text.find('e').unwrap_or(text.len()));
        if !mantissa.contains('.') {
            return text;
        }
        let mantissa = mantissa.trim_end_matches('0').trim_end_matches('.');
        format!("{mantissa}{exponent}")
    }
}

/// The power of ten of the first digit; 0 for zero.
fn place(number: f64) -> i32 {
    leading(number).1
}

/// The power of ten at which a value with this uncertainty ends.
fn last_place(uncertainty: f64) -> i32 {
    let (digit, place) = leading(uncertainty);
    if digit < 3 { place - 1 } else { place }
}

/// First digit and its power of ten, of a number rounded to two digits. Taken from the decimal
/// text: a logarithm is off by one now and then at a power of ten.
fn leading(number: f64) -> (u32, i32) {
    let text = format!("{:.1e}", number.abs());
    let digit = text.chars().next().and_then(|letter| letter.to_digit(10)).unwrap_or(0);
    let place = text.split_once('e').and_then(|(_, place)| place.parse().ok()).unwrap_or(0);
    (digit, place)
}

/// The shortest decimal text of about `near` that `back` turns into just `si`, or else all
/// digits of `near`.
pub(super) fn shortest(near: f64, si: f64, back: impl Fn(f64) -> f64) -> String {
    let rounded = |places: usize| format!("{near:.places$e}").parse::<f64>().ok();
    let found = (0..17).filter_map(rounded).find(|number| back(*number).to_bits() == si.to_bits());
    // Adding zero turns minus zero into zero.
    let number = found.unwrap_or(near) + 0.0;
    if number == 0.0 || (1e-4..1e16).contains(&number.abs()) {
        number.to_string()
    } else {
        format!("{number:e}")
    }
}
