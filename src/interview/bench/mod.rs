//! Trying a pack out: its own cases, simulated persons with findings or with readings, and cases whose
//! answers can't be taken.

pub(super) mod car;
pub(super) mod frame;
pub(super) mod owner;
pub(super) mod person;
pub(super) mod series;
pub(super) mod showing;
pub(super) mod simulate;
pub(super) mod trial;
pub(super) mod unanswerable;
