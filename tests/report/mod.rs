//! The forms in which a conclusion is read: what they look like, and that nothing breaks them.

mod contrast;
mod example;
mod foreign;
mod forms;
mod marks;
pub(crate) mod page;
mod replayed;
