//! Causes, how strongly they bring findings, and repairs; and the network that the ranking sees.

use indexmap::IndexMap;

use super::entries::entries;
use super::formulas::Formulas;
use super::linker::{At, Linker, Spot, count_meant, read_chance};
use crate::formula::{Node, VarId, nearest};
use crate::ranking::{Finding, Link, Network};
use crate::rules::fault::LinkFault;
use crate::rules::pack::{Cause, Pack, Repair, VarOwner};
use crate::rules::question::AnswerForm;
use crate::rules::strengths::STRENGTHS;
use crate::rules::table::{FindingId, QuestionId, TypedIndex};
use crate::rules::written as w;
use crate::text::spaced;

const USUAL_SUCCESS: f64 = 0.9;
const USUAL_REPAIR_MINUTES: f64 = 60.0;

pub(super) fn link(linker: &mut Linker<'_>, pack: &mut Pack) {
    let strengths = strengths(linker);
    let mut findings = leaks(linker);
    let priors = causes(linker, pack, &strengths, &mut findings);
    match Network::new(priors, findings) {
        Ok(network) => pack.network = network,
        // Every number was checked above.
        Err(refusal) => linker.internal("causes", refusal.to_string()),
    }
    repairs(linker, pack);
}

fn strengths(linker: &mut Linker<'_>) -> IndexMap<String, f64> {
    let mut known: IndexMap<String, f64> =
        STRENGTHS.iter().map(|(word, strength)| ((*word).to_owned(), *strength)).collect();
    let stack = linker.stack;
    for (at, written) in entries("strengths", &stack.strengths) {
        if let Some(strength) = linker.chance(&at.field_itself(), written) {
            known.insert(at.id().to_owned(), strength);
        }
    }
    known
}

/// The findings with their leaks, not yet linked to any cause.
fn leaks(linker: &mut Linker<'_>) -> Vec<Finding> {
    let stack = linker.stack;
    entries("findings", &stack.findings)
        .map(|(at, written)| {
            let leak = match &written.leak {
                Some(text) => linker.chance(&at.field("leak"), text),
                None => {
                    linker.missing(at, "leak");
                    None
                }
            };
            if leak == Some(1.0) {
                let finding = at.id().to_owned();
                linker.note(&at.field("leak"), LinkFault::IdleLeak { finding });
            }
            Finding { leak: leak.unwrap_or(0.0), links: Vec::new() }
        })
        .collect()
}

/// Links every cause; its priors, in order.
fn causes(
    linker: &mut Linker<'_>,
    pack: &mut Pack,
    strengths: &IndexMap<String, f64>,
    findings: &mut [Finding],
) -> Vec<f64> {
    let stack = linker.stack;
    let mut priors = Vec::new();
    for (index, (at, written)) in entries("causes", &stack.causes).enumerate() {
        let prior = match &written.common {
            Some(text) => linker.chance(&at.field("common"), text),
            None => {
                linker.missing(at, "common");
                None
            }
        };
        if let Some(prior) = prior.filter(|prior| *prior == 0.0 || *prior == 1.0) {
            let certain = prior == 1.0;
            linker.note(&at.field("common"), LinkFault::SettledCause { certain });
        }
        priors.push(prior.unwrap_or(0.0));
        if written.brings.is_none() {
            linker.missing(at, "brings");
        }
        for (place, strength) in brings(linker, at, written, strengths) {
            findings[place.index()].links.push(Link { cause: index, strength });
        }
        let cause = Cause {
            title: linker.required(at, "title", written.title.as_ref()),
            about: linker.text(&at.field("about"), written.about.as_ref()),
            // A condition reads findings and workings, as those of questions do.
            fits: None,
            confirmed_by: linker.places(
                &at.field("confirmed_by"),
                written.confirmed_by.as_ref(),
                &stack.questions,
                "a question",
            ),
            confused_with: linker.places(
                &at.field("confused_with"),
                written.confused_with.as_ref(),
                &stack.causes,
                "a cause",
            ),
            sources: linker.sources(&at.field("source"), written.source.as_ref()),
        };
        pack.causes.push(at.id().to_owned(), cause);
    }
    priors
}

/// The findings that a cause brings, with their strengths.
fn brings(
    linker: &mut Linker<'_>,
    at: At<'_>,
    written: &w::Cause,
    strengths: &IndexMap<String, f64>,
) -> Vec<(FindingId, f64)> {
    let mut found = Vec::new();
    for (finding, text) in written.brings.iter().flatten() {
        let spot = at.field("brings").under(finding);
        let place = linker.place(&spot.on_key(), finding, &linker.stack.findings, "a finding");
        let strength = strength(linker, &spot, text, strengths);
        if strength == Some(0.0) {
            let (cause, finding) = (at.id().to_owned(), finding.clone());
            linker.note(&spot, LinkFault::IdleStrength { cause, finding });
        }
        found.extend(place.zip(strength));
    }
    found
}

/// The conditions under which causes fit the car.
pub(super) fn link_fits(linker: &mut Linker<'_>, pack: &mut Pack, formulas: &Formulas) {
    let stack = linker.stack;
    let places: Vec<_> = pack.causes.indices().collect();
    for (place, (at, written)) in places.into_iter().zip(entries("causes", &stack.causes)) {
        let fits = formulas.condition(linker, &at.field("fits"), written.fits.as_ref());
        pack.causes[place].fits = fits;
    }
}

/// The conditions under which repairs are planned.
pub(super) fn link_planned(linker: &mut Linker<'_>, pack: &mut Pack, formulas: &Formulas) {
    let stack = linker.stack;
    let places: Vec<_> = pack.repairs.indices().collect();
    for (place, (at, written)) in places.into_iter().zip(entries("repairs", &stack.repairs)) {
        let spot = at.field("planned_when");
        let planned_when = formulas.condition(linker, &spot, written.planned_when.as_ref());
        pack.repairs[place].planned_when = planned_when;
    }
}

fn strength(
    linker: &mut Linker<'_>,
    spot: &Spot<'_>,
    text: &str,
    strengths: &IndexMap<String, f64>,
) -> Option<f64> {
    if let Some(strength) = strengths.get(text.trim()) {
        return Some(*strength);
    }
    if let Some(number) = read_chance(text) {
        return Some(number);
    }
    let words = strengths.keys().map(String::as_str);
    let near = nearest(text.trim(), words).map(str::to_owned);
    let meant = near.or_else(|| count_meant(text));
    let (text, known) = (text.to_owned(), strengths.keys().cloned().collect());
    linker.note(spot, LinkFault::Strength { text, meant, known });
    None
}

fn repairs(linker: &mut Linker<'_>, pack: &mut Pack) {
    let stack = linker.stack;
    for (at, written) in entries("repairs", &stack.repairs) {
        let title = linker.text(&at.field("title"), written.title.as_ref());
        if is_idle(linker, at, written) {
            linker.note(&at.key(), LinkFault::MendsNothing { repair: at.id().to_owned() });
        }
        let succeeds =
            written.succeeds.as_ref().and_then(|text| linker.chance(&at.field("succeeds"), text));
        linker.not_default(&at.field("succeeds"), succeeds == Some(USUAL_SUCCESS));
        let repair = Repair {
            title: title.unwrap_or_else(|| spaced(at.id())),
            how: linker.text(&at.field("how"), written.how.as_ref()),
            mends: linker.places(
                &at.field("mends"),
                written.mends.as_ref(),
                &stack.causes,
                "a cause",
            ),
            succeeds: succeeds.unwrap_or(USUAL_SUCCESS),
            minutes: linker.minutes(
                &at.field("minutes"),
                written.minutes.as_ref(),
                USUAL_REPAIR_MINUTES,
            ),
            tools: linker.texts(&at.field("tools"), written.tools.as_ref()),
            parts: linker.texts(&at.field("parts"), written.parts.as_ref()),
            cautions: linker.cautions(&at.field("cautions"), written.cautions.as_ref()),
            invalidates: linker.places(
                &at.field("invalidates"),
                written.invalidates.as_ref(),
                &stack.questions,
                "a question",
            ),
            predicts: predicts(linker, pack, at, written),
            sizes: sizes(linker, pack, at, written),
            // A condition reads findings and workings.
            planned_when: None,
            needs: linker.places(
                &at.field("needs"),
                written.needs.as_ref(),
                &stack.questions,
                "a question",
            ),
            alternatives: linker.places(
                &at.field("alternatives"),
                written.alternatives.as_ref(),
                &stack.repairs,
                "a repair",
            ),
            sources: linker.sources(&at.field("source"), written.source.as_ref()),
        };
        pack.repairs.push(at.id().to_owned(), repair);
    }
}

/// Whether nobody would ever come to a repair: it mends nothing, is offered beside no other and never
/// planned.
fn is_idle(linker: &Linker<'_>, at: At<'_>, written: &w::Repair) -> bool {
    let mut others = linker.stack.repairs.values().flat_map(|other| &other.written.alternatives);
    written.mends.as_ref().is_none_or(Vec::is_empty)
        && written.planned_when.is_none()
        && !others.any(|named| named.iter().any(|id| id == at.id()))
}

/// `predicts: {peak_boost: boost_at_new_port}`: a question and the working that says what it
/// should read.
fn predicts(
    linker: &mut Linker<'_>,
    pack: &Pack,
    at: At<'_>,
    written: &w::Repair,
) -> Vec<(QuestionId, VarId)> {
    let stack = linker.stack;
    let mut found = Vec::new();
    for (question, by) in written.predicts.iter().flatten() {
        let spot = at.field("predicts").under(question);
        let place = linker.place(&spot.on_key(), question, &stack.questions, "a question");
        if let (Some(place), Some(slot)) = (place, value(linker, pack, &spot, by)) {
            same_kind(linker, pack, &spot, (place, slot));
            found.push((place, slot));
        }
    }
    found
}

fn sizes(linker: &mut Linker<'_>, pack: &Pack, at: At<'_>, written: &w::Repair) -> Vec<VarId> {
    let named = written.sizes.iter().flatten().enumerate();
    let spots = named.map(|(place, by)| (at.field("sizes").item(place), by));
    spots.filter_map(|(spot, by)| value(linker, pack, &spot, by)).collect()
}

/// The working of this name, or else the question.
fn value(linker: &mut Linker<'_>, pack: &Pack, spot: &Spot<'_>, name: &str) -> Option<VarId> {
    let working = pack.workings.find(name).map(|working| pack.working_slot(working));
    let question = || pack.questions.find(name).map(|question| pack.question_slot(question));
    let found = working.or_else(question);
    if found.is_none() {
        let known = pack.workings.ids().chain(pack.questions.ids());
        linker.unknown(spot, name, known, "a working");
    }
    found
}

/// Refuses a forecast of another kind than what is to be read.
fn same_kind(
    linker: &mut Linker<'_>,
    pack: &Pack,
    spot: &Spot<'_>,
    (place, slot): (QuestionId, VarId),
) {
    let measured = |question: QuestionId| match &pack.questions[question].answer {
        AnswerForm::Measure(measure) => Some(measure.kind),
        _ => None,
    };
    let question = pack.questions.id(place).to_owned();
    if linker.formless.contains(&question) {
        return;
    }
    let given = match pack.owner_of(slot) {
        VarOwner::Question(other) if linker.formless.contains(pack.questions.id(other)) => return,
        VarOwner::Question(other) => measured(other),
        VarOwner::Working(working) => {
            let formula = &pack.workings[working].formula;
            // What was left out has been told.
            if formula.node == Node::LeftOut {
                return;
            }
            formula.kind()
        }
        VarOwner::CurveVariable => None,
    };
    match (measured(place), given) {
        (Some(wanted), Some(given)) if wanted.dimension != given.dimension => {
            linker.note(spot, LinkFault::OffForecast { question, wanted, given });
        }
        (Some(_), Some(_)) => {}
        (None, _) => {
            let fault = LinkFault::NotANumber { name: question, workings: false };
            linker.note(&spot.on_key(), fault);
        }
        (_, None) => {
            let name = pack.slot_id(slot).to_owned();
            linker.note(spot, LinkFault::NotANumber { name, workings: true });
        }
    }
}
