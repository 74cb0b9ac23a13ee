//! What readings teach, against closed forms and numerical integration.

mod chains;
mod closed_form;
mod coverage;
mod engine;
mod told;
