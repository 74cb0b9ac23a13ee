//! The stopwatch: how long a pull takes that holds its boost, and what a longer one says of the car.

use super::super::check::{above_zero, refuse, result, within};
use super::super::fit::MAX_BOOST_PA;
use super::super::{Refusal, root};
use super::car::{Car, CheckedCar};
use super::engine::{CheckedSpool, SpoolEngine};
use crate::quantity::{Force, GaugePressure, Rotation, Time};

/// Places of Simpson's rule over the speeds of a pull.
const PLACES: usize = 9;
/// The most that could hold a car back or push it, N: it would make the wheels slip.
const MOST_N: f64 = 20e3;

/// A pull from one speed to another: each speed with the flow of air there, and its weight.
struct Course([(f64, f64, f64); PLACES]);

impl Course {
    fn checked(
        boost: GaugePressure,
        from_speed: Rotation,
        to_speed: Rotation,
        spool: &SpoolEngine,
    ) -> Result<Self, Refusal> {
        let boost = within("boost", boost, 0.0, MAX_BOOST_PA)?;
        let from = above_zero("from_speed", from_speed)?;
        let to = above_zero("to_speed", to_speed)?;
        if to <= from {
            return refuse::<Rotation, _>("to_speed", to, "is not above the speed it starts from");
        }
        let spool = CheckedSpool::checked(spool)?;
        let mut course = [(from, 0.0, 0.0); PLACES];
        let width = (to - from) / 8.0;
        let weights = [1.0, 4.0, 2.0, 4.0, 2.0, 4.0, 2.0, 4.0, 1.0];
        let mut speed = from;
        for (place, weight) in course.iter_mut().zip(weights) {
            *place = (speed, spool.flow_held(speed, boost)?, weight * width / 3.0);
            speed += width;
        }
        Ok(Self(course))
    }

    fn time_s(&self, car: &CheckedCar) -> Result<f64, Refusal> {
        self.0.iter().try_fold(0.0, |time, (speed, flow, weight)| {
            Ok(time + weight / car.gain_rev_s2(*speed, *flow)?)
        })
    }
}

/// Time from one engine speed to another on a pull that holds this boost: the stopwatch's figure, by the
/// air that the engine draws. Nothing of the turbocharger enters but the air's temperature.
///
/// Longitudinal dynamics: Gillespie, *Fundamentals of Vehicle Dynamics*, chapter 2; torque by air a
/// turn from two engines' dynamometer maps.
///
/// ```
/// # use boostwright::{physics::spool::*, quantity::{Quantity, si}};
/// let (free, engine) = (Car::example(), SpoolEngine::example());
/// let dragging = Car { dragging: si(300.0), ..free };
/// let time = |car| pull_time(si(50e3), si(50.0), si(80.0), car, &engine).unwrap().si();
/// assert!(time(&dragging) > time(&free));
/// ```
///
/// # Errors
/// Refuses a boost outside 0 to 4 bar, speeds that aren't above 0 or don't rise, a car that doesn't gain
/// speed in this gear, and whatever lies outside the ranges of [`Car`] and [`SpoolEngine`].
pub fn pull_time(
    boost: GaugePressure,
    from_speed: Rotation,
    to_speed: Rotation,
    car: &Car,
    spool: &SpoolEngine,
) -> Result<Time, Refusal> {
    let course = Course::checked(boost, from_speed, to_speed, spool)?;
    result("pull_time", course.time_s(&CheckedCar::checked(car)?)?)
}

/// What holds the car back at its wheels beside rolling and air, by the time that a pull took: the
/// `dragging` at which [`pull_time`] is that time, below 0 where the car is quicker than this model of it.
/// The one that the car brings is not read.
///
/// ```
/// # use boostwright::{physics::spool::*, quantity::{Quantity, si}};
/// let (car, engine) = (Car { dragging: si(300.0), ..Car::example() }, SpoolEngine::example());
/// let time = pull_time(si(50e3), si(50.0), si(80.0), &car, &engine).unwrap();
/// let found = dragging_from(time, si(50e3), si(50.0), si(80.0), &car, &engine).unwrap();
/// assert!((found.si() - 300.0).abs() < 1e-6);
/// ```
///
/// # Errors
/// As [`pull_time`]; refuses a time that isn't above 0, or one that 20 kN either way would not explain.
pub fn dragging_from(
    time: Time,
    boost: GaugePressure,
    from_speed: Rotation,
    to_speed: Rotation,
    car: &Car,
    spool: &SpoolEngine,
) -> Result<Force, Refusal> {
    let taken = above_zero("time", time)?;
    let car = CheckedCar::checked(car)?;
    let course = Course::checked(boost, from_speed, to_speed, spool)?;
    // A car that is held so much that it gains no speed takes longer than any time.
    let longer = |dragging: f64| {
        course.time_s(&car.with_dragging(dragging)).unwrap_or(f64::INFINITY) - taken
    };
    let force = root::bracketed(-MOST_N, MOST_N, longer)
        .ok_or_else(|| Refusal::new("time", "is one that no such car takes, pushed or held"))?;
    result("dragging_from", force)
}
