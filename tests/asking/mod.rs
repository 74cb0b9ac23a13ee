//! How an interview asks: in how few questions, in which order, how often the car is lifted, and what it
//! ends with. All cars are invented; their owners know what an owner would.

mod endings;
mod kinds;
mod owner;
mod stories;
mod told;
