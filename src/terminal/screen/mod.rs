//! The screen: pages and menus, keys and lines, widths and colour. Who puts a question is
//! either a person's terminal or a script.

pub(super) mod command;
pub(super) mod keys;
pub(super) mod live_screen;
pub(super) mod menu;
pub(super) mod page;
pub(super) mod prompter;
pub(super) mod script;
pub(super) mod taken;
