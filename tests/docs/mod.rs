//! What the guides say, held against the program: commands, examples, messages, tables and names of
//! files.

mod commands;
mod developers;
mod first_screen;
mod guide;
mod libraries;
mod manual;
mod markdown;
