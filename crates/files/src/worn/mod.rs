//! Photos of the worn toile: following the drawn lines in them.

mod body_edge;
mod dark_line;
mod droops;
mod job;
mod marked;
mod on_piece;
mod overlay;
mod overlay_picture;
mod round;

pub use body_edge::body_edge;
pub use dark_line::{DarkLine, follow_dark_line};
pub use droops::{droop_table, droops_of, name_in_reading, read_together, told_at};
pub use job::{WornJob, WornJobError, read_marks};
pub use marked::{
    FollowedLine, MarkedPhoto, MarksError, ReadPhoto, dark_line_at, follow_line, leg_words,
    marked_photo, read_photo,
};
pub use overlay::{Drawn, FAINT, Way, hang_words, overlay, place_words, way_of};
pub use overlay_picture::{FOR_PRINT, FOR_SCREEN, as_png, overlaid};
pub use round::{RoundDroops, gathered, round_droops};
