//! The ranking room against independent reckoning.

mod against_enumeration;
mod oracle;
mod random_network;
