//! A piece from photos or scans of its card.
//!
//! [`Picture`] reads a PNG or JPEG; a [`TraceJob`] says what lies in it; the
//! table under each photo is solved from its marks ([`Ground`]), the card's edge
//! is followed to a fraction of a pixel, laid on the table in mm, cut at its
//! corners and drawn with few cubics. [`trace`] does all of it and gives
//! [`Traced`] with the error to expect; nothing is changed by that.
//! `docs/photo.md` has the maths.

mod adjusted;
mod card;
mod distances;
mod doubts;
mod edge;
mod error;
mod expect;
mod ground;
mod job;
mod job_file;
mod join;
mod jpeg_end;
pub mod limits;
mod mark;
mod outline;
mod overlay;
mod picture;
mod raised;
mod sheet;
mod straight;
mod told;
mod trace;
mod view;
mod whereabouts;

pub use adjusted::{line_through, points_to_place, set_point};
pub use distances::TAPED;
pub use doubts::Doubt;
pub use edge::{Edge, Look, Way};
pub use error::{PhotoError, SoFar};
pub use ground::{BOUGHT_MAT, Ground, MEASURED_MARK, UsedMark};
pub use job::{
    Crossing, GrainSeen, Known, LensKind, OutlinePoint, OutlineSeen, PhotoJob, Place, PlacedMark,
    SeenMark, TraceJob, USUAL_REACH, USUAL_TOLERANCE,
};
pub use job_file::{job_text, read_job};
pub use mark::{FoundMark, MarkLook, find_mark};
pub use overlay::{overlay, overlay_of_refused};
pub use picture::{Picture, Tone, encoded};
pub use sheet::{BOUGHT_SHEET, SheetSize};
pub use straight::{Straight, straight};
pub use told::{AtFault, ReadWithin, SeenSeam};
pub use trace::{
    Expected, Progress, ReadPicture, SolvedPhoto, Traced, read_and_look, solve_photos, trace,
};
