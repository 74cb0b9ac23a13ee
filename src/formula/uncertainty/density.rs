//! How dense the values of a reading lie where it was read, by what formulas say that it should be: over
//! the draws of all that is uncertain in them, each spread by the error of reading and formula (a kernel
//! of the error's own width; the marginal likelihood of MacKay, *Information Theory, Inference, and
//! Learning Algorithms*, 2003, ch. 28, by draws).

use super::band::FEW_DRAWS;
use super::evaluator::Evaluator;
use super::expected::AtDraws;
use super::piece::Piece;
use crate::formula::check::{Node, VarId};
use crate::formula::evaluate::InputValue;

impl Evaluator<'_> {
    /// The densities of a reading by each of these formulas, on one and the same scale: only their
    /// ratios matter. The draws are those that all other readings have taught. None where nobody read it,
    /// or a formula has no value at most draws.
    pub(super) fn densities(
        &self,
        reading: VarId,
        expected: &[&Node],
        good_to: f64,
    ) -> Option<Vec<f64>> {
        let InputValue::Number { value, uncertainty } =
            self.model.input(reading)?.value.as_ref()?
        else {
            return None;
        };
        let error = uncertainty.hypot(good_to);
        let squares = |node: &&Node| -> Option<Vec<f64>> {
            let drawn = self.expected_at_draws(reading, node);
            let off = drawn.iter().flatten().map(|be| ((value - be) / error).powi(2) / 2.0);
            let off: Vec<f64> = off.collect();
            (2 * off.len() > drawn.len()).then_some(off)
        };
        let squares: Vec<Vec<f64>> = expected.iter().map(squares).collect::<Option<_>>()?;
        // Far from all of them every density is next to nothing, but their ratios still tell.
        let nearest = squares.iter().flatten().copied().fold(f64::INFINITY, f64::min);
        #[expect(clippy::cast_precision_loss, reason = "some thousands")]
        let mean = |off: &Vec<f64>| {
            off.iter().map(|off| (nearest - off).exp()).sum::<f64>() / off.len() as f64
        };
        Some(squares.iter().map(mean).collect())
    }

    /// What a reading should be by a formula, at each draw; the same whatever else is asked with it.
    fn expected_at_draws(&self, reading: VarId, node: &Node) -> AtDraws {
        let formula = node.alone();
        self.expected.of((reading, self.model.fingerprint(&formula.node)), || {
            let chances = self.chances(&formula);
            self.besides(reading, Piece::whole(&formula, &chances)).into()
        })
    }

    /// What a piece gives at draws that this reading had no part in.
    fn besides(&self, reading: VarId, piece: Piece<'_>) -> Vec<Option<f64>> {
        match (self.judged.get(&reading), &self.conditioned) {
            (Some(sample), _) => sample.of(&self.model, piece),
            (None, Some(conditioned)) => conditioned.sample.of(&self.model, piece),
            (None, None) => self.samples.of(&self.model, piece, FEW_DRAWS),
        }
    }
}
