//! Compressor and turbine wheel: what the best efficiencies come down to at part flow and part speed,
//! the speed that a pressure ratio takes, and the inertia of the rotor.

use super::super::Refusal;
use super::super::check::within;
use crate::quantity::Length;

/// Diameters of wheels that the relations are meant for, m: passenger cars and light lorries.
const DIAMETERS: (f64, f64) = (0.025, 0.15);

/// Isentropic head over the square of tip speed where nothing flows. Published fits of five machines
/// give 0.50 to 0.82; Watson and Janota's centrifugal wheels lie about 0.6.
const HEAD: f64 = 0.60;
/// Flow coefficient ṁ/(ρ_1·U·D²) at which the head is used up: the end of the ellipse that mean-value
/// models draw for a speed line (Eriksson and Nielsen; a printed map of a 56 mm wheel chokes at
/// 0.078 to 0.081, at some pressure ratio still).
const NO_HEAD_FLOW: f64 = 0.085;
/// Flow coefficient of the best efficiency: 0.0598 and 0.059 in two printed maps.
const BEST_FLOW: f64 = 0.06;
/// Distance from there at which a parabola would come down to nothing; at a surge line at 0.022 it
/// leaves the 0.62 out of 0.80 that printed maps show.
const FLOW_WIDTH: f64 = 0.08;
/// Part of the best efficiency that no flow takes: off the map the parabola means nothing.
const LEAST_SHAPE: f64 = 0.3;
/// Blade speed over spouting velocity at a radial turbine's best; 0.65 to 0.70 measured, 0.707 ideal
/// (Watson and Janota). Its efficiency goes 1 − ((x − x_best)/x_best)² (Eriksson and Nielsen).
const BEST_SPEED_RATIO: f64 = 0.68;
/// Losses of a wheel go with its Reynolds number to −0.1 to −0.2 (Watson and Janota; the exponent from
/// memory). With 0.15 the whole turbocharger's efficiency falls at little boost as two engines'
/// dynamometer maps show.
const LOSS_EXPONENT: f64 = 0.15;
/// Tip speed of the compressor and spouting velocity of the gas, m/s, at which the best efficiencies
/// hold: those at half a bar of boost.
const REFERENCE_TIP_SPEED: f64 = 285.0;
const REFERENCE_SPOUTING: f64 = 440.0;
/// Bearings: 1e-6 N m s on a compressor of 56 mm, in three published models of petrol engines; that
/// takes 3 % of the turbine's power at full load. A bearing's torque goes with the cube of its size
/// (Petroff).
const BEARING_N_M_S: f64 = 1e-6;
const BEARING_WHEEL_M: f64 = 0.056;
const BEARING_SHARE: f64 = 0.03;
/// J = 0.006·(ρ_t·D_t⁵ + ρ_c·D_c⁵) with the densities of nickel alloy and aluminium fits three rotors
/// from 2 to 13 litres within 10 % (Westin 2002 for one of 56/52 mm, 2.55e-5 kg m²).
const INERTIA: f64 = 0.006;
const TURBINE_DENSITY: f64 = 7900.0;
const COMPRESSOR_DENSITY: f64 = 2700.0;

/// The wheels' outer diameters, 25 to 150 mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wheels {
    pub compressor_diameter: Length,
    pub turbine_diameter: Length,
}

/// [`Wheels`] checked.
#[derive(Debug, Clone, Copy)]
pub(super) struct CheckedWheels {
    pub(super) compressor_m: f64,
    pub(super) turbine_m: f64,
}

/// What a compressor has to do, and how well it does it.
#[derive(Debug, Clone, Copy)]
pub(super) struct Turning {
    pub(super) tip_speed_m_s: f64,
    pub(super) efficiency: f64,
}

impl CheckedWheels {
    pub(super) fn checked(wheels: &Wheels) -> Result<Self, Refusal> {
        let (low, high) = DIAMETERS;
        Ok(Self {
            compressor_m: within("compressor_diameter", wheels.compressor_diameter, low, high)?,
            turbine_m: within("turbine_diameter", wheels.turbine_diameter, low, high)?,
        })
    }

    /// Flow, kg/s, at which a tip speed of 1 m/s has no head left, by the density at the inlet.
    fn flow_without_head(&self, density_kg_m3: f64) -> f64 {
        NO_HEAD_FLOW * density_kg_m3 * self.compressor_m * self.compressor_m
    }

    /// The isentropic head, J/kg, that a tip speed gives at a flow; below 0 where the wheel is in
    /// the way of more air than it moves.
    pub(super) fn head_j_kg(&self, tip_speed_m_s: f64, flow_kg_s: f64, density: f64) -> f64 {
        let lost = flow_kg_s / self.flow_without_head(density);
        HEAD * (tip_speed_m_s * tip_speed_m_s - lost * lost)
    }

    /// How fast the head rises with tip speed, m/s.
    pub(super) fn head_slope(tip_speed_m_s: f64) -> f64 {
        2.0 * HEAD * tip_speed_m_s
    }

    /// The tip speed that gives a head at a flow, and the efficiency there.
    pub(super) fn turning(
        &self,
        head_j_kg: f64,
        flow_kg_s: f64,
        density: f64,
        best: f64,
    ) -> Turning {
        let lost = flow_kg_s / self.flow_without_head(density);
        let tip_speed_m_s = (head_j_kg.max(0.0) / HEAD + lost * lost).sqrt();
        let efficiency = self.compressor_efficiency(tip_speed_m_s, flow_kg_s, density, best);
        Turning { tip_speed_m_s, efficiency }
    }

    pub(super) fn compressor_efficiency(
        &self,
        tip_speed_m_s: f64,
        flow_kg_s: f64,
        density: f64,
        best: f64,
    ) -> f64 {
        let area = self.compressor_m * self.compressor_m;
        let off = (flow_kg_s / (density * tip_speed_m_s * area) - BEST_FLOW) / FLOW_WIDTH;
        at_speed(best, tip_speed_m_s / REFERENCE_TIP_SPEED) * (1.0 - off * off).max(LEAST_SHAPE)
    }

    /// The turbine's efficiency by the compressor's tip speed and the ideal work of its gas, J/kg;
    /// below 0 where the gas is too slow to push the blades.
    pub(super) fn turbine_efficiency(&self, tip_speed_m_s: f64, ideal_j_kg: f64, best: f64) -> f64 {
        let spouting = (2.0 * ideal_j_kg).sqrt();
        let ratio = tip_speed_m_s * self.turbine_m / self.compressor_m / spouting;
        let off = ratio / BEST_SPEED_RATIO - 1.0;
        at_speed(best, spouting / REFERENCE_SPOUTING) * (1.0 - off * off)
    }

    /// Power that the bearings take, W, where the mechanical efficiency at full load is known.
    pub(super) fn bearing_w(&self, tip_speed_m_s: f64, mechanical_efficiency: f64) -> f64 {
        let shaft_rad_s = 2.0 * tip_speed_m_s / self.compressor_m;
        let size = self.compressor_m / BEARING_WHEEL_M;
        let drag = BEARING_N_M_S * (1.0 - mechanical_efficiency) / BEARING_SHARE;
        drag * size * size * size * shaft_rad_s * shaft_rad_s
    }

    /// Moment of inertia of the whole rotor, kg m².
    pub(super) fn inertia_kg_m2(&self) -> f64 {
        INERTIA
            * (TURBINE_DENSITY * self.turbine_m.powi(5)
                + COMPRESSOR_DENSITY * self.compressor_m.powi(5))
    }
}

/// A best efficiency whose losses grow as the speed falls to a share of that it holds at.
fn at_speed(best: f64, share: f64) -> f64 {
    1.0 - (1.0 - best) * share.powf(-LOSS_EXPONENT)
}

/// Moment of inertia of a turbocharger's rotor in kg m², by its wheels:
/// 0.006·(7900 kg/m³·D_t⁵ + 2700 kg/m³·D_c⁵). Rotors scatter about it by some 15 %; light modern
/// turbine wheels lie further below.
///
/// ```
/// # use boostwright::{physics::spool::{Wheels, rotor_inertia}, quantity::si};
/// // Westin, quoted with the engine maps of Linköping's course TSFS09: 2.55e-5 kg m².
/// let wheels = Wheels { compressor_diameter: si(0.056), turbine_diameter: si(0.052) };
/// assert!((rotor_inertia(&wheels).unwrap() / 2.55e-5 - 1.0).abs() < 0.15);
/// ```
///
/// # Errors
/// Refuses wheels outside 25 to 150 mm.
pub fn rotor_inertia(wheels: &Wheels) -> Result<f64, Refusal> {
    Ok(CheckedWheels::checked(wheels)?.inertia_kg_m2())
}
