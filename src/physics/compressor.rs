//! Where a compressor works: what its maker's map is read with, how fast the wheel turns, and how much
//! air it can swallow.

use std::f64::consts::PI;

use super::check::{above_zero, compression, from_zero, result, up_to, within};
use super::nozzle::Gas;
use super::{Refusal, charge, gas};
use crate::quantity::{AbsolutePressure, Length, MassFlow, Rotation, Speed, Temperature};

/// Head coefficients Δh_is/U² that are taken for meant: 0.44 to 0.82 in printed maps.
const HEADS: (f64, f64) = (0.3, 0.9);
/// Surge coefficients that are taken for meant; see [`compressor_surge_flow`].
const SURGES: (f64, f64) = (0.01, 0.12);

/// Flow as maps print it, ṁ·√(T_1/T_ref)/(p_1/p_ref). Makers refer to 293 to 303 K and 0.96 to
/// 1.013 bar: the map says to which.
///
/// SAE J1826; Watson and Janota, *Turbocharging the Internal Combustion Engine*.
///
/// ```
/// # use boostwright::{physics::compressor::corrected_flow, quantity::{Quantity, si}};
/// // A turbocharger builder's text: 50 lb/min at 60 °F and 14.7 psi are 46.3 lb/min at 545 °R and 13.95 psi.
/// let pound_a_minute = 0.453_592_37 / 60.0;
/// let (warm, reference) = (288.7, 545.0 / 1.8);
/// let flow = corrected_flow(si(50.0 * pound_a_minute), si(warm), si(101_353.0), si(reference), si(96_182.0));
/// assert!((flow.unwrap().si() / pound_a_minute - 46.3).abs() < 0.14);
/// ```
///
/// # Errors
/// Refuses a negative flow, temperatures and pressures that aren't above 0.
pub fn corrected_flow(
    flow: MassFlow,
    inlet_temperature: Temperature,
    inlet_pressure: AbsolutePressure,
    reference_temperature: Temperature,
    reference_pressure: AbsolutePressure,
) -> Result<MassFlow, Refusal> {
    let flow = from_zero("flow", flow)?;
    let warmth = above_zero("inlet_temperature", inlet_temperature)?
        / above_zero("reference_temperature", reference_temperature)?;
    let pressure = above_zero("inlet_pressure", inlet_pressure)?
        / above_zero("reference_pressure", reference_pressure)?;
    result("corrected_flow", flow * warmth.sqrt() / pressure)
}

/// Speed of a wheel's rim, π·D·n.
///
/// ```
/// # use boostwright::{physics::compressor::rim_speed, quantity::{Quantity, si}};
/// // Gorla and Khan, *Turbomachinery*, ex. 4.4: 1 m at 5945 rpm; 311.3 m/s follow.
/// assert!((rim_speed(si(1.0), si(5945.0 / 60.0)).unwrap().si() - 311.3).abs() < 0.05);
/// ```
///
/// # Errors
/// Refuses a diameter that isn't above 0 and a negative speed of the shaft.
pub fn rim_speed(wheel_diameter: Length, shaft_speed: Rotation) -> Result<Speed, Refusal> {
    let diameter = above_zero("wheel_diameter", wheel_diameter)?;
    result("rim_speed", PI * diameter * from_zero("shaft_speed", shaft_speed)?)
}

/// Rim speed that a compressor's wheel needs for a pressure ratio, √(Δh_is/ψ) with
/// Δh_is = c_p·T_1·((p_2/p_1)^((γ−1)/γ) − 1). The head coefficient ψ on a speed line's middle is 0.50 to
/// 0.60 on most wheels. Cast aluminium lasts up to about 480 to 500 m/s, milled wheels to 520 to 560
/// (common practice).
///
/// Watson and Janota, *Turbocharging the Internal Combustion Engine*; Gorla and Khan, *Turbomachinery*,
/// chapter 4.
///
/// ```
/// # use boostwright::{physics::compressor::compressor_rim_speed, quantity::{Quantity, si}};
/// // Cohen, Rogers and Saravanamuttoo, *Gas Turbine Theory*, ex. 4.1 (from memory): a wheel of 0.5 m at
/// // 290 turns a second, slip 0.9, power input 1.04, efficiency 0.78, 295 K: pressure ratio 4.23.
/// let speed = compressor_rim_speed(4.23, si(295.0), 0.9 * 1.04 * 0.78).unwrap();
/// assert!((speed.si() / (290.0 * 0.5 * std::f64::consts::PI) - 1.0).abs() < 0.005);
/// ```
///
/// # Errors
/// Refuses a pressure ratio below 1, 0 K and below, a head coefficient outside 0.3 to 0.9.
pub fn compressor_rim_speed(
    pressure_ratio: f64,
    inlet_temperature: Temperature,
    head_coefficient: f64,
) -> Result<Speed, Refusal> {
    let ratio = compression("pressure_ratio", pressure_ratio)?;
    let heat = gas::AIR_HEAT_CAPACITY * above_zero("inlet_temperature", inlet_temperature)?;
    let coefficient = within("head_coefficient", head_coefficient, HEADS.0, HEADS.1)?;
    result("compressor_rim_speed", (heat * charge::relative_rise(ratio, 1.0) / coefficient).sqrt())
}

/// The most air that a compressor swallows: sonic flow through the circle of its inducer (the smaller
/// diameter at its mouth), times the share of it that hub and blades leave. 0.62 to 0.78 of it on
/// wheels of passenger cars (a printed map's choke line gives 0.71).
///
/// Isentropic nozzle: Heywood, *Internal Combustion Engine Fundamentals*, eq. C.9.
///
/// ```
/// # use boostwright::{physics::compressor::compressor_choke_flow, quantity::{Quantity, si}};
/// // The nozzle alone passes 239 kg/(s m²) at 293.15 K and 1.013 bar.
/// let circle = std::f64::consts::PI / 4.0 * 0.04 * 0.04;
/// let flow = compressor_choke_flow(si(0.04), 1.0, si(293.15), si(101_300.0)).unwrap();
/// assert!((flow.si() / circle - 239.0).abs() < 0.5);
/// ```
///
/// # Errors
/// Refuses a diameter, a temperature or a pressure that isn't above 0, a share outside (0, 1].
pub fn compressor_choke_flow(
    inducer_diameter: Length,
    open_share: f64,
    inlet_temperature: Temperature,
    inlet_pressure: AbsolutePressure,
) -> Result<MassFlow, Refusal> {
    let diameter = above_zero("inducer_diameter", inducer_diameter)?;
    let share = up_to("open_share", open_share, 1.0)?;
    let temperature = above_zero("inlet_temperature", inlet_temperature)?;
    let pressure = above_zero("inlet_pressure", inlet_pressure)?;
    let air = Gas { gamma: gas::AIR_GAMMA, constant: gas::AIR_CONSTANT };
    let area = PI / 4.0 * diameter * diameter;
    result("compressor_choke_flow", share * area * air.flux(pressure, temperature, 0.0))
}

/// The least air that a compressor passes steadily at a pressure ratio, c·(p_2/p_1 − 1)·D²·ρ_1·a_1 with
/// the outer diameter D of its wheel, and density ρ_1 and velocity of sound a_1 at its inlet: below it,
/// it surges.
///
/// Wheels of one shape surge at the same ṁ·√(R·T_1)/(p_1·D²) for the same pressure ratio (Watson and
/// Janota, *Turbocharging the Internal Combustion Engine*, chapter on similarity). That the line is
/// straight through no flow at ratio 1 is a fit: c is 0.035 to 0.052 along the surge line of one printed
/// map from ratio 1.4 to 2.9, and 0.045 ± 0.012 covers wheels of other make (common practice). Pipes and
/// volumes behind the compressor shift the line as well.
///
/// ```
/// # use boostwright::{physics::compressor::compressor_surge_flow, quantity::{Quantity, si}};
/// // A map of Linköping University's course TSFS09 has 39 g/s at 2.07, 293.15 K and 101.3 kPa, by its head
/// // with a wheel of about 49.5 mm.
/// let flow = compressor_surge_flow(si(0.0495), 2.07, 0.036, si(293.15), si(101_300.0)).unwrap();
/// assert!((flow.si() - 0.039).abs() < 0.001);
/// ```
///
/// # Errors
/// Refuses a pressure ratio below 1, a coefficient outside 0.01 to 0.12, and a diameter, a temperature or a
/// pressure that isn't above 0.
pub fn compressor_surge_flow(
    wheel_diameter: Length,
    pressure_ratio: f64,
    surge_coefficient: f64,
    inlet_temperature: Temperature,
    inlet_pressure: AbsolutePressure,
) -> Result<MassFlow, Refusal> {
    let diameter = above_zero("wheel_diameter", wheel_diameter)?;
    let ratio = compression("pressure_ratio", pressure_ratio)?;
    let coefficient = within("surge_coefficient", surge_coefficient, SURGES.0, SURGES.1)?;
    let temperature = above_zero("inlet_temperature", inlet_temperature)?;
    let pressure = above_zero("inlet_pressure", inlet_pressure)?;
    // ρ·a = p/(R·T)·√(γ·R·T).
    let flux = pressure * (gas::AIR_GAMMA / (gas::AIR_CONSTANT * temperature)).sqrt();
    result("compressor_surge_flow", coefficient * (ratio - 1.0) * diameter * diameter * flux)
}
