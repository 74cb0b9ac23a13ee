//! Spark: what pressure a gap still jumps at.

use super::Refusal;
use super::check::{above_zero, finite, refuse, result};
use crate::quantity::{AbsolutePressure, GaugePressure, Length};

/// Boost at which the spark starts to miss after the gap was changed, from that at the old gap:
/// absolute boost pressure × gap stays about constant.
///
/// Paschen's law, breakdown voltage a function of density × gap (Heywood, *Internal Combustion
/// Engine Fundamentals*, 9.5.1), at like voltage, compression and timing; the charge temperature
/// is taken as unchanged. Common practice for a first estimate.
///
/// ```
/// # use boostwright::{physics::spark::miss_boost, quantity::{Quantity, si}};
/// // Common practice: from 0.80 to 0.65 mm the first miss moves from 0.7 to 1.1 bar.
/// let moved = miss_boost(si(0.7e5), si(101_325.0), si(0.80e-3), si(0.65e-3)).unwrap();
/// assert!((moved.si() - 1.1e5).abs() < 0.02e5);
/// ```
///
/// # Errors
/// Refuses a boost at or below vacuum, an ambient pressure or gaps that aren't above 0.
pub fn miss_boost(
    boost: GaugePressure,
    ambient: AbsolutePressure,
    gap: Length,
    new_gap: Length,
) -> Result<GaugePressure, Refusal> {
    let outside = above_zero("ambient", ambient)?;
    let gauge = finite("boost", boost)?;
    if gauge <= -outside {
        return refuse::<GaugePressure, _>("boost", gauge, "is at or below vacuum");
    }
    let shrink = above_zero("gap", gap)? / above_zero("new_gap", new_gap)?;
    result("miss_boost", (gauge + outside) * shrink - outside)
}
