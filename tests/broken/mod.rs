//! Rule files by strangers: each mistake is met with a message that helps, and none does harm.
//! `packs/` holds one mistake each, named after it; beside it what `pack check` says, and
//! `culprits.yaml` what must be marked.

mod bench;
mod codes;
mod hostile;
mod many;
mod packs;
