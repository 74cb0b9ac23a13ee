//! `boostwright pack simulate --by-findings`: how well the rules find what is wrong where findings are told
//! directly, and what it costs.

use std::fmt::Write as _;

use crate::cli::exit::{Exit, Failure};
use crate::cli::output;
use crate::interview::{Conditions, Outcomes, simulate};
use crate::rules::Pack;
use crate::text::Clean;

use super::progress::Progress;
use super::simulate::{SEED, complaints, ratio, runs_within};

/// Cars for each condition, where nobody says how many.
const RUNS: usize = 200;

const AS_WRITTEN: Conditions =
    Conditions { wrong_answers: 0.0, strengths_off: 1.0, fixed_order: false };

const TRIED: [(&str, Conditions); 5] = [
    ("truthful", AS_WRITTEN),
    ("5 % wrong answers", Conditions { wrong_answers: 0.05, ..AS_WRITTEN }),
    ("10 % wrong answers", Conditions { wrong_answers: 0.1, ..AS_WRITTEN }),
    ("strengths off by 2", Conditions { strengths_off: 2.0, ..AS_WRITTEN }),
    ("asked in fixed order", Conditions { fixed_order: true, ..AS_WRITTEN }),
];

/// Simulates every complaint, or the one named.
pub(super) fn run(
    pack: &Pack,
    complaint: Option<&str>,
    runs: Option<usize>,
) -> Result<Exit, Failure> {
    let runs = runs_within(runs.unwrap_or(RUNS))?;
    let complaints = complaints(pack, complaint)?;
    let faults = complaints.iter().filter(|own| pack.complaints[**own].tells_of_a_fault()).count();
    let progress = Progress::of(faults * TRIED.len(), "series");
    for complaint in complaints {
        progress.make_way();
        output::result(Clean::line(format!(
            "{} ({runs} cars each)",
            pack.complaints[complaint].title
        )))?;
        if !pack.complaints[complaint].tells_of_a_fault() {
            output::result("  points to no fault, so there is nothing to find")?;
            continue;
        }
        output::result(
            "                        first  in three  minutes  questions  given 70-80 %: true",
        )?;
        for (name, conditions) in TRIED {
            let outcomes = simulate(pack, complaint, conditions, runs, SEED);
            progress.step();
            progress.make_way();
            output::result(row(name, &outcomes))?;
        }
    }
    Ok(Exit::Done)
}

fn row(name: &str, outcomes: &Outcomes) -> String {
    if outcomes.runs == 0 {
        return format!("{name:22}  no simulated car shows this complaint");
    }
    let share = |count: usize, of: usize| format!("{:.0} %", 100.0 * ratio(count, of));
    let mut line = format!(
        "{name:22} {:>6}  {:>8}  {:>7.0}  {:>9}",
        share(outcomes.first, outcomes.runs),
        share(outcomes.among_three, outcomes.runs),
        outcomes.median_minutes(),
        outcomes.median_questions(),
    );
    let bin = outcomes.calibration[7];
    if bin.causes > 0 {
        let _ = write!(
            line,
            "  {} of {} ({})",
            bin.present,
            bin.causes,
            share(bin.present, bin.causes)
        );
    }
    line
}
