//! From what is written to what is walked: every name looked up, every number brought to SI, every
//! formula checked. All faults of a pack are found in one go.

mod arguments;
mod cases;
mod causes;
mod cautions;
mod conditions;
mod curves;
mod drawings;
mod entries;
mod formulas;
mod ids;
mod linker;
mod lists;
mod order;
mod questions;
mod readings;
mod relations;
mod usual;
mod vocabulary;
mod walk;

use std::collections::HashSet;

use super::fault::{Fault, LinkFault};
use super::pack::{CarState, Instrument, Layer, Pack, Setup, Source, SourceKind};
use super::stack::{Entries, Stack};
use super::table::{CautionId, SourceId, TypedIndex};
use super::written as w;
use crate::formula::{Meaning, Names, check};
use crate::quantity::{Dimension, Kind};
use crate::text::spaced;
use entries::entries;
use formulas::Formulas;
use ids::readable_ids;
use linker::{At, Linker, Spot};
pub(super) use order::order;
pub(super) use walk::CONCLUDE;

/// Links a stack of packs. The pack is only to be walked where no fault is an error.
pub(super) fn link(stack: &Stack) -> (Pack, Vec<Fault>) {
    let mut linker = Linker { stack, faults: Vec::new(), formless: HashSet::new() };
    usual::check(&mut linker);
    let layers = stack.heads.iter().map(|head| layer(&head.written)).collect();
    let asking = asking(&mut linker);
    let mut pack = Pack { layers, asking, ..Pack::default() };
    readable_ids(&mut linker, "complaints", &stack.complaints);
    readable_ids(&mut linker, "car_states", &stack.car_states);
    readable_ids(&mut linker, "setups", &stack.setups);
    readable_ids(&mut linker, "instruments", &stack.instruments);
    readable_ids(&mut linker, "curves", &stack.curves);
    readable_ids(&mut linker, "drawings", &stack.drawings);
    readable_ids(&mut linker, "readings", &stack.readings);
    readable_ids(&mut linker, "causes", &stack.causes);
    readable_ids(&mut linker, "repairs", &stack.repairs);
    readable_ids(&mut linker, "cautions", &stack.cautions);
    readable_ids(&mut linker, "steps", &stack.steps);
    readable_ids(&mut linker, "sources", &stack.sources);
    readable_ids(&mut linker, "cases", &stack.cases);
    sources(&mut linker, &mut pack);
    car_states(&mut linker, &mut pack);
    setups(&mut linker, &mut pack);
    instruments(&mut linker, &mut pack);
    questions::link(&mut linker, &mut pack);
    let mut formulas = Formulas::new(stack);
    formulas.link(&mut linker, &mut pack);
    readings::link(&mut linker, &mut pack, &formulas);
    causes::link(&mut linker, &mut pack);
    questions::link_fits(&mut linker, &mut pack, &formulas);
    causes::link_fits(&mut linker, &mut pack, &formulas);
    causes::link_planned(&mut linker, &mut pack, &formulas);
    drawings::link(&mut linker, &mut pack, &formulas);
    walk::link(&mut linker, &mut pack, &formulas);
    lists::settle_lists(&mut pack);
    cases::link(&mut linker, &mut pack);
    (pack, linker.faults)
}

/// Minutes that a question costs beside its work where no head says so: to read it, to understand it, to
/// walk back to the screen and answer.
const USUAL_ASKING: f64 = 4.0;

/// What the highest head says that a question costs beside its work, in minutes.
fn asking(linker: &mut Linker<'_>) -> f64 {
    linker.stack.heads.iter().fold(USUAL_ASKING, |below, head| {
        let spot = At::new("pack", "asking", head).field_itself();
        linker.minutes(&spot, head.written.asking.as_ref(), below)
    })
}

fn layer(head: &w::Head) -> Layer {
    Layer {
        name: head.name.clone().unwrap_or_else(|| "without a name".to_owned()),
        version: head.version.clone(),
        author: head.author.clone(),
        licence: head.licence.clone(),
        about: head.about.clone(),
    }
}

impl Linker<'_> {
    fn cautions(&mut self, spot: &Spot<'_>, ids: Option<&Vec<String>>) -> Vec<CautionId> {
        let stack = self.stack;
        self.places(spot, ids, &stack.cautions, "a caution")
    }

    fn sources(&mut self, spot: &Spot<'_>, ids: Option<&Vec<String>>) -> Vec<SourceId> {
        let stack = self.stack;
        self.places(spot, ids, &stack.sources, "a source")
    }

    fn place_of<P: TypedIndex, T>(
        &mut self,
        spot: &Spot<'_>,
        id: Option<&String>,
        entries: &Entries<T>,
        what: &'static str,
    ) -> Option<P> {
        id.and_then(|id| self.place(spot, id, entries, what))
    }
}

fn sources(linker: &mut Linker<'_>, pack: &mut Pack) {
    const KINDS: [(&str, SourceKind); 7] = [
        ("standard", SourceKind::Standard),
        ("book", SourceKind::Book),
        ("maker", SourceKind::Maker),
        ("paper", SourceKind::Paper),
        ("trade", SourceKind::Trade),
        ("practice", SourceKind::Practice),
        ("memory", SourceKind::Memory),
    ];
    let stack = linker.stack;
    for (at, written) in entries("sources", &stack.sources) {
        let word = written.kind.as_deref().unwrap_or("practice");
        let kind = KINDS.iter().find(|(known, _)| *known == word).map(|(_, kind)| *kind);
        if kind.is_none() {
            let known = KINDS.iter().map(|(known, _)| *known);
            linker.wrong_word(&at.field("kind"), word, known, "kind of source");
        }
        linker.not_default(&at.field("kind"), written.kind.as_deref() == Some("practice"));
        let title = linker.text(&at.field("title"), written.title.as_ref());
        let source = Source {
            title: title.unwrap_or_else(|| spaced(at.id())),
            kind: kind.unwrap_or(SourceKind::Practice),
            place: linker.text(&at.field("where"), written.place.as_ref()),
        };
        pack.sources.push(at.id().to_owned(), source);
    }
}

/// Minutes to bring the car into another state where the file doesn't say.
const USUAL_CHANGE: f64 = 5.0;

fn car_states(linker: &mut Linker<'_>, pack: &mut Pack) {
    let stack = linker.stack;
    for (at, written) in entries("car_states", &stack.car_states) {
        let state = CarState {
            title: linker.required(at, "title", written.title.as_ref()),
            how: linker.text(&at.field("how"), written.how.as_ref()),
            minutes: linker.minutes(&at.field("minutes"), written.minutes.as_ref(), USUAL_CHANGE),
            cautions: linker.cautions(&at.field("cautions"), written.cautions.as_ref()),
        };
        pack.car_states.push(at.id().to_owned(), state);
    }
}

fn setups(linker: &mut Linker<'_>, pack: &mut Pack) {
    let stack = linker.stack;
    for (at, written) in entries("setups", &stack.setups) {
        let title = linker.text(&at.field("title"), written.title.as_ref());
        let title = title.unwrap_or_else(|| spaced(at.id()));
        let put_back = linker.text(&at.field("put_back"), written.put_back.as_ref());
        if put_back.is_none() {
            linker.note(&at.key(), LinkFault::NothingToPutBack { setup: at.id().to_owned() });
        }
        let setup = Setup {
            how: linker.text(&at.field("how"), written.how.as_ref()),
            put_back: put_back.unwrap_or_else(|| format!("Undo this: {title}.")),
            title,
            minutes: linker.minutes(&at.field("minutes"), written.minutes.as_ref(), 0.0),
            cautions: linker.cautions(&at.field("cautions"), written.cautions.as_ref()),
        };
        pack.setups.push(at.id().to_owned(), setup);
    }
}

/// The standard uncertainty of an instrument that is only known by its class: the printed
/// tolerance, class × span, as a rectangular distribution (JCGM 100:2008, 4.3.7).
fn from_class(class: f64, span: f64) -> f64 {
    class * span / 3.0_f64.sqrt()
}

fn instruments(linker: &mut Linker<'_>, pack: &mut Pack) {
    let stack = linker.stack;
    for (at, written) in entries("instruments", &stack.instruments) {
        let title = linker.text(&at.field("title"), written.title.as_ref());
        let span = written.span.as_ref().and_then(|text| linker.any_value(&at.field("span"), text));
        let own = written.uncertainty.as_ref();
        let own = own.and_then(|text| linker.any_value(&at.field("uncertainty"), text));
        let class = written.class.as_ref();
        let class = class.and_then(|text| linker.value(&at.field("class"), text, Kind::NUMBER));
        let (uncertainty, dimension) = match (own, class.as_ref(), span) {
            (Some((uncertainty, dimension)), _, _) => (uncertainty, Some(dimension)),
            (None, Some(class), Some((span, dimension))) => {
                (from_class(class.si, span), Some(dimension))
            }
            _ => {
                linker.note(&at.key(), LinkFault::NoAccuracy { instrument: at.id().to_owned() });
                (0.0, span.map(|(_, dimension)| dimension))
            }
        };
        let grade = match (&written.class, &written.span) {
            (Some(class), Some(span)) => format!("class {class} of {span}"),
            _ => written.uncertainty.as_ref().map_or_else(String::new, |text| format!("± {text}")),
        };
        for (field, number) in [
            ("uncertainty", own.map(|(size, _)| size)),
            ("class", class.as_ref().map(|class| class.si)),
            ("span", span.map(|(size, _)| size)),
        ] {
            if number.is_some_and(|number| number < 0.0) {
                linker.note(&at.field(field), LinkFault::NegativeUncertainty);
            }
        }
        let instrument = Instrument {
            title: title.unwrap_or_else(|| spaced(at.id())),
            uncertainty: uncertainty.abs(),
            kind: dimension.map(Kind::plain),
            grade,
        };
        linker.sources(&at.field("source"), written.source.as_ref());
        pack.instruments.push(at.id().to_owned(), instrument);
    }
}

impl Linker<'_> {
    /// A number with any unit, as an amount: SI size and dimension.
    fn any_value(&mut self, spot: &Spot<'_>, text: &str) -> Option<(f64, Dimension)> {
        let nothing = NoNames;
        match check(text, &nothing, None) {
            Ok(formula) => match (formula.node.fixed(), formula.kind()) {
                (Some(si), Some(kind)) => Some((si, kind.dimension)),
                _ => {
                    self.note(spot, LinkFault::NoValue);
                    None
                }
            },
            Err(faults) => {
                self.formula_faults(spot, faults);
                None
            }
        }
    }
}

/// Formulas that may only hold numbers.
struct NoNames;

impl Names for NoNames {
    fn find(&self, _: &str) -> Option<Meaning<'_>> {
        None
    }

    fn all(&self) -> Vec<&str> {
        Vec::new()
    }
}
