//! The forms in which a conclusion is read: what they look like, and that nothing breaks them.

mod axes;
mod contrast;
mod example;
mod foreign;
mod forms;
mod kit;
mod marks;
pub(crate) mod page;
mod replayed;
