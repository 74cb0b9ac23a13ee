//! Sets of causes told apart by what they do to a few findings, and no further: a long list comes to a
//! handful of classes, and what is worked out for one set of a class holds for all of them.

/// A cause that brings some of the findings.
pub(super) struct Linked<'s, S> {
    /// The sets it is present in.
    pub(super) sets: S,
    /// What it leaves of each finding's probability of being false.
    pub(super) inhibitions: &'s [f64],
}

/// Sets in classes; those of a class hold the same of the causes that matter.
pub(super) struct Alike {
    findings: usize,
    /// The class of each set.
    class_of: Vec<usize>,
    /// For each class what its causes leave of each finding's probability of being false, one class
    /// after the other.
    inhibited: Vec<f64>,
}

impl Alike {
    /// Starts with all sets alike and parts them at one cause after the other (partition refinement).
    pub(super) fn new<'s, S: IntoIterator<Item = usize>>(
        sets: usize,
        findings: usize,
        linked: impl IntoIterator<Item = Linked<'s, S>>,
    ) -> Self {
        let findings = findings.max(1);
        let mut alike = Self { findings, class_of: vec![0; sets], inhibited: vec![1.0; findings] };
        // For each class the cause it was last parted at, and the class of the sets that hold it.
        let mut parted = vec![(usize::MAX, 0)];
        for (cause, Linked { sets, inhibitions }) in linked.into_iter().enumerate() {
            for set in sets {
                let Some(class) = alike.class_of.get_mut(set) else { continue };
                let old = *class;
                if parted[old].0 != cause {
                    parted[old] = (cause, parted.len());
                    parted.push((cause, parted.len()));
                    let from = old * findings;
                    for (place, inhibition) in inhibitions.iter().enumerate() {
                        alike.inhibited.push(alike.inhibited[from + place] * inhibition);
                    }
                }
                *class = parted[old].1;
            }
        }
        alike
    }

    /// The class of each set.
    pub(super) fn class_of(&self) -> &[usize] {
        &self.class_of
    }

    /// What is left of each finding's probability of being false, class by class.
    pub(super) fn classes(&self) -> impl Iterator<Item = &[f64]> {
        self.inhibited.chunks_exact(self.findings)
    }
}
