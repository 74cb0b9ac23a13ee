//! Which units of evidence rest on the same doubtful answers, and one factor for those that do: an answer
//! that is off is off for all of them at once.

use std::collections::BTreeMap;
use std::hash::{DefaultHasher, Hash, Hasher};

use crate::formula::{Basis, Doubtful, Settled, VarId};
use crate::ranking::{Factor, Joint, Part, Slip};
use crate::rules::{FindingId, Pack, QuestionId, TypedIndex};

use crate::interview::evidence::cluster::{cluster_factor, cluster_without, clusters};
use crate::interview::evidence::facts::Facts;
use crate::interview::evidence::unit::Unit;

/// Most answers of one factor whose slips are shared: every combination is summed over. Of a unit that
/// would add more only the answer with most units is; the others loosen it alone.
const MAX_SHARED: usize = 6;

/// Units that hang together, and the answers they do so by.
pub(in crate::interview) struct Bunch {
    /// Units that are weighed by one and the same pattern, since their readings scatter together.
    clusters: Vec<Cluster>,
    shared: Vec<(VarId, Slip)>,
    truths: BTreeMap<VarId, usize>,
}

struct Cluster {
    units: Vec<Unit>,
    slips: Vec<VarId>,
}

/// Units with what may be off below them.
struct Known {
    units: Vec<Unit>,
    doubtful: Vec<Vec<Doubtful>>,
    /// The answers that stand for each unit's doubts.
    standing: Vec<Vec<VarId>>,
    truths: BTreeMap<VarId, usize>,
}

/// The units in bunches, each with all that rests on the same doubtful answers; units by themselves keep
/// their order.
pub(in crate::interview) fn bunches(facts: &Facts<'_>, units: Vec<Unit>) -> Vec<Bunch> {
    let known = Known::of(facts, units);
    let clusters = clusters(facts, &known.units);
    let slips = known.slips(&clusters);
    let leaders = leaders(&slips);
    let mut found: Vec<Bunch> = Vec::new();
    let mut places: BTreeMap<usize, usize> = BTreeMap::new();
    for (index, members) in clusters.iter().enumerate() {
        let place = *places.entry(leaders[index]).or_insert_with(|| {
            let truths = known.truths.clone();
            found.push(Bunch { clusters: Vec::new(), shared: Vec::new(), truths });
            found.len() - 1
        });
        let bunch = &mut found[place];
        for variable in &slips[index] {
            if bunch.shared.iter().all(|(shared, _)| shared != variable) {
                bunch.shared.push((*variable, known.slip(facts.pack, *variable)));
            }
        }
        let units = members.iter().map(|unit| known.units[*unit].clone()).collect();
        bunch.clusters.push(Cluster { units, slips: slips[index].clone() });
    }
    found
}

impl Known {
    fn of(facts: &Facts<'_>, units: Vec<Unit>) -> Self {
        let doubtful: Vec<Vec<Doubtful>> =
            units.iter().map(|unit| facts.evaluator.doubtful(&unit.formulas(facts.pack))).collect();
        let mut truths: BTreeMap<VarId, usize> = BTreeMap::new();
        for own in &doubtful {
            let mut answers: Vec<VarId> =
                own.iter().flat_map(|doubtful| &doubtful.answers).copied().collect();
            answers.sort_unstable();
            answers.dedup();
            answers.into_iter().for_each(|answer| *truths.entry(answer).or_default() += 1);
        }
        let rule = Settled { truths: truths.clone(), ..Settled::default() };
        let standing = |own: &Vec<Doubtful>| {
            let each = own.iter().filter_map(|doubtful| rule.standing_for(&doubtful.answers));
            let mut found: Vec<VarId> = each.collect();
            // The one with most units first.
            found.sort_by_key(|answer| (std::cmp::Reverse(truths[answer]), *answer));
            found.dedup();
            found
        };
        let standing = doubtful.iter().map(standing).collect();
        Self { units, doubtful, standing, truths }
    }

    /// For each cluster the answers that it shares with others, or that several of its units rest on.
    fn slips(&self, clusters: &[Vec<usize>]) -> Vec<Vec<VarId>> {
        let mut resting: BTreeMap<VarId, usize> = BTreeMap::new();
        for answer in self.standing.iter().flatten() {
            *resting.entry(*answer).or_default() += 1;
        }
        let of_cluster = |members: &Vec<usize>| {
            let all = members.iter().flat_map(|unit| &self.standing[*unit]).copied();
            let mut own: Vec<VarId> = all.filter(|answer| resting[answer] > 1).collect();
            own.sort_by_key(|answer| (std::cmp::Reverse(resting[answer]), *answer));
            own.dedup();
            own
        };
        let mut slips: Vec<Vec<VarId>> = clusters.iter().map(of_cluster).collect();
        bound(&mut slips);
        slips
    }

    /// The weights of an answer being right and off.
    ///
    /// A reading that is off shows any other of the stretches that the limits below it part, each as
    /// often. That is the same as its telling nothing a little oftener: with M stretches and a slip in
    /// the share s of readings, in s·M/(M − 1) of them, and then it shows each stretch in 1/M.
    fn slip(&self, pack: &Pack, answer: VarId) -> Slip {
        let rule = Settled { truths: self.truths.clone(), ..Settled::default() };
        let mut cuts: Vec<(&Basis, f64)> = Vec::new();
        let mut off = 0.0;
        let mut reads = false;
        for doubtful in self.doubtful.iter().flatten() {
            if rule.standing_for(&doubtful.answers) != Some(answer) {
                continue;
            }
            off = 1.0 - doubtful.sure;
            reads |= doubtful.basis.is_read();
            for limit in &doubtful.limits {
                if !cuts.iter().any(|(basis, at)| at == limit && **basis == doubtful.basis) {
                    cuts.push((&doubtful.basis, *limit));
                }
            }
        }
        debug_assert!(answer.0 < pack.questions.len(), "only answers are doubtful");
        if !reads || cuts.is_empty() {
            return Slip { right: 1.0 - off, off };
        }
        #[expect(clippy::cast_precision_loss, reason = "a handful of limits")]
        let others = cuts.len() as f64;
        Slip { right: (1.0 - off * (others + 1.0) / others).max(0.0), off: off / others }
    }
}

/// Leaves no more than [`MAX_SHARED`] answers hanging together.
fn bound(slips: &mut [Vec<VarId>]) {
    let mut sets: Vec<Vec<VarId>> = Vec::new();
    for own in slips.iter_mut() {
        let joined = |sets: &[Vec<VarId>], own: &[VarId]| {
            let touched = sets.iter().filter(|set| own.iter().any(|one| set.contains(one)));
            let mut all: Vec<VarId> = touched.flatten().chain(own).copied().collect();
            all.sort_unstable();
            all.dedup();
            all
        };
        while own.len() > 1 && joined(&sets, own).len() > MAX_SHARED {
            own.pop();
        }
        let all = joined(&sets, own);
        sets.retain(|set| own.iter().all(|one| !set.contains(one)));
        sets.push(all);
    }
}

/// For each cluster the first that it hangs together with.
fn leaders(slips: &[Vec<VarId>]) -> Vec<usize> {
    let mut leaders: Vec<usize> = (0..slips.len()).collect();
    for (index, own) in slips.iter().enumerate() {
        let near = (0..index).filter(|other| own.iter().any(|one| slips[*other].contains(one)));
        let near: Vec<usize> = near.map(|other| leaders[other]).collect();
        let Some(first) = near.iter().copied().min() else { continue };
        for leader in &mut leaders[..=index] {
            if near.contains(leader) || *leader == index {
                *leader = first;
            }
        }
    }
    leaders
}

impl Bunch {
    pub(in crate::interview) fn members(&self) -> impl Iterator<Item = FindingId> {
        let units = self.clusters.iter().flat_map(|cluster| &cluster.units);
        units.flat_map(|unit| unit.members.iter().copied())
    }

    /// A number that stands for its factor and all that this rests on.
    pub(in crate::interview) fn fingerprint(&self, facts: &Facts<'_>) -> u64 {
        let mut hash = DefaultHasher::new();
        for Cluster { units, slips } in &self.clusters {
            slips.hash(&mut hash);
            for unit in units {
                (&unit.members, unit.is_group).hash(&mut hash);
                for formula in unit.formulas(facts.pack) {
                    facts.evaluator.fingerprint(formula).hash(&mut hash);
                }
            }
        }
        for (answer, slip) in &self.shared {
            (answer, slip.right.to_bits(), slip.off.to_bits()).hash(&mut hash);
        }
        self.truths.hash(&mut hash);
        hash.finish()
    }

    /// Its factor, and the answers that its slips are of.
    pub(in crate::interview) fn factor(
        &self,
        facts: &Facts<'_>,
    ) -> Option<(Factor, Vec<QuestionId>)> {
        if let [Cluster { units, .. }] = self.clusters.as_slice()
            && let [unit] = units.as_slice()
        {
            return Some((unit.factor(facts, &Settled::default())?, Vec::new()));
        }
        let parts = self.clusters.iter().map(|cluster| self.part(facts, cluster));
        let parts: Vec<Part> = parts.collect::<Option<_>>()?;
        let slips = self.shared.iter().map(|(_, slip)| *slip).collect();
        let answers = self.shared.iter().map(|(answer, _)| QuestionId::from_index(answer.0));
        Some((Factor::Joint(Joint::new(slips, parts)), answers.collect()))
    }

    /// What a cluster weighs, for each combination of its answers being off.
    fn part(&self, facts: &Facts<'_>, cluster: &Cluster) -> Option<Part> {
        let place = |answer: &VarId| self.shared.iter().position(|(shared, _)| shared == answer);
        let slips: Vec<usize> = cluster.slips.iter().map(place).collect::<Option<_>>()?;
        let mut part = Part::new(slips, Vec::new());
        let findings: usize = cluster.units.iter().map(|unit| unit.members.len()).sum();
        if cluster.units.len() > 1 {
            part.without = vec![Vec::new(); findings];
        }
        for off in 0..1_usize << cluster.slips.len() {
            let each = cluster.slips.iter().enumerate();
            let off = each.map(|(bit, answer)| (*answer, off >> bit & 1 == 1)).collect();
            let settled = Settled { off, truths: self.truths.clone() };
            part.factors.push(cluster_factor(facts, &cluster.units, &settled)?);
            let without = cluster_without(facts, &cluster.units, &settled)?;
            part.without.iter_mut().zip(without).for_each(|(own, left)| own.push(left));
        }
        Some(part)
    }
}
