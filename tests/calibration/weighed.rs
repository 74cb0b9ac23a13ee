//! A posterior against draws of the prior weighed by their likelihood (`tests/reference/weighed.py`):
//! slow, and worth so many independent draws that it tells the outer points of single inputs, which the
//! chains are too short for.

use boostwright::calibration::condition;

use super::chains::Case;
use super::engine::Pulls;
use super::point;
use crate::reference::table::{number, rows};

/// Standard error of a 2.5 % point over that of a mean, for a normal distribution: √(p(1 − p))/φ(z)
/// (Stuart and Ord, *Kendall's Advanced Theory of Statistics*, vol. 1, 10.10).
const OF_POINT: f64 = 0.156_1 / 0.058_4;

/// Means and deviations within a twentieth, outer points within a tenth of a standard deviation, and
/// three standard errors of both besides.
#[test]
fn every_input_agrees_with_weighed_draws_of_the_prior() {
    let table = rows("weighed.csv");
    let cases = rows("calibration.csv");
    let case = Case::of(cases.iter().find(|row| row["case"] == table[0]["case"]).unwrap());
    let model = Pulls(&case.car, case.points.clone());
    let found = condition(&model, &case.read, 20_000).unwrap();
    for row in &table {
        let wanted = |column: &str| number(&row[column]);
        let mut values = case.values(&row["what"], &found.draws);
        values.sort_by(f64::total_cmp);
        let count = values.len() as f64;
        let mean = values.iter().sum::<f64>() / count;
        let square = values.iter().map(|value| (value - mean) * (value - mean)).sum::<f64>();
        let (deviation, own) = (wanted("deviation"), (square / count).sqrt());
        let error = 3.0 * (1.0 / wanted("effective") + 1.0 / found.effective).sqrt();
        let what = &row["what"];
        assert!((mean - wanted("mean")).abs() / deviation < 0.05 + error, "{what}: {mean}");
        assert!((own / deviation - 1.0).abs() < 0.05 + error, "{what}: {own} for {deviation}");
        for (thousandths, column) in [(25, "low"), (975, "high")] {
            let off = (point(&values, thousandths) - wanted(column)) / deviation;
            assert!(off.abs() < 0.1 + OF_POINT * error, "{what}: {column} off by {off}");
        }
    }
}
