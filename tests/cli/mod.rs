//! The program against a world that fails it: full disks, odd letters, files that are no files,
//! folders that can't be written.

mod bench;
mod doubt;
#[cfg(unix)]
mod places;
mod results;
mod saving;
