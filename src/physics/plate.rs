//! Round flat plates under uniform pressure: a flap on its seat lies between clamped and simply
//! supported at the rim, so that the two bound it.
//!
//! S. Timoshenko and S. Woinowsky-Krieger, *Theory of Plates and Shells*, 2nd ed., §16 and §17.
//! Linear theory of thin plates.

use super::Refusal;
use super::check::{above_zero, from_zero, refuse, result, within};
use crate::quantity::{Length, PressureDifference, Quantity};

/// Thickness over radius above which thin-plate theory is refused.
const THICKEST: f64 = 0.5;
/// Thickness over radius above which shear adds 5 to 7 % to the deflection.
const SHEAR_SHOWS: f64 = 0.2;
/// Deflection over thickness above which the plate stretches and linear theory ends.
const MAX_DEFLECTION: f64 = 0.5;

struct Plate {
    pressure: f64,
    radius: f64,
    thickness: f64,
}

impl Plate {
    fn checked(
        pressure: PressureDifference,
        radius: Length,
        thickness: Length,
    ) -> Result<Self, Refusal> {
        let pressure = from_zero("pressure", pressure)?;
        let radius = above_zero("radius", radius)?;
        let thickness = above_zero("thickness", thickness)?;
        if thickness / radius > THICKEST {
            let why = "is more than half the radius: too thick for plate theory";
            return refuse::<Length, _>("thickness", thickness, why);
        }
        Ok(Self { pressure, radius, thickness })
    }

    /// p·(a/t)², Pa.
    fn load(&self) -> f64 {
        self.pressure * (self.radius / self.thickness).powi(2)
    }

    /// p·a⁴/(64·D) with the flexural rigidity D = E·t³/(12·(1 − ν²)), m.
    fn bending(&self, modulus: f64, poisson: f64) -> f64 {
        let slenderness = (self.radius / self.thickness).powi(3);
        12.0 / 64.0 * (1.0 - poisson * poisson) * self.pressure / modulus
            * slenderness
            * self.radius
    }

    fn deflection(&self, name: &'static str, deflection: f64) -> Result<Length, Refusal> {
        if deflection / self.thickness > MAX_DEFLECTION {
            let why =
                "is more than half the thickness: the plate stretches, and linear theory ends";
            return refuse::<Length, _>(name, deflection, why);
        }
        result(name, deflection)
    }
}

fn checked_poisson(poisson: f64) -> Result<f64, Refusal> {
    within("poisson", poisson, 0.0, 0.5)
}

/// Largest bending stress of a plate clamped at its rim, ¾·p·(a/t)², radial, at the rim.
///
/// Timoshenko and Woinowsky-Krieger, *Theory of Plates and Shells*, §16.
///
/// ```
/// # use boostwright::{physics::plate::clamped_plate_stress, quantity::{Quantity, si}};
/// // Timoshenko, *Strength of Materials*, part II: 6 psi on 40 in of radius, 1 in thick: 7200 psi.
/// let stress = clamped_plate_stress(si(6.0), si(40.0), si(1.0)).unwrap();
/// assert!((stress.si() - 7200.0).abs() < 1e-9);
/// ```
///
/// # Errors
/// Refuses a negative pressure, lengths that aren't above 0, a thickness above half the radius.
pub fn clamped_plate_stress(
    pressure: PressureDifference,
    radius: Length,
    thickness: Length,
) -> Result<PressureDifference, Refusal> {
    let plate = Plate::checked(pressure, radius, thickness)?;
    result("clamped_plate_stress", 0.75 * plate.load())
}

/// Largest bending stress of a plate simply supported at its rim, 3·(3 + ν)/8·p·(a/t)², at the
/// centre.
///
/// Timoshenko and Woinowsky-Krieger, *Theory of Plates and Shells*, §16.
///
/// ```
/// # use boostwright::{physics::{plate::supported_plate_stress, plate::clamped_plate_stress}, quantity::{Quantity, si}};
/// let clamped = clamped_plate_stress(si(150e3), si(13e-3), si(3e-3)).unwrap();
/// let supported = supported_plate_stress(si(150e3), si(13e-3), si(3e-3), 0.3).unwrap();
/// assert!((supported.si() / clamped.si() - 1.65).abs() < 1e-12);
/// ```
///
/// # Errors
/// As [`clamped_plate_stress`]; refuses a Poisson's ratio outside 0 to 0.5.
pub fn supported_plate_stress(
    pressure: PressureDifference,
    radius: Length,
    thickness: Length,
    poisson: f64,
) -> Result<PressureDifference, Refusal> {
    let plate = Plate::checked(pressure, radius, thickness)?;
    let poisson = checked_poisson(poisson)?;
    result("supported_plate_stress", 3.0 * (3.0 + poisson) / 8.0 * plate.load())
}

/// Deflection at the centre of a plate clamped at its rim, p·a⁴/(64·D).
///
/// Timoshenko and Woinowsky-Krieger, *Theory of Plates and Shells*, eq. 62.
///
/// ```
/// # use boostwright::{physics::plate::clamped_plate_deflection, quantity::{Quantity, si}};
/// // Boresi and Schmidt, *Advanced Mechanics of Materials*, ex. 13.3: 0.36 mm.
/// let (radius, thickness) = (si(100e-3), si(10e-3));
/// let bend = clamped_plate_deflection(si(4.2e6), radius, thickness, si(200e9), 0.29).unwrap();
/// assert!((bend.si() - 0.36e-3).abs() < 0.005e-3);
/// ```
///
/// # Errors
/// As [`supported_plate_stress`]; refuses a modulus that isn't above 0 and a deflection above half
/// the thickness.
pub fn clamped_plate_deflection(
    pressure: PressureDifference,
    radius: Length,
    thickness: Length,
    modulus: PressureDifference,
    poisson: f64,
) -> Result<Length, Refusal> {
    let plate = Plate::checked(pressure, radius, thickness)?;
    let modulus = above_zero("modulus", modulus)?;
    let deflection = plate.bending(modulus, checked_poisson(poisson)?);
    plate.deflection("clamped_plate_deflection", deflection)
}

/// Deflection at the centre of a plate simply supported at its rim, (5 + ν)/(1 + ν)·p·a⁴/(64·D).
///
/// Timoshenko and Woinowsky-Krieger, *Theory of Plates and Shells*, eq. 68.
///
/// ```
/// # use boostwright::{physics::{plate::supported_plate_deflection, plate::clamped_plate_deflection}, quantity::{Quantity, si}};
/// // About four times as much as clamped (Timoshenko and Woinowsky-Krieger, §16).
/// let (radius, thickness, modulus) = (si(17e-3), si(3e-3), si(150e9));
/// let clamped = clamped_plate_deflection(si(3e5), radius, thickness, modulus, 0.3).unwrap();
/// let supported = supported_plate_deflection(si(3e5), radius, thickness, modulus, 0.3).unwrap();
/// assert!((supported.si() / clamped.si() - 5.3 / 1.3).abs() < 1e-12);
/// ```
///
/// # Errors
/// As [`clamped_plate_deflection`].
pub fn supported_plate_deflection(
    pressure: PressureDifference,
    radius: Length,
    thickness: Length,
    modulus: PressureDifference,
    poisson: f64,
) -> Result<Length, Refusal> {
    let plate = Plate::checked(pressure, radius, thickness)?;
    let modulus = above_zero("modulus", modulus)?;
    let poisson = checked_poisson(poisson)?;
    let deflection = (5.0 + poisson) / (1.0 + poisson) * plate.bending(modulus, poisson);
    plate.deflection("supported_plate_deflection", deflection)
}

/// A remark where the plate is so thick that shear, which the theory leaves out, shows.
///
/// ```
/// # use boostwright::{physics::plate::deflection_remarks, quantity::si};
/// assert!(deflection_remarks(si(3e5), si(17e-3), si(3e-3), si(150e9), 0.3).is_empty());
/// assert_eq!(deflection_remarks(si(3e5), si(17e-3), si(5e-3), si(150e9), 0.3).len(), 1);
/// ```
#[must_use]
pub fn deflection_remarks(
    _pressure: PressureDifference,
    radius: Length,
    thickness: Length,
    _modulus: PressureDifference,
    _poisson: f64,
) -> Vec<String> {
    let ratio = thickness.si() / radius.si();
    if ratio <= SHEAR_SHOWS {
        return Vec::new();
    }
    vec![format!(
        "thickness/radius is {ratio:.2}: above {SHEAR_SHOWS} shear adds 5 to 7 % to the deflection, \
         which this leaves out"
    )]
}
