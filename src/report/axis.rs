//! An axis of a plot: its range, and round numbers along it.

/// A range with a round step, never empty.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Axis {
    pub(super) low: f64,
    pub(super) high: f64,
    step: f64,
}

impl Axis {
    /// An axis that takes in all values, with about so many steps. None where there are no values,
    /// or where they lie so far apart or so close together that no step tells them apart.
    pub(super) fn over(values: impl Iterator<Item = f64>, steps: f64) -> Option<Self> {
        let (low, high) = values
            .filter(|value| value.is_finite())
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), value| {
                (low.min(value), high.max(value))
            });
        if low > high {
            return None;
        }
        // A single value gets room to either side.
        let room = if high > low { 0.0 } else { (high.abs() * 0.1).max(1e-6) };
        let (low, high) = (low - room, high + room);
        let step = round_step((high - low) / steps);
        let told_apart = step > low.abs().max(high.abs()) * 1e-9;
        (step.is_finite() && told_apart).then_some(Self { low, high, step })
    }

    /// The axis out to the round numbers beyond its ends.
    pub(super) fn rounded_out(self) -> Self {
        Self {
            low: (self.low / self.step).floor() * self.step,
            high: (self.high / self.step).ceil() * self.step,
            ..self
        }
    }

    /// The round numbers along it.
    pub(super) fn ticks(&self) -> Vec<f64> {
        let first = (self.low / self.step - 1e-6).ceil();
        // At most some dozens: the step was chosen for the range.
        (0..50)
            .map(|place| (first + f64::from(place)) * self.step)
            .take_while(|tick| *tick <= self.high + self.step * 1e-6)
            .collect()
    }

    /// A number on the axis, to the digits of its step.
    pub(super) fn label(&self, number: f64) -> String {
        let exponent = self.step.log10().floor();
        if !(-4.0..7.0).contains(&exponent) {
            return format!("{:.1e}", number + 0.0);
        }
        // Half steps of a decade, as 2.5, need one digit more; none is used.
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "0 to 4")]
        let places = (-exponent).max(0.0) as usize;
        // Adding zero turns minus zero into zero.
        format!("{:.places$}", (number / self.step).round() * self.step + 0.0)
    }

    /// Where a number lies: 0 at the low end, 1 at the high one.
    pub(super) fn share(&self, number: f64) -> f64 {
        (number - self.low) / (self.high - self.low)
    }
}

/// The least of 1, 2, 5 times a power of ten that is no smaller.
fn round_step(least: f64) -> f64 {
    let decade = 10_f64.powf(least.log10().floor());
    [1.0, 2.0, 5.0]
        .into_iter()
        .map(|factor| factor * decade)
        .find(|step| *step >= least)
        .unwrap_or(10.0 * decade)
}
