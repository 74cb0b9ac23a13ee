//! A pull from the moment the pedal goes down: shaft, engine and the heat of the manifold over time.

use std::cell::Cell;

use super::super::check::{above_zero, from_zero, result, within};
use super::super::{Refusal, gas, root};
use super::car::{Car, CheckedCar, too_slow};
use super::charging::Charging;
use super::dormand_prince;
use super::engine::{CheckedSpool, SpoolEngine};
use super::steady::{MAX_SPEED_REV_S, checked};
use crate::quantity::{GaugePressure, Rotation, Time, Volume, si};

/// Tip speed of the compressor, m/s, as the pedal goes down: 20,700 rpm on a wheel of 56 mm were
/// measured at light load (Linköping, course TSFS09).
const START_TIP_SPEED: f64 = 60.0;
/// Flow as the pedal goes down, as a share of that at full throttle: what the manifold has seen.
const START_SHARE: f64 = 0.5;
/// Time in which the manifold's heat follows its gas, s. Assumed: with it a measured step of air comes
/// out right, without it the shaft is a fifth too quick.
const WALL_TIME_S: f64 = 1.0;
/// A boost that takes longer isn't waited for.
const LONGEST_S: f64 = 60.0;
/// Share of the state by which a step may be off. A few rpm would do by themselves, but what one fault costs
/// is a small difference of two pulls.
const TOLERANCE: f64 = 3e-5;
const FIRST_STEP_S: f64 = 0.05;
const MAX_STEPS: usize = 2000;

/// The pull and what it has to spin up and fill.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pull {
    /// Engine speed at which the pedal goes down, above 0.
    pub start_speed: Rotation,
    /// Pipes and cooler between compressor and cylinders, 0 or more.
    pub charge_volume: Volume,
    /// Moment of inertia of the rotor, over [`super::rotor_inertia`]; 0.1 to 10.
    pub inertia_factor: f64,
    pub car: Car,
}

impl Pull {
    /// An invented car from 1800 rpm in its third gear, for examples and tests.
    ///
    /// ```
    /// # use boostwright::{physics::spool::Pull, quantity::Quantity};
    /// assert_eq!(Pull::example().start_speed.si(), 30.0);
    /// ```
    #[must_use]
    pub fn example() -> Self {
        Self {
            start_speed: si(30.0),
            charge_volume: si(11e-3),
            inertia_factor: 1.0,
            car: Car::example(),
        }
    }
}

/// Tip speed of the compressor, speed of the engine, temperature before the turbine.
type State = [f64; 3];

/// A pull checked.
struct Course {
    spool: CheckedSpool,
    car: CheckedCar,
    start_rev_s: f64,
    charge_volume_m3: f64,
    /// Energy of the rotor over half the square of the tip speed, kg.
    rotor_kg: f64,
    /// Flow and pressure of the last point, from which the next is looked for.
    near: Cell<(f64, f64)>,
}

/// Where a boost was reached.
struct Reached {
    time_s: f64,
    speed_rev_s: f64,
}

impl Course {
    fn checked(pull: &Pull, spool: CheckedSpool) -> Result<Self, Refusal> {
        let start = above_zero("start_speed", pull.start_speed)?;
        let factor = within("inertia_factor", pull.inertia_factor, 0.1, 10.0)?;
        let radius = spool.wheels.compressor_m / 2.0;
        // At full throttle the plenum starts at ambient pressure.
        let pressure = spool.engine.ambient_pa;
        let flow = spool.engine.air_flow_per_pascal_at_1_k * start * pressure
            / spool.engine.inlet_temperature_k;
        Ok(Self {
            car: CheckedCar::checked(&pull.car)?,
            start_rev_s: start,
            charge_volume_m3: from_zero("charge_volume", pull.charge_volume)?,
            rotor_kg: factor * spool.wheels.inertia_kg_m2() / (radius * radius),
            near: Cell::new((flow, pressure)),
            spool,
        })
    }

    fn charging(&self, &[tip_speed, speed, _]: &State) -> Option<Charging> {
        let charging = self.spool.charging(tip_speed, speed, self.near.get())?;
        self.near.set((charging.flow_kg_s, charging.plenum_pa));
        Some(charging)
    }

    fn start(&self) -> Option<State> {
        let cool = self.charging(&[START_TIP_SPEED, self.start_rev_s, 0.0])?;
        let temperature = self.spool.gas_temperature_k(START_SHARE * cool.flow_kg_s);
        Some([START_TIP_SPEED, self.start_rev_s, temperature])
    }

    /// The shaft's power balance, in which what fills the pipes is so much more to bring to speed:
    /// (J·ω² + w_c·V/(R·T_c)·dp/dU·U)·dU/dt/U = P_t − P_c; the car; the walls.
    fn slope(&self, state: &State) -> Option<State> {
        let &[tip_speed, speed, temperature] = state;
        let charging = self.charging(state)?;
        let filling = self.charge_volume_m3 / (gas::AIR_CONSTANT * charging.charge_temperature_k)
            * charging.pressure_slope;
        let spare =
            self.spool.turbine_w(tip_speed, charging.flow_kg_s, temperature) - charging.power_w;
        let heavy = self.rotor_kg * tip_speed + charging.work_j_kg * filling;
        let settled = self.spool.gas_temperature_k(charging.flow_kg_s);
        Some([
            spare / heavy,
            self.car.gain_unchecked_rev_s2(speed, charging.flow_kg_s),
            (settled - temperature) / WALL_TIME_S,
        ])
    }

    fn boost_pa(&self, state: &State) -> Option<f64> {
        Some(self.charging(state)?.plenum_pa - self.spool.engine.ambient_pa)
    }

    /// Follows the pull until a boost is reached.
    fn followed_to(&self, boost_pa: f64) -> Result<Reached, Refusal> {
        let empty = || Refusal::new("inlet_drop", "leaves this engine no air to start a pull with");
        let mut state = self.start().ok_or_else(empty)?;
        let mut slope = self.slope(&state).ok_or_else(empty)?;
        let (mut time, mut width) = (0.0, FIRST_STEP_S);
        for _ in 0..MAX_STEPS {
            let taken = dormand_prince::step(&state, &slope, width, |state| self.slope(state));
            let Some(taken) = taken else {
                width /= 4.0;
                continue;
            };
            let error = taken.error.iter().zip(&taken.end).map(|(error, end)| (error / end).abs());
            let error = error.fold(0.0, f64::max) / TOLERANCE;
            if error <= 1.0 {
                let way = Way { from: (state, slope), to: (taken.end, taken.end_slope), width };
                if self.boost_pa(&taken.end).is_some_and(|boost| boost >= boost_pa) {
                    return self.crossed(&way, boost_pa, time);
                }
                (state, slope, time) = (taken.end, taken.end_slope, time + width);
                self.goes_on(&state, time)?;
            }
            width *= (0.9 * error.max(1e-9).powf(-0.2)).clamp(0.2, 5.0);
        }
        Err(Refusal::new("boost", "isn't reached on this pull"))
    }

    fn goes_on(&self, state: &State, time_s: f64) -> Result<(), Refusal> {
        if time_s > LONGEST_S {
            return Err(Refusal::new("boost", "isn't reached within a minute"));
        }
        if state[1] > MAX_SPEED_REV_S {
            return Err(Refusal::new("boost", "isn't reached up to 15,000 rpm"));
        }
        if state[1] < 0.5 * self.start_rev_s {
            return Err(too_slow());
        }
        Ok(())
    }

    /// Where on its way a step reaches the boost.
    fn crossed(&self, way: &Way, boost_pa: f64, time_s: f64) -> Result<Reached, Refusal> {
        let missing =
            |share: f64| self.boost_pa(&way.at(share)).map_or(f64::NAN, |boost| boost - boost_pa);
        let share = if missing(0.0) >= 0.0 {
            0.0
        } else {
            root::bracketed(0.0, 1.0, missing)
                .ok_or_else(|| Refusal::new("boost", "isn't reached on this pull"))?
        };
        Ok(Reached { time_s: time_s + share * way.width, speed_rev_s: way.at(share)[1] })
    }
}

/// A step between two states and their slopes.
struct Way {
    from: (State, State),
    to: (State, State),
    width: f64,
}

impl Way {
    /// Hermite's cubic (Hairer, Nørsett and Wanner, *Solving Ordinary Differential Equations I*, II.6).
    fn at(&self, share: f64) -> State {
        std::array::from_fn(|i| {
            let (from, to) = (self.from.0[i], self.to.0[i]);
            let (rise, left) = (to - from, 1.0 - share);
            let bend = (1.0 - 2.0 * share) * rise
                + self.width * (share * self.to.1[i] - left * self.from.1[i]);
            left * from + share * to - share * left * bend
        })
    }
}

fn followed(boost: GaugePressure, pull: &Pull, spool: &SpoolEngine) -> Result<Reached, Refusal> {
    let (boost, spool) = checked(boost, spool)?;
    Course::checked(pull, spool)?.followed_to(boost)
}

/// Time from the pedal to this boost on a pull in a gear, the gate shut until then and the throttle wide
/// open at once; boost that is there as the throttle opens counts from 0.
///
/// J·ω·dω/dt = P_t − P_c − bearings, with the air that fills the pipes and the manifold's heat: Eriksson
/// and Nielsen, *Modeling and Control of Engines and Drivelines* (mean-value models of turbocharged
/// engines); integrated after Hairer, Nørsett and Wanner.
///
/// ```
/// # use boostwright::{physics::spool::*, quantity::si};
/// let (pull, engine) = (Pull::example(), SpoolEngine::example());
/// let heavy = Pull { inertia_factor: 1.5, ..pull };
/// let time = |pull| boost_time(si(40e3), pull, &engine).unwrap();
/// assert!(time(&heavy) > time(&pull));
/// ```
///
/// # Errors
/// Refuses a boost that isn't above 0 or lies above 4 bar, one that isn't reached within a minute or up
/// to 15,000 rpm, and whatever lies outside the ranges of [`Pull`] and [`SpoolEngine`].
pub fn boost_time(boost: GaugePressure, pull: &Pull, spool: &SpoolEngine) -> Result<Time, Refusal> {
    result("boost_time", followed(boost, pull, spool)?.time_s)
}

/// Engine speed at which this boost is reached on a pull in a gear; see [`boost_time`].
///
/// ```
/// # use boostwright::{physics::spool::*, quantity::si};
/// let (third, engine) = (Pull::example(), SpoolEngine::example());
/// let fourth = Pull { car: Car { gear_ratio: 1.0, ..third.car }, ..third };
/// // The longer a gear takes to gain speed, the lower the speed at which boost is there.
/// let speed = |pull| speed_at_boost(si(40e3), pull, &engine).unwrap();
/// assert!(speed(&fourth) < speed(&third));
/// ```
///
/// # Errors
/// As [`boost_time`].
pub fn speed_at_boost(
    boost: GaugePressure,
    pull: &Pull,
    spool: &SpoolEngine,
) -> Result<Rotation, Refusal> {
    result("speed_at_boost", followed(boost, pull, spool)?.speed_rev_s)
}
