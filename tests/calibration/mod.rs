//! What readings teach, against closed forms and numerical integration.

mod closed_form;
