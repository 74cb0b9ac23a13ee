//! The ranking room against independent reckoning.

mod against_enumeration;
mod large_parts;
mod oracle;
mod order_of_work;
mod random_network;
mod reasons;
mod references;
mod refusals;
mod rounds;
mod supposed;
mod tied_answers;
mod vague_answers;
mod worth_of_looking;
