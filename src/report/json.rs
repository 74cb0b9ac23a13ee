//! The conclusion as JSON: the contract that scripts rest on. Numbers are never rounded.

use indexmap::IndexMap;

use super::model::{Conclusion, CurveLine, LeftOutLine, ReasonLine, WorkingLine};

/// Causes less likely than this are told by their chances alone, sets of causes not at all.
const WORTH_REASONS: f64 = 1e-2;
/// A reason that changes the odds by less than this factor either way is left out.
const MIN_TIMES: f64 = 1.05;
/// What a working lacks without its basis.
const OF_THE_BASIS: [&str; 8] = [
    "band_from",
    "effective_draws",
    "formula",
    "formula_in_short",
    "with_numbers",
    "source",
    "assumed",
    "widest",
];

/// The conclusion as indented JSON with what a reader of it needs, and what was left out.
#[must_use]
pub fn json_in_brief(conclusion: &Conclusion) -> String {
    let mut brief = conclusion.clone();
    brief.left_out = Some(LeftOutLine {
        note: "Shortened: --full prints everything.".to_owned(),
        unlikely_causes: leave_out_causes(&mut brief),
        likely_sets: shortened(&mut brief.likely_sets, |set| set.probability >= WORTH_REASONS),
        reasons: leave_out_reasons(&mut brief),
        findings: leave_out_findings(&mut brief),
        workings: leave_out_workings(&mut brief),
        answer_fields: leave_out_sources(&mut brief),
        working_fields: OF_THE_BASIS.map(str::to_owned).to_vec(),
        curve_points: brief.curves.iter_mut().map(leave_out_points).sum(),
    });
    json(&brief)
}

/// The conclusion as indented JSON, with all there is.
#[must_use]
pub fn json(conclusion: &Conclusion) -> String {
    // Nothing in the model can fail to be written: keys are texts, numbers are finite.
    serde_json::to_string_pretty(conclusion).unwrap_or_default() + "\n"
}

fn leave_out_causes(brief: &mut Conclusion) -> IndexMap<String, f64> {
    let unlikely = brief.causes.extract_if(.., |cause| cause.probability < WORTH_REASONS);
    unlikely.map(|cause| (cause.id, cause.probability)).collect()
}

fn leave_out_reasons(brief: &mut Conclusion) -> usize {
    let tells = |reason: &ReasonLine| {
        reason.times.is_none_or(|times| !(1.0 / MIN_TIMES..MIN_TIMES).contains(&times))
    };
    let lists =
        brief.causes.iter_mut().flat_map(|cause| [&mut cause.speaks_for, &mut cause.against]);
    lists.map(|list| shortened(list, tells)).sum()
}

fn leave_out_findings(brief: &mut Conclusion) -> usize {
    shortened(&mut brief.findings, |finding| finding.probability.is_some())
}

fn leave_out_workings(brief: &mut Conclusion) -> usize {
    let about_this_car = |working: &WorkingLine| {
        working.rests_on_answers && (working.named || working.says.is_some())
    };
    let left_out = shortened(&mut brief.workings, about_this_car);
    brief.workings.iter_mut().for_each(|working| working.basis = None);
    left_out
}

/// Whose the answers and typical values are; the fields that went.
fn leave_out_sources(brief: &mut Conclusion) -> Vec<String> {
    brief.answers.iter_mut().for_each(|answer| answer.source.clear());
    vec!["source".to_owned()]
}

fn leave_out_points(curve: &mut CurveLine) -> usize {
    std::mem::take(&mut curve.points).len()
}

/// Keeps what is wanted of a list, and tells how many entries went.
fn shortened<T>(list: &mut Vec<T>, wanted: impl Fn(&T) -> bool) -> usize {
    let all = list.len();
    list.retain(wanted);
    all - list.len()
}
