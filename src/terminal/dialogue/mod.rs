//! The dialogue: what is said before and after each question, what each kind of answer is asked with, and
//! the order in which all that happens.

pub(super) mod after;
pub(super) mod announced;
pub(super) mod answer_store;
pub(super) mod answering;
pub(super) mod before;
pub(super) mod cautions;
pub(super) mod complaint;
pub(super) mod conversation;
pub(super) mod find;
pub(super) mod help;
pub(super) mod how;
pub(super) mod lead_words;
pub(super) mod put_off;
pub(super) mod repair;
pub(super) mod second_look;
pub(super) mod table_prompt;
pub(super) mod talk;
pub(super) mod unit_prompt;
pub(super) mod value_prompt;
pub(super) mod volunteer;
pub(super) mod why;
