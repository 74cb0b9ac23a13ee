//! Air as the trade reckons with it: dry, ideal, of constant heat capacity.

/// Gas constant of dry air, J/(kg K): 8.314 J/(mol K) over 28.965 g/mol, to the digits in use.
pub(super) const AIR_CONSTANT: f64 = 287.05;
/// Heat capacity of air at constant pressure, J/(kg K) (Heywood, *Internal Combustion Engine
/// Fundamentals*, 6.8, for the compressor).
pub(super) const AIR_HEAT_CAPACITY: f64 = 1005.0;
/// Ratio of the heat capacities of air (same place).
pub(super) const AIR_GAMMA: f64 = 1.4;
