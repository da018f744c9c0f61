//! Files in and out: projects, batches of measures, patterns from and to other
//! tools, photos of a card, what leaves the desk on paper, and how it is saved.

pub mod album;
pub mod batch;
pub mod class;
mod date;
pub mod demo;
mod digest;
pub mod droops;
pub mod exchange;
pub mod exports;
pub mod hang;
mod io_words;
pub mod journal;
pub mod lay;
mod median;
pub mod photo;
pub mod print;
pub mod project;
pub mod read;
pub mod ron_text;
pub mod ron_words;
pub mod round_report;
pub mod save;
pub mod worn;

pub use date::{is_date, today};
pub use io_words::words_of_io;
