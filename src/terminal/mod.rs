//! The conversation at the terminal: what is said before and after each question, prompts, keys,
//! widths and colour.
//!
//! What to say is decided apart from who says it: [`Prompter`] has two users, the [`Screen`] and
//! the [`Script`]. Where answers are kept is the caller's, behind [`Keeper`]; conclusions are left
//! to the reports.

mod after;
mod answering;
mod before;
mod cautions;
mod command;
mod complaint;
mod denied;
mod how;
mod keeper;
mod keys;
mod lead;
mod menu;
mod page;
mod prompter;
mod put_off;
mod repair;
mod screen;
mod script;
mod table;
mod talk;
mod unit;
mod value;
mod why;

pub use command::Command;
pub use complaint::choose_complaints;
pub use keeper::Keeper;
pub use lead::summary;
pub use menu::{Choice, Menu};
pub use page::{Line, Page, Paragraph, Voice};
pub use prompter::{Blank, Chosen, Ended, Prompter, Typed};
pub use repair::choose_repair;
pub use screen::Screen;
pub use script::Script;
pub use talk::{Finish, Scope, Talk};
