//! How boost begins and builds: an engine with its wheels, and the car that it pulls.

use super::entry::{Argument, Function, joined, next};
use super::whole_engine::{Arguments, arguments, functions_of_an_engine};
use crate::physics::Refusal;
use crate::physics::fit::Engine;
use crate::physics::spool::{self, Car, Pull, SpoolEngine, Wheels};
use crate::quantity::{Area, Force, GaugePressure, Length, Mass, Quantity, Rotation, Time, Volume};

arguments! {
    Wheels = Self { compressor_diameter, turbine_diameter };
    compressor_diameter: Length = "25 to 150 mm, outer",
    turbine_diameter: Length = "25 to 150 mm, outer",
}

arguments! {
    Car = Self { mass, gear_ratio, final_drive, tyre_circumference, dragging };
    mass: Mass = "above 0, with all on board",
    gear_ratio: f64 = "above 0",
    final_drive: f64 = "above 0",
    tyre_circumference: Length = "above 0",
    dragging: Force = "0 or more, at the wheels, beside rolling and air",
}

/// The pull's own, before those of the car.
const OF_PULL: [Argument; 3] = [
    Argument {
        name: "start_speed",
        kind: Rotation::KIND,
        range: "above 0, where the pedal goes down",
    },
    Argument {
        name: "charge_volume",
        kind: Volume::KIND,
        range: "0 or more, compressor to cylinders",
    },
    Argument {
        name: "inertia_factor",
        kind: f64::KIND,
        range: "0.1 to 10; 1 for the usual rotor of these wheels",
    },
];

impl Arguments for Pull {
    const ARGUMENTS: &'static [Argument] = {
        const ALL: [Argument; OF_PULL.len() + Car::ARGUMENTS.len()] =
            joined(&[&OF_PULL, Car::ARGUMENTS]);
        &ALL
    };

    fn read(mut given: &mut dyn Iterator<Item = f64>) -> Self {
        let start_speed = next(&mut given);
        let charge_volume = next(&mut given);
        let inertia_factor = next(&mut given);
        Self { start_speed, charge_volume, inertia_factor, car: Car::read(given) }
    }
}

const TURBINE_AREA: Argument =
    Argument { name: "turbine_area", kind: Area::KIND, range: "above 0, effective" };
const LEAKS: [Argument; 2] = [
    Argument {
        name: "charge_leak",
        kind: Area::KIND,
        range: "0 or more, effective, between compressor and cylinders",
    },
    Argument {
        name: "exhaust_leak",
        kind: Area::KIND,
        range: "0 or more, effective, from before the turbine to the outside",
    },
];

/// All of an engine but its speed and the coefficient of the open gate, which stand first.
const SPOOL: [Argument; Wheels::ARGUMENTS.len() + Engine::ARGUMENTS.len() + 1] = {
    let (_, rest) = Engine::ARGUMENTS.split_at(2);
    joined(&[&[TURBINE_AREA], Wheels::ARGUMENTS, &LEAKS, rest])
};

impl Arguments for SpoolEngine {
    const ARGUMENTS: &'static [Argument] = &SPOOL;

    fn read(mut given: &mut dyn Iterator<Item = f64>) -> Self {
        let turbine_area = next(&mut given);
        let wheels = Wheels::read(given);
        let charge_leak = next(&mut given);
        let exhaust_leak = next(&mut given);
        let engine = Engine::read(&mut [0.0, 1.0].into_iter().chain(given));
        Self { turbine_area, wheels, charge_leak, exhaust_leak, engine }
    }
}

const SOURCE: &str = "Watson and Janota, Turbocharging the Internal Combustion Engine; Eriksson and \
    Nielsen, Modeling and Control of Engines and Drivelines";

functions_of_an_engine! {
    "boost beginning and building, the gate shut" {
        threshold_speed(boost: GaugePressure = "above 0, at most 4 bar"; SpoolEngine)
            -> Rotation = spool::threshold_speed,
            "engine speed from which the turbo can hold this boost, given all the time it wants";
        steady_boost(speed: Rotation = "above 0"; SpoolEngine)
            -> GaugePressure = spool::steady_boost,
            "boost that the turbo can hold at an engine speed, given all the time it wants; 0 to 4 bar";
        speed_at_boost(boost: GaugePressure = "above 0, at most 4 bar"; Pull, SpoolEngine)
            -> Rotation = spool::speed_at_boost,
            "engine speed at which a pull in a gear reaches this boost";
        boost_time(boost: GaugePressure = "above 0, at most 4 bar"; Pull, SpoolEngine)
            -> Time = spool::boost_time,
            "time from the pedal to this boost on a pull in a gear";
        car_time(
            boost: GaugePressure = "above 0, at most 4 bar",
            start_speed: Rotation = "above 0";
            Car, SpoolEngine
        ) -> Time = spool::car_time,
            "time that the car alone needs to the speed from which the turbo can hold this boost";
    }
    "the car" {
        pull_time(
            boost: GaugePressure = "0 to 4 bar",
            from_speed: Rotation = "above 0",
            to_speed: Rotation = "above from_speed";
            Car, SpoolEngine
        ) -> Time = spool::pull_time,
            "time from one engine speed to another in a gear at a boost that is held";
        dragging_from(
            time: Time = "above 0",
            boost: GaugePressure = "0 to 4 bar",
            from_speed: Rotation = "above 0",
            to_speed: Rotation = "above from_speed";
            Car, SpoolEngine
        ) -> Force = spool::dragging_from,
            "what holds the car back at its wheels, by the time of a pull; below 0 where it is quicker";
    }
}
