//! One integration binary; one module a subject.

mod quantity;
