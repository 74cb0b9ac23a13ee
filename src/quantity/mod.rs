//! Ground floor: what a number at the car means. Dimension and kind (gauge is not absolute, a
//! temperature is not a difference of two), the unit table, a value with its standard
//! uncertainty, reading what people type and printing it back.
//!
//! Knows nothing of cars, rule files or terminals.

mod chance;
mod digits;
mod dimension;
mod kind;
mod pressure_word;
mod print;
mod read;
mod read_error;
mod spellings;
mod symbols;
mod typed;
mod typed_number;
mod typeset;
mod unit;
mod unit_text;
mod unsettled;
mod value;

pub use chance::print_chance;
pub use dimension::{Base, Dimension};
pub use kind::{Kind, Reference};
pub use print::{Printed, print_band, print_exact, print_result, print_value, readable_unit};
pub use read::{Entry, read, read_as_spelt};
pub use read_error::{ReadError, unit_examples};
pub use symbols::{nearest_symbol, offered_units};
pub use typed::{
    AbsolutePressure, Angle, Area, Conductance, Current, Density, Expansion, Force, GaugePressure,
    Length, Mass, MassFlow, Power, PressureDifference, Quantity, Resistance, Rotation,
    SpecificEnergy, SpecificHeat, Speed, Stiffness, Temperature, TemperatureDifference, Time,
    Torque, Voltage, Volume, VolumeFlow, si,
};
pub use typeset::typeset;
pub use unit::{Unit, UnitError, is_symbol};
pub use unsettled::read_unsettled;
pub use value::Value;
