//! Where boost begins: engine speed and boost at which the turbine just drives its compressor.

use std::cell::Cell;

use super::super::check::{above_zero, result, within};
use super::super::fit::MAX_BOOST_PA;
use super::super::{Refusal, root};
use super::car::{Car, CheckedCar};
use super::engine::{CheckedSpool, SpoolEngine};
use crate::quantity::{GaugePressure, Rotation, Time};

/// Engine speed at which the search for a boost ends: 15,000 rpm, beyond cars.
pub(super) const MAX_SPEED_REV_S: f64 = 250.0;
/// From one flow tried to the next, and how many are: a stride of all of them covers any engine.
const STRIDE: f64 = 1.3;
const STRIDES: usize = 40;
/// From one boost tried to the next, Pa: the line is steep, and leaves the range soon.
const BOOSTS: [f64; 8] = [5e3, 1e4, 2e4, 4e4, 8e4, 1.6e5, 2.8e5, MAX_BOOST_PA];
/// Turns of flow and temperature about each other; each brings a digit or more.
const TURNS: usize = 12;

impl CheckedSpool {
    /// Flow, kg/s, and speed at which a boost stands; none up to [`MAX_SPEED_REV_S`].
    fn standing(&self, boost_pa: f64) -> Option<(f64, f64)> {
        let plenum = self.engine.ambient_pa + boost_pa;
        let speed = Cell::new(0.0);
        let spare = |flow: f64| {
            let air = self.air(flow, plenum)?;
            speed.set(air.speed_rev_s);
            Some(self.spare_w(&air, flow))
        };
        // Without losses and at the temperature outside this is the flow of one turn a second.
        let turn =
            self.engine.air_flow_per_pascal_at_1_k * plenum / self.engine.ambient_temperature_k;
        let (mut low, mut short) = (turn, spare(turn)?);
        if short >= 0.0 {
            return Some((low, speed.get()));
        }
        for _ in 0..STRIDES {
            let high = low * STRIDE;
            let more = spare(high)?;
            if more >= 0.0 {
                let flow = root::between((low, short), (high, more), |flow| {
                    spare(flow).unwrap_or(f64::NAN)
                })?;
                return self.air(flow, plenum).map(|air| (flow, air.speed_rev_s));
            }
            if speed.get() > MAX_SPEED_REV_S {
                return None;
            }
            (low, short) = (high, more);
        }
        None
    }

    /// Flow to the cylinders at a speed and a plenum pressure, kg/s.
    fn flow_at(&self, speed_rev_s: f64, plenum_pa: f64) -> Option<f64> {
        let engine = &self.engine;
        let mut flow = engine.air_flow_per_pascal_at_1_k * speed_rev_s * plenum_pa
            / engine.ambient_temperature_k;
        for _ in 0..TURNS {
            // Flow goes with speed, but for the temperature that it makes.
            let share = speed_rev_s / self.air(flow, plenum_pa)?.speed_rev_s;
            flow *= share;
            if (share - 1.0).abs() < 1e-10 {
                break;
            }
        }
        Some(flow)
    }

    /// The same where a boost is held, Pa.
    pub(super) fn flow_held(&self, speed_rev_s: f64, boost_pa: f64) -> Result<f64, Refusal> {
        self.flow_at(speed_rev_s, self.engine.ambient_pa + boost_pa).ok_or_else(|| {
            Refusal::new("inlet_drop", "would leave no pressure before the compressor at this flow")
        })
    }

    /// What the turbine has to spare at a speed and a boost, W, and the flow.
    fn spare_at(&self, speed_rev_s: f64, boost_pa: f64) -> Option<(f64, f64)> {
        let plenum = self.engine.ambient_pa + boost_pa;
        let flow = self.flow_at(speed_rev_s, plenum)?;
        Some((self.spare_w(&self.air(flow, plenum)?, flow), flow))
    }

    /// The lowest boost that stands at a speed, Pa, and its flow: 0 where the turbine doesn't make up
    /// for the losses on the way; none up to [`MAX_BOOST_PA`].
    fn standing_at(&self, speed_rev_s: f64) -> Option<(f64, f64)> {
        let spare = |boost: f64| self.spare_at(speed_rev_s, boost).map(|(spare, _)| spare);
        let (mut low, mut most) = (0.0, spare(0.0)?);
        if most <= 0.0 {
            return self.flow_at(speed_rev_s, self.engine.ambient_pa).map(|flow| (0.0, flow));
        }
        for high in BOOSTS {
            let more = spare(high)?;
            if more <= 0.0 {
                let boost = root::between((low, most), (high, more), |boost| {
                    spare(boost).unwrap_or(f64::NAN)
                })?;
                return self.spare_at(speed_rev_s, boost).map(|(_, flow)| (boost, flow));
            }
            (low, most) = (high, more);
        }
        None
    }
}

fn checked_boost(boost: GaugePressure) -> Result<f64, Refusal> {
    above_zero("boost", boost)?;
    within("boost", boost, 0.0, MAX_BOOST_PA)
}

/// A boost that has to be reached, Pa, and the engine, checked.
pub(super) fn checked(
    boost: GaugePressure,
    spool: &SpoolEngine,
) -> Result<(f64, CheckedSpool), Refusal> {
    Ok((checked_boost(boost)?, CheckedSpool::checked(spool)?))
}

fn never(boost: &'static str) -> Refusal {
    Refusal::new(boost, "isn't reached up to 15,000 rpm: the turbine gives too little at any speed")
}

/// Engine speed at which the turbocharger just holds this boost with the gate shut and all the time it
/// wants: η_t(U/c_0)·ṁ_t·c_p·T_3·[1 − (p_4/p_3)^((γ−1)/γ)] = ṁ_c·Δh_is/η_c(φ) + bearings. A car that
/// pulls gets there later ([`super::speed_at_boost`]).
///
/// Watson and Janota, *Turbocharging the Internal Combustion Engine* (matching, part-flow efficiencies);
/// Eriksson and Nielsen, *Modeling and Control of Engines and Drivelines* (turbine by blade-speed
/// ratio, compressor by head and flow coefficient).
///
/// ```
/// # use boostwright::{physics::spool::*, quantity::{Quantity, si}};
/// let sound = SpoolEngine::example();
/// let leaky = SpoolEngine { exhaust_leak: si(10e-6), ..sound };
/// let starts = |car| threshold_speed(si(40e3), car).unwrap().si();
/// assert!(starts(&leaky) > starts(&sound));
/// ```
///
/// # Errors
/// Refuses a boost that isn't above 0 or lies above 4 bar, one that isn't reached up to 15,000 rpm, and
/// whatever lies outside the ranges of [`SpoolEngine`].
pub fn threshold_speed(boost: GaugePressure, spool: &SpoolEngine) -> Result<Rotation, Refusal> {
    let (boost, spool) = checked(boost, spool)?;
    let (_, speed) = spool.standing(boost).ok_or_else(|| never("boost"))?;
    result("threshold_speed", speed)
}

/// Boost that the turbocharger holds at an engine speed with the gate shut and all the time it wants:
/// [`threshold_speed`] turned round. 0 where it doesn't make up for the losses on the way.
///
/// ```
/// # use boostwright::{physics::spool::*, quantity::{Quantity, si}};
/// let car = SpoolEngine::example();
/// let speed = threshold_speed(si(30e3), &car).unwrap();
/// assert!((steady_boost(speed, &car).unwrap().si() - 30e3).abs() < 0.1);
/// ```
///
/// # Errors
/// Refuses a speed that isn't above 0, a boost that would lie above 4 bar, and whatever lies outside
/// the ranges of [`SpoolEngine`].
pub fn steady_boost(speed: Rotation, spool: &SpoolEngine) -> Result<GaugePressure, Refusal> {
    let speed = above_zero("speed", speed)?;
    let spool = CheckedSpool::checked(spool)?;
    let (boost, _) = spool.standing_at(speed).ok_or_else(|| {
        let why = "would be above 4 bar, where the search ends: the gate has to open before";
        Refusal::new("steady_boost", why).above(MAX_BOOST_PA)
    })?;
    result("steady_boost", boost)
}

/// Places and weights of a Gauss–Legendre rule of three points on 0 to 1.
const RULE: [(f64, f64); 3] = [
    (0.112_701_665_379_258_3, 5.0 / 18.0),
    (0.5, 8.0 / 18.0),
    (0.887_298_334_620_741_7, 5.0 / 18.0),
];

/// Time that the car alone takes from a speed to the one at which its turbocharger can hold this boost,
/// the turbocharger following without any lag: what [`super::boost_time`] is longer than this is the
/// turbocharger's. 0 where the car starts at that speed or above.
///
/// ```
/// # use boostwright::{physics::spool::*, quantity::{Quantity, si}};
/// let (car, engine) = (Car::example(), SpoolEngine::example());
/// let alone = car_time(si(40e3), si(15.0), &car, &engine).unwrap().si();
/// assert!(alone > 0.0);
/// assert!(car_time(si(40e3), si(70.0), &car, &engine).unwrap().si() == 0.0);
/// ```
///
/// # Errors
/// As [`threshold_speed`]; refuses a start that isn't above 0, a car that doesn't gain speed in this gear,
/// and whatever lies outside the ranges of [`Car`].
pub fn car_time(
    boost: GaugePressure,
    start_speed: Rotation,
    car: &Car,
    spool: &SpoolEngine,
) -> Result<Time, Refusal> {
    let (boost, spool) = checked(boost, spool)?;
    let start = above_zero("start_speed", start_speed)?;
    let car = CheckedCar::checked(car)?;
    let (_, end) = spool.standing(boost).ok_or_else(|| never("boost"))?;
    let way = (end - start).max(0.0);
    if way == 0.0 {
        return result("car_time", 0.0);
    }
    let mut time = 0.0;
    for (place, weight) in RULE {
        let speed = start + place * way;
        let (_, flow) = spool.standing_at(speed).ok_or_else(|| never("boost"))?;
        time += weight * way / car.gain_rev_s2(speed, flow)?;
    }
    result("car_time", time)
}
