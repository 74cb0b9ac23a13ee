//! Restrictions of the air and exhaust path: what a drop read at one flow is at another.

use super::Refusal;
use super::check::{above_zero, from_zero, result};
use crate::quantity::{MassFlow, PressureDifference};

/// A drop (or a back pressure) read at one air flow, carried to another: Δp·(ṁ/ṁ_ref)².
///
/// Turbulent loss in pipes, filters and coolers goes with the square of the flow at like density
/// (Darcy–Weisbach; Heywood, *Internal Combustion Engine Fundamentals*, 6.2.2).
///
/// ```
/// # use boostwright::{physics::restriction::drop_at_flow, quantity::{Quantity, si}};
/// let drop = drop_at_flow(si(12e3), si(0.15), si(0.30)).unwrap();
/// assert!((drop.si() - 48e3).abs() < 1e-9);
/// ```
///
/// # Errors
/// Refuses a negative drop or flow and a reference flow that isn't above 0.
pub fn drop_at_flow(
    drop: PressureDifference,
    reference_flow: MassFlow,
    flow: MassFlow,
) -> Result<PressureDifference, Refusal> {
    let drop = from_zero("drop", drop)?;
    let ratio = from_zero("flow", flow)? / above_zero("reference_flow", reference_flow)?;
    result("drop_at_flow", drop * ratio * ratio)
}
