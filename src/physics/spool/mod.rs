//! How a turbocharger comes up to speed with its gate shut: the engine speed from which it can hold a
//! boost, and the way there from the moment the pedal goes down.
//!
//! A mean-value model (Eriksson and Nielsen, *Modeling and Control of Engines and Drivelines*; Watson
//! and Janota, *Turbocharging the Internal Combustion Engine*): the charge side of [`super::fit`],
//! wheels whose efficiency falls off their best point ([`Wheels`]), gas that the walls of the manifold
//! cool the more the less of it flows, the shaft's power balance, the air that fills the pipes, and
//! the car that all this pushes. Pulsation is left out: it drives the turbine a little harder below
//! some 1600 rpm than steady flow does, by about 8 % of its flow. Left out, too, is that a turbine at
//! light load swallows less: below 0.1 bar the boost of measured engines lies up to a third above this.

mod balance;
mod car;
mod charging;
mod dormand_prince;
mod engine;
mod gas_side;
mod pull;
mod steady;
mod stopwatch;
mod wheels;

pub use car::Car;
pub use engine::SpoolEngine;
pub use pull::{Pull, boost_time, speed_at_boost};
pub use steady::{car_time, steady_boost, threshold_speed};
pub use stopwatch::{dragging_from, pull_time};
pub use wheels::{Wheels, rotor_inertia};
