//! Reading a photo of the worn toile: how far each reference line hangs from level.
//!
//! A photo is not a drawing: the leg is round, so a level line on it looks bent
//! unless it lies at the height of the lens, and near cloth looks larger than far
//! cloth. The lines are therefore laid back on the body: the lens is a pinhole
//! with a roll and a tilt ([`Stand`]), the body at each line is an upright
//! cylinder that is as wide as it is seen and as large round as the
//! pattern says ([`Section`]). Scale comes from the pattern: the distance between
//! two marked lines along the grain is known.
//!
//! Places in a photo are in pixels, x to the right and y **down** from its upper
//! left corner. In the world x is to the right, y up, z away from the lens, mm.

/// How high the lens is best held, said where a photo is taken and where it is read
/// (measured on the photos of a renderer that is not ours, thigh line: 1.4 mm off at its height, 2.8
/// from 1.05 to 1.4 m; not tried again with our own, docs/worn.md).
pub const BEST_LENS_HEIGHT: &str = "Hold the lens as high as the thigh line: a line is read the truer the nearer it lies to the height of the lens, and the thigh line bends most. Measure that height above the floor, and write it down with the photo.";

mod error;
mod grain_length;
mod hang;
mod marks;
mod photo;
mod section;
mod stand;

pub use error::WornError;
pub use grain_length::{girth_at, length_along_grain};
pub use hang::{Cause, Hang, HangStation, MOST_ERROR, SHARES, Within, hangs, stand_and_hangs};
pub use marks::{FEWEST_PLACES, KnownMark, LevelBy, LineMark, MarkMissing, PhotoMarks};
pub use photo::{Horizon, KnownLength, LegSeen, Level, TracedLine, View, WornPhoto};
pub use section::Section;
pub use stand::Stand;
