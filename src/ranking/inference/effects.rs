//! What each cause by itself does to each factor, laid out flat: the same for all branches of a
//! component.

use std::ops::Range;

use super::component::Component;

/// One cause in one state other than "never present", and its effect on one factor.
pub(super) struct CauseEffect {
    pub(super) variable: usize,
    /// Place of the state in the list of all states of all variables.
    pub(super) state: usize,
    /// Place of its class in the list of all classes.
    pub(super) class: usize,
}

pub(super) struct Effects<'c> {
    pub(super) component: &'c Component,
    /// Grouped by factor.
    pub(super) all: Vec<CauseEffect>,
    pub(super) by_factor: Vec<Range<usize>>,
    /// Grouped by factor: what a cause of the class leaves of the probability of being false of each
    /// finding of the factor. Many causes are of one class: they bring the same finding as strongly.
    pub(super) classes: Vec<Vec<f64>>,
    pub(super) classes_by_factor: Vec<Range<usize>>,
    /// The prior probability of each state of each variable, one variable after the other.
    pub(super) priors: Vec<f64>,
    pub(super) states_of: Vec<Range<usize>>,
    /// Logarithm of each state's prior over that of its variable's "never present".
    pub(super) log_ratios: Vec<f64>,
    /// Logarithm of the prior of each variable's "never present".
    pub(super) log_never: Vec<f64>,
    /// For each state the factors it has an effect on, with the class of the effect.
    pub(super) of_state: Vec<Vec<(usize, usize)>>,
    /// For each finding the variables that can bring it, with the inhibition.
    linked: Vec<Vec<(usize, f64)>>,
}

impl<'c> Effects<'c> {
    pub(super) fn new(component: &'c Component) -> Self {
        let (mut priors, mut states_of) = (Vec::new(), Vec::new());
        for variable in &component.variables {
            let from = priors.len();
            priors.extend(variable.states.iter().map(|state| state.weight));
            states_of.push(from..priors.len());
        }
        let never = |states: &Range<usize>| priors[states.start].max(f64::MIN_POSITIVE);
        let over_never = |states: &Range<usize>| {
            let never = never(states);
            priors[states.clone()].iter().map(move |prior| (prior / never).ln())
        };
        let mut effects = Self {
            component,
            all: Vec::new(),
            by_factor: Vec::new(),
            classes: Vec::new(),
            classes_by_factor: Vec::new(),
            log_ratios: states_of.iter().flat_map(over_never).collect(),
            log_never: states_of.iter().map(|states| never(states).ln()).collect(),
            linked: linked(component),
            of_state: vec![Vec::new(); priors.len()],
            priors,
            states_of,
        };
        for factor in 0..component.factors.len() {
            let (from, classes_from) = (effects.all.len(), effects.classes.len());
            for variable in 0..component.variables.len() {
                effects.add(factor, variable, classes_from);
            }
            effects.by_factor.push(from..effects.all.len());
            effects.classes_by_factor.push(classes_from..effects.classes.len());
        }
        effects
    }

    fn add(&mut self, factor: usize, variable: usize, classes_from: usize) {
        let component = self.component;
        if !component.factors_of[variable].contains(&factor) {
            return;
        }
        let findings = &component.factors[factor].findings;
        let states = component.variables[variable].possible_states();
        for (index, state) in states.filter(|(index, _)| *index > 0) {
            let mut inhibitions = vec![1.0; findings.len()];
            let links = component.active_links(variable, *state);
            for link in links.filter(|link| findings.contains(&link.finding)) {
                inhibitions[link.finding - findings.start] *= link.inhibition;
            }
            let class = self.class(inhibitions, classes_from);
            let state = self.states_of[variable].start + index;
            self.of_state[state].push((factor, class));
            self.all.push(CauseEffect { variable, state, class });
        }
    }

    /// The place of a class among those from `from` on, where it is put if it isn't there yet.
    fn class(&mut self, class: Vec<f64>, from: usize) -> usize {
        if let Some(known) = self.classes[from..].iter().position(|other| *other == class) {
            return from + known;
        }
        self.classes.push(class);
        self.classes.len() - 1
    }

    /// What is known of each state, variable by variable.
    pub(super) fn by_variable(&self, flat: &[f64]) -> Vec<Vec<f64>> {
        self.states_of.iter().map(|states| flat[states.clone()].to_vec()).collect()
    }

    /// The effects on a factor.
    pub(super) fn on(&self, factor: usize) -> &[CauseEffect] {
        &self.all[self.by_factor[factor].clone()]
    }

    /// What is left of a finding's probability of being false with all those variables present that
    /// `is_open` names.
    pub(super) fn joint_inhibition(&self, finding: usize, is_open: impl Fn(usize) -> bool) -> f64 {
        let open = self.linked[finding].iter().filter(|(variable, _)| is_open(*variable));
        open.map(|(_, inhibition)| inhibition).product()
    }
}

fn linked(component: &Component) -> Vec<Vec<(usize, f64)>> {
    let mut linked = vec![Vec::new(); component.p_false_by_leak.len()];
    for (index, variable) in component.variables.iter().enumerate() {
        // The state that lasts longest is active in all links that any state is.
        let longest = variable.possible_states().map(|(_, state)| state);
        if let Some(longest) = longest.max_by_key(|state| state.present_until) {
            for link in component.active_links(index, *longest) {
                linked[link.finding].push((index, link.inhibition));
            }
        }
    }
    linked
}
