//! An engine with its gate wide open as a model of its uncertain inputs: port and passage stand in
//! series, 1/A² = 1/A_port² + 1/A_passage².

use boostwright::calibration::{Draws, Model};
use boostwright::physics::fit::{Engine, MatchedEngine, creep_boost};
use boostwright::quantity::{
    AbsolutePressure, Area, MassFlow, PressureDifference, Quantity, Rotation, Temperature,
    TemperatureDifference, Volume,
};

/// A prior: middle, standard deviation, and whether that is one of the logarithm.
#[derive(Debug, Clone, Copy)]
pub(super) struct Prior(pub(super) f64, pub(super) f64, pub(super) bool);

impl Prior {
    pub(super) fn at(self, z: f64) -> f64 {
        let Self(middle, deviation, is_log) = self;
        if is_log { middle * (deviation * z).exp() } else { middle + deviation * z }
    }
}

/// In the order of the columns: discharge coefficient, leak area, volumetric efficiency, λ, inlet
/// heating, inlet drop, charge drop, exhaust drop, compressor efficiency, cooler effectiveness,
/// turbine efficiency, turbine inlet temperature, turbine area, passage over the port as made.
pub(super) type Priors = [Prior; 14];

pub(super) struct Car {
    pub(super) volume_per_turn: f64,
    /// As made, m.
    pub(super) port: f64,
    pub(super) priors: Priors,
}

pub(super) fn hole(diameter: f64) -> f64 {
    std::f64::consts::PI / 4.0 * diameter * diameter
}

impl Car {
    /// Boost, Pa, at an engine speed, rpm, with a port of a diameter wide open.
    pub(super) fn boost(&self, z: &[f64], (rpm, port): (f64, f64)) -> Option<f64> {
        let value = |input: usize| self.priors[input].at(z[input]);
        let engine = Engine {
            speed: Rotation::from_si(rpm / 60.0),
            discharge_coefficient: value(0),
            leak_area: Area::from_si(value(1)),
            volume_per_turn: Volume::from_si(self.volume_per_turn),
            volumetric_efficiency: value(2),
            lambda: value(3),
            ambient: AbsolutePressure::from_si(101_325.0),
            ambient_temperature: Temperature::from_si(293.15),
            inlet_heating: TemperatureDifference::from_si(value(4)),
            inlet_drop: PressureDifference::from_si(value(5)),
            charge_drop: PressureDifference::from_si(value(6)),
            exhaust_drop: PressureDifference::from_si(value(7)),
            reference_flow: MassFlow::from_si(0.15),
            compressor_efficiency: value(8),
            cooler_effectiveness: value(9),
            turbine_efficiency: value(10),
            mechanical_efficiency: 0.97,
            turbine_inlet_temperature: Temperature::from_si(value(11)),
        };
        let (port, passage) = (hole(port), value(13) * hole(self.port));
        let open = (1.0 / (port * port) + 1.0 / (passage * passage)).sqrt().recip();
        let matched = MatchedEngine { turbine_area: Area::from_si(value(12)), engine };
        creep_boost(Area::from_si(open), &matched).ok().map(|boost| boost.si())
    }
}

/// A car with the speeds and ports at which it was read.
pub(super) struct Pulls<'a>(pub(super) &'a Car, pub(super) Vec<(f64, f64)>);

impl Model for Pulls<'_> {
    fn inputs(&self) -> usize {
        self.0.priors.len()
    }

    fn predict(&self, draws: &Draws) -> Vec<Vec<Option<f64>>> {
        let points: Vec<Vec<f64>> = (0..draws.count()).map(|draw| draws.point(draw)).collect();
        let at = |pull: &(f64, f64)| points.iter().map(|z| self.0.boost(z, *pull)).collect();
        self.1.iter().map(at).collect()
    }
}
