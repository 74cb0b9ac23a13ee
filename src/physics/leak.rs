//! Leaks by how fast a closed volume loses its pressure, and what they cost at boost.
//!
//! Air as an ideal gas, γ 1.4, R 287.05 J/(kg K), through an isentropic nozzle: choked first where
//! the pressure is high enough, then not. For γ 7/5 the time has a closed form: with
//! u = √(1 − (p_low/p_high)^(2/7)) the flow function is √7·(1 − u²)^(5/2)·u, and what is left to
//! integrate is a power of 1 − u². (Relations of the nozzle: Heywood, *Internal Combustion Engine
//! Fundamentals*, appendix C; of the vessel: conservation of mass, and of energy when adiabatic.)

use super::check::{above_zero, from_zero, refuse, result};
use super::nozzle::{Gas, falling};
use super::{Refusal, gas};
use crate::quantity::{AbsolutePressure, Area, MassFlow, Quantity, Temperature, Time, Volume};

const AIR: Gas = Gas { gamma: gas::AIR_GAMMA, constant: gas::AIR_CONSTANT };

/// (5/6)^3.5, the critical pressure ratio of γ 1.4.
fn critical() -> f64 {
    (5.0f64 / 6.0).powf(3.5)
}

/// u of a ratio of the lower to the higher pressure.
fn head(ratio: f64) -> f64 {
    (-(ratio.ln() * 2.0 / 7.0).exp_m1()).max(0.0).sqrt()
}

/// What the air does with the heat of the walls while it expands.
#[derive(Debug, Clone, Copy)]
enum Walls {
    /// Slow: the air takes all it needs to keep its temperature.
    Isothermal,
    /// Fast: it takes none.
    Adiabatic,
}

/// A leak test, checked: how pressure went in a closed volume.
struct Test {
    volume_m3: f64,
    temperature_k: f64,
    start_pa: f64,
    end_pa: f64,
    ambient_pa: f64,
}

impl Test {
    fn checked(
        volume: Volume,
        temperature: Temperature,
        start: AbsolutePressure,
        end: AbsolutePressure,
        ambient: AbsolutePressure,
    ) -> Result<Self, Refusal> {
        let test = Self {
            volume_m3: above_zero("volume", volume)?,
            temperature_k: above_zero("temperature", temperature)?,
            start_pa: from_zero("start", start)?,
            end_pa: from_zero("end", end)?,
            ambient_pa: above_zero("ambient", ambient)?,
        };
        let Self { start_pa: start, end_pa: end, ambient_pa: ambient, .. } = test;
        if start == end {
            return refuse::<AbsolutePressure, _>(
                "end",
                end,
                "is where the test began: nothing leaked",
            );
        }
        if start == ambient {
            let why = "is the ambient pressure: nothing drives a leak";
            return refuse::<AbsolutePressure, _>("start", start, why);
        }
        let towards = if start > ambient { end < start } else { end > start };
        if !towards {
            return refuse::<AbsolutePressure, _>(
                "end",
                end,
                "is further from ambient than the start",
            );
        }
        if (end - ambient) * (start - ambient) < 0.0 {
            return refuse::<AbsolutePressure, _>(
                "end",
                end,
                "is beyond ambient, where a leak stops",
            );
        }
        Ok(test)
    }

    /// V/√(R·T), s m².
    fn pace(&self) -> f64 {
        self.volume_m3 / (gas::AIR_CONSTANT * self.temperature_k).sqrt()
    }

    /// The pressure at which the flow stops being choked, if it lies between start and end.
    fn unchokes_at_pa(&self) -> f64 {
        let (low, high) = (self.start_pa.min(self.end_pa), self.start_pa.max(self.end_pa));
        let edge = if self.start_pa > self.ambient_pa {
            self.ambient_pa / critical()
        } else {
            self.ambient_pa * critical()
        };
        edge.clamp(low, high)
    }

    /// Area times time, m² s, falling at constant temperature.
    fn isothermal_fall(&self) -> f64 {
        let edge = self.unchokes_at_pa();
        let choked = (self.start_pa / edge).ln() / AIR.flow_function(0.0);
        // ∫ (1 − u²)^(−7/2) du = w + ⅔·w³ + ⅕·w⁵ with w = u/√(1 − u²).
        let left = |pressure_pa: f64| {
            let u = head(self.ambient_pa / pressure_pa);
            let w = u / (1.0 - u * u).sqrt();
            w + w.powi(3) * (2.0 / 3.0) + w.powi(5) / 5.0
        };
        self.pace() * (choked + 7f64.sqrt() * (left(edge) - left(self.end_pa)).max(0.0))
    }

    /// Area times time, m² s, filling from outside at constant temperature.
    fn isothermal_rise(&self) -> f64 {
        let edge = self.unchokes_at_pa();
        let choked = (edge - self.start_pa) / self.ambient_pa / AIR.flow_function(0.0);
        let left = |pressure_pa: f64| head(pressure_pa / self.ambient_pa);
        self.pace() * (choked + 7f64.sqrt() * (left(edge) - left(self.end_pa)).max(0.0))
    }

    /// Area times time, m² s, falling without heat from the walls.
    fn adiabatic_fall(&self) -> f64 {
        let edge = self.unchokes_at_pa();
        let seventh = |ratio: f64| ratio.powf(1.0 / 7.0);
        let choked = 7.0 * (seventh(self.start_pa / edge) - 1.0) / AIR.flow_function(0.0);
        // ∫ (1 − u²)^(−3) du.
        let left = |pressure_pa: f64| {
            let u = head(self.ambient_pa / pressure_pa);
            let rest = 1.0 - u * u;
            u / (4.0 * rest * rest) + 3.0 * u / (8.0 * rest) + 0.375 * u.atanh()
        };
        let open = 7f64.sqrt()
            * seventh(self.start_pa / self.ambient_pa)
            * (left(edge) - left(self.end_pa)).max(0.0);
        self.pace() / gas::AIR_GAMMA * (choked + open)
    }

    /// Area times time, m² s: that is what a test fixes.
    fn area_time(&self, walls: Walls) -> Result<f64, Refusal> {
        let falls = self.start_pa > self.ambient_pa;
        match walls {
            Walls::Isothermal if falls => Ok(self.isothermal_fall()),
            Walls::Isothermal => Ok(self.isothermal_rise()),
            Walls::Adiabatic if falls => Ok(self.adiabatic_fall()),
            Walls::Adiabatic => {
                let why = "is below ambient: leaks inwards are calculated as isothermal only";
                refuse::<AbsolutePressure, _>("start", self.start_pa, why)
            }
        }
    }

    /// The time for the area given, or the area for the time given.
    fn other<Given: Quantity, Wanted: Quantity>(
        &self,
        name: &'static str,
        walls: Walls,
        (argument, given): (&'static str, Given),
    ) -> Result<Wanted, Refusal> {
        result(name, self.area_time(walls)? / above_zero(argument, given)?)
    }
}

/// Time in which the pressure in a closed volume goes from start to end through an effective leak
/// area, the air keeping its temperature; falling, or filling from outside where the start lies
/// below ambient.
///
/// ```
/// # use boostwright::{physics::leak::decay_time_isothermal, quantity::{Quantity, si}};
/// // Murugaperumal, ex. 1.39: 5 m³ at 60 °C through 10 cm² from 40 to 2 bar in 70.76 s.
/// let time =
///     decay_time_isothermal(si(5.0), si(333.0), si(40e5), si(2e5), si(1e5), si(10e-4)).unwrap();
/// assert!((time.si() - 70.76).abs() < 0.01);
/// ```
///
/// # Errors
/// Refuses what lies below vacuum, 0 K and below, a volume or area that isn't above 0, an end that
/// doesn't lie between start and ambient.
pub fn decay_time_isothermal(
    volume: Volume,
    temperature: Temperature,
    start: AbsolutePressure,
    end: AbsolutePressure,
    ambient: AbsolutePressure,
    area: Area,
) -> Result<Time, Refusal> {
    let test = Test::checked(volume, temperature, start, end, ambient)?;
    test.other("decay_time_isothermal", Walls::Isothermal, ("area", area))
}

/// Time in which the pressure in a closed volume falls from start to end through an effective leak
/// area, the air cooling as it expands; `temperature` is that at the start.
///
/// ```
/// # use boostwright::{physics::{leak::decay_time_adiabatic, leak::decay_time_isothermal}, quantity::si};
/// let (volume, warm, area) = (si(0.01), si(293.0), si(1e-6));
/// let (start, end, ambient) = (si(1.5e5), si(1.3e5), si(1e5));
/// let fast = decay_time_adiabatic(volume, warm, start, end, ambient, area).unwrap();
/// let slow = decay_time_isothermal(volume, warm, start, end, ambient, area).unwrap();
/// assert!(fast < slow);
/// ```
///
/// # Errors
/// As [`decay_time_isothermal`]; refuses a start below ambient too.
pub fn decay_time_adiabatic(
    volume: Volume,
    temperature: Temperature,
    start: AbsolutePressure,
    end: AbsolutePressure,
    ambient: AbsolutePressure,
    area: Area,
) -> Result<Time, Refusal> {
    let test = Test::checked(volume, temperature, start, end, ambient)?;
    test.other("decay_time_adiabatic", Walls::Adiabatic, ("area", area))
}

/// Effective leak area that takes this time from start to end, the air keeping its temperature. An
/// end at ambient gives the least area that it can be.
///
/// ```
/// # use boostwright::{physics::leak::leak_area_isothermal, quantity::{Quantity, si}};
/// // Murugaperumal, ex. 1.39, turned round: 10 cm².
/// let area =
///     leak_area_isothermal(si(5.0), si(333.0), si(40e5), si(2e5), si(1e5), si(70.76)).unwrap();
/// assert!((area.si() - 10e-4).abs() < 0.01e-4);
/// ```
///
/// # Errors
/// As [`decay_time_isothermal`], with a time above 0.
pub fn leak_area_isothermal(
    volume: Volume,
    temperature: Temperature,
    start: AbsolutePressure,
    end: AbsolutePressure,
    ambient: AbsolutePressure,
    time: Time,
) -> Result<Area, Refusal> {
    let test = Test::checked(volume, temperature, start, end, ambient)?;
    test.other("leak_area_isothermal", Walls::Isothermal, ("time", time))
}

/// Effective leak area that takes this time from start to end, the air cooling as it expands. An
/// end at ambient gives the least area that it can be.
///
/// ```
/// # use boostwright::{physics::{leak::leak_area_adiabatic, leak::leak_area_isothermal}, quantity::si};
/// // Air that cools loses pressure faster: a smaller leak explains the same test.
/// let (volume, warm, time) = (si(0.01), si(293.0), si(60.0));
/// let (start, end, ambient) = (si(1.5e5), si(1.3e5), si(1e5));
/// let fast = leak_area_adiabatic(volume, warm, start, end, ambient, time).unwrap();
/// let slow = leak_area_isothermal(volume, warm, start, end, ambient, time).unwrap();
/// assert!(fast < slow);
/// ```
///
/// # Errors
/// As [`decay_time_adiabatic`], with a time above 0.
pub fn leak_area_adiabatic(
    volume: Volume,
    temperature: Temperature,
    start: AbsolutePressure,
    end: AbsolutePressure,
    ambient: AbsolutePressure,
    time: Time,
) -> Result<Area, Refusal> {
    let test = Test::checked(volume, temperature, start, end, ambient)?;
    test.other("leak_area_adiabatic", Walls::Adiabatic, ("time", time))
}

/// Air that a leak of this effective area loses from a pressure to the air outside.
///
/// Heywood, *Internal Combustion Engine Fundamentals*, eq. C.8 and C.9, γ 1.4, R 287.05 J/(kg K).
///
/// ```
/// # use boostwright::{physics::leak::leak_flow, quantity::{Quantity, si}};
/// // Common practice: 10 mm² lose 3.8 g/s at 0.7 bar and 50 °C.
/// let flow = leak_flow(si(10e-6), si(1.7e5), si(323.0), si(1e5)).unwrap();
/// assert!((flow.si() - 3.8e-3).abs() < 0.05e-3);
/// ```
///
/// # Errors
/// Refuses a negative area, an ambient pressure above that inside, 0 K and below.
pub fn leak_flow(
    area: Area,
    pressure: AbsolutePressure,
    temperature: Temperature,
    ambient: AbsolutePressure,
) -> Result<MassFlow, Refusal> {
    let area = from_zero("area", area)?;
    let (inside, outside) = falling("pressure", pressure, "ambient", ambient)?;
    let temperature = above_zero("temperature", temperature)?;
    result("leak_flow", area * AIR.flux(inside, temperature, outside))
}

/// A remark where a test ran until the volume was empty: nobody saw when that was.
///
/// ```
/// # use boostwright::{physics::leak::leak_area_remarks, quantity::si};
/// let remarks = leak_area_remarks(si(0.01), si(293.0), si(1.5e5), si(1e5), si(1e5), si(60.0));
/// assert_eq!(remarks.len(), 1);
/// ```
#[must_use]
pub fn leak_area_remarks(
    _volume: Volume,
    _temperature: Temperature,
    _start: AbsolutePressure,
    end: AbsolutePressure,
    ambient: AbsolutePressure,
    _time: Time,
) -> Vec<String> {
    if end.si() != ambient.si() {
        return Vec::new();
    }
    vec!["the test ran until the pressure was gone; the leak may be larger than this".to_owned()]
}
