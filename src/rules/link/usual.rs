//! What the head of a pack says of its questions: how reliable answers are that don't say it
//! themselves. It holds for the pack's own files, so that no pack reweighs another.

use super::linker::{At, Linker, Spot, read_chance};
use crate::rules::fault::LinkFault;
use crate::rules::stack::Stack;

/// How reliable answers are.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Usual {
    /// How often what is told or chosen is right, 0 to 1.
    sure: f64,
    /// How often a reading is off altogether, 0 to 1.
    slips: f64,
}

/// Of a pack whose head says nothing.
const UNSAID: Usual = Usual { sure: 1.0, slips: 0.0 };

/// Checks what the heads say.
pub(super) fn check(linker: &mut Linker<'_>) {
    let stack = linker.stack;
    for head in &stack.heads {
        let Some(written) = &head.written.usual else { continue };
        let spot = At::new("pack", "usual", head).field_itself();
        chance_or(linker, &spot.under("sure"), written.sure.as_ref(), UNSAID.sure);
        chance_or(linker, &spot.under("slips"), written.slips.as_ref(), UNSAID.slips);
    }
}

/// What the head of the pack says that a file is part of.
fn usual_in(stack: &Stack, file: usize) -> Usual {
    let written = stack.heads.get(stack.layer(file)).and_then(|head| head.written.usual.as_ref());
    let Some(written) = written else { return UNSAID };
    let said = |text: Option<&String>| text.and_then(|text| read_chance(text));
    Usual {
        sure: said(written.sure.as_ref()).unwrap_or(UNSAID.sure),
        slips: said(written.slips.as_ref()).unwrap_or(UNSAID.slips),
    }
}

impl Linker<'_> {
    /// How often an answer that is told or chosen is right.
    pub(super) fn sure(&mut self, spot: &Spot<'_>, text: Option<&String>) -> f64 {
        let usual = usual_in(self.stack, spot.file()).sure;
        chance_or(self, spot, text, usual)
    }

    /// How often a reading is off altogether. A typical value stands for the car until somebody looks
    /// it up or measures it with care: what is usual of readings isn't of those.
    pub(super) fn slips(
        &mut self,
        spot: &Spot<'_>,
        text: Option<&String>,
        has_typical: bool,
    ) -> f64 {
        let usual =
            if has_typical { UNSAID.slips } else { usual_in(self.stack, spot.file()).slips };
        chance_or(self, spot, text, usual)
    }
}

/// A chance that may be left out, with a warning where it might have been.
fn chance_or(linker: &mut Linker<'_>, spot: &Spot<'_>, text: Option<&String>, usual: f64) -> f64 {
    let Some(text) = text else { return usual };
    let Some(chance) = linker.chance(spot, text) else { return usual };
    if chance == usual {
        let unsaid = [UNSAID.sure, UNSAID.slips].contains(&usual);
        let fault = if unsaid { LinkFault::RepeatedDefault } else { LinkFault::RepeatedUsual };
        linker.note(spot, fault);
    }
    chance
}
