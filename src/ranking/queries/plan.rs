//! In which order to work: repairs, each done at once or after a check, so that the car is right in
//! the fewest minutes to be expected.
//!
//! After Heckerman, Breese & Rommelse, "Decision-theoretic troubleshooting", *Communications of the
//! ACM* 38(3), 1995: work goes on until the car is right, and each step costs its time only while it
//! is not. With one fault at a time and repairs that always succeed, the best order is by probability
//! over minutes; here several faults may hold and repairs may fail. What a plan has reached depends on which
//! repairs were done and not on their order, so the best order over all subsets is found by dynamic
//! programming. Where the repairs are many, that settles the first of them, and the rest follow by
//! probability over minutes.

use super::posterior::Posterior;
use super::remaining::{After, Remaining};
use crate::ranking::model::{Repair, check_probability};
use crate::ranking::refusal::Refusal;

/// How a repair is gone about.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Way {
    /// Done without looking first.
    AtOnce,
    /// Checked first, done only where the check shows a cause.
    CheckFirst,
}

/// One step of a plan.
#[derive(Debug, Clone, PartialEq)]
pub struct Step {
    /// Index of the repair.
    pub repair: usize,
    /// How it is gone about.
    pub way: Way,
    /// Probability, as the step begins with the car not yet right, that one of its causes is present: what
    /// a check would show.
    pub present: f64,
    /// Probability, as the step begins with the car not yet right, that the car is right after it.
    pub cures: f64,
    /// Minutes to be expected of the step as it begins.
    pub minutes: f64,
}

/// Repairs in order.
#[derive(Debug, Clone, PartialEq)]
pub struct Plan {
    /// The steps, first to last. Repairs that could not help are left out.
    pub steps: Vec<Step>,
    /// Minutes to be expected of the whole plan, from now until the car is right or nothing is left.
    pub minutes: f64,
    /// Probability that the car is not right after all steps.
    pub fails: f64,
}

/// Up to so many repairs the best order is found for certain.
const MAX_FOR_CERTAIN: usize = 8;

/// Orders `repairs` for the car of a posterior. The car is right when none of the causes in `relevant`
/// is present: those that could bring what the person complains of. `giving_up` is what it costs, in
/// minutes, to be left with nothing to try (0 up): it decides whether a repair is worth doing at all.
///
/// ```
/// # use boostwright::ranking::{Belief, Factor, Finding, Link, Network, posterior, Repair, plan};
/// # let link = |cause, strength| Link { cause, strength };
/// # let complaint = Finding { leak: 0.01, links: vec![link(0, 0.9), link(1, 0.9)] };
/// # let telling = Finding { leak: 0.05, links: vec![link(0, 0.9)] };
/// # let network = Network::new(vec![0.05, 0.05], vec![complaint, telling])?;
/// let evidence = [Factor::yes(0), Factor::yes(1)];
/// let seen = posterior(&network, &Belief::start(), &evidence)?;
/// let repair = |cause| Repair { mends: vec![cause], succeeds: 0.9, minutes: 30.0, check: None };
/// let plan = plan(&seen, &[0, 1], &[repair(1), repair(0)], 600.0)?;
/// // As many minutes each: the likelier cause comes first.
/// assert_eq!(plan.steps[0].repair, 1);
/// # Ok::<(), boostwright::ranking::Refusal>(())
/// ```
///
/// # Errors
/// [`Refusal`] where an index or a probability is out of range, or minutes are not a number above 0.
pub fn plan(
    posterior: &Posterior,
    relevant: &[usize],
    repairs: &[Repair],
    giving_up: f64,
) -> Result<Plan, Refusal> {
    check(posterior, relevant, repairs, giving_up)?;
    let remaining = Remaining::new(posterior, relevant, repairs);
    let now = remaining.after(&[]);
    let useful =
        (0..repairs.len()).filter(|repair| remaining.mended(&now, *repair) > 0.0).collect();
    let planner = Planner { remaining: &remaining, repairs, giving_up };
    let greedy = planner.greedy(useful);
    let (first, rest) = greedy.split_at(greedy.len().min(MAX_FOR_CERTAIN));
    Ok(planner.plan(&planner.best(first, rest)))
}

fn check(
    posterior: &Posterior,
    relevant: &[usize],
    repairs: &[Repair],
    giving_up: f64,
) -> Result<(), Refusal> {
    let known = posterior.probabilities().len();
    let named = repairs.iter().flat_map(|repair| &repair.mends).chain(relevant);
    if let Some(cause) = named.into_iter().find(|cause| **cause >= known) {
        return Err(Refusal::UnknownCause { cause: *cause });
    }
    for (index, repair) in repairs.iter().enumerate() {
        check_probability(repair.succeeds, || format!("chance that repair {index} succeeds"))?;
        for minutes in std::iter::once(repair.minutes).chain(repair.check) {
            if !(minutes.is_finite() && minutes > 0.0) {
                let what = format!("minutes of repair {index} (more than 0)");
                return Err(Refusal::NotAWeight { what, value: minutes });
            }
        }
    }
    if giving_up.is_finite() && giving_up >= 0.0 {
        Ok(())
    } else {
        Err(Refusal::NotAWeight {
            what: "minutes that giving up costs".to_owned(),
            value: giving_up,
        })
    }
}

struct Planner<'a> {
    remaining: &'a Remaining,
    repairs: &'a [Repair],
    giving_up: f64,
}

impl Planner<'_> {
    /// Minutes to be expected of one more repair, counting only the cars not right by then, and how to
    /// go about it.
    fn cost(&self, after: &After, repair: usize) -> (f64, Way) {
        let own = &self.repairs[repair];
        let at_once = after.not_right * own.minutes;
        let looked = own.check.map(|check| {
            after.not_right * check + self.remaining.present(after, repair) * own.minutes
        });
        match looked {
            Some(looked) if looked < at_once => (looked, Way::CheckFirst),
            _ => (at_once, Way::AtOnce),
        }
    }

    /// All repairs, each next one the one that mends most for its minutes.
    fn greedy(&self, mut left: Vec<usize>) -> Vec<usize> {
        let mut order: Vec<usize> = Vec::new();
        while !left.is_empty() {
            let after = self.remaining.after(&order);
            let rate = |repair: &usize| {
                self.remaining.mended(&after, *repair) / self.cost(&after, *repair).0
            };
            let rates: Vec<f64> = left.iter().map(rate).collect();
            let best =
                (0..left.len()).rev().max_by(|a, b| rates[*a].total_cmp(&rates[*b])).unwrap_or(0);
            order.push(left.remove(best));
        }
        order
    }

    /// The best order of any of the `first` repairs; where that is all of them, followed by as many of
    /// the `rest`, which mend less for their minutes, as are worth it.
    fn best(&self, first: &[usize], rest: &[usize]) -> Vec<usize> {
        let members = |subset: usize| -> Vec<usize> {
            let chosen = first.iter().enumerate().filter(|(bit, _)| subset >> bit & 1 == 1);
            chosen.map(|(_, repair)| *repair).collect()
        };
        let all = 1_usize << first.len();
        // What is still to be expected once a subset is done, and what to do next.
        let mut ahead: Vec<(f64, Option<usize>)> = vec![(0.0, None); all];
        for subset in (0..all).rev() {
            let done = members(subset);
            let after = self.remaining.after(&done);
            let stop = if subset + 1 == all {
                self.tail(&done, rest).0
            } else {
                self.giving_up * after.not_right
            };
            let mut least = (stop, None);
            for (bit, repair) in first.iter().enumerate().filter(|(bit, _)| subset >> bit & 1 == 0)
            {
                let minutes = self.cost(&after, *repair).0 + ahead[subset | 1 << bit].0;
                if minutes < least.0 {
                    least = (minutes, Some(bit));
                }
            }
            ahead[subset] = least;
        }
        let (mut order, mut subset) = (Vec::new(), 0);
        while let Some(bit) = ahead[subset].1 {
            order.push(first[bit]);
            subset |= 1 << bit;
        }
        if order.len() == first.len() {
            let worth = self.tail(&order, rest).1;
            order.extend(&rest[..worth]);
        }
        order
    }

    /// Minutes to be expected of the rest in its order, done as far as that is worth it, and how far.
    fn tail(&self, done: &[usize], rest: &[usize]) -> (f64, usize) {
        let mut done = done.to_vec();
        let mut after = self.remaining.after(&done);
        let mut spent = 0.0;
        let mut least = (self.giving_up * after.not_right, 0);
        for (step, repair) in rest.iter().enumerate() {
            spent += self.cost(&after, *repair).0;
            done.push(*repair);
            after = self.remaining.after(&done);
            let minutes = spent + self.giving_up * after.not_right;
            if minutes < least.0 {
                least = (minutes, step + 1);
            }
        }
        least
    }

    fn plan(&self, order: &[usize]) -> Plan {
        let mut steps = Vec::with_capacity(order.len());
        let mut minutes = 0.0;
        let mut before = self.remaining.after(&[]);
        for (step, repair) in order.iter().enumerate() {
            let (cost, way) = self.cost(&before, *repair);
            let after = self.remaining.after(&order[..=step]);
            let share =
                |part: f64| if before.not_right > 0.0 { part / before.not_right } else { 0.0 };
            steps.push(Step {
                repair: *repair,
                way,
                present: share(self.remaining.present(&before, *repair)),
                cures: share((before.not_right - after.not_right).max(0.0)),
                minutes: share(cost),
            });
            minutes += cost;
            before = after;
        }
        Plan {
            steps,
            minutes: minutes + self.giving_up * before.not_right,
            fails: before.not_right,
        }
    }
}
