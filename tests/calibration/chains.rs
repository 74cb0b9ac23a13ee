//! Posteriors against Markov chains by another library (`tests/reference/calibration.py`), which
//! solves the engine by ways of its own.

use boostwright::calibration::{Draws, Reading, condition};

use super::engine::{Car, Prior, Priors, Pulls};
use super::point;
use crate::reference::table::{Row, number, rows};

/// Those of the script.
const PRIORS: Priors = [
    Prior(0.75, 0.08, false),
    Prior(5e-6, 0.5, true),
    Prior(0.87, 0.05, false),
    Prior(0.88, 0.015, false),
    Prior(15.0, 4.0, false),
    Prior(6e3, 0.4, true),
    Prior(12e3, 0.4, true),
    Prior(15e3, 0.4, true),
    Prior(0.67, 0.05, false),
    Prior(0.75, 0.06, false),
    Prior(0.62, 0.05, false),
    Prior(1213.0, 40.0, false),
    Prior(500e-6, 0.2, true),
    Prior(1.6, 0.4, true),
];

const NAMES: [&str; 14] = [
    "discharge_coefficient",
    "leak_area",
    "volumetric_efficiency",
    "lambda",
    "inlet_heating",
    "inlet_drop",
    "charge_drop",
    "exhaust_drop",
    "compressor_efficiency",
    "cooler_effectiveness",
    "turbine_efficiency",
    "turbine_inlet_temperature",
    "turbine_area",
    "passage",
];

/// A case of the tables.
pub(super) struct Case {
    pub(super) car: Car,
    /// Speed, rpm, and port, m, of each reading.
    pub(super) points: Vec<(f64, f64)>,
    pub(super) read: Vec<Reading>,
    pub(super) planned: (f64, f64),
}

impl Case {
    pub(super) fn of(row: &Row) -> Self {
        let readings: Vec<Vec<f64>> =
            row["readings"].split(';').map(|text| text.split('/').map(number).collect()).collect();
        let read = |reading: &Vec<f64>| Reading {
            value: reading[2],
            uncertainty: reading[3],
            holds: 1.0,
            otherwise_within: 1.0,
        };
        Self {
            car: Car {
                volume_per_turn: number(&row["volume_per_turn"]),
                port: number(&row["port"]),
                priors: PRIORS,
            },
            points: readings.iter().map(|reading| (reading[0], reading[1])).collect(),
            read: readings.iter().map(read).collect(),
            planned: (number(&row["planned_speed"]), number(&row["planned_port"])),
        }
    }

    /// An input, or the forecast, at each of the draws.
    pub(super) fn values(&self, what: &str, draws: &Draws) -> Vec<f64> {
        match NAMES.iter().position(|name| *name == what) {
            Some(input) => draws.column(input).to_vec(),
            None => (0..draws.count())
                .filter_map(|draw| self.car.boost(&draws.point(draw), self.planned))
                .collect(),
        }
    }
}

/// Means within 0.1 standard deviations, standard deviations within a tenth, outer points of the forecast
/// within 0.15 standard deviations of the chain's, and three standard errors of the chain itself
/// besides: it is worth some twelve hundred draws, too few for the outer points of every input.
#[test]
fn posteriors_agree_with_markov_chains() {
    let table = rows("calibration.csv");
    let mut cases: Vec<&str> = table.iter().map(|row| row["case"].as_str()).collect();
    cases.dedup();
    assert_eq!(cases.len(), 8);
    for case in cases {
        let own: Vec<_> = table.iter().filter(|row| row["case"] == case).collect();
        let case_of = Case::of(own[0]);
        let model = Pulls(&case_of.car, case_of.points.clone());
        let found = condition(&model, &case_of.read, 2000).unwrap();
        for row in own {
            let mut values = case_of.values(&row["what"], &found.draws);
            let what = format!("{case}: {} ({:?})", row["what"], found.method);
            agrees(&what, &mut values, row);
        }
    }
}

fn agrees(what: &str, values: &mut [f64], row: &Row) {
    let wanted = |column: &str| number(&row[column]);
    let deviation = wanted("deviation");
    values.sort_by(f64::total_cmp);
    let count = values.len() as f64;
    let mean = values.iter().sum::<f64>() / count;
    let own = (values.iter().map(|v| (v - mean) * (v - mean)).sum::<f64>() / count).sqrt();
    // Standard errors by the chain's length, in its standard deviations; that of a 2.5 % point is
    // √(p(1 − p)/n)/φ(z) (Stuart and Ord, *Kendall's Advanced Theory of Statistics*, vol. 1, 10.10).
    let error = 1.0 / wanted("effective").sqrt();
    let (of_deviation, of_point) = (error / 2.0_f64.sqrt(), error * 0.156_1 / 0.058_4);
    assert!((mean - wanted("mean")).abs() < (0.1 + 3.0 * error) * deviation, "{what}: mean {mean}");
    let ratio = own / deviation;
    assert!((ratio - 1.0).abs() < 0.1 + 3.0 * of_deviation, "{what}: {own} for {deviation}");
    let points = [(25, "low"), (975, "high")];
    for (thousandths, column) in points.into_iter().filter(|_| row["what"] == "forecast") {
        let off = (point(values, thousandths) - wanted(column)) / deviation;
        assert!(
            off.abs() < 0.15 + 3.0 * of_point,
            "{what}: {column} {} for {}",
            point(values, thousandths),
            wanted(column)
        );
    }
}
