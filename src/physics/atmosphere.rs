//! The air outside: the standard atmosphere (ISO 2533:1975, geopotential altitude), the density of
//! dry air, and the step between gauge and absolute pressure.

use super::check::{above_zero, finite, from_zero, refuse, result, within};
use super::{Refusal, gas};
use crate::quantity::{AbsolutePressure, Density, GaugePressure, Length, Quantity, Temperature};

/// Sea-level pressure of the standard atmosphere, Pa (ISO 2533:1975, table 1).
const SEA_LEVEL_PRESSURE: f64 = 101_325.0;
/// Sea-level temperature of the standard atmosphere, K (ISO 2533:1975, table 1).
const SEA_LEVEL_TEMPERATURE: f64 = 288.15;
/// Fall of temperature with altitude below 11 km, K/m (ISO 2533:1975, table 4).
const LAPSE: f64 = 0.0065;
/// g_n/(β·R), with g_n 9.806 65 m/s² and R 287.052 87 J/(kg K) (ISO 2533:1975, 2.1).
const EXPONENT: f64 = 9.806_65 / (LAPSE * 287.052_87);
/// The part of the troposphere that the relations cover, m.
const ALTITUDES: (f64, f64) = (-2000.0, 11_000.0);

/// Pressure of the standard atmosphere at a geopotential altitude, −2 km to 11 km.
///
/// ISO 2533:1975, eq. (12): p = p_b·(1 + β·(H − H_b)/T_b)^(−g_n/(β·R)) with p_b 101 325 Pa,
/// T_b 288.15 K, β −6.5 K/km.
///
/// ```
/// # use boostwright::{physics::atmosphere::standard_pressure, quantity::{Quantity, si}};
/// // ISO 2533:1975, table 5.
/// assert!((standard_pressure(si(1e3)).unwrap().si() - 89_874.6).abs() < 0.1);
/// ```
///
/// # Errors
/// Refuses an altitude outside the troposphere.
pub fn standard_pressure(altitude: Length) -> Result<AbsolutePressure, Refusal> {
    let height = within("altitude", altitude, ALTITUDES.0, ALTITUDES.1)?;
    Ok(AbsolutePressure::from_si(pressure_at(height)))
}

fn pressure_at(height: f64) -> f64 {
    SEA_LEVEL_PRESSURE * (1.0 - LAPSE * height / SEA_LEVEL_TEMPERATURE).powf(EXPONENT)
}

/// Temperature of the standard atmosphere at a geopotential altitude, −2 km to 11 km.
///
/// ISO 2533:1975, eq. (5): T = T_b + β·(H − H_b).
///
/// ```
/// # use boostwright::{physics::atmosphere::standard_temperature, quantity::{Quantity, si}};
/// // ISO 2533:1975, table 5.
/// assert!((standard_temperature(si(1e3)).unwrap().si() - 281.65).abs() < 1e-9);
/// ```
///
/// # Errors
/// Refuses an altitude outside the troposphere.
pub fn standard_temperature(altitude: Length) -> Result<Temperature, Refusal> {
    let height = within("altitude", altitude, ALTITUDES.0, ALTITUDES.1)?;
    Ok(Temperature::from_si(SEA_LEVEL_TEMPERATURE - LAPSE * height))
}

/// Geopotential altitude at which the standard atmosphere has this pressure: ISO 2533:1975,
/// eq. (12) turned round.
///
/// ```
/// # use boostwright::{physics::atmosphere::pressure_altitude, quantity::{Quantity, si}};
/// assert!((pressure_altitude(si(89_874.6)).unwrap().si() - 1e3).abs() < 0.01);
/// ```
///
/// # Errors
/// Refuses a pressure that the standard atmosphere has nowhere between −2 km and 11 km.
pub fn pressure_altitude(pressure: AbsolutePressure) -> Result<Length, Refusal> {
    let given = within("pressure", pressure, pressure_at(ALTITUDES.1), pressure_at(ALTITUDES.0))?;
    let ratio = (given / SEA_LEVEL_PRESSURE).powf(EXPONENT.recip());
    Ok(Length::from_si((1.0 - ratio) * SEA_LEVEL_TEMPERATURE / LAPSE))
}

/// Density of dry air, ρ = p/(R·T) with R 287.05 J/(kg K): ideal gas, good to 0.1 % near ambient.
///
/// ```
/// # use boostwright::{physics::atmosphere::air_density, quantity::{Quantity, si}};
/// // ISO 2533:1975: 1.225 kg/m³ at sea level.
/// assert!((air_density(si(101_325.0), si(288.15)).unwrap().si() - 1.225).abs() < 1e-4);
/// ```
///
/// # Errors
/// Refuses a pressure below vacuum and a temperature of 0 K or below.
pub fn air_density(
    pressure: AbsolutePressure,
    temperature: Temperature,
) -> Result<Density, Refusal> {
    let pressure = from_zero("pressure", pressure)?;
    let temperature = above_zero("temperature", temperature)?;
    result("air_density", pressure / (gas::AIR_CONSTANT * temperature))
}

/// The absolute pressure behind a gauge reading.
///
/// ```
/// # use boostwright::{physics::atmosphere::absolute, quantity::{Quantity, si}};
/// assert_eq!(absolute(si(80e3), si(100e3)).unwrap().si(), 180e3);
/// ```
///
/// # Errors
/// Refuses an ambient pressure that isn't above vacuum, and a reading below vacuum.
pub fn absolute(
    gauge: GaugePressure,
    ambient: AbsolutePressure,
) -> Result<AbsolutePressure, Refusal> {
    let reading = finite("gauge", gauge)?;
    let outside = above_zero("ambient", ambient)?;
    if reading < -outside {
        return refuse::<GaugePressure, _>("gauge", reading, "is below vacuum");
    }
    result("absolute", reading + outside)
}

/// What a gauge open to the ambient pressure shows of an absolute pressure.
///
/// ```
/// # use boostwright::{physics::atmosphere::gauge, quantity::{Quantity, si}};
/// assert_eq!(gauge(si(180e3), si(100e3)).unwrap().si(), 80e3);
/// ```
///
/// # Errors
/// Refuses a pressure below vacuum and an ambient pressure that isn't above it.
pub fn gauge(
    pressure: AbsolutePressure,
    ambient: AbsolutePressure,
) -> Result<GaugePressure, Refusal> {
    result("gauge", from_zero("pressure", pressure)? - above_zero("ambient", ambient)?)
}
