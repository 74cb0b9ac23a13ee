//! What is known before any inference: the network, the evidence, and what earlier rounds left behind.

pub(in crate::ranking) mod belief;
pub(in crate::ranking) mod factor;
pub(in crate::ranking) mod network;
