//! How far what is known of a component can be trusted, by the way it was found.

/// What the probabilities of a component and the figure for their doubt rest on, the surest first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum RestsOn {
    /// Nothing was left out: every set counts in every probability.
    AllSets,
    /// Some causes were decided one by one, the others taken as if they didn't interact, and each pair
    /// of those asked how far that is wrong. An estimate, not a bound: what three of them do together
    /// is not looked at.
    Pairs,
    /// The same, corrected by sets drawn at random. The figure is four standard errors and a bit.
    Draws,
    /// Sets drawn one from another by Markov chains. The figure is four standard errors.
    Chains,
}
