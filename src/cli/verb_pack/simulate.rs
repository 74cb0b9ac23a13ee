//! `boostwright pack simulate`: how well the rules find what is wrong by answers and readings of simulated
//! cars, what it costs, and whether the chances are true.

use crate::cli::exit::{Exit, Failure};
use crate::cli::output;
use crate::interview::{Interviewed, Leads, Series, ToldBy};
use crate::rules::{CauseId, ComplaintId, Pack};
use crate::text::Clean;

use super::progress::Progress;

/// The same cars are drawn every time.
pub(super) const SEED: u64 = 20_261_125;

/// The most interviews of a complaint or condition.
const MAX_RUNS: usize = 100_000;

/// Cars a complaint, where nobody says how many: the built-in rules then take a few minutes on two cores.
const RUNS: usize = 20;

/// Stretches of the lead's chance, in percent.
const STRETCHES: [(u32, u32); 4] = [(60, 70), (70, 80), (80, 90), (90, 100)];

/// Simulates every complaint that points to a fault, or the one named.
pub(super) fn run(
    pack: &Pack,
    complaint: Option<&str>,
    runs: Option<usize>,
    shaken: bool,
    misses: bool,
) -> Result<Exit, Failure> {
    let cars = runs_within(runs.unwrap_or(RUNS))?;
    let named = complaints(pack, complaint)?;
    let (faults, others): (Vec<ComplaintId>, Vec<ComplaintId>) =
        named.into_iter().partition(|own| pack.complaints[*own].tells_of_a_fault());
    for other in &others {
        let title = &pack.complaints[*other].title;
        output::result(Clean::line(format!(
            "{title}: points to no fault, so there is nothing to find"
        )))?;
    }
    if faults.is_empty() {
        return Ok(Exit::Done);
    }
    let progress = Progress::of(faults.len() * cars, "cars");
    let series = Series { complaints: faults.clone(), cars, shaken, seed: SEED };
    let held = series.hold(pack, &|| progress.step());
    drop(progress);
    let truth = if shaken { "drawn from shaken chances" } else { "drawn from the pack's chances" };
    output::result(format!("{} simulated cars, {truth}", held.len()))?;
    output::result("cars  first  in three  minutes  questions  complaint")?;
    for complaint in faults {
        let own: Vec<&Interviewed> = held.iter().filter(|one| one.complaint == complaint).collect();
        let title = &pack.complaints[complaint].title;
        output::result(Clean::line(format!("{}  {title}", row(&own))))?;
    }
    output::result(format!("{}  all", row(&held.iter().collect::<Vec<_>>())))?;
    told(&held)?;
    calibration(&held)?;
    if misses {
        missed(pack, &held)?;
    }
    Ok(Exit::Done)
}

fn row(held: &[&Interviewed]) -> String {
    if held.is_empty() {
        return format!("{:>4}  no simulated car shows this complaint:", 0);
    }
    let within = |places: usize| {
        held.iter().filter(|one| one.place.is_some_and(|place| place < places)).count()
    };
    let mut minutes: Vec<f64> = held.iter().map(|one| one.minutes).collect();
    minutes.sort_by(f64::total_cmp);
    let middle = minutes.get(minutes.len() / 2).copied().unwrap_or(0.0);
    format!(
        "{:>4}  {:>5}  {:>8}  {middle:>7.0}  {:>9}",
        held.len(),
        share(within(1), held.len()),
        share(within(3), held.len()),
        tenths(held, 5),
    )
}

/// So many questions were enough for this many tenths of the interviews.
fn tenths(held: &[&Interviewed], tenths: usize) -> usize {
    let mut questions: Vec<usize> = held.iter().map(|one| one.questions).collect();
    questions.sort_unstable();
    let place = (questions.len() * tenths).div_ceil(10).max(1) - 1;
    questions.get(place).copied().unwrap_or(0)
}

fn told(held: &[Interviewed]) -> Result<(), Failure> {
    let all: Vec<&Interviewed> = held.iter().collect();
    let longest = held.iter().map(|one| one.questions).max().unwrap_or(0);
    output::result(format!(
        "questions: half of the interviews took up to {}, nine in ten up to {}, the longest {longest}",
        tenths(&all, 5),
        tenths(&all, 9),
    ))?;
    let clashes = held.iter().filter(|one| one.lead.is_empty()).count();
    if clashes > 0 {
        output::result(format!("answers clashed in {clashes}"))?;
    }
    let as_drawn: usize = held.iter().map(|one| one.as_drawn).sum();
    let told: usize = held.iter().map(|one| one.told).sum();
    let percent = 100.0 * ratio(as_drawn, told);
    output::result(format!("{percent:.1} % of findings show in the answers as they were drawn"))?;
    Ok(())
}

fn calibration(held: &[Interviewed]) -> Result<(), Failure> {
    output::result("chance of the lead   told by   cars  said   true  said - true")?;
    let line = |name: &str, told_by: Option<ToldBy>, (from, to): (u32, u32)| {
        // The last stretch holds what is certain.
        let upper = if to == 100 { f64::INFINITY } else { f64::from(to) / 100.0 };
        let leads = Leads::of(held, told_by, f64::from(from) / 100.0, upper);
        let stretch = format!("{from} to {to} %");
        if leads.count == 0 {
            return format!("{stretch:19}  {name:8}  {:>4}", 0);
        }
        #[expect(clippy::cast_precision_loss, reason = "at most MAX_RUNS times the complaints")]
        let said = leads.said / leads.count as f64;
        let present = ratio(leads.present, leads.count);
        format!(
            "{stretch:19}  {name:8}  {:>4}  {said:.2}   {present:.2}  {:>+11.2}",
            leads.count,
            said - present
        )
    };
    for stretch in STRETCHES.into_iter().chain([(80, 100)]) {
        output::result(line("words", Some(ToldBy::Words), stretch))?;
        output::result(line("readings", Some(ToldBy::Readings), stretch))?;
    }
    output::result(line("either", None, (80, 100)))?;
    output::result(
        "An interview is told by readings where findings that rest on a measurement make up more than \
         half of what speaks for its lead.",
    )?;
    Ok(())
}

/// Each car whose true cause didn't come first: what it had, what led instead, and by what.
fn missed(pack: &Pack, held: &[Interviewed]) -> Result<(), Failure> {
    for one in held.iter().filter(|one| one.place != Some(0)) {
        let id = |cause: &CauseId| pack.causes.id(*cause).to_owned();
        let present: Vec<String> = one.present.iter().map(id).collect();
        let place = one.place.map_or_else(|| "-".to_owned(), |place| (place + 1).to_string());
        let lead = one.lead.first().map(|(lead, chance)| format!("{} {chance:.2}", id(lead)));
        let by = match one.told_by {
            ToldBy::Words => "words",
            ToldBy::Readings => "readings",
        };
        output::result(Clean::line(format!(
            "{}: {} came {place}; lead {} by {by}, {} questions",
            pack.complaints.id(one.complaint),
            present.join(" + "),
            lead.unwrap_or_else(|| "none, the answers clash".to_owned()),
            one.questions
        )))?;
    }
    Ok(())
}

/// The complaint named, or all.
pub(super) fn complaints(
    pack: &Pack,
    complaint: Option<&str>,
) -> Result<Vec<ComplaintId>, Failure> {
    let Some(id) = complaint else { return Ok(pack.complaints.indices().collect()) };
    Ok(vec![pack.complaints.find(id).ok_or_else(|| Failure::unknown_complaint(id, pack))?])
}

pub(super) fn runs_within(runs: usize) -> Result<usize, Failure> {
    if (1..=MAX_RUNS).contains(&runs) { Ok(runs) } else { Err(Failure::Runs { most: MAX_RUNS }) }
}

fn share(count: usize, of: usize) -> String {
    format!("{:.0} %", 100.0 * ratio(count, of))
}

pub(super) fn ratio(count: usize, of: usize) -> f64 {
    #[expect(clippy::cast_precision_loss, reason = "at most MAX_RUNS times the causes")]
    let ratio = count as f64 / of.max(1) as f64;
    ratio
}
