//! Photos of the worn toile: following the drawn lines in them.

mod dark_line;

pub use dark_line::{DarkLine, follow_dark_line};
