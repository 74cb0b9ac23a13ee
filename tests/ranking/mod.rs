//! The ranking room against independent reckoning.

mod against_enumeration;
mod large_parts;
mod oracle;
mod random_network;
mod reasons;
mod worth_of_looking;
