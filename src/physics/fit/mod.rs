//! Engine, turbocharger and gate held against each other: the boost at which they settle, the gate
//! that a boost needs, the turbine that an observation proves.
//!
//! The charge side gives what the compressor costs and what gas the engine leaves ([`Engine`] names
//! all that enters); the power balance gives the pressure before the turbine; continuity gives what
//! the gate must pass. Steady state at full throttle at one engine speed. Air: γ 1.4, c_p
//! 1005 J/(kg K), R 287.05 J/(kg K); burned gas at turbine inlet temperature and λ; stoichiometric
//! ratio 14.7; coolant at ambient temperature.
//!
//! Sources: Heywood, *Internal Combustion Engine Fundamentals*, 2.7, 6.8, appendix C; Watson and
//! Janota, *Turbocharging the Internal Combustion Engine* (the stage as two restrictions in series).

mod actuator_line;
mod air_flow;
mod charge_side;
mod checked_engine;
mod engine;
mod exhaust_side;
mod expansion;
mod fixed_gate;
mod flap_lift;
mod gate;
mod settled;
mod turbine;

pub(super) use checked_engine::CheckedEngine;
pub(super) use expansion::Expansion;

pub use actuator_line::{actuator_line_shift, held_boost, held_boost_remarks};
pub use air_flow::{
    air_flow_at, boost_at_air_flow, charge_temperature_at, compressor_flow_at,
    compressor_outlet_at, compressor_ratio_at,
};
pub use charge_side::MAX_BOOST_PA;
pub use engine::{Engine, MatchedEngine};
pub use exhaust_side::{
    OperatingPoint, gate_area_needed, gate_share, operating_point, turbine_inlet_pressure,
};
pub use flap_lift::{blow_open_boost, opening_boost};
pub use gate::{Flap, Gate};
pub use settled::{creep_boost, creep_boost_remarks};
pub use turbine::{TurbineAreas, turbine_area_from, turbine_area_remarks, turbine_areas};
