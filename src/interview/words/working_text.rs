//! What a working says with its value put in. Rule files write "{margin} above the spring"; a value
//! below zero turns the word round, or is given as a plain number where there is no word to turn.

use crate::quantity::{Kind, Printed, print_result};
use crate::rules::{Piece, WorkingId};

use crate::interview::evidence::facts::Facts;

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
    /// What a working says; none where it says nothing or can't be worked out. `form` writes its own
    /// value, as with its uncertainty or with its band; a text that leaves it out says it first.
    #[must_use]
    pub fn working_text(
        &self,
        working: WorkingId,
        form: impl Fn(&Printed) -> String,
    ) -> Option<String> {
        let pack = self.pack;
        let written = &pack.workings[working];
        let pieces = &written.says.as_ref()?.0;
        let band = self.worked(working)?.band;
        let kind = written.formula.kind().unwrap_or(Kind::NUMBER);
        let (value, ends) = (band.value, (band.low, band.high));
        let own = print_result((value, band.uncertainty), ends, &written.unit, kind);
        let slot = pack.working_slot(working);
        let Some(place) = pieces.iter().position(|piece| *piece == Piece::Value(slot)) else {
            return Some(self.in_words(pieces));
        };
        let (before, after) =
            (self.in_words(&pieces[..place]), self.in_words(&pieces[place + 1..]));
        // A temperature below zero is just cold.
        if !own.is_negative || kind == Kind::TEMPERATURE {
            return Some(format!("{before}{}{after}", form(&own)));
        }
        if let Some(after) = turned(&after) {
            let ends = (-band.high, -band.low);
            let size = print_result((-value, band.uncertainty), ends, &written.unit, kind);
            return Some(format!("{before}{}{after}", form(&size)));
        }
        let title = pack.working_title(working);
        Some(for_itself(&before, &format!("{title}: {}", form(&own)), &after))
    }
}

/// What stands behind a value, for the value on the other side of zero; none where there is no word to
/// turn.
fn turned(after: &str) -> Option<String> {
    let word: String = after.trim_start().chars().take_while(|c| c.is_alphabetic()).collect();
    let opposite = OPPOSITES.iter().find_map(|(one, other)| match word.as_str() {
        word if word == *one => Some(*other),
        word if word == *other => Some(*one),
        _ => None,
    })?;
    Some(after.replacen(&word, opposite, 1))
}

/// A value in place of the sentence it stood in. What the text adds in sentences of its own holds as
/// before.
fn for_itself(before: &str, value: &str, after: &str) -> String {
    let earlier =
        before.rsplit_once(". ").map_or(String::new(), |(earlier, _)| format!("{earlier}. "));
    let later = after.split_once(". ").map_or(String::new(), |(_, later)| format!(" {later}"));
    format!("{earlier}{value}.{later}")
}

#[cfg(test)]
mod tests {
    use super::{for_itself, turned};

    #[test]
    fn a_negative_value_above_something_is_below_it() {
        assert_eq!(turned(" above the spring.").as_deref(), Some(" below the spring."));
        assert_eq!(turned(" earlier than planned.").as_deref(), Some(" later than planned."));
    }

    #[test]
    fn without_a_word_to_turn_the_number_stands_for_itself_and_further_sentences_stay() {
        assert_eq!(turned(". Below zero leave it."), None);
        assert_eq!(
            for_itself("Relieve it by ", "Relief of the stop: -0.4 mm", ". Below zero leave it."),
            "Relief of the stop: -0.4 mm. Below zero leave it."
        );
    }
}
