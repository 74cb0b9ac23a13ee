//! Pieces of the reader of rule files, each by itself.

mod as_json;
mod entries;
mod marked;
