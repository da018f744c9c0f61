//! How the toile will hang, as a picture with words: the same plates in the window and in
//! a picture file, and the sheet with back, side and front.

mod plates;
mod sheet;
mod words;

pub use plates::{Plate, ROWS, Reach, TOLD_OF, plates};
pub use sheet::{HangSheet, hang_sheet};
pub use words::{droop_words, place_words, places_words, plus_minus_words, round_droop};
