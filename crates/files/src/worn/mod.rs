//! Photos of the worn toile: following the drawn lines in them.

mod body_edge;
mod dark_line;
mod droops;
mod job;

pub use body_edge::body_edge;
pub use dark_line::{DarkLine, follow_dark_line};
pub use droops::droop_table;
pub use job::{KnownMark, LineMark, MarkedPhoto, WornJob, WornJobError, read_marks};
