//! Tells one state of the rules from another: a session remembers which rules it was held with. No
//! protection against forgery is meant.
//!
//! `build.rs` compiles this file too, for the digest of the built-in rules.

/// The digest of no files (FNV-1a, 64 bits: the offset basis of the Internet draft
/// `draft-eastlake-fnv`).
pub(crate) const EMPTY: u64 = 0xcbf2_9ce4_8422_2325;

/// The prime of the same draft.
const PRIME: u64 = 0x0100_0000_01b3;

/// The digest of some files and one more.
pub(crate) fn digest(before: u64, text: &str) -> u64 {
    let bytes = text.bytes().chain([0]);
    bytes.fold(before, |hash, byte| (hash ^ u64::from(byte)).wrapping_mul(PRIME))
}
