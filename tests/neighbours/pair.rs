//! Two causes that start alike, and the measurement that tells them apart.

use std::sync::Arc;

use boostwright::interview::{Round, fold_with};
use boostwright::rules::{Given, Pack};

use crate::built_in::built_in;

/// Answers as a person writes them.
pub(super) type Answers = [(&'static str, &'static str)];

/// Two neighbours and what tells them apart.
pub(super) struct Pair<'a> {
    /// What is known before the measurement.
    pub(super) start: &'a Answers,
    /// The question whose answer decides.
    pub(super) measured: &'static str,
    /// The answer that puts this cause in the lead.
    pub(super) one: (&'static str, &'static str),
    /// The answer that puts that cause in the lead.
    pub(super) other: (&'static str, &'static str),
}

impl Pair<'_> {
    /// Each answer puts its cause in the lead, and moves the odds between the two away from where
    /// they stood before it.
    #[track_caller]
    pub(super) fn is_told_apart(&self) {
        let pack = built_in();
        let (one, other) = (self.one.1, self.other.1);
        let before = self.ranking(pack, None);
        let with_one = self.ranking(pack, Some(self.one.0));
        let with_other = self.ranking(pack, Some(self.other.0));
        assert_eq!(with_one.lead(), one, "{} = {}: {with_one:?}", self.measured, self.one.0);
        assert_eq!(
            with_other.lead(),
            other,
            "{} = {}: {with_other:?}",
            self.measured,
            self.other.0
        );
        let odds = |ranking: &Ranking| ranking.chance(one) / ranking.chance(other);
        assert!(odds(&with_one) > odds(&before), "{before:?} before, {with_one:?} after");
        assert!(odds(&with_other) < odds(&before), "{before:?} before, {with_other:?} after");
    }

    fn ranking(&self, pack: &Pack, answer: Option<&str>) -> Ranking {
        let measured = answer.map(|answer| (self.measured, answer));
        let given = self
            .start
            .iter()
            .copied()
            .chain(measured)
            .map(|(id, text)| (id.to_owned(), Given::Text(text.to_owned())))
            .collect();
        let complaint = pack.complaints.find("boost_too_high_controller_off");
        let mut round = Round { complaints: complaint.into_iter().collect(), ..Round::default() };
        round.read_answers(pack, &given).unwrap();
        let state = fold_with(pack, &[round], None, &Arc::default());
        let chances = state.ranked.probabilities();
        assert!(!chances.is_empty(), "the answers clash: {given:?}");
        let ids = pack.causes.ids().map(str::to_owned);
        let mut ranked: Vec<(String, f64)> = ids.zip(chances.iter().copied()).collect();
        ranked.sort_by(|a, b| b.1.total_cmp(&a.1));
        Ranking(ranked)
    }
}

/// Causes with their chances, the likeliest first.
struct Ranking(Vec<(String, f64)>);

impl Ranking {
    fn lead(&self) -> &str {
        &self.0[0].0
    }

    fn chance(&self, cause: &str) -> f64 {
        self.0.iter().find(|(id, _)| id == cause).unwrap_or_else(|| panic!("no cause {cause}")).1
    }
}

impl std::fmt::Debug for Ranking {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let shown = self.0.iter().take(3).map(|(id, chance)| format!("{id} {chance:.2}"));
        f.write_str(&shown.collect::<Vec<_>>().join(", "))
    }
}
