//! What a working says with its value put in. Rule files write "{margin} above the spring"; a value
//! below zero turns the word round, or is given as a plain number where there is no word to turn.

use crate::quantity::{Kind, Printed, print_result};
use crate::rules::{Piece, WorkingId};

use super::turned::{for_itself, turned};
use crate::interview::evidence::facts::Facts;

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
