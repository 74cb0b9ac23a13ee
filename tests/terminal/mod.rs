//! The conversation at the terminal: on the scripted twin, and through a real pseudo-terminal.

mod conversation;
mod denied;
mod desk;
mod garage;
mod gone_on;
mod lists;
mod narrow;
mod paging;
mod proposed;
mod pseudo_terminal;
mod recheck;
mod refused;
mod told;
mod values;
mod volunteered;
