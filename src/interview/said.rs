//! What a working says with its value put in. Rule files write "{margin} above the spring"; a value
//! below zero turns the word round, or is given as a plain number where there is no word to turn.

use crate::quantity::Kind;
use crate::rules::WorkingId;
use crate::text::spaced;

use super::facts::Facts;

/// Words behind a value that tell which way it counts, each with its opposite.
const OPPOSITES: [(&str, &str); 6] = [
    ("above", "below"),
    ("over", "under"),
    ("higher", "lower"),
    ("more", "less"),
    ("later", "earlier"),
    ("longer", "shorter"),
];

impl Facts<'_> {
    /// What a working says; none where it says nothing or can't be worked out.
    #[must_use]
    pub fn said(&self, working: WorkingId) -> Option<String> {
        let pack = self.pack;
        let written = &pack.workings[working];
        let says = self.filled(written.says.as_ref()?);
        let shown = self.shown_working(working)?;
        // A temperature below zero is just cold.
        if !is_negative(&shown) || written.formula.kind() == Some(Kind::TEMPERATURE) {
            return Some(says);
        }
        let id = || spaced(pack.workings.id(working));
        Some(turned(&says, &shown, &written.title.clone().unwrap_or_else(id)))
    }
}

/// Whether a printed number lies below zero, as far as its digits tell.
fn is_negative(shown: &str) -> bool {
    let number = shown.split(' ').next().unwrap_or_default();
    number.starts_with('-') && number.contains(|digit: char| ('1'..='9').contains(&digit))
}

/// A text with a negative value in it, said so that it reads well.
fn turned(says: &str, shown: &str, title: &str) -> String {
    let Some((before, after)) = says.split_once(shown) else { return says.to_owned() };
    let positive = shown.trim_start_matches('-');
    let word: String = after.trim_start().chars().take_while(|c| c.is_alphabetic()).collect();
    let opposite = OPPOSITES.iter().find_map(|(one, other)| match word.as_str() {
        word if word == *one => Some(*other),
        word if word == *other => Some(*one),
        _ => None,
    });
    if let Some(opposite) = opposite {
        return format!("{before}{positive}{}", after.replacen(&word, opposite, 1));
    }
    // What the text adds in sentences of its own holds as before.
    let (earlier, later) = (
        before.rsplit_once(". ").map_or(String::new(), |(earlier, _)| format!("{earlier}. ")),
        after.split_once(". ").map_or(String::new(), |(_, later)| format!(" {later}")),
    );
    format!("{earlier}{title}: {shown}.{later}")
}

#[cfg(test)]
mod tests {
    use super::{is_negative, turned};

    #[test]
    fn a_negative_value_above_something_is_below_it() {
        assert_eq!(
            turned("It stands -0.18 ± 0.05 bar above the spring.", "-0.18 ± 0.05 bar", "margin"),
            "It stands 0.18 ± 0.05 bar below the spring."
        );
    }

    #[test]
    fn without_a_word_to_turn_the_number_stands_for_itself_and_further_sentences_stay() {
        assert_eq!(
            turned("Relieve it by -0.4 mm. Below zero leave it.", "-0.4 mm", "Relief of the stop"),
            "Relief of the stop: -0.4 mm. Below zero leave it."
        );
    }

    #[test]
    fn a_zero_has_no_sign() {
        assert!(!is_negative("-0.00 ± 0.02 bar") && !is_negative("0.1 bar"));
        assert!(is_negative("-0.01 ± 0.02 bar"));
    }
}
