//! The joint probability that several normal variables, which may share inputs, each lie in one of
//! their stretches.

use std::collections::HashMap;
use std::sync::OnceLock;

use super::latin_hypercube::{permuted, slices, within};
use super::normal::{below, between, density};
use crate::formula::evaluate::UncertainInput;

/// One variable, standardised: the edges of its stretches, and what it owes to which input (a unit
/// vector).
#[derive(Debug, Clone)]
pub(crate) struct Axis {
    pub(crate) edges: Vec<f64>,
    pub(crate) shares: Vec<(UncertainInput, f64)>,
}

impl Axis {
    fn stretches(&self) -> usize {
        self.edges.len() - 1
    }

    pub(crate) fn stretch(&self, at: f64) -> usize {
        // Edges run from −∞ to +∞.
        self.edges.iter().skip(1).take_while(|edge| **edge <= at).count().min(self.edges.len() - 2)
    }
}

/// The correlation of two variables, each by what it owes to which input (unit vectors).
pub(crate) fn correlation(one: &[(UncertainInput, f64)], other: &[(UncertainInput, f64)]) -> f64 {
    let common = one.iter().flat_map(|(input, share)| {
        other.iter().filter(move |(known, _)| known == input).map(move |(_, its)| share * its)
    });
    common.sum::<f64>().clamp(-1.0, 1.0)
}

/// Joint probabilities by stretch.
pub(crate) struct Joint<'a> {
    axes: &'a [&'a Axis],
    /// Groups of axes that share inputs, directly or by way of others.
    groups: Vec<Group>,
}

enum Group {
    One(usize),
    Two {
        first: usize,
        second: usize,
        correlation: f64,
    },
    /// All of one variable: each axis is it, or its mirror image where `false`.
    Line(Vec<(usize, bool)>),
    /// Relative frequency of each pattern, over the axes listed; the last axis counts on first.
    Many {
        axes: Vec<usize>,
        frequency: Vec<f64>,
    },
}

/// Draws for three or more variables that share inputs: good to about a third of a percent.
const DRAWS: u16 = 50_000;
const SEED: u64 = 0x00b0_0574;

pub(crate) fn joint<'a>(axes: &'a [&'a Axis]) -> Joint<'a> {
    let mut group_of: Vec<usize> = (0..axes.len()).collect();
    for a in 0..axes.len() {
        for b in 0..a {
            if correlation(&axes[a].shares, &axes[b].shares) != 0.0 {
                let (from, to) = (group_of[a], group_of[b]);
                for group in group_of.iter_mut().filter(|group| **group == from) {
                    *group = to;
                }
            }
        }
    }
    let mut groups = Vec::new();
    for group in 0..axes.len() {
        let members: Vec<usize> = (0..axes.len()).filter(|axis| group_of[*axis] == group).collect();
        match members.as_slice() {
            [] => {}
            [one] => groups.push(Group::One(*one)),
            [first, second] => {
                let correlation = correlation(&axes[*first].shares, &axes[*second].shares);
                groups.push(Group::Two { first: *first, second: *second, correlation });
            }
            _ => groups.push(match line(axes, &members) {
                Some(line) => Group::Line(line),
                None => Group::Many { frequency: frequency(axes, &members), axes: members },
            }),
        }
    }
    Joint { axes, groups }
}

/// The axes as one variable, if they are.
fn line(axes: &[&Axis], members: &[usize]) -> Option<Vec<(usize, bool)>> {
    let first = axes[*members.first()?];
    let side = |member: &usize| {
        let correlation = correlation(&first.shares, &axes[*member].shares);
        is_one(correlation).then_some((*member, correlation > 0.0))
    };
    members.iter().map(side).collect()
}

/// Whether one variable is the other, or its mirror image.
pub(super) fn is_one(correlation: f64) -> bool {
    (1.0 - correlation * correlation).sqrt() < 1e-7
}

impl Joint<'_> {
    /// The probability that each variable lies in the stretch named for it.
    pub(crate) fn probability(&self, stretches: &[usize]) -> f64 {
        let ends = |axis: usize| {
            let stretch = stretches[axis];
            (self.axes[axis].edges[stretch], self.axes[axis].edges[stretch + 1])
        };
        self.groups
            .iter()
            .map(|group| match group {
                Group::One(axis) => {
                    let (low, high) = ends(*axis);
                    between(low, high)
                }
                Group::Two { first, second, correlation } => {
                    rectangle(ends(*first), ends(*second), *correlation)
                }
                Group::Line(axes) => {
                    let own = axes.iter().map(|(axis, is_same)| match (ends(*axis), is_same) {
                        (ends, true) => ends,
                        ((low, high), false) => (-high, -low),
                    });
                    let all = (f64::NEG_INFINITY, f64::INFINITY);
                    let (low, high) = own.fold(all, |(a, b), (c, d)| (a.max(c), b.min(d)));
                    if low < high { between(low, high) } else { 0.0 }
                }
                Group::Many { axes, frequency } => {
                    let place = axes.iter().fold(0, |place, axis| {
                        place * self.axes[*axis].stretches() + stretches[*axis]
                    });
                    frequency[place]
                }
            })
            .product()
    }
}

/// The probability of a rectangle under the standard bivariate normal density:
/// ∫ φ(x)·[Φ((d − ρx)/√(1 − ρ²)) − Φ((c − ρx)/√(1 − ρ²))] dx, by Gauss–Legendre on short pieces
/// (Drezner & Wesolowsky 1990 for the form).
pub(crate) fn rectangle((a, b): (f64, f64), (c, d): (f64, f64), correlation: f64) -> f64 {
    let rest = (1.0 - correlation * correlation).sqrt();
    if is_one(correlation) {
        let (c, d) = if correlation > 0.0 { (c, d) } else { (-d, -c) };
        let (low, high) = (a.max(c), b.min(d));
        return if low < high { between(low, high) } else { 0.0 };
    }
    let (low, high) = (a.max(-9.0), b.min(9.0));
    if low >= high {
        return 0.0;
    }
    // Short enough for the steepest inner step, of width `rest`.
    let pieces = ((high - low) / rest.max(0.05) * 4.0).ceil().clamp(8.0, 2000.0);
    let width = (high - low) / pieces;
    let inner = |x: f64| {
        density(x) * (below((d - correlation * x) / rest) - below((c - correlation * x) / rest))
    };
    let mut sum = 0.0;
    let mut start = low;
    while start < high - width / 2.0 {
        let middle = start + width / 2.0;
        for (node, weight) in LEGENDRE {
            sum +=
                weight * (inner(middle - node * width / 2.0) + inner(middle + node * width / 2.0));
        }
        start += width;
    }
    (sum * width / 2.0).clamp(0.0, 1.0)
}

/// Nodes and weights of the eight-point Gauss–Legendre rule (Abramowitz & Stegun, table 25.4).
const LEGENDRE: [(f64, f64); 4] = [
    (0.183_434_642_495_649_8, 0.362_683_783_378_362),
    (0.525_532_409_916_329, 0.313_706_645_877_887_3),
    (0.796_666_477_413_626_7, 0.222_381_034_453_374_5),
    (0.960_289_856_497_536_3, 0.101_228_536_290_376_3),
];

/// What one variable owes to each of its inputs, with that input's draws.
type DrawnShares<'d> = Vec<(&'d [f64], f64)>;

/// How often each pattern of stretches occurs, by drawing the inputs, each in an order of its own.
fn frequency(axes: &[&Axis], members: &[usize]) -> Vec<f64> {
    static SLICES: OnceLock<Box<[f64]>> = OnceLock::new();
    let slices = SLICES.get_or_init(|| slices(DRAWS.into()));
    let mut inputs: Vec<UncertainInput> = members
        .iter()
        .flat_map(|axis| axes[*axis].shares.iter().map(|(input, _)| *input))
        .collect();
    inputs.sort_unstable();
    inputs.dedup();
    let drawn: HashMap<UncertainInput, Box<[f64]>> = inputs
        .iter()
        .enumerate()
        .map(|(number, input)| (*input, permuted(slices, within(SEED, number))))
        .collect();
    // Looked up once, not at every draw.
    let members: Vec<(&Axis, DrawnShares<'_>)> = members
        .iter()
        .map(|axis| {
            let shares = axes[*axis].shares.iter();
            (axes[*axis], shares.map(|(input, share)| (&*drawn[input], *share)).collect())
        })
        .collect();
    let mut found = vec![0.0; members.iter().map(|(axis, _)| axis.stretches()).product()];
    for draw in 0..slices.len() {
        let place = members.iter().fold(0, |place, (axis, shares)| {
            let value = shares.iter().map(|(values, share)| share * values[draw]).sum();
            place * axis.stretches() + axis.stretch(value)
        });
        found[place] += 1.0 / f64::from(DRAWS);
    }
    found
}
