//! What readings teach, against closed forms and numerical integration.

mod chains;
mod closed_form;
mod coverage;
mod engine;
mod measured;
mod told;
mod weighed;
mod when_well;

/// The value below which so many thousandths of sorted values lie.
fn point(sorted: &[f64], thousandths: usize) -> f64 {
    sorted[(sorted.len() - 1) * thousandths / 1000]
}
