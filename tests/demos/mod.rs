//! The recorded interviews of `transcripts-demo/`: each is replayed, and held against the text beside
//! it, the keys of the JSON form, and what a recheck would have asked.

mod accessible;
mod bad_readings;
mod earlier;
mod first_page;
mod html;
mod json;
mod keys;
mod learnt;
mod lifted;
mod pages;
mod recheck;
mod recording;
mod sheet;
mod stories;
mod taught;
mod texts;
mod threads;
