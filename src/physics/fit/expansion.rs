//! The gas in turbine and gate, over the logarithm of its expansion ratio: what a kilogram gives,
//! what flows, and the expansion at which a turbine gives the power asked.

/// Logarithm of the largest expansion ratio that is looked at: a million, beyond all turbines, so
/// that a search for a boost still sees the sign at its far end.
pub(super) const MAX_LOG_RATIO: f64 = 13.8;
/// Logarithm of the smallest expansion ratio that is looked at; a turbine that lives on less would
/// be larger than the car.
pub(super) const MIN_LOG_RATIO: f64 = 1e-9;
/// Newton's steps double the digits; it takes three to seven.
const MAX_STEPS: usize = 100;
/// A step so small, as a share, leaves an error of about its square: the last digits of a double.
const NEAR_ENOUGH: f64 = 1e-8;

/// Burned gas that expands from a given state, γ fixed.
#[derive(Debug, Clone, Copy)]
pub(in crate::physics) struct Expansion {
    gamma: f64,
    /// (γ − 1)/γ.
    exponent: f64,
    /// Logarithm of the expansion ratio from which on the flow is choked.
    choked: f64,
    /// Flow function ψ there.
    most_flow: f64,
}

/// What turbine and gate make of one expansion.
#[derive(Debug, Clone, Copy)]
pub(super) struct Stage {
    /// Pressure before over pressure behind.
    pub(super) ratio: f64,
    pub(super) share: f64,
    /// Of the gate, which sees the whole expansion.
    pub(super) flow: f64,
    /// Of the turbine, each of whose restrictions sees half.
    pub(super) half_flow: f64,
}

impl Expansion {
    pub(in crate::physics) fn of(gamma: f64) -> Self {
        let exponent = (gamma - 1.0) / gamma;
        let choked = (0.5 * (gamma + 1.0)).ln() / exponent;
        let unchoked = Self { gamma, exponent, choked: f64::INFINITY, most_flow: 0.0 };
        Self { choked, most_flow: unchoked.flow(choked), ..unchoked }
    }

    /// Share of the gas's heat that an ideal expansion gives, 1 − (p_4/p_3)^((γ−1)/γ).
    pub(in crate::physics) fn share(&self, expansion: f64) -> f64 {
        // Taken from 0, so that none isn't −0.
        0.0 - (-self.exponent * expansion).exp_m1()
    }

    /// Flow function ψ, so that the flux is p_0/√(R·T_0)·ψ; constant once choked (Heywood,
    /// *Internal Combustion Engine Fundamentals*, eq. C.8 and C.9).
    pub(in crate::physics) fn flow(&self, expansion: f64) -> f64 {
        if expansion >= self.choked {
            return self.most_flow;
        }
        (2.0 / self.exponent * self.share(expansion)).sqrt() * (-expansion / self.gamma).exp()
    }

    /// All of an expansion at once, at the cost of little more than one.
    pub(super) fn stage(&self, expansion: f64) -> Stage {
        let half = self.share(expansion / 2.0);
        let share = half * (2.0 - half);
        let root = (expansion / 2.0).exp();
        // e^(−x/2γ), since 1/γ is 1 − (γ−1)/γ.
        let thinning = 1.0 / (root * (1.0 - half));
        let flow = |expansion: f64, share: f64, thinning: f64| match expansion < self.choked {
            true => (2.0 / self.exponent * share).sqrt() * thinning,
            false => self.most_flow,
        };
        Stage {
            ratio: root * root,
            share,
            flow: flow(expansion, share, thinning * thinning),
            half_flow: flow(expansion / 2.0, half, thinning),
        }
    }

    /// How fast the share rises with expansion.
    pub(super) fn share_slope(&self, stage: &Stage) -> f64 {
        self.exponent * (1.0 - stage.share)
    }

    /// How fast the logarithm of the flow rises with expansion.
    pub(super) fn flow_slope(&self, expansion: f64, stage: &Stage) -> f64 {
        if expansion >= self.choked {
            return 0.0;
        }
        0.5 * self.share_slope(stage) / stage.share - 1.0 / self.gamma
    }

    /// Where p_3/p_4·ψ(√(p_4/p_3))·share(p_3/p_4), which goes with a turbine's power at a given
    /// back pressure, is `wanted`; `None` beyond [`MAX_LOG_RATIO`].
    ///
    /// Its logarithm rises with expansion and bends down all the way, so that a tangent's root
    /// never lies beyond the root from below: Newton's method closes in from there. `near` is where
    /// to begin, if anything is known.
    pub(super) fn giving(&self, wanted: f64, near: Option<f64>) -> Option<f64> {
        if wanted == 0.0 {
            return Some(0.0);
        }
        if !(wanted > 0.0 && wanted.is_finite()) {
            return None;
        }
        // Where little expands the power goes with the expansion to 3/2.
        let little = || {
            let root = (wanted * 0.5 / (2.0 / self.exponent).sqrt()).powf(1.0 / 3.0);
            2.0 / self.exponent * root * root
        };
        let mut at = near.filter(|near| *near > 0.0).unwrap_or_else(little).min(MAX_LOG_RATIO);
        for _ in 0..MAX_STEPS {
            let half = self.share(at / 2.0);
            let share = half * (2.0 - half);
            let (height, slope) = if at / 2.0 >= self.choked {
                let height = at + (self.most_flow * share / wanted).ln();
                (height, 1.0)
            } else {
                let flow = (2.0 / self.exponent * half).sqrt();
                let height = at * (1.0 - 0.5 / self.gamma) + (flow * share / wanted).ln();
                (height, 1.0 - 0.5 / self.gamma + 0.25 * self.exponent * (1.0 - half) / half)
            };
            let slope = slope + self.exponent * (1.0 - share) / share;
            let next = (at - height / slope).max(at / 8.0);
            if (next - at).abs() <= NEAR_ENOUGH * at {
                return (next <= MAX_LOG_RATIO).then_some(next);
            }
            at = next;
        }
        None
    }
}
