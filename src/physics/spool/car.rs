//! The car that the engine pushes: how fast the engine's speed rises in a gear.

use std::f64::consts::TAU;

use super::super::Refusal;
use super::super::check::{above_zero, from_zero};
use crate::quantity::{Force, Length, Mass, si};

/// Torque at the crankshaft for each kilogram of air a turn, N m, at full load: 145 to 157 at 1250 to
/// 4050 rpm in the dynamometer maps of two turbocharged petrol engines (Linköping, course TSFS09).
const TORQUE_PER_AIR: f64 = 150e3;
/// What gearbox and final drive let through; common practice.
const DRIVELINE: f64 = 0.93;
/// Rotating parts, as mass: 1 + 0.04 + 0.0025·i² (Gillespie, *Fundamentals of Vehicle Dynamics*, mass
/// factor; from memory).
const TURNING_PARTS: (f64, f64) = (1.04, 0.0025);
/// Rolling resistance as a share of weight, and drag area c_d·A, m²; usual of passenger cars.
const ROLLING: f64 = 0.013;
const DRAG_AREA_M2: f64 = 0.65;
const AIR_DENSITY: f64 = 1.2;
const GRAVITY: f64 = 9.81;

/// The car in one gear.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Car {
    /// With all on board, above 0.
    pub mass: Mass,
    /// Engine over gearbox output, above 0.
    pub gear_ratio: f64,
    /// Above 0.
    pub final_drive: f64,
    /// Of a driven wheel, above 0.
    pub tyre_circumference: Length,
    /// What holds the car back at the wheels beside rolling and air, such as a brake that drags; 0 or
    /// more.
    pub dragging: Force,
}

impl Car {
    /// An invented car for examples and tests, in its third gear.
    ///
    /// ```
    /// # use boostwright::physics::spool::Car;
    /// assert!(Car::example().gear_ratio > 1.0);
    /// ```
    #[must_use]
    pub fn example() -> Self {
        Self {
            mass: si(1400.0),
            gear_ratio: 1.4,
            final_drive: 3.9,
            tyre_circumference: si(1.9),
            dragging: si(0.0),
        }
    }
}

/// A [`Car`] checked.
#[derive(Clone, Copy)]
pub(super) struct CheckedCar {
    mass_kg: f64,
    /// Engine over wheels.
    ratio: f64,
    circumference_m: f64,
    dragging_n: f64,
}

impl CheckedCar {
    pub(super) fn checked(car: &Car) -> Result<Self, Refusal> {
        Ok(Self {
            mass_kg: above_zero("mass", car.mass)?,
            ratio: above_zero("gear_ratio", car.gear_ratio)?
                * above_zero("final_drive", car.final_drive)?,
            circumference_m: above_zero("tyre_circumference", car.tyre_circumference)?,
            dragging_n: from_zero("dragging", car.dragging)?,
        })
    }

    /// The same car with another force at its wheels, below 0 where it is pushed.
    pub(super) fn with_dragging(self, dragging_n: f64) -> Self {
        Self { dragging_n, ..self }
    }

    /// How fast the engine's speed changes at a speed and a flow of air, turns a second, each second.
    pub(super) fn gain_unchecked_rev_s2(&self, speed_rev_s: f64, flow_kg_s: f64) -> f64 {
        let torque = TORQUE_PER_AIR * flow_kg_s / speed_rev_s;
        let pull = TAU * torque * self.ratio * DRIVELINE / self.circumference_m;
        let road = speed_rev_s / self.ratio * self.circumference_m;
        let held = ROLLING * self.mass_kg * GRAVITY
            + 0.5 * AIR_DENSITY * DRAG_AREA_M2 * road * road
            + self.dragging_n;
        let (still, turning) = TURNING_PARTS;
        let mass = self.mass_kg * (still + turning * self.ratio * self.ratio);
        (pull - held) / mass * self.ratio / self.circumference_m
    }

    /// The same of a car that gains speed.
    pub(super) fn gain_rev_s2(&self, speed_rev_s: f64, flow_kg_s: f64) -> Result<f64, Refusal> {
        let gain = self.gain_unchecked_rev_s2(speed_rev_s, flow_kg_s);
        if gain > 0.0 { Ok(gain) } else { Err(too_slow()) }
    }
}

pub(super) fn too_slow() -> Refusal {
    Refusal::new("gear_ratio", "leaves the car too little pull to gain speed")
}
