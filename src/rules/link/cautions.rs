//! Cautions: how grave, when in force, what they forbid.

use super::entries::entries;
use super::formulas::Formulas;
use super::linker::{Linker, Spot};
use crate::rules::fault::LinkFault;
use crate::rules::pack::{Caution, Forbidden, Level, Pack};
use crate::rules::stack::Stack;
use crate::rules::table::TypedIndex;
use crate::text::spaced;

impl Formulas {
    pub(super) fn cautions(&mut self, linker: &mut Linker<'_>, pack: &mut Pack) {
        const LEVELS: [(&str, Level); 3] =
            [("stop", Level::Stop), ("danger", Level::Danger), ("care", Level::Care)];
        let stack = linker.stack;
        for (at, written) in entries("cautions", &stack.cautions) {
            let word = written.level.as_deref().unwrap_or("care");
            let level = LEVELS.iter().find(|(known, _)| *known == word).map(|(_, level)| *level);
            if level.is_none() {
                let known = LEVELS.iter().map(|(known, _)| *known);
                linker.wrong_word(&at.field("level"), word, known, "level");
            }
            linker.not_default(&at.field("level"), written.level.as_deref() == Some("care"));
            let text = linker.text(&at.field("text"), written.text.as_ref());
            if text.is_none() {
                linker.note(&at.key(), LinkFault::SilentCaution { caution: at.id().to_owned() });
            }
            let when = self.condition(linker, &at.field("when"), written.when.as_ref());
            if when.is_none() && written.forbids.is_some() {
                linker.note(&at.field("forbids"), LinkFault::AlwaysForbidden);
            }
            linker.sources(&at.field("source"), written.source.as_ref());
            let caution = Caution {
                level: level.unwrap_or(Level::Care),
                when,
                text: text.unwrap_or_else(|| spaced(at.id())),
                forbids: forbids(linker, stack, &at.field("forbids"), written.forbids.as_ref()),
            };
            pack.cautions.push(at.id().to_owned(), caution);
        }
    }
}

fn forbids(
    linker: &mut Linker<'_>,
    stack: &Stack,
    spot: &Spot<'_>,
    ids: Option<&Vec<String>>,
) -> Vec<Forbidden> {
    let mut found = Vec::new();
    for (index, id) in ids.into_iter().flatten().enumerate() {
        fn place<P: TypedIndex>(index: Option<usize>) -> Option<P> {
            index.map(P::from_index)
        }
        let forbidden = place(stack.car_states.get_index_of(id))
            .map(Forbidden::CarState)
            .or_else(|| place(stack.setups.get_index_of(id)).map(Forbidden::Setup))
            .or_else(|| place(stack.questions.get_index_of(id)).map(Forbidden::Question))
            .or_else(|| place(stack.repairs.get_index_of(id)).map(Forbidden::Repair));
        match forbidden {
            Some(forbidden) => found.push(forbidden),
            None => {
                let known = stack.car_states.keys().chain(stack.setups.keys());
                let known = known.chain(stack.questions.keys()).chain(stack.repairs.keys());
                linker.unknown(
                    &spot.item(index),
                    id,
                    known.map(String::as_str),
                    "a car state, setup, question or repair",
                );
            }
        }
    }
    found
}
