//! Photos of the worn toile: following the drawn lines in them.

mod body_edge;
mod dark_line;

pub use body_edge::body_edge;
pub use dark_line::{DarkLine, follow_dark_line};
