//! The few directions in the space of the inputs that the readings speak of. Across them everything
//! stays as it was believed before, so that draws need be reweighed along them alone (Constantine,
//! *Active Subspaces*, 2015; Cui et al., "Likelihood-informed dimension reduction", *Inverse
//! Problems* 30, 2014).

use nalgebra::{DMatrix, DVector, SVD};

/// Directions in which the readings narrow the prior by less than this much in variance are left out.
const UNINFORMED: f64 = 0.01;

/// Orthonormal directions, one a column.
#[derive(Debug, Clone)]
pub(super) struct Subspace {
    basis: DMatrix<f64>,
}

impl Subspace {
    /// The directions in which these slopes, one row a reading and scaled by its uncertainty, speak.
    pub(super) fn of(slopes: DMatrix<f64>) -> Self {
        let inputs = slopes.ncols();
        if slopes.nrows() == 0 {
            return Self { basis: DMatrix::zeros(inputs, 0) };
        }
        let parts = SVD::new(slopes, false, true);
        let directions = parts.v_t.map(|rows| rows.transpose());
        let kept: Vec<DVector<f64>> = directions
            .iter()
            .flat_map(|all| all.column_iter())
            .zip(parts.singular_values.iter())
            .filter(|(_, strength)| **strength * **strength > UNINFORMED)
            .map(|(direction, _)| direction.into_owned())
            .collect();
        let basis =
            if kept.is_empty() { DMatrix::zeros(inputs, 0) } else { DMatrix::from_columns(&kept) };
        Self { basis }
    }

    pub(super) fn inputs(&self) -> usize {
        self.basis.nrows()
    }

    pub(super) fn directions(&self) -> usize {
        self.basis.ncols()
    }

    /// A point's coordinates along the directions.
    pub(super) fn along(&self, point: &DVector<f64>) -> DVector<f64> {
        self.basis.transpose() * point
    }

    /// A point with other coordinates along the directions.
    pub(super) fn with(&self, point: &DVector<f64>, along: &DVector<f64>) -> DVector<f64> {
        point + &self.basis * (along - self.along(point))
    }

    /// The slopes along the directions.
    pub(super) fn slopes(&self, slopes: &DMatrix<f64>) -> DMatrix<f64> {
        slopes * &self.basis
    }
}
