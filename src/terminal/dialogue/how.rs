//! "How do I do this": the way, tools, minutes, where the car must be, what can hurt, what is
//! normal, and where it comes from.

use crate::interview::cautions_with;
use crate::quantity::{Kind, print_value};
use crate::rules::{AnswerForm, Pack, Question, QuestionId, SourceKind, UsualUncertainty};

use crate::terminal::dialogue::before::normal;
use crate::terminal::dialogue::cautions::cautions;
use crate::terminal::screen::page::{Page, Voice};

/// The whole help for a question.
#[must_use]
pub(in crate::terminal) fn how(pack: &Pack, question: QuestionId) -> Page {
    let asked = &pack.questions[question];
    let mut page = Page::of(Voice::Heading, "How to do it");
    page.add(
        Voice::Plain,
        asked.how.as_deref().unwrap_or("The rules have nothing to add to the question."),
    );
    page.add(Voice::Plain, format!("Takes about {:.0} min.", asked.minutes.max(1.0)));
    if !asked.tools.is_empty() {
        page.add(Voice::Plain, format!("Tools: {}.", asked.tools.join(", ")));
    }
    if let Some(car) = asked.car {
        let car = &pack.car_states[car];
        page.add(Voice::Plain, format!("Car: {}.", car.title));
        page.add(Voice::Quiet, car.how.as_deref().unwrap_or_default());
    }
    if let Some(setup) = asked.setup {
        let setup = &pack.setups[setup];
        page.add(Voice::Plain, format!("Set-up: {}.", setup.title));
        page.add(Voice::Quiet, setup.how.as_deref().unwrap_or_default());
        page.add(Voice::Quiet, format!("Afterwards: {}", setup.put_back));
    }
    page.add(Voice::Plain, normal(asked));
    page.add(Voice::Quiet, usual_uncertainty(pack, asked));
    page.extend(cautions(pack, &cautions_with(pack, question)));
    page.add(Voice::Quiet, sources(pack, asked));
    page
}

fn usual_uncertainty(pack: &Pack, asked: &Question) -> String {
    let AnswerForm::Measure(measure) = &asked.answer else { return String::new() };
    let amount = |si: f64| print_value(si, 0.0, &measure.unit, difference(measure.kind));
    match (measure.uncertainty, measure.read_with.first()) {
        (UsualUncertainty::Relative(share), _) => format!(
            "Taken as accurate to ± {:.1} % (one standard uncertainty) unless you give your own \
             after ±.",
            share * 100.0
        ),
        (UsualUncertainty::Amount(si), _) if si > 0.0 => format!(
            "Taken as accurate to ± {} (one standard uncertainty) unless you give your own after \
             ±.",
            amount(si)
        ),
        (UsualUncertainty::Amount(_), Some(instrument)) => {
            let instrument = &pack.instruments[*instrument];
            format!(
                "Taken as read with: {}, accurate to ± {} (one standard uncertainty), unless you \
                 give your own after ±.",
                instrument.title,
                amount(instrument.uncertainty)
            )
        }
        (UsualUncertainty::Amount(_), None) => String::new(),
    }
}

/// An uncertainty of a temperature is a difference.
fn difference(kind: Kind) -> Kind {
    if kind == Kind::TEMPERATURE { Kind::TEMPERATURE_DIFFERENCE } else { kind }
}

fn sources(pack: &Pack, asked: &Question) -> String {
    let titles: Vec<String> = asked
        .sources
        .iter()
        .map(|source| {
            let source = &pack.sources[*source];
            let place = source.place.as_ref().map_or_else(String::new, |at| format!(", {at}"));
            let guess = match source.kind {
                SourceKind::Memory => " (first guess)",
                _ => "",
            };
            format!("{}{place}{guess}", source.title)
        })
        .collect();
    if titles.is_empty() { String::new() } else { format!("Source: {}.", titles.join("; ")) }
}
