//! Small air lines: flow through a component by its sonic conductance, and the pressure in a
//! canister fed through one restriction and vented through another.

use super::check::{above_zero, from_zero, refuse, result};
use super::nozzle::falling;
use super::{Refusal, root};
use crate::quantity::{AbsolutePressure, Conductance, MassFlow, Quantity, Temperature};

/// Reference density of ISO 6358-1, kg/m³ (at 100 kPa, 293.15 K, 65 % humidity).
const REFERENCE_DENSITY: f64 = 1.185;
/// Reference temperature of ISO 6358-1, K.
const REFERENCE_TEMPERATURE: f64 = 293.15;

/// A component as ISO 6358-1 describes it.
#[derive(Clone, Copy)]
struct Component {
    /// Sonic conductance, m³/(s Pa).
    conductance: f64,
    critical_ratio: f64,
}

impl Component {
    fn checked(
        conductance: (&'static str, Conductance),
        critical_ratio: (&'static str, f64),
    ) -> Result<Self, Refusal> {
        let ratio = from_zero(critical_ratio.0, critical_ratio.1)?;
        if ratio >= 1.0 {
            return refuse::<f64, _>(critical_ratio.0, ratio, "must be below 1");
        }
        let conductance = from_zero(conductance.0, conductance.1)?;
        Ok(Self { conductance, critical_ratio: ratio })
    }

    /// Flow at the reference temperature, kg/s; pressures in Pa, `back` not above `pressure`.
    fn flow(self, pressure: f64, back: f64) -> f64 {
        let choked = self.conductance * pressure * REFERENCE_DENSITY;
        let beyond = back / pressure - self.critical_ratio;
        if beyond <= 0.0 {
            return choked;
        }
        let fall = beyond / (1.0 - self.critical_ratio);
        // (1 − x)(1 + x) and not 1 − x²: exact where the flow dies away.
        choked * ((1.0 - fall) * (1.0 + fall)).max(0.0).sqrt()
    }
}

/// Mass flow of air through a pneumatic component,
/// C·p_1·ρ_0·√(T_0/T)·√(1 − ((p_2/p_1 − b)/(1 − b))²), without the last root once choked. Equal
/// pressures give 0.
///
/// ISO 6358-1:2013, eq. (1) and (2); ρ_0 1.185 kg/m³, T_0 293.15 K.
///
/// ```
/// # use boostwright::{physics::pneumatics::pneumatic_flow, quantity::{Quantity, si}};
/// // ISO 6358-1: 1 dm³/(s bar) at 6 bar and 20 °C passes 6 dm³/s of reference air, 1.185 kg/m³.
/// let flow = pneumatic_flow(si(1e-8), 0.3, si(6e5), si(1e5), si(293.15)).unwrap();
/// assert!((flow.si() - 6e-3 * 1.185).abs() < 1e-15);
/// ```
///
/// # Errors
/// Refuses a negative conductance, a critical ratio outside [0, 1), a back pressure above the
/// supply, 0 K and below.
pub fn pneumatic_flow(
    conductance: Conductance,
    critical_ratio: f64,
    pressure: AbsolutePressure,
    back_pressure: AbsolutePressure,
    temperature: Temperature,
) -> Result<MassFlow, Refusal> {
    let component =
        Component::checked(("conductance", conductance), ("critical_ratio", critical_ratio))?;
    let (supply, back) = falling("pressure", pressure, "back_pressure", back_pressure)?;
    let temperature = above_zero("temperature", temperature)?;
    let warmth = (REFERENCE_TEMPERATURE / temperature).sqrt();
    result("pneumatic_flow", component.flow(supply, back) * warmth)
}

/// Pressure in a canister that is fed from `source` through one component and vented to `ambient`
/// through another: the pressure at which both pass the same flow (ISO 6358-1:2013 for each).
/// Without a vent it is the source's, without a supply the ambient one. Supply and canister are
/// taken at one temperature, so that its value does not move the answer.
///
/// ```
/// # use boostwright::{physics::pneumatics::canister_pressure, quantity::{Quantity, si}};
/// // With its vent shut the canister has the pressure of the source.
/// let (supply, vent, warm) = (si(1e-9), si(0.0), si(300.0));
/// let canister = canister_pressure(supply, 0.4, vent, 0.4, si(1.8e5), si(1e5), warm).unwrap();
/// assert_eq!(canister.si(), 1.8e5);
/// ```
///
/// # Errors
/// Refuses a source below ambient, two components that both pass nothing, and what
/// [`pneumatic_flow`] refuses.
pub fn canister_pressure(
    supply_conductance: Conductance,
    supply_critical_ratio: f64,
    vent_conductance: Conductance,
    vent_critical_ratio: f64,
    source: AbsolutePressure,
    ambient: AbsolutePressure,
    temperature: Temperature,
) -> Result<AbsolutePressure, Refusal> {
    let supply = Component::checked(
        ("supply_conductance", supply_conductance),
        ("supply_critical_ratio", supply_critical_ratio),
    )?;
    let vent = Component::checked(
        ("vent_conductance", vent_conductance),
        ("vent_critical_ratio", vent_critical_ratio),
    )?;
    let (source, ambient) = falling("source", source, "ambient", ambient)?;
    above_zero("temperature", temperature)?;
    if supply.conductance == 0.0 && vent.conductance == 0.0 {
        let why = "is 0, and so is the vent's: the pressure between them does not change";
        return Err(Refusal::new("supply_conductance", why));
    }
    // Flows in units of the larger conductance, so that tiny ones don't lose their sign.
    let scale = supply.conductance.max(vent.conductance);
    let surplus =
        |between: f64| (supply.flow(source, between) - vent.flow(between, ambient)) / scale;
    let between =
        if source == ambient { Some(source) } else { root::bracketed(ambient, source, surplus) };
    between
        .map(AbsolutePressure::from_si)
        .ok_or_else(|| Refusal::new("canister_pressure", "no pressure balances both flows"))
}
