//! The conversation at the terminal.
//!
//! | folder | what is in it |
//! | --- | --- |
//! | `screen` | pages, menus, keys, widths, colour |
//! | `dialogue` | what is said and asked, and when |
//!
//! What to say is decided apart from who says it: [`Prompter`] has two users, the [`Screen`] and
//! the [`Script`]. Where answers are kept is the caller's, behind [`AnswerStore`]; conclusions are left
//! to the reports.

mod dialogue;
mod screen;

pub use dialogue::answer_store::{AnswerStore, NotKept};
pub use dialogue::complaint::choose_complaints;
pub use dialogue::conversation::Finish;
pub use dialogue::lead_words::summary;
pub use dialogue::repair::choose_repair;
pub use dialogue::talk::{Scope, Talk};
pub use screen::command::Command;
pub use screen::live_screen::Screen;
pub use screen::menu::{Menu, MenuItem};
pub use screen::page::{Line, Page, Paragraph, Voice};
pub use screen::prompter::{Blank, Ended, Prompter};
pub use screen::script::Script;
pub use screen::taken::{Chosen, Typed};
